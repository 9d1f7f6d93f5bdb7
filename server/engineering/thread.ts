// Screw-thread geometry, metric and unified, in metres; it refuses to know strengths, torques or friction.
//
// Sources: ISO 724 and ISO 898-1 for metric threads, ASME B1.1 for unified ones. Both forms are the same 60° triangle, so
// the pitch and minor diameters share their factors; only the stress-area constants are rounded differently.

import { areNotNegative, arePositive } from "./domain.ts";

export type ThreadForm = "metric" | "unified";

/** A thread: nominal diameter and pitch in m (a unified pitch is one inch over its threads per inch). */
export interface Thread {
  readonly form: ThreadForm;
  readonly diameter: number;
  readonly pitch: number;
}

function isThread({ diameter, pitch }: { readonly diameter: number; readonly pitch: number }): boolean {
  return arePositive(diameter, pitch) && diameter > 1.226869 * pitch;
}

/** Pitch diameter d2, m: d − 0.649519·P. */
export function pitchDiameter({ diameter, pitch }: { readonly diameter: number; readonly pitch: number }): number {
  return isThread({ diameter, pitch }) ? diameter - 0.649519 * pitch : NaN;
}

/** Minor diameter of the bolt d3, m: d − 1.226869·P. */
export function minorDiameter({ diameter, pitch }: { readonly diameter: number; readonly pitch: number }): number {
  return isThread({ diameter, pitch }) ? diameter - 1.226869 * pitch : NaN;
}

/** Diameter of the stress area, m: metric d − 0.9382·P, unified d − 0.9743·P. */
export function stressDiameter({ form, diameter, pitch }: Thread): number {
  return isThread({ diameter, pitch }) ? diameter - (form === "metric" ? 0.9382 : 0.9743) * pitch : NaN;
}

/** Tensile stress area, m²: π/4 of the stress diameter squared. ISO 898-1 for metric, ASME B1.1 for unified. */
export function stressArea(thread: Thread): number {
  return (Math.PI / 4) * stressDiameter(thread) ** 2;
}

/** Coarse metric pitches by diameter, both mm. ISO 261 (from memory beyond the engine sizes M6 to M14). */
const coarsePitchesMm: readonly (readonly [number, number])[] = [
  [3, 0.5], [4, 0.7], [5, 0.8], [6, 1], [7, 1], [8, 1.25], [9, 1.25], [10, 1.5], [11, 1.5], [12, 1.75],
  [14, 2], [16, 2], [18, 2.5], [20, 2.5], [22, 2.5], [24, 3], [27, 3], [30, 3.5], [33, 3.5], [36, 4],
];

/** The pitch, m, that a metric size written without one has; undefined for a diameter the coarse series does not hold. */
export function coarsePitch({ diameter }: { readonly diameter: number }): number | undefined {
  const row = coarsePitchesMm.find(([size]) => Math.abs(size - diameter * 1000) < 1e-6);
  return row === undefined ? undefined : row[1] / 1000;
}

/** Diameter, m, of a numbered unified size (10-32 and its like): 0.060 in + 0.013 in a number. ASME B1.1. */
export function numberedDiameter(number: number): number {
  return Number.isInteger(number) && number >= 0 && number <= 12 ? (0.06 + 0.013 * number) * 0.0254 : NaN;
}

/** Pitch, m, of a unified thread from its threads per inch. */
export function unifiedPitch({ perInch }: { readonly perInch: number }): number {
  return arePositive(perInch) ? 0.0254 / perInch : NaN;
}

/**
 * Shear area of the tapped thread, m²: 0.875·π·d·L on the basic profile. Real limits leave about 0.8 of it. L is the
 * length of full thread engaged.
 */
export function internalShearArea({ diameter, engagement }: { readonly diameter: number; readonly engagement: number }): number {
  return arePositive(diameter) && areNotNegative(engagement) ? 0.875 * Math.PI * diameter * engagement : NaN;
}

/** Shear area of the bolt's thread, m²: 0.75·π·d1·L with d1 = d − 1.082532·P, on the basic profile. */
export function externalShearArea(
  { diameter, pitch, engagement }: { readonly diameter: number; readonly pitch: number; readonly engagement: number },
): number {
  return isThread({ diameter, pitch }) && areNotNegative(engagement)
    ? 0.75 * Math.PI * (diameter - 1.082532 * pitch) * engagement
    : NaN;
}

/** Share of the basic shear area that thread tolerances leave; a tabulated 1/2-13 has 0.818 of it. */
export const shearAreaShare = 0.8;

/** Load, N, that strips a thread: share × shear area × shear strength (Pa). */
export function stripLoad(
  { shearArea, shearStrength, share = shearAreaShare }: {
    readonly shearArea: number;
    readonly shearStrength: number;
    readonly share?: number;
  },
): number {
  return arePositive(shearArea, shearStrength, share) ? share * shearArea * shearStrength : NaN;
}

/** Engagement, m, at which a tapped hole just carries a load (N): F / (share·0.875·π·d·τ). */
export function engagementForLoad(
  { load, diameter, shearStrength, share = shearAreaShare }: {
    readonly load: number;
    readonly diameter: number;
    readonly shearStrength: number;
    readonly share?: number;
  },
): number {
  return arePositive(load, diameter, shearStrength, share) ? load / (share * 0.875 * Math.PI * diameter * shearStrength) : NaN;
}

export type TappedMaterial = "steel" | "cast iron" | "aluminium" | "magnesium";

/**
 * Least thread engagement in diameters. Common practice: steel 1.0 to 1.25, cast iron 1.25 to 1.5, aluminium 1.5 to 2;
 * an engine maker's service text asks 1.25 in steel and iron and 2 in aluminium. Magnesium as aluminium, from memory.
 */
export const leastEngagementDiameters: Readonly<Record<TappedMaterial, number>> = {
  steel: 1,
  "cast iron": 1.25,
  aluminium: 2,
  magnesium: 2,
};

/** Thread engagement wanted, m, by the material of the tapped part: diameters × d. Common practice. */
export function requiredEngagement({ diameter, material }: { readonly diameter: number; readonly material: TappedMaterial }): number {
  return arePositive(diameter) ? leastEngagementDiameters[material] * diameter : NaN;
}
