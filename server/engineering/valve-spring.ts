// Round-wire helical valve springs: rate, load, stress, solid height, surge and float; it refuses to know which engine they sit in.
//
// Source of the spring relations: a machine-design textbook, chapter on mechanical springs. Mean diameter is the outside
// diameter less one wire. Beehive, conical and progressive springs do not obey these: give them two measured loads instead.

import { toRadians } from "./angle.ts";
import { areFinite, areNotNegative, arePositive } from "./domain.ts";
import type { SourcedFigure } from "./provenance.ts";

export type WireGrade = "music wire" | "hard-drawn" | "oil-tempered" | "chrome-vanadium" | "chrome-silicon";

export const wireGrades: readonly WireGrade[] = ["music wire", "hard-drawn", "oil-tempered", "chrome-vanadium", "chrome-silicon"];

/** Shear modulus, Pa. Textbook table of spring-wire moduli, 11.2 Mpsi and 11.6 Mpsi in round SI figures. */
export const shearModulus: Readonly<Record<WireGrade, SourcedFigure>> = {
  "music wire": { value: 80.0e9, provenance: "textbook", source: "spring-wire moduli, 11.6 Mpsi for the thicker sizes" },
  "hard-drawn": { value: 79.3e9, provenance: "from memory", source: "spring-wire moduli, 11.5 Mpsi" },
  "oil-tempered": { value: 77.2e9, provenance: "textbook", source: "spring-wire moduli, 11.2 Mpsi" },
  "chrome-vanadium": { value: 77.2e9, provenance: "textbook", source: "spring-wire moduli, 11.2 Mpsi" },
  "chrome-silicon": { value: 77.2e9, provenance: "textbook", source: "spring-wire moduli, 11.2 Mpsi" },
};

/** The modulus taken where the wire's grade is not stated: most valve springs are one of the three steels that share it. Pa. */
export const usualShearModulus: SourcedFigure = {
  value: 77.2e9,
  provenance: "textbook",
  source: "shared by oil-tempered, chrome-vanadium and chrome-silicon wire",
};

/** Density of spring steel, kg/m³, as the textbooks round it. */
export const springSteelDensity = 7850;

/** A and m of S_ut = A / d^m with d in mm and A in MPa·mm^m, and the wire sizes (mm) they hold for. From memory; a machine-design textbook prints the table. */
const tensileConstants: Readonly<Record<WireGrade, { readonly a: number; readonly m: number; readonly fromMm: number; readonly toMm: number }>> = {
  "music wire": { a: 2211, m: 0.145, fromMm: 0.1, toMm: 6.5 },
  "hard-drawn": { a: 1783, m: 0.19, fromMm: 0.7, toMm: 12.7 },
  "oil-tempered": { a: 1855, m: 0.187, fromMm: 0.5, toMm: 12.7 },
  "chrome-vanadium": { a: 2005, m: 0.168, fromMm: 0.8, toMm: 11.1 },
  "chrome-silicon": { a: 1974, m: 0.108, fromMm: 1.6, toMm: 9.5 },
};

/** Least tensile strength of spring wire, Pa, by grade and size; NaN outside the sizes its constants hold for. Constants from memory. */
export function wireTensileStrength({ grade, wire }: { readonly grade: WireGrade; readonly wire: number }): number {
  const { a, m, fromMm, toMm } = tensileConstants[grade];
  const wireMm = wire * 1000;
  return wireMm >= fromMm && wireMm <= toMm ? (a / wireMm ** m) * 1e6 : NaN;
}

/**
 * Share of the tensile strength taken as torsional yield before set is removed. Textbook table: 45 % for music and
 * hard-drawn wire, 50 % for hardened and tempered steels (the second from memory).
 */
export function torsionalYieldShare(grade: WireGrade): number {
  return grade === "music wire" || grade === "hard-drawn" ? 0.45 : 0.5;
}

/** Torsional yield of the wire, Pa: its share of the tensile strength. */
export function torsionalYield({ tensileStrength, share }: { readonly tensileStrength: number; readonly share: number }): number {
  return arePositive(tensileStrength, share) ? tensileStrength * share : NaN;
}

/** Spring index: mean diameter over wire, a pure number. */
export function springIndex({ wire, meanDiameter }: { readonly wire: number; readonly meanDiameter: number }): number {
  return arePositive(wire, meanDiameter) && meanDiameter > wire ? meanDiameter / wire : NaN;
}

/** Rate, N/m: G·d⁴ / (8·D³·n), n active coils (total less two for closed and ground ends). */
export function springRate(
  { wire, meanDiameter, activeCoils, shearModulus: modulus }: {
    readonly wire: number;
    readonly meanDiameter: number;
    readonly activeCoils: number;
    readonly shearModulus: number;
  },
): number {
  return arePositive(wire, meanDiameter, activeCoils, modulus)
    ? (modulus * wire ** 4) / (8 * meanDiameter ** 3 * activeCoils)
    : NaN;
}

/** Rate, N/m, from two loads read at two heights: (F2 − F1) / (h1 − h2). Between those heights only. */
export function rateFromTwoLoads(
  { load1, height1, load2, height2 }: {
    readonly load1: number;
    readonly height1: number;
    readonly load2: number;
    readonly height2: number;
  },
): number {
  const rate = (load2 - load1) / (height1 - height2);
  return arePositive(height1, height2) && areNotNegative(load1, load2) && arePositive(rate) ? rate : NaN;
}

/** Load, N, of a spring pressed from its free height to `height`; zero where it is not pressed. */
export function springLoad(
  { rate, freeHeight, height }: { readonly rate: number; readonly freeHeight: number; readonly height: number },
): number {
  return arePositive(rate, freeHeight, height) ? Math.max(0, rate * (freeHeight - height)) : NaN;
}

/** Load, N, at a valve lift from the seat load: F0 + k·lift. Straight-line springs, before coil bind. */
export function openLoad({ seatLoad, rate, lift }: { readonly seatLoad: number; readonly rate: number; readonly lift: number }): number {
  return areNotNegative(seatLoad, lift) && arePositive(rate) ? seatLoad + rate * lift : NaN;
}

/** Load, N, gained at the seat by a shim of `thickness` m: k·t. The same thickness goes off the coil-bind margin. */
export function shimLoadGain({ rate, thickness }: { readonly rate: number; readonly thickness: number }): number {
  return arePositive(rate) && areFinite(thickness) ? rate * thickness : NaN;
}

/** Curvature and direct-shear factor for round wire: (4C − 1)/(4C − 4) + 0.615/C. */
export function wahlFactor({ index }: { readonly index: number }): number {
  return index > 1 ? (4 * index - 1) / (4 * index - 4) + 0.615 / index : NaN;
}

/** The second textbook factor for the same thing, (4C + 2)/(4C − 3); the two differ by less than a per cent for usual springs. */
export function bergstraesserFactor({ index }: { readonly index: number }): number {
  return index > 1 ? (4 * index + 2) / (4 * index - 3) : NaN;
}

/** Shear stress in the wire, Pa: K·8·F·D/(π·d³), K either factor above. */
export function springShearStress(
  { load, wire, meanDiameter, factor }: {
    readonly load: number;
    readonly wire: number;
    readonly meanDiameter: number;
    readonly factor: number;
  },
): number {
  return areNotNegative(load) && arePositive(wire, meanDiameter, factor)
    ? (factor * 8 * load * meanDiameter) / (Math.PI * wire ** 3)
    : NaN;
}

/** Load, N, at which the wire reaches a shear stress (Pa): the inverse of the above. */
export function loadAtShearStress(
  { stress, wire, meanDiameter, factor }: {
    readonly stress: number;
    readonly wire: number;
    readonly meanDiameter: number;
    readonly factor: number;
  },
): number {
  return arePositive(stress, wire, meanDiameter, factor) ? (Math.PI * wire ** 3 * stress) / (8 * factor * meanDiameter) : NaN;
}

/** Deflection, m, under a load: F / k. */
export function springDeflection({ load, rate }: { readonly load: number; readonly rate: number }): number {
  return areNotNegative(load) && arePositive(rate) ? load / rate : NaN;
}

export type SpringEnds = "squared and ground" | "squared";

/** Solid height, m: total coils × wire when the ends are ground, one wire more when only squared. */
export function solidHeight(
  { wire, totalCoils, ends }: { readonly wire: number; readonly totalCoils: number; readonly ends: SpringEnds },
): number {
  return arePositive(wire, totalCoils) ? (ends === "squared and ground" ? totalCoils : totalCoils + 1) * wire : NaN;
}

/** Room left before the coils touch at full lift, m: installed height − lift − solid height. Negative: it binds. */
export function coilBindMargin(
  { installedHeight, lift, solidHeight: solid }: { readonly installedHeight: number; readonly lift: number; readonly solidHeight: number },
): number {
  return arePositive(installedHeight, solid) && areNotNegative(lift) ? installedHeight - lift - solid : NaN;
}

/** The same room shared among the active coils, m per coil. */
export function coilBindMarginPerCoil({ margin, activeCoils }: { readonly margin: number; readonly activeCoils: number }): number {
  return areFinite(margin) && arePositive(activeCoils) ? margin / activeCoils : NaN;
}

/** Room between retainer and guide or seal at full lift, m. Negative: they meet. */
export function retainerGuideMargin({ closedGap, lift }: { readonly closedGap: number; readonly lift: number }): number {
  return arePositive(closedGap) && areNotNegative(lift) ? closedGap - lift : NaN;
}

/** Least margins of the valve train at full lift, m. Both are widely repeated and in no standard. */
export const leastCoilBindMargin: SourcedFigure = {
  value: 0.06 * 0.0254,
  provenance: "common practice",
  source: "0.050 to 0.060 in total at full lift, or 0.010 to 0.012 in per active coil; no source found in print",
};
export const leastRetainerGuideMargin: SourcedFigure = {
  value: 0.06 * 0.0254,
  provenance: "common practice",
  source: "0.050 to 0.060 in at full lift; no source found in print",
};

/** First natural frequency of a spring between flat seats, Hz: d/(2π·D²·n)·√(G/(2ρ)), mass of the active coils only. */
export function surgeFrequency(
  { wire, meanDiameter, activeCoils, shearModulus: modulus, density = springSteelDensity }: {
    readonly wire: number;
    readonly meanDiameter: number;
    readonly activeCoils: number;
    readonly shearModulus: number;
    readonly density?: number;
  },
): number {
  return arePositive(wire, meanDiameter, activeCoils, modulus, density)
    ? (wire / (2 * Math.PI * meanDiameter ** 2 * activeCoils)) * Math.sqrt(modulus / (2 * density))
    : NaN;
}

/** Mass of the active coils, kg: π²·d²·D·n·ρ/4. */
export function activeCoilMass(
  { wire, meanDiameter, activeCoils, density = springSteelDensity }: {
    readonly wire: number;
    readonly meanDiameter: number;
    readonly activeCoils: number;
    readonly density?: number;
  },
): number {
  return arePositive(wire, meanDiameter, activeCoils, density)
    ? (Math.PI ** 2 * wire ** 2 * meanDiameter * activeCoils * density) / 4
    : NaN;
}

/**
 * Surge frequency over camshaft frequency (crank rpm / 120). The textbook asks 15 to 20; real valve springs seldom reach
 * it, which is why dampers and nested springs exist: a thing to know, not a failure.
 */
export function surgeRatio({ frequency, rpm }: { readonly frequency: number; readonly rpm: number }): number {
  return arePositive(frequency, rpm) ? frequency / (rpm / 120) : NaN;
}

/**
 * Mass felt at the valve, kg: valve + retainer and keepers + a third of the spring + cam-side mass / ratio² (+ rocker
 * inertia / valve arm²). Kinetic-energy equivalence of a rigid train.
 *
 * The cam-side parts move 1/ratio as fast as the valve, so they count by the square of that.
 */
export function massAtValve(
  { valve, retainer, spring, camSide = 0, rockerRatio = 1, rockerInertia = 0, rockerValveArm }: {
    readonly valve: number;
    readonly retainer: number;
    readonly spring: number;
    readonly camSide?: number;
    readonly rockerRatio?: number;
    /** kg·m² about the pivot. */
    readonly rockerInertia?: number;
    /** m from pivot to valve tip; needed only where an inertia is given. */
    readonly rockerValveArm?: number;
  },
): number {
  if (!arePositive(valve, rockerRatio) || !areNotNegative(retainer, spring, camSide, rockerInertia)) return NaN;
  const rocker = rockerInertia === 0 ? 0 : rockerInertia / (rockerValveArm ?? NaN) ** 2;
  return valve + retainer + spring / 3 + camSide / rockerRatio ** 2 + rocker;
}

/**
 * Crank rpm at which the spring at full lift can just turn the valve round on a cosine lobe:
 * 30/π·√(F / (m·(L/2)·(2π/D)²)), D in radians of crank. ESTIMATE: rigid train, no surge, no friction; a real train
 * usually lets go 10 to 25 % earlier.
 */
export function floatSpeedOnCosineLobe(
  { openLoad: load, mass, lift, durationDeg }: {
    readonly openLoad: number;
    readonly mass: number;
    readonly lift: number;
    readonly durationDeg: number;
  },
): number {
  if (!arePositive(load, mass, lift, durationDeg)) return NaN;
  const perRadian = (2 * Math.PI) / toRadians(durationDeg);
  return (30 / Math.PI) * Math.sqrt(load / (mass * (lift / 2) * perRadian * perRadian));
}

/**
 * Crank rpm at which the spring first fails to hold the valve to a measured lobe: the least, over every point that
 * decelerates, of √((F0 + k·lift) / (m·|y″|)), y″ in m per crank degree². ESTIMATE for the same reasons as above.
 * NaN where nothing decelerates.
 */
export function floatSpeedOnLobe(
  { seatLoad, rate, mass, points }: {
    readonly seatLoad: number;
    readonly rate: number;
    readonly mass: number;
    /** Valve lift in m and its second derivative in m per crank degree². */
    readonly points: readonly { readonly lift: number; readonly accelerationPerDeg2: number }[];
  },
): number {
  if (!areNotNegative(seatLoad) || !arePositive(rate, mass)) return NaN;
  let least = Infinity;
  for (const { lift, accelerationPerDeg2 } of points) {
    if (!(accelerationPerDeg2 < 0) || !areNotNegative(lift)) continue;
    const degPerSecond = Math.sqrt((seatLoad + rate * lift) / (mass * -accelerationPerDeg2));
    least = Math.min(least, degPerSecond / 6);
  }
  return Number.isFinite(least) ? least : NaN;
}
