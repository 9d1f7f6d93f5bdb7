// Clearances of bearings, rings, pistons and thrust faces, and the rules of thumb beside them; it refuses to know any maker's figure.
//
// Lengths in m. Nearly every limit here is common practice: the maker's sheet governs, and published sets differ by a tenth
// to a quarter. Each says so.

import { areFinite, areNotNegative, arePositive } from "./domain.ts";
import type { Provenance, SourcedFigure, SourcedSpan } from "./provenance.ts";

const inch = 0.0254;

/** Oil clearance, m, from measurements: housing bore − two shells − journal. Negative: it does not go together. */
export function bearingClearanceFromShells({ housingBore, shellThickness, journal }: { readonly housingBore: number; readonly shellThickness: number; readonly journal: number }): number {
  return arePositive(housingBore, shellThickness, journal) ? housingBore - 2 * shellThickness - journal : NaN;
}

/** Clearance, m, between a bore measured with its shells in (or any hole) and the shaft or piston in it. */
export function fitClearance({ bore, shaft }: { readonly bore: number; readonly shaft: number }): number {
  return arePositive(bore, shaft) ? bore - shaft : NaN;
}

/** Clearance, m, as a share of a diameter. */
export function clearanceFromShare({ diameter, share }: { readonly diameter: number; readonly share: number }): number {
  return arePositive(diameter) && areNotNegative(share) ? diameter * share : NaN;
}

/** Bearing oil clearance as a share of the journal. Trade rule; many modern engines on thin oil run 0.0005 to 0.0008. */
export const bearingClearanceShare: SourcedSpan = {
  low: 0.00075,
  high: 0.001,
  provenance: "common practice",
  source: "0.00075 to 0.0010 in per inch of journal; add 0.0005 in for hard use",
};

/** What hard use adds to that, m. */
export const bearingClearanceHardUse: SourcedFigure = { value: 0.0005 * inch, provenance: "common practice", source: "trade advice" };

/** Crankshaft end play, m. Specifications run from 0.002 to 0.014 in, service limits 0.010 to 0.018 in. */
export const usualCrankEndPlay: SourcedSpan = {
  low: 0.004 * inch,
  high: 0.008 * inch,
  provenance: "common practice",
  source: "typical production specification 0.004 to 0.008 in",
};

export type RingUse =
  | "street"
  | "modified or nitrous"
  | "racing naturally aspirated"
  | "racing nitrous or turbo"
  | "racing supercharged";

export interface RingGapFactors {
  /** Pure ratio: gap per bore. */
  readonly top: number;
  readonly second: number | undefined;
  readonly provenance: Provenance;
  readonly source: string;
}

const setA = "trade factors, first of two published sets; they differ by up to 0.001 per bore";
const setB = "trade factors, second of two published sets; second ring 1.25 times the top";

/** Least ring end gap per bore by use. Common practice; the ring maker's sheet governs. */
export const ringGapFactors: Readonly<Record<RingUse, RingGapFactors>> = {
  street: { top: 0.004, second: undefined, provenance: "common practice", source: setA },
  "modified or nitrous": { top: 0.005, second: 0.0055, provenance: "common practice", source: setA },
  "racing naturally aspirated": { top: 0.005, second: 0.0053, provenance: "common practice", source: setA },
  "racing nitrous or turbo": { top: 0.006, second: 0.0057, provenance: "common practice", source: setA },
  "racing supercharged": { top: 0.007, second: 0.0063, provenance: "common practice", source: setA },
};

export type OtherRingUse = "street" | "moderate turbo or nitrous" | "drag or oval" | "turbo or nitrous race";

/** The second published set, kept to show how far such factors agree. */
export const otherRingGapFactors: Readonly<Record<OtherRingUse, RingGapFactors>> = {
  street: { top: 0.0045, second: 0.0045 * 1.25, provenance: "common practice", source: setB },
  "moderate turbo or nitrous": { top: 0.005, second: 0.005 * 1.25, provenance: "common practice", source: setB },
  "drag or oval": { top: 0.0055, second: 0.0055 * 1.25, provenance: "common practice", source: setB },
  "turbo or nitrous race": { top: 0.0065, second: 0.0065 * 1.25, provenance: "common practice", source: setB },
};

/** Ring end gap, m: factor × bore, at the smallest place of the bore. */
export function ringGap({ bore, factor }: { readonly bore: number; readonly factor: number }): number {
  return arePositive(bore, factor) ? bore * factor : NaN;
}

export type PistonKind = "cast or hypereutectic" | "4032 forged street" | "2618 forged naturally aspirated" | "2618 forged boosted";

/** Cold piston-to-wall clearance, m, for a bore about 4 in. WEAK, from memory: the skirt's shape decides and only the piston maker knows it. */
export const pistonWallClearance: Readonly<Record<PistonKind, SourcedSpan>> = {
  "cast or hypereutectic": { low: 0.0005 * inch, high: 0.002 * inch, provenance: "from memory", source: "weak" },
  "4032 forged street": { low: 0.002 * inch, high: 0.003 * inch, provenance: "from memory", source: "weak" },
  "2618 forged naturally aspirated": { low: 0.0035 * inch, high: 0.0045 * inch, provenance: "from memory", source: "weak" },
  "2618 forged boosted": { low: 0.0045 * inch, high: 0.006 * inch, provenance: "from memory", source: "weak" },
};

/** How much a skirt closes on its bore as both warm, m: D·(αp·ΔTp − αb·ΔTb). */
export function skirtGrowth({ bore, pistonExpansion, pistonRise, boreExpansion, boreRise }: { readonly bore: number; readonly pistonExpansion: number; readonly pistonRise: number; readonly boreExpansion: number; readonly boreRise: number }): number {
  return arePositive(bore) && areFinite(pistonExpansion, pistonRise, boreExpansion, boreRise)
    ? bore * (pistonExpansion * pistonRise - boreExpansion * boreRise)
    : NaN;
}

/** Squish clearance, m, steel rods. Below the low end parts may meet; above the high end the effect is lost. */
export const usualSquishClearance: SourcedSpan = { low: 0.035 * inch, high: 0.06 * inch, provenance: "common practice", source: "about 0.040 in, sometimes 0.036 in" };

/** Mean piston speeds of the trade, m/s; a textbook gives 8 to 15 as the usual maximum. */
export const usualMeanPistonSpeed: Readonly<Record<"usual" | "sport" | "racing", SourcedSpan>> = {
  usual: { low: 8, high: 16, provenance: "textbook", source: "an engine textbook, 8 to 15 m/s; trade class of road cars to 16" },
  sport: { low: 20, high: 25, provenance: "common practice", source: "trade class" },
  racing: { low: 25, high: 30, provenance: "common practice", source: "trade class" },
};

/** Oil pressure, Pa gauge, of the old rule, 10 psi for each 1000 rpm. WEAK: modern engines run far less by design. */
export function ruleOfThumbOilPressure({ rpm }: { readonly rpm: number }): number {
  return areNotNegative(rpm) ? (10 * 6894.757293168361 * rpm) / 1000 : NaN;
}
