// A measured lobe as a table of angle against lift: its faults, its smoothing, its readings; it refuses to know rods, valves or springs.
//
// Angles are crank degrees from any zero the caller likes (the lobe's centreline, or TDC); lifts are metres. A table read
// in cam degrees is doubled first. Between readings the curve is the monotone cubic of Fritsch and Carlson (1980), which
// passes through every reading and never bulges beyond two neighbours. Beyond its ends the end reading is held: where the
// table stops short of the seat that is the worst case for clearance, and `inspectLobe` says that it stops short.

import { areFinite, areNotNegative, arePositive } from "./domain.ts";

export interface LobePoint {
  readonly deg: number;
  readonly lift: number;
}

export type LobeTable = readonly LobePoint[];

export type LobeFault =
  | { readonly kind: "too-few" | "too-many"; readonly count: number }
  | { readonly kind: "not-a-number"; readonly index: number }
  | { readonly kind: "negative-lift"; readonly index: number; readonly lift: number }
  | { readonly kind: "out-of-order"; readonly index: number; readonly deg: number; readonly after: number }
  | { readonly kind: "repeated-angle"; readonly index: number; readonly deg: number }
  | { readonly kind: "gap"; readonly index: number; readonly fromDeg: number; readonly toDeg: number; readonly usualStepDeg: number }
  | { readonly kind: "kink"; readonly index: number; readonly deg: number; readonly lift: number; readonly expected: number }
  | { readonly kind: "ends-open"; readonly end: "first" | "last"; readonly lift: number };

/** Lift at a table's end, m, above which it counts as stopping with the valve still open. Common practice, no source: about the usual seat-to-seat reference. */
export const closedEndLift = 0.15e-3;

/** More readings than any lobe needs: one every tenth of a degree over two turns of the crank is 7200. This project's own choice. */
export const mostLobeReadings = 10_000;

/**
 * What is wrong with a table, in order of the rows. A gap is a step of more than 1.75 times the table's median step. A kink is
 * a reading that stands off the line of its four neighbours by more than 4 % of the peak lift, the trace of a misread dial. Both thresholds are this project's own choice.
 */
export function inspectLobe(table: LobeTable): readonly LobeFault[] {
  const faults: LobeFault[] = [];
  if (table.length < 5) faults.push({ kind: "too-few", count: table.length });
  if (table.length > mostLobeReadings) return [{ kind: "too-many", count: table.length }];
  table.forEach(({ deg, lift }, index) => {
    if (!areFinite(deg, lift)) faults.push({ kind: "not-a-number", index });
    else if (lift < 0) faults.push({ kind: "negative-lift", index, lift });
    const before = table[index - 1];
    if (before === undefined) return;
    if (deg === before.deg) faults.push({ kind: "repeated-angle", index, deg });
    else if (deg < before.deg) faults.push({ kind: "out-of-order", index, deg, after: before.deg });
  });
  if (faults.length > 0) return faults;

  const usualStepDeg = medianStep(table);
  table.forEach(({ deg, lift }, index) => {
    const before = table[index - 1];
    if (before !== undefined && deg - before.deg > 1.75 * usualStepDeg) {
      faults.push({ kind: "gap", index, fromDeg: before.deg, toDeg: deg, usualStepDeg });
    }
    const expected = lineOfNeighbours(table, index);
    if (Math.abs(lift - expected) > 0.04 * peakReading(table)) faults.push({ kind: "kink", index, deg, lift, expected });
  });
  // One misread dial bends the expectation of its neighbours too: only the worst of a run is the culprit.
  const kept = faults.filter((fault) =>
    fault.kind !== "kink" || !faults.some((other) =>
      other.kind === "kink" && other !== fault && Math.abs(other.index - fault.index) <= 2 &&
      Math.abs(other.lift - other.expected) > Math.abs(fault.lift - fault.expected)));
  const first = table[0];
  const last = table[table.length - 1];
  if (first !== undefined && first.lift > closedEndLift) kept.push({ kind: "ends-open", end: "first", lift: first.lift });
  if (last !== undefined && last.lift > closedEndLift) kept.push({ kind: "ends-open", end: "last", lift: last.lift });
  return kept;
}

function medianStep(table: LobeTable): number {
  const steps = table.slice(1).map((point, index) => point.deg - (table[index]?.deg ?? NaN)).sort((a, b) => a - b);
  return steps[Math.floor(steps.length / 2)] ?? NaN;
}

function peakReading(table: LobeTable): number {
  return table.reduce((peak, { lift }) => Math.max(peak, lift), 0);
}

/** Cubic through the two readings before and the two after (Lagrange), at this reading's angle; its own value where it lacks them. */
function lineOfNeighbours(table: LobeTable, index: number): number {
  const own = table[index];
  const around = [table[index - 2], table[index - 1], table[index + 1], table[index + 2]];
  if (own === undefined || around.some((point) => point === undefined)) return own?.lift ?? NaN;
  const points = around as LobePoint[];
  return points.reduce((sum, point, i) =>
    sum + points.reduce((product, other, j) => i === j ? product : (product * (own.deg - other.deg)) / (point.deg - other.deg), point.lift), 0);
}

/** True when a table can be read at all: two or more finite readings in rising order of angle. */
export function isReadable(table: LobeTable): boolean {
  return table.length >= 2 && table.every(({ deg, lift }, index) => {
    const before = table[index - 1];
    return areFinite(deg) && areNotNegative(lift) && (before === undefined || deg > before.deg);
  });
}

/** The same lobe with every angle multiplied: 2 turns cam degrees into crank degrees. */
export function scaleAngles({ table, by }: { readonly table: LobeTable; readonly by: number }): LobeTable {
  return table.map(({ deg, lift }) => ({ deg: deg * by, lift }));
}

/** The same lobe with its zero moved: a table counted from the centreline becomes one counted from TDC by adding the centreline. */
export function moveAngles({ table, by }: { readonly table: LobeTable; readonly by: number }): LobeTable {
  return table.map(({ deg, lift }) => ({ deg: deg + by, lift }));
}

/** Lift at an angle, m, by monotone cubic interpolation; the end reading beyond the ends; NaN for a table that cannot be read. */
export function liftAt({ table, deg }: { readonly table: LobeTable; readonly deg: number }): number {
  return readerOf(table)(deg);
}

/** The same reading, its slopes worked out once: for sweeps that ask hundreds of angles. */
export function readerOf(table: LobeTable): (deg: number) => number {
  if (!isReadable(table)) return () => NaN;
  const slopes = monotoneSlopes(table);
  return (deg) => {
    const first = table[0]!;
    const last = table[table.length - 1]!;
    if (!areFinite(deg)) return NaN;
    if (deg <= first.deg) return first.lift;
    if (deg >= last.deg) return last.lift;
    let low = 0;
    let high = table.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (table[middle]!.deg <= deg) low = middle;
      else high = middle;
    }
    const from = table[low]!;
    const to = table[high]!;
    const width = to.deg - from.deg;
    const t = (deg - from.deg) / width;
    const u = 1 - t;
    return (1 + 2 * t) * u * u * from.lift + t * u * u * width * slopes[low]! +
      t * t * (3 - 2 * t) * to.lift - t * t * u * width * slopes[high]!;
  };
}

/** Fritsch–Carlson slopes with the harmonic mean weighted by spacing, zero at every local top and bottom. */
function monotoneSlopes(table: LobeTable): readonly number[] {
  const count = table.length;
  const widths = table.slice(1).map((point, index) => point.deg - table[index]!.deg);
  const secants = table.slice(1).map((point, index) => (point.lift - table[index]!.lift) / widths[index]!);
  return table.map((_, index) => {
    if (index === 0) return endSlope(secants[0]!, secants[1] ?? secants[0]!, widths[0]!, widths[1] ?? widths[0]!);
    if (index === count - 1) {
      return endSlope(secants[count - 2]!, secants[count - 3] ?? secants[count - 2]!, widths[count - 2]!, widths[count - 3] ?? widths[count - 2]!);
    }
    const before = secants[index - 1]!;
    const after = secants[index]!;
    if (before * after <= 0) return 0;
    const w1 = 2 * widths[index]! + widths[index - 1]!;
    const w2 = widths[index]! + 2 * widths[index - 1]!;
    return (w1 + w2) / (w1 / before + w2 / after);
  });
}

/** One-sided three-point slope, cut back where it would make the end overshoot. */
function endSlope(near: number, next: number, nearWidth: number, nextWidth: number): number {
  const slope = ((2 * nearWidth + nextWidth) * near - nearWidth * next) / (nearWidth + nextWidth);
  if (slope * near <= 0) return 0;
  if (near * next <= 0 && Math.abs(slope) > 3 * Math.abs(near)) return 3 * near;
  return slope;
}

/** Highest reading of the table, m, and its angle; the middle of the flat where several share it. NaN for an unreadable table. */
export function lobePeak(table: LobeTable): { readonly deg: number; readonly lift: number } {
  if (!isReadable(table)) return { deg: NaN, lift: NaN };
  const lift = peakReading(table);
  const tops = table.filter((point) => point.lift === lift);
  return { deg: ((tops[0]?.deg ?? NaN) + (tops[tops.length - 1]?.deg ?? NaN)) / 2, lift };
}

export interface LobeEvents {
  readonly opensDeg: number;
  readonly closesDeg: number;
  readonly durationDeg: number;
  /** Halfway between the two: the centreline by the equal-lift method of degreeing. */
  readonly centrelineDeg: number;
}

/**
 * Where the curve passes a lift (m) on its way up to the peak and down from it, by bisection on the interpolated curve.
 * All NaN when the table never reaches the lift or starts or ends above it.
 */
export function eventsAtLift({ table, lift }: { readonly table: LobeTable; readonly lift: number }): LobeEvents {
  const never = { opensDeg: NaN, closesDeg: NaN, durationDeg: NaN, centrelineDeg: NaN };
  if (!isReadable(table) || !areFinite(lift)) return never;
  const peak = lobePeak(table);
  const top = table.findIndex((point) => point.lift === peak.lift);
  const first = table[0]!;
  const last = table[table.length - 1]!;
  if (!(lift < peak.lift) || first.lift > lift || last.lift > lift) return never;
  const read = readerOf(table);
  // The crossing nearest the nose on each flank: a bump on the heel is not an opening.
  let up = top;
  while (up > 0 && table[up - 1]!.lift > lift) up -= 1;
  let down = top;
  while (down < table.length - 1 && table[down + 1]!.lift > lift) down += 1;
  const opensDeg = crossing(read, table[up - 1]!.deg, table[up]!.deg, lift);
  const closesDeg = crossing(read, table[down + 1]!.deg, table[down]!.deg, lift);
  return { opensDeg, closesDeg, durationDeg: closesDeg - opensDeg, centrelineDeg: (opensDeg + closesDeg) / 2 };
}

/** Bisection between an angle where the lift is at or below the target and one where it is above. */
function crossing(read: (deg: number) => number, belowDeg: number, aboveDeg: number, lift: number): number {
  let below = belowDeg;
  let above = aboveDeg;
  for (let step = 0; step < 60; step += 1) {
    const middle = (below + above) / 2;
    if (read(middle) > lift) above = middle;
    else below = middle;
  }
  return (below + above) / 2;
}

/** The lobe as the valve sees it: lift × ratio less the lash at the valve (m), never below zero. A constant ratio is assumed. */
export function valveTable(
  { table, rockerRatio, lashAtValve }: { readonly table: LobeTable; readonly rockerRatio: number; readonly lashAtValve: number },
): LobeTable {
  if (!arePositive(rockerRatio) || !areNotNegative(lashAtValve)) return table.map(({ deg }) => ({ deg, lift: NaN }));
  return table.map(({ deg, lift }) => ({ deg, lift: Math.max(0, lift * rockerRatio - lashAtValve) }));
}

/**
 * Duration, crank degrees, for which the valve is off its seat at a lash: the lobe's duration at lash / ratio. Only as good
 * as the readings low on the ramps.
 */
export function durationAtLashDeg(
  { table, rockerRatio, lashAtValve }: { readonly table: LobeTable; readonly rockerRatio: number; readonly lashAtValve: number },
): number {
  return arePositive(rockerRatio) && areNotNegative(lashAtValve)
    ? eventsAtLift({ table, lift: lashAtValve / rockerRatio }).durationDeg
    : NaN;
}

/** Lift at overlap TDC, m, for a table counted from the lobe's centreline, which lies `centrelineAtdcDeg` after TDC (negative: before). */
export function liftAtTdc({ table, centrelineAtdcDeg }: { readonly table: LobeTable; readonly centrelineAtdcDeg: number }): number {
  return liftAt({ table, deg: -centrelineAtdcDeg });
}

export interface LobeMotion extends LobePoint {
  /** m per crank degree. */
  readonly velocityPerDeg: number;
  /** m per crank degree². */
  readonly accelerationPerDeg2: number;
}

/**
 * Smoothed lift with its first and second derivative at every reading: a least-squares parabola over `window` neighbouring
 * readings (odd, at least 3; fewer at the ends), the method of Savitzky and Golay (1964) carried to uneven steps. A dial's
 * reading error grows with the square of the step in the second derivative: widen the window rather than trust a rough one.
 */
export function smoothLobe({ table, window = 5 }: { readonly table: LobeTable; readonly window?: number }): readonly LobeMotion[] {
  if (!isReadable(table) || table.length < 3 || !Number.isInteger(window) || window < 3) {
    return table.map((point) => ({ ...point, velocityPerDeg: NaN, accelerationPerDeg2: NaN }));
  }
  const half = Math.floor(window / 2);
  return table.map(({ deg }, index) => {
    const from = Math.max(0, Math.min(index - half, table.length - Math.min(window, table.length)));
    const around = table.slice(from, from + window);
    const [lift, velocityPerDeg, halfAcceleration] = fitParabola(around.map((point) => [point.deg - deg, point.lift]));
    return { deg, lift, velocityPerDeg, accelerationPerDeg2: 2 * halfAcceleration };
  });
}

/** Least-squares y = a + b·x + c·x² by the normal equations, solved by Cramer's rule; x is centred by the caller. */
function fitParabola(points: readonly (readonly [number, number])[]): readonly [number, number, number] {
  // Scaling x to about one keeps the normal equations well conditioned for any step.
  const reach = Math.max(...points.map(([x]) => Math.abs(x)));
  let s0 = 0, s1 = 0, s2 = 0, s3 = 0, s4 = 0, t0 = 0, t1 = 0, t2 = 0;
  for (const [rawX, y] of points) {
    const x = rawX / reach;
    s0 += 1; s1 += x; s2 += x * x; s3 += x ** 3; s4 += x ** 4;
    t0 += y; t1 += x * y; t2 += x * x * y;
  }
  const whole = determinant(s0, s1, s2, s1, s2, s3, s2, s3, s4);
  const a = determinant(t0, s1, s2, t1, s2, s3, t2, s3, s4) / whole;
  const b = determinant(s0, t0, s2, s1, t1, s3, s2, t2, s4) / whole;
  const c = determinant(s0, s1, t0, s1, s2, t1, s2, s3, t2) / whole;
  return [a, b / reach, c / (reach * reach)];
}

function determinant(a: number, b: number, c: number, d: number, e: number, f: number, g: number, h: number, i: number): number {
  return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
}

/** m/s from m per crank degree at a crank speed: one revolution is 360°, so 6·rpm degrees pass in a second. */
export function speedOnLobe({ velocityPerDeg, rpm }: { readonly velocityPerDeg: number; readonly rpm: number }): number {
  return areFinite(velocityPerDeg) && areNotNegative(rpm) ? velocityPerDeg * 6 * rpm : NaN;
}

/** m/s² from m per crank degree² at a crank speed. */
export function accelerationOnLobe({ accelerationPerDeg2, rpm }: { readonly accelerationPerDeg2: number; readonly rpm: number }): number {
  return areFinite(accelerationPerDeg2) && areNotNegative(rpm) ? accelerationPerDeg2 * (6 * rpm) ** 2 : NaN;
}
