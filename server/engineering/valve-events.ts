// When valves open and close, in crank degrees unless a name says cam; it refuses to know lifts, lashes or tables.
//
// The intake centreline is counted after TDC, the exhaust centreline before TDC. Opening and closing angles keep their
// sign: intake opens before TDC (BTDC), closes after bottom (ABDC); exhaust opens before bottom (BBDC), closes after TDC
// (ATDC); a negative angle lies on the other side. Half the duration on each side of the centreline holds for symmetric
// lobes only. Events mean nothing without the lift they were read at. Basis: the geometry of a shaft at half crank speed.

import { toDegrees, toRadians } from "./angle.ts";
import { areFinite, areNotNegative, arePositive } from "./domain.ts";

/** Intake opens, degrees BTDC: duration/2 − centreline. */
export function intakeOpensBtdcDeg({ durationDeg, centrelineDeg }: { readonly durationDeg: number; readonly centrelineDeg: number }): number {
  return isDuration(durationDeg) && areFinite(centrelineDeg) ? durationDeg / 2 - centrelineDeg : NaN;
}

/** Intake closes, degrees ABDC: duration/2 + centreline − 180. */
export function intakeClosesAbdcDeg({ durationDeg, centrelineDeg }: { readonly durationDeg: number; readonly centrelineDeg: number }): number {
  return isDuration(durationDeg) && areFinite(centrelineDeg) ? durationDeg / 2 + centrelineDeg - 180 : NaN;
}

/** Exhaust opens, degrees BBDC: duration/2 + centreline − 180 (centreline before TDC). */
export function exhaustOpensBbdcDeg({ durationDeg, centrelineDeg }: { readonly durationDeg: number; readonly centrelineDeg: number }): number {
  return isDuration(durationDeg) && areFinite(centrelineDeg) ? durationDeg / 2 + centrelineDeg - 180 : NaN;
}

/** Exhaust closes, degrees ATDC: duration/2 − centreline (centreline before TDC). */
export function exhaustClosesAtdcDeg({ durationDeg, centrelineDeg }: { readonly durationDeg: number; readonly centrelineDeg: number }): number {
  return isDuration(durationDeg) && areFinite(centrelineDeg) ? durationDeg / 2 - centrelineDeg : NaN;
}

function isDuration(deg: number): boolean {
  return arePositive(deg) && deg < 720;
}

/** Duration from an opening angle before one dead centre and a closing angle after the next: opens + 180 + closes. */
export function durationFromEventsDeg({ opensDeg, closesDeg }: { readonly opensDeg: number; readonly closesDeg: number }): number {
  const duration = opensDeg + 180 + closesDeg;
  return isDuration(duration) ? duration : NaN;
}

/** Intake centreline, degrees ATDC, halfway between the events. Of a lopsided lobe this is not the point of greatest lift. */
export function intakeCentrelineFromEventsDeg(
  { opensBtdcDeg, closesAbdcDeg }: { readonly opensBtdcDeg: number; readonly closesAbdcDeg: number },
): number {
  return durationFromEventsDeg({ opensDeg: opensBtdcDeg, closesDeg: closesAbdcDeg }) / 2 - opensBtdcDeg;
}

/** Exhaust centreline, degrees BTDC, halfway between the events. Of a lopsided lobe this is not the point of greatest lift. */
export function exhaustCentrelineFromEventsDeg(
  { opensBbdcDeg, closesAtdcDeg }: { readonly opensBbdcDeg: number; readonly closesAtdcDeg: number },
): number {
  return durationFromEventsDeg({ opensDeg: opensBbdcDeg, closesDeg: closesAtdcDeg }) / 2 - closesAtdcDeg;
}

/** Lobe separation in CAM degrees: the mean of the two centrelines in crank degrees. */
export function lobeSeparationCamDeg(
  { intakeCentrelineDeg, exhaustCentrelineDeg }: { readonly intakeCentrelineDeg: number; readonly exhaustCentrelineDeg: number },
): number {
  return areFinite(intakeCentrelineDeg, exhaustCentrelineDeg) ? (intakeCentrelineDeg + exhaustCentrelineDeg) / 2 : NaN;
}

/** Exhaust centreline, degrees BTDC, on one shaft ground with a separation (cam degrees): 2·separation − intake centreline. */
export function exhaustCentrelineFromSeparationDeg(
  { separationCamDeg, intakeCentrelineDeg }: { readonly separationCamDeg: number; readonly intakeCentrelineDeg: number },
): number {
  return areFinite(separationCamDeg, intakeCentrelineDeg) ? 2 * separationCamDeg - intakeCentrelineDeg : NaN;
}

/** Intake centreline, degrees ATDC, on one shaft ground with a separation (cam degrees). */
export function intakeCentrelineFromSeparationDeg(
  { separationCamDeg, exhaustCentrelineDeg }: { readonly separationCamDeg: number; readonly exhaustCentrelineDeg: number },
): number {
  return areFinite(separationCamDeg, exhaustCentrelineDeg) ? 2 * separationCamDeg - exhaustCentrelineDeg : NaN;
}

/** Overlap, crank degrees, from the events around TDC; negative where both valves are shut for a while. */
export function overlapFromEventsDeg(
  { intakeOpensBtdcDeg: opens, exhaustClosesAtdcDeg: closes }: {
    readonly intakeOpensBtdcDeg: number;
    readonly exhaustClosesAtdcDeg: number;
  },
): number {
  return areFinite(opens, closes) ? opens + closes : NaN;
}

/** Overlap, crank degrees, from durations (crank) and lobe separation (cam): (Di + De)/2 − 2·separation. */
export function overlapFromSeparationDeg(
  { intakeDurationDeg, exhaustDurationDeg, separationCamDeg }: {
    readonly intakeDurationDeg: number;
    readonly exhaustDurationDeg: number;
    readonly separationCamDeg: number;
  },
): number {
  return isDuration(intakeDurationDeg) && isDuration(exhaustDurationDeg) && areFinite(separationCamDeg)
    ? (intakeDurationDeg + exhaustDurationDeg) / 2 - 2 * separationCamDeg
    : NaN;
}

/** Cam degrees as crank degrees: the cam turns once for two turns of the crank. */
export function crankDegFromCamDeg(camDeg: number): number {
  return areFinite(camDeg) ? 2 * camDeg : NaN;
}

/** Crank degrees as cam degrees. */
export function camDegFromCrankDeg(crankDeg: number): number {
  return areFinite(crankDeg) ? crankDeg / 2 : NaN;
}

/** Intake centreline after a shift; a retard (positive crank degrees) moves it later, away from TDC. */
export function shiftedIntakeCentrelineDeg(
  { centrelineDeg, retardCrankDeg }: { readonly centrelineDeg: number; readonly retardCrankDeg: number },
): number {
  return areFinite(centrelineDeg, retardCrankDeg) ? centrelineDeg + retardCrankDeg : NaN;
}

/** Exhaust centreline (BTDC) after a shift; a retard (positive crank degrees) moves it later, nearer to TDC. */
export function shiftedExhaustCentrelineDeg(
  { centrelineDeg, retardCrankDeg }: { readonly centrelineDeg: number; readonly retardCrankDeg: number },
): number {
  return areFinite(centrelineDeg, retardCrankDeg) ? centrelineDeg - retardCrankDeg : NaN;
}

/** Marks of an adjustable gear to move for a shift, signed as the shift; whole only when the gear can show it exactly. */
export function gearMarks(
  { shiftCrankDeg, markSpacingCrankDeg }: { readonly shiftCrankDeg: number; readonly markSpacingCrankDeg: number },
): number {
  return areFinite(shiftCrankDeg) && arePositive(markSpacingCrankDeg) ? shiftCrankDeg / markSpacingCrankDeg : NaN;
}

/** True when a count of marks lands on a mark, allowing for the rounding of binary fractions only. */
export function landsOnMark(marks: number): boolean {
  return Number.isFinite(marks) && Math.abs(marks - Math.round(marks)) < 1e-6;
}

/**
 * Length along the rim of a gear, m, that `camDeg` spans at `radius` m: s = r·φ. The way to tell a gear graduated in cam
 * degrees from one in crank degrees: marks called 1 apart sit this far apart for 1 cam degree, half of it for 1 crank degree.
 */
export function markArc({ radius, camDeg }: { readonly radius: number; readonly camDeg: number }): number {
  return arePositive(radius) && areFinite(camDeg) ? radius * toRadians(camDeg) : NaN;
}

/** Crank degrees that one tooth of the camshaft's gear is worth: 720 / teeth. */
export function toothCrankDeg({ teeth }: { readonly teeth: number }): number {
  return Number.isInteger(teeth) && teeth > 0 ? 720 / teeth : NaN;
}

/** How many whole teeth come nearest to an error in crank degrees, and what is left over once they are taken out. */
export function teethInError(
  { errorCrankDeg, teeth }: { readonly errorCrankDeg: number; readonly teeth: number },
): { readonly teeth: number; readonly remainderCrankDeg: number } {
  const perTooth = toothCrankDeg({ teeth });
  // Adding zero turns the −0 that rounding a small negative error gives into 0.
  const count = Math.round(errorCrankDeg / perTooth) + 0;
  return { teeth: count, remainderCrankDeg: errorCrankDeg - count * perTooth };
}

/**
 * Retard, crank degrees, of a belt- or chain-driven overhead camshaft when the head comes down by `lowered` m (skim, deck,
 * thinner gasket): twice the angle lowered / pitch radius. Assumes the driving run lies along the bore and the tensioner
 * takes up the slack on the other run; a run at an angle gives less. Where the head goes up the answer is negative: an advance.
 */
export function skimRetardCrankDeg({ lowered, gearPitchDiameter }: { readonly lowered: number; readonly gearPitchDiameter: number }): number {
  return areFinite(lowered) && arePositive(gearPitchDiameter) ? 2 * toDegrees(lowered / (gearPitchDiameter / 2)) : NaN;
}

export type Rotation = "clockwise" | "anticlockwise";

/**
 * Which way the camshaft turns in its gear, seen from the same end as its running rotation: an advance goes with
 * the running rotation, a retard against it. By definition of the words.
 */
export function camshaftTurn({ shift, rotation }: { readonly shift: "advance" | "retard"; readonly rotation: Rotation }): Rotation {
  if (shift === "advance") return rotation;
  return rotation === "clockwise" ? "anticlockwise" : "clockwise";
}

/** Ramp sensitivity: duration gained, crank degrees, when lash at the lobe falls by `lashChange` m on ramps of `rampVelocity` m per crank degree each side. */
export function durationFromLashDeg({ lashChange, rampVelocity }: { readonly lashChange: number; readonly rampVelocity: number }): number {
  return areFinite(lashChange) && arePositive(rampVelocity) ? (2 * lashChange) / rampVelocity : NaN;
}

/** True when an angle is one a crank can be asked about: finite and within two turns either way. */
export function isCycleAngle(deg: number): boolean {
  return Number.isFinite(deg) && areNotNegative(720 - Math.abs(deg));
}
