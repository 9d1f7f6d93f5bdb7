// Every rule, one file each. Written by `node server/schema/write-index.ts`; do not edit.
import type { Rule } from "./rule.ts";
import { RULE as bearingClearanceRule } from "./bearing-clearance.ts";
import { RULE as beltSlackRule } from "./belt-slack.ts";
import { RULE as blockMissingRule } from "./block-missing.ts";
import { RULE as blowerOverspeedRule } from "./blower-overspeed.ts";
import { RULE as boostOverLimitRule } from "./boost-over-limit.ts";
import { RULE as breakInIncompleteRule } from "./break-in-incomplete.ts";
import { RULE as calibrationDueRule } from "./calibration-due.ts";
import { RULE as camEndplayRule } from "./cam-endplay.ts";
import { RULE as camNotDegreedRule } from "./cam-not-degreed.ts";
import { RULE as cardForOtherEngineRule } from "./card-for-other-engine.ts";
import { RULE as cardsDisagreeRule } from "./cards-disagree.ts";
import { RULE as centrelineDisagreesRule } from "./centreline-disagrees.ts";
import { RULE as chargeTemperatureHighRule } from "./charge-temperature-high.ts";
import { RULE as checkFailedRule } from "./check-failed.ts";
import { RULE as circularPlanRule } from "./circular-plan.ts";
import { RULE as circularUseRule } from "./circular-use.ts";
import { RULE as clampLowRule } from "./clamp-low.ts";
import { RULE as coilBindMarginRule } from "./coil-bind-margin.ts";
import { RULE as compressionForFuelRule } from "./compression-for-fuel.ts";
import { RULE as conditionUnmetRule } from "./condition-unmet.ts";
import { RULE as cutDisagreesRule } from "./cut-disagrees.ts";
import { RULE as dashedRangeRule } from "./dashed-range.ts";
import { RULE as dateInFutureRule } from "./date-in-future.ts";
import { RULE as decimalCommaRule } from "./decimal-comma.ts";
import { RULE as decimalSlipRule } from "./decimal-slip.ts";
import { RULE as duplicateNameRule } from "./duplicate-name.ts";
import { RULE as emptyRangeRule } from "./empty-range.ts";
import { RULE as engagementShortRule } from "./engagement-short.ts";
import { RULE as fingerprintDoubtfulRule } from "./fingerprint-doubtful.ts";
import { RULE as firingOrderIncompleteRule } from "./firing-order-incomplete.ts";
import { RULE as fullLoadBeforeTuneRule } from "./full-load-before-tune.ts";
import { RULE as gapDisagreesRule } from "./gap-disagrees.ts";
import { RULE as impactToolRule } from "./impact-tool.ts";
import { RULE as impossibleDateRule } from "./impossible-date.ts";
import { RULE as impossibleExpressionRule } from "./impossible-expression.ts";
import { RULE as impossibleFastenerRule } from "./impossible-fastener.ts";
import { RULE as impossibleFigureRule } from "./impossible-figure.ts";
import { RULE as impossibleSetRule } from "./impossible-set.ts";
import { RULE as injectorDutyHighRule } from "./injector-duty-high.ts";
import { RULE as lashClosingRule } from "./lash-closing.ts";
import { RULE as lashNotRecheckedRule } from "./lash-not-rechecked.ts";
import { RULE as lashOutOfRangeRule } from "./lash-out-of-range.ts";
import { RULE as lashSpreadRule } from "./lash-spread.ts";
import { RULE as lashStateRule } from "./lash-state.ts";
import { RULE as lashTightRule } from "./lash-tight.ts";
import { RULE as lobeTableBrokenRule } from "./lobe-table-broken.ts";
import { RULE as looksAToothOffRule } from "./looks-a-tooth-off.ts";
import { RULE as lubricantChangesLoadRule } from "./lubricant-changes-load.ts";
import { RULE as markOffRangeRule } from "./mark-off-range.ts";
import { RULE as measuredBeforeStepRule } from "./measured-before-step.ts";
import { RULE as measurementUndatedRule } from "./measurement-undated.ts";
import { RULE as mergeConflictRule } from "./merge-conflict.ts";
import { RULE as missingFileRule } from "./missing-file.ts";
import { RULE as missingKeyRule } from "./missing-key.ts";
import { RULE as mixtureLeanUnderLoadRule } from "./mixture-lean-under-load.ts";
import { RULE as nameMissingRule } from "./name-missing.ts";
import { RULE as needUnmetRule } from "./need-unmet.ts";
import { RULE as noBaselineRule } from "./no-baseline.ts";
import { RULE as noSourceRule } from "./no-source.ts";
import { RULE as noTorqueRule } from "./no-torque.ts";
import { RULE as notFilledInRule } from "./not-filled-in.ts";
import { RULE as octaneAdviceRule } from "./octane-advice.ts";
import { RULE as oilAndThreadlockRule } from "./oil-and-threadlock.ts";
import { RULE as oilChangeDueRule } from "./oil-change-due.ts";
import { RULE as oilPressureLowRule } from "./oil-pressure-low.ts";
import { RULE as partForOtherEngineRule } from "./part-for-other-engine.ts";
import { RULE as partReplacedTwiceRule } from "./part-replaced-twice.ts";
import { RULE as pistonSpeedHighRule } from "./piston-speed-high.ts";
import { RULE as pistonValveClearanceRule } from "./piston-valve-clearance.ts";
import { RULE as pistonValveUnknownRule } from "./piston-valve-unknown.ts";
import { RULE as pistonWallClearanceRule } from "./piston-wall-clearance.ts";
import { RULE as plugHeatAdviceRule } from "./plug-heat-advice.ts";
import { RULE as preloadOutOfRangeRule } from "./preload-out-of-range.ts";
import { RULE as printedPairDisagreesRule } from "./printed-pair-disagrees.ts";
import { RULE as pullDisagreesRule } from "./pull-disagrees.ts";
import { RULE as pumpShortRule } from "./pump-short.ts";
import { RULE as pushrodGeometryRule } from "./pushrod-geometry.ts";
import { RULE as qualifierMissingRule } from "./qualifier-missing.ts";
import { RULE as readingUnstatedRule } from "./reading-unstated.ts";
import { RULE as recheckDueRule } from "./recheck-due.ts";
import { RULE as recordingColumnMissingRule } from "./recording-column-missing.ts";
import { RULE as recordingDoubtfulRule } from "./recording-doubtful.ts";
import { RULE as recordingUnreadableRule } from "./recording-unreadable.ts";
import { RULE as redlineExceededRule } from "./redline-exceeded.ts";
import { RULE as repeatedKeyRule } from "./repeated-key.ts";
import { RULE as retainerGuideMarginRule } from "./retainer-guide-margin.ts";
import { RULE as retorqueDueRule } from "./retorque-due.ts";
import { RULE as revLimitOverPartRule } from "./rev-limit-over-part.ts";
import { RULE as ringAndCamBreakInClashRule } from "./ring-and-cam-break-in-clash.ts";
import { RULE as ringGapTightRule } from "./ring-gap-tight.ts";
import { RULE as ringOrientationUntickedRule } from "./ring-orientation-unticked.ts";
import { RULE as rodSideClearanceRule } from "./rod-side-clearance.ts";
import { RULE as rotatingPartsOverLimitRule } from "./rotating-parts-over-limit.ts";
import { RULE as secondShopRule } from "./second-shop.ts";
import { RULE as sequenceIncompleteRule } from "./sequence-incomplete.ts";
import { RULE as severityRefusedRule } from "./severity-refused.ts";
import { RULE as severityUnknownRule } from "./severity-unknown.ts";
import { RULE as shimUnavailableRule } from "./shim-unavailable.ts";
import { RULE as singleUseReusedRule } from "./single-use-reused.ts";
import { RULE as springLoadLowRule } from "./spring-load-low.ts";
import { RULE as springStressHighRule } from "./spring-stress-high.ts";
import { RULE as squishTightRule } from "./squish-tight.ts";
import { RULE as stagesFallingRule } from "./stages-falling.ts";
import { RULE as staleMeasurementRule } from "./stale-measurement.ts";
import { RULE as statedDisplacementDisagreesRule } from "./stated-displacement-disagrees.ts";
import { RULE as statedFigureDisagreesRule } from "./stated-figure-disagrees.ts";
import { RULE as stepBeforeItsNeedRule } from "./step-before-its-need.ts";
import { RULE as stepDueRule } from "./step-due.ts";
import { RULE as stepMissingRule } from "./step-missing.ts";
import { RULE as strayRule } from "./stray.ts";
import { RULE as syntaxRule } from "./syntax.ts";
import { RULE as tableShapeRule } from "./table-shape.ts";
import { RULE as temperatureOverLimitRule } from "./temperature-over-limit.ts";
import { RULE as thrustEndplayRule } from "./thrust-endplay.ts";
import { RULE as tooManyValuesRule } from "./too-many-values.ts";
import { RULE as torqueOutOfRangeRule } from "./torque-out-of-range.ts";
import { RULE as torqueOverProofRule } from "./torque-over-proof.ts";
import { RULE as tuneFileChangedRule } from "./tune-file-changed.ts";
import { RULE as tuneFileMissingRule } from "./tune-file-missing.ts";
import { RULE as tuneMissingRule } from "./tune-missing.ts";
import { RULE as tuneStaleRule } from "./tune-stale.ts";
import { RULE as unclosedBlockRule } from "./unclosed-block.ts";
import { RULE as unclosedStringRule } from "./unclosed-string.ts";
import { RULE as unitMissingRule } from "./unit-missing.ts";
import { RULE as unitMixedRule } from "./unit-mixed.ts";
import { RULE as unknownClassRule } from "./unknown-class.ts";
import { RULE as unknownKeyRule } from "./unknown-key.ts";
import { RULE as unknownKindRule } from "./unknown-kind.ts";
import { RULE as unknownPlaceRule } from "./unknown-place.ts";
import { RULE as unknownStepRule } from "./unknown-step.ts";
import { RULE as unknownUnitRule } from "./unknown-unit.ts";
import { RULE as unknownWordRule } from "./unknown-word.ts";
import { RULE as unresolvedNameRule } from "./unresolved-name.ts";
import { RULE as unusedPartRule } from "./unused-part.ts";
import { RULE as usedFollowerOnNewCamRule } from "./used-follower-on-new-cam.ts";
import { RULE as valueMissingRule } from "./value-missing.ts";
import { RULE as valveFloatRule } from "./valve-float.ts";
import { RULE as valveToValveRule } from "./valve-to-valve.ts";
import { RULE as waiverExpiredRule } from "./waiver-expired.ts";
import { RULE as waiverExpiringRule } from "./waiver-expiring.ts";
import { RULE as waiverOutgrownRule } from "./waiver-outgrown.ts";
import { RULE as waiverUnknownRuleRule } from "./waiver-unknown-rule.ts";
import { RULE as waiverUnusedRule } from "./waiver-unused.ts";
import { RULE as waiverValueUnreadRule } from "./waiver-value-unread.ts";
import { RULE as waiverWithoutDateRule } from "./waiver-without-date.ts";
import { RULE as waiverWithoutReasonRule } from "./waiver-without-reason.ts";
import { RULE as wrenchOutOfRangeRule } from "./wrench-out-of-range.ts";
import { RULE as wrongDimensionRule } from "./wrong-dimension.ts";
import { RULE as wrongFormRule } from "./wrong-form.ts";
import { RULE as yieldBoltRule } from "./yield-bolt.ts";

export const RULES: readonly Rule[] = [
  bearingClearanceRule,
  beltSlackRule,
  blockMissingRule,
  blowerOverspeedRule,
  boostOverLimitRule,
  breakInIncompleteRule,
  calibrationDueRule,
  camEndplayRule,
  camNotDegreedRule,
  cardForOtherEngineRule,
  cardsDisagreeRule,
  centrelineDisagreesRule,
  chargeTemperatureHighRule,
  checkFailedRule,
  circularPlanRule,
  circularUseRule,
  clampLowRule,
  coilBindMarginRule,
  compressionForFuelRule,
  conditionUnmetRule,
  cutDisagreesRule,
  dashedRangeRule,
  dateInFutureRule,
  decimalCommaRule,
  decimalSlipRule,
  duplicateNameRule,
  emptyRangeRule,
  engagementShortRule,
  fingerprintDoubtfulRule,
  firingOrderIncompleteRule,
  fullLoadBeforeTuneRule,
  gapDisagreesRule,
  impactToolRule,
  impossibleDateRule,
  impossibleExpressionRule,
  impossibleFastenerRule,
  impossibleFigureRule,
  impossibleSetRule,
  injectorDutyHighRule,
  lashClosingRule,
  lashNotRecheckedRule,
  lashOutOfRangeRule,
  lashSpreadRule,
  lashStateRule,
  lashTightRule,
  lobeTableBrokenRule,
  looksAToothOffRule,
  lubricantChangesLoadRule,
  markOffRangeRule,
  measuredBeforeStepRule,
  measurementUndatedRule,
  mergeConflictRule,
  missingFileRule,
  missingKeyRule,
  mixtureLeanUnderLoadRule,
  nameMissingRule,
  needUnmetRule,
  noBaselineRule,
  noSourceRule,
  noTorqueRule,
  notFilledInRule,
  octaneAdviceRule,
  oilAndThreadlockRule,
  oilChangeDueRule,
  oilPressureLowRule,
  partForOtherEngineRule,
  partReplacedTwiceRule,
  pistonSpeedHighRule,
  pistonValveClearanceRule,
  pistonValveUnknownRule,
  pistonWallClearanceRule,
  plugHeatAdviceRule,
  preloadOutOfRangeRule,
  printedPairDisagreesRule,
  pullDisagreesRule,
  pumpShortRule,
  pushrodGeometryRule,
  qualifierMissingRule,
  readingUnstatedRule,
  recheckDueRule,
  recordingColumnMissingRule,
  recordingDoubtfulRule,
  recordingUnreadableRule,
  redlineExceededRule,
  repeatedKeyRule,
  retainerGuideMarginRule,
  retorqueDueRule,
  revLimitOverPartRule,
  ringAndCamBreakInClashRule,
  ringGapTightRule,
  ringOrientationUntickedRule,
  rodSideClearanceRule,
  rotatingPartsOverLimitRule,
  secondShopRule,
  sequenceIncompleteRule,
  severityRefusedRule,
  severityUnknownRule,
  shimUnavailableRule,
  singleUseReusedRule,
  springLoadLowRule,
  springStressHighRule,
  squishTightRule,
  stagesFallingRule,
  staleMeasurementRule,
  statedDisplacementDisagreesRule,
  statedFigureDisagreesRule,
  stepBeforeItsNeedRule,
  stepDueRule,
  stepMissingRule,
  strayRule,
  syntaxRule,
  tableShapeRule,
  temperatureOverLimitRule,
  thrustEndplayRule,
  tooManyValuesRule,
  torqueOutOfRangeRule,
  torqueOverProofRule,
  tuneFileChangedRule,
  tuneFileMissingRule,
  tuneMissingRule,
  tuneStaleRule,
  unclosedBlockRule,
  unclosedStringRule,
  unitMissingRule,
  unitMixedRule,
  unknownClassRule,
  unknownKeyRule,
  unknownKindRule,
  unknownPlaceRule,
  unknownStepRule,
  unknownUnitRule,
  unknownWordRule,
  unresolvedNameRule,
  unusedPartRule,
  usedFollowerOnNewCamRule,
  valueMissingRule,
  valveFloatRule,
  valveToValveRule,
  waiverExpiredRule,
  waiverExpiringRule,
  waiverOutgrownRule,
  waiverUnknownRuleRule,
  waiverUnusedRule,
  waiverValueUnreadRule,
  waiverWithoutDateRule,
  waiverWithoutReasonRule,
  wrenchOutOfRangeRule,
  wrongDimensionRule,
  wrongFormRule,
  yieldBoltRule,
];
