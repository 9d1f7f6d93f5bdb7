// Cranking pressure and leak-down: what a gauge in a plug hole says; it refuses to know why a cylinder leaks.

import { areNotNegative, arePositive } from "./domain.ts";
import type { SourcedFigure } from "./provenance.ts";

/** Leak-down, a share: 1 − cylinder/supply pressure, gauge. Testers' orifices differ; compare cylinders, not workshops. */
export function leakDown({ supply, cylinder }: { readonly supply: number; readonly cylinder: number }): number {
  return arePositive(supply) && areNotNegative(cylinder) && cylinder <= supply ? 1 - cylinder / supply : NaN;
}

/** Leak-down shares that part good, serviceable and faulty. Trade practice; differences between cylinders matter more. */
export const leakDownBands: Readonly<Record<"good" | "serviceable" | "fault", SourcedFigure>> = {
  good: { value: 0.1, provenance: "common practice", source: "good to 5 to 10 %" },
  serviceable: { value: 0.2, provenance: "common practice", source: "usable to 20 %" },
  fault: { value: 0.3, provenance: "common practice", source: "above 30 % a fault" },
};

/** Lowest over highest of the cylinders' cranking pressures, a share. NaN with fewer than two or any not above zero. */
export function crankingSpread(pressures: readonly number[]): number {
  return pressures.length >= 2 && arePositive(...pressures) ? Math.min(...pressures) / Math.max(...pressures) : NaN;
}

/** Least share of the highest that a cylinder should reach. Makers differ (0.70 to 0.90): the engine's own figure governs. */
export const usualCrankingShare: SourcedFigure = { value: 0.75, provenance: "common practice", source: "makers' service practice, 70 to 90 %" };

/** Least pressure allowed a cylinder, unit as given: the greater of a share of the highest and a floor. */
export function leastCrankingPressure({ highest, share, floor = 0 }: { readonly highest: number; readonly share: number; readonly floor?: number }): number {
  return arePositive(highest, share) && areNotNegative(floor) ? Math.max(share * highest, floor) : NaN;
}

/**
 * Cranking pressure to expect, Pa gauge: p·DCR^n − p, n about 1.20. WEAK, ±20 %: n runs from 1.15 to 1.3 with cranking speed
 * and leakage, and a decompressor makes nonsense of it.
 */
export function expectedCrankingPressure({ barometer, dynamicRatio, exponent = 1.2 }: { readonly barometer: number; readonly dynamicRatio: number; readonly exponent?: number }): number {
  return arePositive(barometer, exponent) && dynamicRatio > 1 ? barometer * dynamicRatio ** exponent - barometer : NaN;
}
