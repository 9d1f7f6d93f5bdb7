// The gap between piston and valve, and between two valves, over crank angle; it refuses to know where lift comes from.
//
// A computed gap is never permission: it knows nothing of rod stretch, valve float, a bent valve or a wrongly cut pocket.
// The measured figure (clay, checking springs) stands above it.

import { toRadians } from "./angle.ts";
import { pistonTravel } from "./bottom-end.ts";
import { areFinite, areNotNegative, arePositive } from "./domain.ts";
import type { SourcedFigure } from "./provenance.ts";

/** Least gaps asked for on steel rods, m. Trade minimums; other sources say 0.100 in for both valves or 0.060 in on one production engine. */
export const leastPistonValveGap: Readonly<Record<"intake" | "exhaust" | "radial", SourcedFigure>> = {
  intake: { value: 0.08 * 0.0254, provenance: "common practice", source: "0.080 in, steel rods, measured as run" },
  exhaust: { value: 0.1 * 0.0254, provenance: "common practice", source: "0.100 in, steel rods, measured as run" },
  radial: { value: 0.05 * 0.0254, provenance: "common practice", source: "0.050 in around the valve head, steel rods" },
};

/** What aluminium rods add to those, m. */
export const aluminiumRodAddition: SourcedFigure = { value: 0.03 * 0.0254, provenance: "from memory", source: "about 0.030 in" };

/**
 * Gap along the valve's axis with the piston at TDC and the valve shut, m, from the stack:
 * (deck clearance + crushed gasket + how far the valve head stands up in the chamber)·cos α + pocket depth. The pocket floor
 * is taken as parallel to the valve head and its depth as measured along the valve; α between valve and bore.
 */
export function closedValveGap(
  { deckClearance, gasketThickness, valveRecess, pocketDepth = 0, valveAngleDeg = 0 }: {
    readonly deckClearance: number;
    readonly gasketThickness: number;
    /** From head face up to the lowest edge of the shut valve, along the bore; negative when it hangs below the face. */
    readonly valveRecess: number;
    readonly pocketDepth?: number;
    readonly valveAngleDeg?: number;
  },
): number {
  return areFinite(deckClearance, valveRecess) && areNotNegative(gasketThickness, pocketDepth) && isValveAngle(valveAngleDeg)
    ? (deckClearance + gasketThickness + valveRecess) * Math.cos(toRadians(valveAngleDeg)) + pocketDepth
    : NaN;
}

function isValveAngle(deg: number): boolean {
  return areFinite(deg) && Math.abs(deg) < 90;
}

export interface GapSweep {
  readonly stroke: number;
  readonly rodLength: number;
  /** Along the valve's axis, piston at TDC, valve shut: see `closedValveGap`. */
  readonly closedGap: number;
  readonly valveAngleDeg?: number;
  /** Valve lift (m) at crank degrees after overlap TDC. Zero lash is the worst case. */
  readonly liftAtdc: (crankDeg: number) => number;
  /** Degrees either side of TDC to look at; at least 60 is wanted for a shifted gear. */
  readonly reachDeg?: number;
}

/** Gap at one crank angle, m along the valve's axis: closed gap + travel·cos α − lift. Negative: they would be in one place. */
export function pistonValveGap(
  { stroke, rodLength, closedGap, valveAngleDeg = 0, lift, crankDeg }: {
    readonly stroke: number;
    readonly rodLength: number;
    readonly closedGap: number;
    readonly valveAngleDeg?: number;
    readonly lift: number;
    readonly crankDeg: number;
  },
): number {
  return areFinite(closedGap) && areNotNegative(lift) && isValveAngle(valveAngleDeg)
    ? closedGap + pistonTravel({ stroke, rodLength, crankDeg }) * Math.cos(toRadians(valveAngleDeg)) - lift
    : NaN;
}

export interface LeastGap {
  readonly gap: number;
  readonly crankDeg: number;
}

/** The least gap of a sweep and where it is: every half degree, then refined by golden section around the least. NaN where any lift is unknown. */
export function leastPistonValveGapOver({ stroke, rodLength, closedGap, valveAngleDeg = 0, liftAtdc, reachDeg = 60 }: GapSweep): LeastGap {
  return leastOver(
    (crankDeg) => pistonValveGap({ stroke, rodLength, closedGap, valveAngleDeg, lift: liftAtdc(crankDeg), crankDeg }),
    reachDeg,
  );
}

function leastOver(gapAt: (crankDeg: number) => number, reachDeg: number): LeastGap {
  if (!arePositive(reachDeg)) return { gap: NaN, crankDeg: NaN };
  const step = 0.5;
  let least: LeastGap = { gap: Infinity, crankDeg: NaN };
  for (let crankDeg = -reachDeg; crankDeg <= reachDeg + 1e-9; crankDeg += step) {
    const gap = gapAt(crankDeg);
    if (!areFinite(gap)) return { gap: NaN, crankDeg: NaN };
    if (gap < least.gap) least = { gap, crankDeg };
  }
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = Math.max(-reachDeg, least.crankDeg - step);
  let high = Math.min(reachDeg, least.crankDeg + step);
  for (let round = 0; round < 40; round += 1) {
    const left = high - golden * (high - low);
    const right = low + golden * (high - low);
    if (gapAt(left) < gapAt(right)) high = right;
    else low = left;
  }
  const crankDeg = (low + high) / 2;
  const gap = gapAt(crankDeg);
  return gap < least.gap ? { gap, crankDeg } : least;
}

/** The least gap over every gear setting of a span, each setting moving the whole lift curve by its retard (crank degrees). */
export function leastGapOverSettings(
  sweep: GapSweep,
  { retardsDeg }: { readonly retardsDeg: readonly number[] },
): LeastGap & { readonly retardDeg: number } {
  let least = { gap: NaN, crankDeg: NaN, retardDeg: NaN };
  for (const retardDeg of retardsDeg) {
    const one = leastPistonValveGapOver({ ...sweep, liftAtdc: (crankDeg) => sweep.liftAtdc(crankDeg - retardDeg) });
    if (!areFinite(one.gap)) return { gap: NaN, crankDeg: NaN, retardDeg };
    if (!(least.gap <= one.gap)) least = { ...one, retardDeg };
  }
  return least;
}

/** One valve of an opposed pair whose axes lie in one plane with the bore's: all lengths m. */
export interface OpposedValve {
  readonly headDiameter: number;
  /** From the bore's axis line to the head's centre when shut. */
  readonly offset: number;
  /** Lean of the stem away from the bore's axis, degrees, so that an opening valve moves toward the other. */
  readonly angleDeg: number;
}

/**
 * Gap between the heads of an opposed intake and exhaust valve, m, at their lifts: the least distance between the two head
 * discs drawn as lines in the plane of both stems. Heads start level when shut. ESTIMATE: margins, edge radii and a plane
 * that does not hold both stems are left out; 0 means they touch or cross.
 */
export function valveToValveGap(
  { intake, exhaust, intakeLift, exhaustLift }: {
    readonly intake: OpposedValve;
    readonly exhaust: OpposedValve;
    readonly intakeLift: number;
    readonly exhaustLift: number;
  },
): number {
  if (!arePositive(intake.headDiameter, exhaust.headDiameter) || !areNotNegative(intakeLift, exhaustLift)) return NaN;
  if (!areFinite(intake.offset, exhaust.offset) || !isValveAngle(intake.angleDeg) || !isValveAngle(exhaust.angleDeg)) return NaN;
  return segmentDistance(headLine(intake, intakeLift, -1), headLine(exhaust, exhaustLift, 1));
}

type Point = readonly [x: number, y: number];

/** The head disc seen edge on. `side` −1 sits left of the bore's axis, +1 right; y runs down toward the piston. */
function headLine({ headDiameter, offset, angleDeg }: OpposedValve, lift: number, side: -1 | 1): readonly [Point, Point] {
  const sine = Math.sin(toRadians(angleDeg));
  const cosine = Math.cos(toRadians(angleDeg));
  const centre: Point = [side * offset - side * sine * lift, cosine * lift];
  const half = headDiameter / 2;
  // Across the stem: inner edge toward the other valve, outer edge away from it.
  const across: Point = [cosine, side * sine];
  return [
    [centre[0] - across[0] * half, centre[1] - across[1] * half],
    [centre[0] + across[0] * half, centre[1] + across[1] * half],
  ];
}

function segmentDistance([a, b]: readonly [Point, Point], [c, d]: readonly [Point, Point]): number {
  if (crosses(a, b, c, d)) return 0;
  return Math.min(toSegment(a, c, d), toSegment(b, c, d), toSegment(c, a, b), toSegment(d, a, b));
}

function side(a: Point, b: Point, p: Point): number {
  return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
}

function crosses(a: Point, b: Point, c: Point, d: Point): boolean {
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

function toSegment(p: Point, a: Point, b: Point): number {
  const along = [b[0] - a[0], b[1] - a[1]] as const;
  const length2 = along[0] ** 2 + along[1] ** 2;
  const t = Math.max(0, Math.min(1, ((p[0] - a[0]) * along[0] + (p[1] - a[1]) * along[1]) / length2));
  return Math.hypot(p[0] - a[0] - t * along[0], p[1] - a[1] - t * along[1]);
}

/** The least gap between opposed valves around overlap TDC, lifts given at crank degrees after it. */
export function leastValveToValveGap(
  { intake, exhaust, intakeLiftAtdc, exhaustLiftAtdc, reachDeg = 60 }: {
    readonly intake: OpposedValve;
    readonly exhaust: OpposedValve;
    readonly intakeLiftAtdc: (crankDeg: number) => number;
    readonly exhaustLiftAtdc: (crankDeg: number) => number;
    readonly reachDeg?: number;
  },
): LeastGap {
  return leastOver(
    (crankDeg) => valveToValveGap({ intake, exhaust, intakeLift: intakeLiftAtdc(crankDeg), exhaustLift: exhaustLiftAtdc(crankDeg) }),
    reachDeg,
  );
}
