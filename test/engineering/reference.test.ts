// Holds every outside check that is not a bare unit conversion against a public function of the engineering floor.

import { describe, expect, it } from "vitest";
import checks from "../reference/checks.json" with { type: "json" };
import { toSi, unitFactor } from "../reference/reference-units.ts";
import * as eng from "../../server/engineering/index.ts";

type Check = (typeof checks)[number];

/** Reads a check's inputs in SI; asking for one that it lacks is an error of the mapping. */
interface Given {
  readonly id: string;
  (name: string): number;
  readonly text: (name: string) => string;
}

function givenOf(check: Check): Given {
  const inputs = check.inputs as Record<string, { value: number | string; unit: string } | undefined>;
  const input = (name: string) => {
    const found = inputs[name];
    if (found === undefined) throw new Error(`${check.id} has no input ${name}`);
    return found;
  };
  const read = (name: string): number => {
    const { value, unit } = input(name);
    if (typeof value !== "number") throw new Error(`${check.id}: ${name} is not a number`);
    return toSi(value, unit);
  };
  return Object.assign(read, { id: check.id, text: (name: string) => String(input(name).value) });
}

/** A result already in the check's own unit (where that unit has no SI factor of its own sense, such as multiples of g). */
interface Printed {
  readonly printed: number;
}

type Answer = number | string | Printed | undefined;
type Compute = (given: Given) => Answer;

const metric = (given: Given): eng.Thread => ({ form: "metric", diameter: given("d"), pitch: given("P") });
const idPart = (given: Given, pattern: RegExp): string => {
  const found = pattern.exec(given.id)?.[1];
  if (found === undefined) throw new Error(`${given.id} does not carry ${String(pattern)}`);
  return found;
};
const crank = (given: Given) => ({ stroke: given("S"), rodLength: given("L") });
const parts = (given: Given): eng.ClearanceParts => ({
  bore: given("B"),
  chamberVolume: given("Vch"),
  gasketBore: given("Bg"),
  gasketThickness: given("tg"),
  deckClearance: given("dc"),
  pistonVolume: given("Vp"),
});
const staticRatio: Compute = (given) =>
  eng.compressionRatio({
    sweptVolume: eng.cylinderDisplacement({ bore: given("B"), stroke: given("S") }),
    clearanceVolume: eng.clearanceVolume(parts(given)),
  });
const longForm = (given: Given): eng.TorqueGeometry => ({
  pitch: given("P"),
  pitchDiameter: given("D2"),
  bearingDiameter: given("Dkm"),
  threadFriction: given("mG"),
  headFriction: given("mK"),
});
const sweep = (given: Given): eng.LeastGap =>
  eng.leastPistonValveGapOver({
    stroke: given("S"),
    rodLength: given("Lr"),
    closedGap: given("PV"),
    liftAtdc: (crankDeg) =>
      eng.cosineLobeLift({ peakLift: given("Lm"), durationDeg: given("D"), fromCentrelineDeg: crankDeg - given("ICL") }),
  });
const spring = (given: Given) => ({ wire: given("d"), meanDiameter: given("D") });
const blendAt: Compute = (given) =>
  eng.blendStoichiometricRatio({
    volumeShare: given("v"),
    first: { stoichiometric: given("ae"), density: given("re") },
    second: { stoichiometric: given("ag"), density: given("rg") },
  });
const order = (given: Given): number[] => given.text("order").split("-").map(Number);
const freeValves = (firingOrder: readonly number[], cylinder: number): string =>
  eng.valvesFreeToSet({ firingOrder, cylinderAtFiringTdc: cylinder })
    .map(({ cylinder: number, valve }) => `${number}${valve === "intake" ? "I" : "E"}`).join(",");
const spaced = (words: string): string => words.replaceAll("-", " ");
const fitOfTime = (k: number): eng.QuarterMileFit => eng.quarterMileFits.find((fit) => fit.time === k)!;
const fitOfSpeed = (k: number): eng.QuarterMileFit => eng.quarterMileFits.find((fit) => Math.abs(fit.speed * 0.44704 - k) < 1e-9)!;
const strengthOf = (given: Given, name: string, which: string): number => {
  const diameter = given("d");
  const row = given.id.startsWith("f-sae")
    ? eng.gradeStrength({ grade: name, diameter })
    : eng.propertyClassStrength({ propertyClass: name, diameter });
  if (row === undefined) throw new Error(`no strength row for ${given.id}`);
  return row[which as "proof" | "yield" | "tensile"];
};
const proofOfClass = (given: Given): number => {
  const size = Number(/-m(\d+)/.exec(given.id)?.[1]) / 1000;
  return eng.propertyClassStrength({ propertyClass: idPart(given, /-([\d.]+)$/), diameter: size })!.proof;
};

/** Which public function answers which checks: the first pattern that fits the whole id. */
const answers: readonly (readonly [RegExp, Compute])[] = [
  // Fasteners
  [/f-as-m.*/, (g) => eng.stressArea(metric(g))],
  [/f-class-.*/, (g) => strengthOf(g, g.text("class"), idPart(g, /-(\w+)$/))],
  [/f-proof-m.*/, (g) => eng.loadAtStress({ area: g("A_s"), stress: proofOfClass(g) })],
  [/f-sae.*/, (g) => strengthOf(g, g.text("grade"), idPart(g, /-(\w+)$/))],
  [/f-at-.*/, (g) => eng.stressArea({ form: "unified", diameter: g("d"), pitch: 1 / g("n") })],
  [/f-proof-.*-g\d/, (g) => eng.loadAtStress({ area: g("A_t"), stress: eng.gradeStrength({ grade: idPart(g, /-g(\d)$/), diameter: 0.4 * 0.0254 })!.proof })],
  [/f-k-.*/, (g) => eng.nutFactors[g.text("condition")]],
  [/f-sh83-stress/, (g) => eng.stressOfLoad({ load: g("F_i"), area: g("A_t") })],
  [/f-sh83-c/, (g) => eng.jointConstant({ boltStiffness: g("k_b"), memberStiffness: g("k_m") })],
  [/f-sh83-long/, (g) => eng.torqueForLoadOnHelix({
    load: g("F"), pitch: 1 / g("n"), pitchDiameter: eng.pitchDiameter({ diameter: g("d"), pitch: 1 / g("n") }),
    bearingDiameter: 1.25 * g("d"), threadFriction: g("f"), headFriction: g("fc"),
  })],
  [/f-tkd-m10/, (g) => eng.torqueShortForm({ nutFactor: g("K"), load: eng.advisedPreload.reused * g("Fp"), diameter: g("d") })],
  [/f-tkd-m10-lub/, (g) => eng.loadShortForm({ nutFactor: g("K2"), torque: g("T"), diameter: g("d") })],
  [/f-vdi-.*-F/, (g) => eng.assemblyPreload({
    thread: metric(g), threadFriction: g("mu"),
    yieldStrength: strengthOf(g, idPart(g, /-([\d.]+)-F$/), "yield"),
  })],
  [/f-vdi-.*-M/, (g) => eng.torqueForLoadRounded({
    load: g("F"), pitch: g("P"), pitchDiameter: eng.pitchDiameter({ diameter: g("d"), pitch: g("P") }),
    bearingDiameter: eng.meanBearingDiameter({ faceDiameter: g("d_w"), holeDiameter: g("d_h") }),
    threadFriction: g("mu"), headFriction: g("mu"),
  })],
  [/f-long-m10/, (g) => eng.torqueForLoad({ load: g("F"), ...longForm(g) })],
  [/f-long-split/, (g) => eng.stretchingShare(longForm(g))],
  [/f-kb/, (g) => eng.boltStiffness({
    modulus: g("E"),
    sections: [{ length: g("ld"), area: eng.boreArea({ bore: g("d") }) }, { length: g("lt"), area: eng.stressArea(metric(g)) }],
  })],
  [/f-angle-rigid/, (g) => eng.elasticAngleLoad({ turnDeg: g("theta"), pitch: g("P"), boltStiffness: g("k_b") })],
  [/f-angle-(joint|90-elastic)/, (g) => eng.elasticAngleLoad({ turnDeg: g("theta"), pitch: g("P"), boltStiffness: g("k_b"), memberStiffness: g("k_m") })],
  [/f-stretch/, (g) => eng.boltStretch({ load: g("F"), stiffness: g("k_b") })],
  [/f-wrench-.*/, (g) => eng.permittedDeviation({ torque: g("T") })],
  [/f-engage-.*/, (g) => eng.requiredEngagement({ diameter: g("d"), material: spaced(idPart(g, /f-engage-(.*)/)) as eng.TappedMaterial })],
  [/f-strip-force/, (g) => eng.stripLoad({ shearArea: g("A"), shearStrength: g("tau") })],
  [/f-strip-minL/, (g) => eng.engagementForLoad({ load: 1.5 * g("F"), diameter: g("d"), shearStrength: g("tau") })],
  [/f-crow-.*/, (g) => eng.wrenchSetting({ torque: g("T"), wrenchLength: g("L"), adapterLength: g("E"), adapterAngleDeg: g("theta") })],
  [/f-prev/, (g) => eng.torqueWithPrevailing({ torque: g("T"), prevailingTorque: g("Tp") })],

  // Bottom end
  [/g-disp-.*/, (g) => eng.engineDisplacement({ bore: g("B"), stroke: g("S"), cylinders: g("n") })],
  [/g-swept-.*/, (g) => eng.cylinderDisplacement({ bore: g("B"), stroke: g("S") })],
  [/g-pos-90-gt-half/, (g) => eng.pistonTravel({ ...crank(g), crankDeg: g("th") }) / g("S")],
  [/g-pos-\d+/, (g) => eng.pistonTravel({ ...crank(g), crankDeg: g("th") })],
  [/g-vol-60/, (g) => eng.cylinderVolume({
    ...crank(g), bore: g("B"), crankDeg: g("th"),
    clearanceVolume: eng.cylinderDisplacement({ bore: g("B"), stroke: g("S") }) / (g("rc") - 1),
  })],
  [/g-vel-\d+/, (g) => eng.pistonSpeed({ ...crank(g), crankDeg: g("th"), rpm: g("rpm") })],
  [/g-velmax-angle/, (g) => eng.peakPistonSpeedAngleDeg(crank(g))],
  [/g-velmax/, (g) => eng.peakPistonSpeed({ ...crank(g), rpm: g("rpm") })],
  [/g-mps-348/, (g) => eng.meanPistonSpeed({ stroke: g("S"), rpm: g("rpm") })],
  [/g-mps-limit-rpm/, (g) => eng.rpmAtMeanPistonSpeed({ stroke: g("S"), speed: g("Sp") })],
  [/g-acc-bdc/, (g) => -eng.pistonAcceleration({ ...crank(g), crankDeg: 180, rpm: g("rpm") })],
  [/g-acc-g/, (g) => ({ printed: eng.peakPistonAcceleration({ ...crank(g), rpm: g("rpm") }) / 9.80665 })],
  [/g-acc-45/, (g) => eng.pistonAcceleration({ ...crank(g), crankDeg: g("th"), rpm: g("rpm") })],
  [/g-acc-45-2term/, (g) => eng.pistonAccelerationTwoTerm({ ...crank(g), crankDeg: g("th"), rpm: g("rpm") })],
  [/g-inertia/, (g) => eng.peakRodTension({ ...crank(g), reciprocatingMass: g("m"), rpm: g("rpm") })],
  [/g-inertia-rpm2/, (g) => {
    const at = (rpm: number) => eng.peakRodTension({ reciprocatingMass: 0.5, stroke: 0.08, rodLength: 0.14, rpm });
    return at(g("N2")) / at(g("N1"));
  }],
  [/g-rodratio/, (g) => eng.rodRatio(crank(g))],
  [/g-rodangle/, (g) => eng.greatestRodAngleDeg({ rodLength: g("L"), stroke: g("S") })],
  [/g-stack/, (g) => eng.deckClearance({ deckHeight: g("deck"), stroke: g("S"), rodLength: g("rod"), compressionHeight: g("CH") })],
  [/g-gasket/, (g) => eng.gasketVolume({ gasketBore: g("Bg"), gasketThickness: g("tg") })],
  [/g-vc/, (g) => eng.clearanceVolume(parts(g))],
  [/g-scr.*/, staticRatio],
  [/g-chamber-for/, (g) => eng.chamberVolumeForRatio({
    ratio: g("r"), bore: g("B"), stroke: g("S"), gasketBore: g("Bg"), gasketThickness: g("tg"), deckClearance: g("dc"), pistonVolume: g("Vp"),
  })],
  [/g-crevice/, (g) => eng.topLandVolume({ bore: g("B"), landDiameter: g("D"), ringDepth: g("h") })],
  [/g-quench/, (g) => eng.squishClearance({ deckClearance: g("dc"), gasketThickness: g("tg") })],
  [/g-effstroke/, (g) => eng.strokeLeftAtClosing({ ...crank(g), closesAbdcDeg: g("ivc") })],
  [/g-effstroke-inch/, (g) => g("S") - eng.strokeLeftAtClosing({ ...crank(g), closesAbdcDeg: g("ivc") })],
  [/g-dcr-.*/, (g) => eng.dynamicCompressionRatio({ ...crank(g), bore: g("B"), clearanceVolume: g("Vc"), closesAbdcDeg: g("ivc") })],
  [/g-mill/, (g) => eng.skimmedVolume({ area: g("A"), depth: g("h") })],

  // Valve events
  [/v-ivo|v-050-ivo/, (g) => eng.intakeOpensBtdcDeg({ durationDeg: g("Di"), centrelineDeg: g("ICL") })],
  [/v-ivc/, (g) => eng.intakeClosesAbdcDeg({ durationDeg: g("Di"), centrelineDeg: g("ICL") })],
  [/v-ecl/, (g) => eng.exhaustCentrelineFromSeparationDeg({ separationCamDeg: g("LSA"), intakeCentrelineDeg: g("ICL") })],
  [/v-overlap/, (g) => eng.overlapFromEventsDeg({ intakeOpensBtdcDeg: g("IVO"), exhaustClosesAtdcDeg: g("EVC") })],
  [/v-overlap-lsa|v-050-overlap/, (g) => eng.overlapFromSeparationDeg({ intakeDurationDeg: g("Di"), exhaustDurationDeg: g("De"), separationCamDeg: g("LSA") })],
  [/v-dur/, (g) => eng.durationFromEventsDeg({ opensDeg: g("IVO"), closesDeg: g("IVC") })],
  [/v-lsa-cl/, (g) => eng.lobeSeparationCamDeg({ intakeCentrelineDeg: g("ICL"), exhaustCentrelineDeg: g("ECL") })],
  [/v-050-evc/, (g) => eng.exhaustClosesAtdcDeg({
    durationDeg: g("De"),
    centrelineDeg: eng.exhaustCentrelineFromSeparationDeg({ separationCamDeg: g("LSA"), intakeCentrelineDeg: g("ICL") }),
  })],
  [/v-twin-lsa/, (g) => eng.lobeSeparationCamDeg({
    intakeCentrelineDeg: eng.shiftedIntakeCentrelineDeg({ centrelineDeg: g("ICL"), retardCrankDeg: -g("ai") }),
    exhaustCentrelineDeg: eng.shiftedExhaustCentrelineDeg({ centrelineDeg: g("ECL"), retardCrankDeg: g("re") }),
  })],
  [/v-cam2crank/, (g) => eng.crankDegFromCamDeg(g("x"))],
  [/v-gear-cammarks/, (g) => eng.crankDegFromCamDeg(g("marks"))],
  [/v-tooth/, (g) => eng.toothCrankDeg({ teeth: g("z") })],
  [/v-gear-arc/, (g) => eng.markArc({ radius: g("r"), camDeg: g("deg") })],

  // Lift and clearances
  [/v-gross/, (g) => eng.grossValveLift({ lobeLift: g("lobe"), rockerRatio: g("ratio") })],
  [/v-net/, (g) => eng.netValveLift({ lobeLift: g("lobe"), rockerRatio: g("ratio"), lash: g("lash"), lashAt: "valve" })],
  [/v-net-camside/, (g) => eng.netValveLift({ lobeLift: g("lobe"), rockerRatio: g("ratio"), lash: g("lash"), lashAt: "cam" })],
  [/v-ptv-min/, (g) => sweep(g).gap],
  [/v-ptv-angle/, (g) => sweep(g).crankDeg],
  [/v-ptvrule-.*/, (g) => eng.leastPistonValveGap[idPart(g, /v-ptvrule-(.*)/) as "intake" | "exhaust" | "radial"].value],
  [/v-rule-retainer/, () => eng.leastRetainerGuideMargin.value],
  [/v-rule-coilbind/, () => eng.leastCoilBindMargin.value],

  // Springs
  [/v-coilbind/, (g) => eng.coilBindMargin({ installedHeight: g("hi"), lift: g("lift"), solidHeight: g("hs") })],
  [/v-coilbind-percoil/, (g) => eng.coilBindMarginPerCoil({ margin: g("m"), activeCoils: g("N") })],
  [/v-sh101-k|v-rate-metric/, (g) => eng.springRate({ ...spring(g), activeCoils: g("N"), shearModulus: g("G") })],
  [/v-sh101-c/, (g) => eng.springIndex(spring(g))],
  [/v-sh101-kb/, (g) => eng.bergstraesserFactor({ index: g("C") })],
  [/v-sh101-ssy/, (g) => eng.torsionalYield({ tensileStrength: g("S_ut"), share: eng.torsionalYieldShare("music wire") })],
  [/v-sh101-f/, (g) => eng.loadAtShearStress({ ...spring(g), stress: g("S_sy"), factor: g("K_B") })],
  [/v-sh101-y/, (g) => eng.springDeflection({ load: g("F"), rate: g("k") })],
  [/v-sh101-ls/, (g) => eng.solidHeight({ wire: g("d"), totalCoils: g("Nt"), ends: "squared" })],
  [/v-wahl/, (g) => eng.wahlFactor({ index: g("C") })],
  [/v-load-open/, (g) => eng.openLoad({
    seatLoad: eng.springLoad({ rate: g("k"), freeHeight: g("h0"), height: g("h") }), rate: g("k"), lift: g("lift"),
  })],
  [/v-rate-2pt/, (g) => eng.rateFromTwoLoads({ load1: g("F1"), height1: g("h1"), load2: g("F2"), height2: g("h2") })],
  [/v-shim/, (g) => eng.shimLoadGain({ rate: g("k"), thickness: g("t") })],
  [/v-surge/, (g) => eng.surgeFrequency({ ...spring(g), activeCoils: g("N"), shearModulus: g("G"), density: g("rho") })],
  [/v-surge-ratio/, (g) => eng.surgeRatio({ frequency: g("f"), rpm: g("rpm") })],
  [/v-float/, (g) => eng.floatSpeedOnCosineLobe({ openLoad: g("F"), mass: g("m"), lift: g("Lm"), durationDeg: g("D") })],
  [/v-float-scaling/, (g) => {
    const at = (openLoad: number) => eng.floatSpeedOnCosineLobe({ openLoad, mass: 0.12, lift: 0.011, durationDeg: 270 });
    return at(850 * g("r")) / at(850);
  }],
  [/v-meq/, (g) => eng.massAtValve({ valve: g("mv"), retainer: g("mr"), spring: g("ms"), camSide: g("mt"), rockerRatio: g("r") })],
  [/v-cte-.*/, (g) => eng.thermalExpansion[g.text("material") as keyof typeof eng.thermalExpansion].value],
  [/v-lashgrowth/, (g) => eng.thermalLashGrowth({ length: g("L"), outerExpansion: g("a1"), innerExpansion: g("a2"), temperatureRise: g("dT") })],
  [/v-coldlash-.*/, (g) => eng.coldLashCorrection[g.text("block-head") as keyof typeof eng.coldLashCorrection].value],

  // Air
  [/b-rho-(isa|sae)/, (g) => eng.dryAirDensity({ pressure: g("p"), temperature: g("T") })],
  [/b-rho-lbft3/, () => eng.standardDensity({ altitude: 0 })],
  [/b-es25/, (g) => eng.saturationPressure({ temperature: g("t") })],
  [/b-rho-humid/, (g) => eng.moistAirDensity({ pressure: g("p"), temperature: g("t"), humidity: g("RH") })],
  [/b-cfm/, (g) => eng.airflowVolume({ displacement: g("CID"), rpm: g("rpm"), volumetricEfficiency: g("VE") })],
  [/b-lbmin/, (g) => eng.massFlow({ volumeFlow: g("Q"), density: g("rho") })],
  [/b-ve/, (g) => eng.volumetricEfficiency({ massFlow: g("m"), density: g("rho"), displacement: g("V"), rpm: g("rpm") })],

  // Boost
  [/b-pr-5000/, (g) => eng.pressureRatio({ barometer: g("pa"), boostGauge: g("pb") })],
  [/b-pulley/, (g) => eng.blowerRpm({ rpm: g("N"), crankPulley: g("Dc"), blowerPulley: g("Db"), stepUp: g("st") })],
  [/b-drive-pct/, (g) => eng.blowerOverdrive({ driveRatio: g("r") })],
  [/b-blowerflow/, (g) => eng.blowerDelivery({ displacementPerTurn: g("V"), rpm: g("N"), volumetricEfficiency: g("ev") })],
  [/b-blowerpr-ic/, (g) => eng.blowerPressureRatio({
    flowRatio: g("r"), inletTemperature: g("T1"), efficiency: g("eta"), effectiveness: g("eps"), coolantTemperature: g("Tc"),
  })],
  [/b-t2-.*/, (g) => eng.compressorOutletTemperature({ inletTemperature: g("T1"), ratio: g("PR"), efficiency: g("eta") })],
  [/b-ic/, (g) => eng.cooledTemperature({ hot: g("T2"), coolant: g("Ta"), effectiveness: g("eps") })],
  [/b-ic-eff/, (g) => eng.coolerEffectiveness({ hot: g("T2"), cooled: g("T3"), coolant: g("Ta") })],
  [/b-dr/, (g) => eng.densityRatio({ ratio: g("PR"), inletTemperature: g("T1"), chargeTemperature: g("T3") })],
  [/b-blowerpower/, (g) => eng.compressorPower({ massFlow: g("m"), inletTemperature: g("T1"), ratio: g("PR"), efficiency: g("eta"), heatCapacity: g("cp") })],
  [/b-wrap/, (g) => eng.beltWrapDeg({ largePulley: g("D"), smallPulley: g("d"), centres: g("C") })],
  [/b-beltlen/, (g) => eng.beltLength({ largePulley: g("D"), smallPulley: g("d"), centres: g("C") })],
  [/b-capstan/, (g) => eng.beltTensionRatio({ friction: g("mu"), wrapDeg: g("wrap") })],
  [/b-ecr-(trade|9\.5)/, (g) => eng.tradeEffectiveCompression({ ratio: g("CR"), boostGauge: g("b") })],
  [/b-ecr-thermo/, (g) => eng.isentropicEffectiveCompression({ ratio: g("CR"), pressureRatio: g("PR"), gamma: g("g") })],

  // Fuel
  [/b-afr-e(10|85).*/, blendAt],
  [/b-afr-.*/, (g) => eng.stoichiometricRatio({ hydrogenPerCarbon: g("y"), oxygenPerCarbon: g("z") })],
  [/b-afrtab-.*/, (g) => eng.fuels[({ gasoline: "petrol", ethanol: "ethanol", LPG: "LPG" } as const)[g.text("fuel") as "gasoline" | "ethanol" | "LPG"]].stoichiometric],
  [/b-lambda/, (g) => eng.lambdaFromRatio({ airFuelRatio: g("AFR"), stoichiometric: g("AFRs") })],
  [/b-inj-(na|boost)/, (g) => eng.requiredInjectorFlow({ power: g("hp"), specificConsumption: g("bsfc"), injectors: g("n"), duty: g("duty") })],
  [/b-bsfc-meas/, (g) => eng.specificConsumption({ fuelFlow: g("f"), power: g("hp") })],
  [/b-lbh-cc-.*/, (g) => eng.volumeFlow({ massFlow: g("x"), density: g("rho") })],
  [/b-inj-press/, (g) => eng.injectorFlowAtPressure({ ratedFlow: g("q"), ratedDifference: g("p1"), difference: g("p2") })],
  [/b-inj-boostdp/, (g) => eng.injectorFlowAtPressure({
    ratedFlow: 1, ratedDifference: g("p0"),
    difference: eng.injectorPressureDifference({ railGauge: g("pr"), manifoldGauge: g("pm"), reference: "atmosphere" }),
  })],
  [/b-pump/, (g) => eng.requiredPumpFlow({ power: g("hp"), specificConsumption: g("bsfc"), density: g("rho"), margin: g("m") - 1 })],
  [/b-pump-e85/, (g) => eng.fuelVolumeFactor({
    stoichiometric: g("ab_"), density: g("rb"), insteadOfStoichiometric: g("ag"), insteadOfDensity: g("rg"),
  })],
  [/b-mlcycle/, (g) => eng.fuelPerCycle({ airMass: g("ma"), lambda: g("lam"), stoichiometric: g("AFRs") })],

  // Fits
  [/b-ring-.*-top/, (g) => eng.ringGap({ bore: g("bore"), factor: eng.ringGapFactors[spaced(idPart(g, /b-ring-(.*)-top/)) as eng.RingUse].top })],
  [/b-ring-.*-second/, (g) => eng.ringGap({ bore: g("bore"), factor: eng.ringGapFactors[spaced(idPart(g, /b-ring-(.*)-second/)) as eng.RingUse].second ?? NaN })],
  [/b-ringB-.*/, (g) => eng.ringGap({ bore: g("bore"), factor: eng.otherRingGapFactors[spaced(idPart(g, /b-ringB-(.*)/)) as eng.OtherRingUse].top })],
  [/b-bearing-low/, (g) => eng.clearanceFromShare({ diameter: g("d"), share: eng.bearingClearanceShare.low })],
  [/b-bearing-(rule|metric)/, (g) => eng.clearanceFromShare({ diameter: g("d"), share: eng.bearingClearanceShare.high })],
  [/b-bearing-fit/, (g) => eng.bearingClearanceFromShells({ housingBore: g("bore"), shellThickness: g("shell"), journal: g("j") })],
  [/b-endplay-.*/, (g) => eng.usualCrankEndPlay[idPart(g, /(low|high)$/) as "low" | "high"]],
  [/b-ptw-.*/, (g) => eng.pistonWallClearance[g.text("piston") as eng.PistonKind][idPart(g, /(low|high)$/) as "low" | "high"]],
  [/b-skirtgrowth/, (g) => eng.skirtGrowth({ bore: g("D"), pistonExpansion: g("ap"), pistonRise: g("dTp"), boreExpansion: g("ab_"), boreRise: g("dTb") })],
  [/b-oilrule/, (g) => eng.ruleOfThumbOilPressure({ rpm: g("rpm") })],

  // Corrections and the standard atmosphere
  [/t-j1349-[\d.]+-\d+/, (g) => eng.saeJ1349Factor({ dryPressure: g("Pd"), temperature: g("t") })],
  [/t-j1349-unrounded/, (g) => eng.saeJ1349Factor({ dryPressure: g("Pd"), temperature: g("t"), mechanicalEfficiency: g("eta") })],
  [/t-dry/, (g) => eng.dryPressure({ pressure: g("P"), temperature: g("t"), humidity: g("RH") })],
  [/t-j1349-power/, (g) => eng.correctedFigure({ observed: g("P"), factor: g("cf") })],
  [/t-iso1585-.*/, (g) => eng.iso1585Factor({ dryPressure: g("Pd"), temperature: g("t") })],
  [/t-din/, (g) => eng.din70020Factor({ pressure: g("P"), temperature: g("t") })],
  [/t-std/, (g) => eng.saeJ607Factor({ dryPressure: g("Pd"), temperature: g("T") })],
  [/t-isa-(p-\d+|5000ft)/, (g) => eng.standardPressure({ altitude: g("H") })],
  [/t-isa-rho-.*/, (g) => eng.standardDensity({ altitude: g("H") })],
  [/t-isa-T-.*/, (g) => eng.standardTemperature({ altitude: g("H") })],
  [/t-isa-densityratio-.*/, (g) => eng.standardDensity({ altitude: g("H") }) / 1.225],
  [/t-da/, (g) => eng.densityAltitude({ pressure: g("P"), temperature: g("T") })],

  // Power, gearing, tests
  [/t-hp-cross/, (g) => eng.rpmFromPowerAndTorque({ power: g("k"), torque: toSi(1, "lbf*ft") })],
  [/t-kw/, (g) => eng.powerFromTorque({ torque: g("T"), rpm: g("rpm") })],
  [/t-torque/, (g) => eng.torqueFromPower({ power: g("hp"), rpm: g("rpm") })],
  [/t-bmep.*/, (g) => eng.brakeMeanEffectivePressure({ torque: g("T"), displacement: g("V") })],
  [/t-loss/, (g) => eng.crankPowerFromWheels({ wheelPower: g("whp"), loss: g("loss") })],
  [/t-mph-(hale|huntington|fox)/, (g) => eng.quarterMileSpeed({ mass: g("W"), power: g("P"), fit: fitOfSpeed(g("k")) })],
  [/t-et-.*/, (g) => eng.quarterMileTime({ mass: g("W"), power: g("P"), fit: fitOfTime(g("k")) })],
  [/t-hp-et/, (g) => eng.powerFromQuarterMileTime({ mass: g("W"), time: g("ET"), fit: fitOfTime(g("k")) })],
  [/t-mph-gear/, (g) => eng.roadSpeed({ rpm: g("rpm"), circumference: eng.rollingCircumference({ diameter: g("dia") }), gear: g("g"), finalDrive: g("f") })],
  [/t-kmh-gear/, (g) => eng.roadSpeed({ rpm: g("rpm"), circumference: g("C"), gear: g("g"), finalDrive: g("f") })],
  [/t-tyre/, (g) => eng.tyreDiameter({ width: g("w"), aspect: g("a"), rim: g("r") })],
  [/t-rpmdrop/, (g) => eng.rpmAfterShift({ rpm: g("rpm"), fromGear: g("g1"), toGear: g("g2") })],
  [/t-leak/, (g) => eng.leakDown({ supply: g("p1"), cylinder: g("p2") })],
  [/t-leakband-.*/, (g) => eng.leakDownBands[g.text("band") as keyof typeof eng.leakDownBands].value],
  [/t-comp-var/, (g) => eng.crankingSpread([g("p1"), g("p2"), g("p3"), g("p4")])],
  [/t-comp-limit70/, (g) => eng.leastCrankingPressure({ highest: g("pmax"), share: g("k"), floor: g("floor") })],
  [/t-comp-pred/, (g) => eng.expectedCrankingPressure({ barometer: g("pa"), dynamicRatio: g("r"), exponent: g("n") })],
  [/t-vac-alt/, (g) => eng.manifoldVacuum({ barometer: g("b"), absolute: g("a") })],
  [/t-boost-alt/, (g) => eng.absolutePressure({ barometer: g("pa"), gauge: g("pb") })],

  // Practice
  [/p-opposed/, (g) => freeValves(order(g), 1)],
  [/p-opposed-1342-b/, (g) => freeValves(order(g), 4)],
  [/p-overlap-pair/, (g) => String(eng.companionCylinder({ firingOrder: order(g), cylinder: g("cyl") }))],
  [/p-rule9-\d/, (g) => String(eng.mirrorValve({ valve: g("n"), valves: 8 }))],
  [/p-setangle/, (g) => eng.firingIntervalDeg({ cylinders: g("n") })],
  [/p-breakin-rpm-(low|high)/, (g) => eng.firstRunSpeedRpm[idPart(g, /(low|high)$/) as "low" | "high"]],
  [/p-breakin-minutes-(low|high)/, (g) => ({ printed: eng.firstRunMinutes[idPart(g, /(low|high)$/) as "low" | "high"] })],
  [/p-breakin-hand-turns/, () => eng.handTurns.value],
  [/p-multistage/, (g) => eng.stageTorques({ torque: g("T"), shares: [g("f1"), g("f2"), 1] }).join(",")],
  [/p-angle-steps/, (g) => eng.totalTurnDeg([g("a1"), g("a2")])],
];

/** Bare unit conversions belong to the quantity floor, which holds them against its own table. */
const isUnitCheck = (check: Check): boolean => check.id.startsWith("u-");

function computeFor(id: string): Compute | undefined {
  return answers.find(([pattern]) => new RegExp(`^(?:${pattern.source})$`).test(id))?.[1];
}

/** The result in the check's own unit, where that is a number. */
function inOwnUnit(answer: Answer, unit: string): number {
  if (typeof answer === "object") return answer.printed;
  if (typeof answer !== "number") return NaN;
  if (unit === "degC") return answer - 273.15;
  return answer / unitFactor(unit);
}

/** Slack for binary fractions alone, in units of the expected figure: converting 85 kpsi to pascals and back may move its last bit. */
const binarySlack = 4 * Number.EPSILON;

describe("outside checks", () => {
  const ours = checks.filter((check) => !isUnitCheck(check));

  it("are all here, and every one has an answer or belongs to the quantity floor", () => {
    expect(checks).toHaveLength(390);
    expect(new Set(checks.map(({ id }) => id)).size).toBe(390);
    expect(checks.filter(isUnitCheck)).toHaveLength(35);
    expect(ours.filter(({ id }) => computeFor(id) === undefined).map(({ id }) => id)).toEqual([]);
  });

  it("leave no answer unused", () => {
    const unused = answers.filter(([, compute]) => !ours.some(({ id }) => computeFor(id) === compute));
    expect(unused.map(([pattern]) => pattern.source)).toEqual([]);
  });

  it.each(ours.map((check) => [check.id, check.what, check] as const))("%s: %s", (_id, _what, check) => {
    const compute = computeFor(check.id);
    if (compute === undefined) throw new Error(`nothing covers ${check.id}`);
    const answer = compute(givenOf(check));
    if (check.tolerance.kind === "exact") {
      expect(String(answer)).toBe(String(check.expected.value));
      return;
    }
    const expected = Number(check.expected.value);
    const actual = inOwnUnit(answer, check.expected.unit);
    const allowed = check.tolerance.kind === "relative" ? check.tolerance.value * Math.abs(expected) : check.tolerance.value;
    expect(
      Math.abs(actual - expected) <= allowed + binarySlack * Math.abs(expected),
      `${check.id}: expected ${expected} ${check.expected.unit} within ${allowed}, got ${actual} (${check.source}; ${check.provenance})`,
    ).toBe(true);
  });

  it("counts by provenance", () => {
    const counts = new Map<string, number>();
    for (const { provenance } of ours) counts.set(provenance, (counts.get(provenance) ?? 0) + 1);
    const words = [...counts].sort(([, a], [, b]) => b - a).map(([provenance, count]) => `${count} ${provenance}`).join(", ");
    console.info(`outside checks: ${ours.length} of engineering (${words}); ${checks.length - ours.length} of units, held by the quantity floor`);
    expect([...counts.keys()].sort()).toEqual(["common practice", "computed from the exact formula", "confirmed", "memory"]);
  });
});
