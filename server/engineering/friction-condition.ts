// What a thread's surface state does to the coefficient of friction, as bands; it refuses to know any torque.
//
// A condition is a band and never a number: friction classes A (0.04 to 0.10), B (0.08 to 0.16) and C (0.14 to 0.24) are
// the guide values of VDI 2230 for thread and head alike. The nominal inside each band is this project's choice, taken
// near the middle and checked against the nut factors of a machine-design textbook, and says so.

import { areNotNegative, arePositive } from "./domain.ts";
import type { Band, Provenance } from "./provenance.ts";

export type FrictionCondition = "dry" | "oiled" | "moly" | "anti-seize" | "waxed" | "zinc-plated" | "threadlocked" | "unstated";

export interface FrictionBand extends Band {
  readonly provenance: Provenance;
  readonly source: string;
}

/** Coefficient of friction in thread and under the head, for steel on steel or iron. */
export const frictionBands: Readonly<Record<FrictionCondition, FrictionBand>> = {
  dry: {
    low: 0.14,
    nominal: 0.18,
    high: 0.24,
    provenance: "standard",
    source: "VDI 2230 friction class C, bright or phosphated steel as delivered; nominal chosen inside it",
  },
  oiled: {
    low: 0.08,
    nominal: 0.12,
    high: 0.16,
    provenance: "standard",
    source: "VDI 2230 friction class B, oils; nominal 0.12 as in that guideline's assembly tables",
  },
  moly: {
    low: 0.04,
    nominal: 0.08,
    high: 0.1,
    provenance: "standard",
    source: "VDI 2230 friction class A, molybdenum disulphide and graphite in pastes; nominal chosen inside it",
  },
  "anti-seize": {
    low: 0.06,
    nominal: 0.085,
    high: 0.12,
    provenance: "common practice",
    source: "textbook nut factor 0.12 turned into a coefficient on an M10; band is common practice, no source",
  },
  waxed: {
    low: 0.04,
    nominal: 0.08,
    high: 0.1,
    provenance: "standard",
    source: "VDI 2230 friction class A, wax; nominal chosen inside it",
  },
  "zinc-plated": {
    low: 0.14,
    nominal: 0.16,
    high: 0.24,
    provenance: "standard",
    source: "VDI 2230 friction class C, plated and unlubricated; nominal near a textbook's nut factor of 0.20",
  },
  threadlocked: {
    low: 0.1,
    nominal: 0.15,
    high: 0.24,
    provenance: "common practice",
    source: "VDI 2230 lists adhesives in class C, but a wet locker also lubricates; the lower end is common practice, no source",
  },
  unstated: {
    low: 0.08,
    nominal: 0.15,
    high: 0.24,
    provenance: "common practice",
    source: "from the foot of class B to the top of class C of VDI 2230; nominal near the textbook's nut factor of 0.20 for an unstated bolt",
  },
};

export const frictionConditions: readonly FrictionCondition[] = Object.keys(frictionBands) as FrictionCondition[];

/** Nut factors K of the short form T = K·F·d by bolt condition. A machine-design textbook's table, 9th edition p. 439. */
export const nutFactors: Readonly<Record<string, number>> = {
  "nonplated, black finish": 0.3,
  "zinc-plated": 0.2,
  lubricated: 0.18,
  "cadmium-plated": 0.16,
  "with a proprietary anti-seize": 0.12,
  "with proprietary grip nuts": 0.09,
};

/** The nut factor, a pure number, that a coefficient of friction amounts to: (P/2π + 0.577·d2·μ + Dkm/2·μ)/d. m in. */
export function nutFactorFromFriction(
  { diameter, pitch, pitchDiameter, bearingDiameter, friction }: {
    readonly diameter: number;
    readonly pitch: number;
    readonly pitchDiameter: number;
    readonly bearingDiameter: number;
    readonly friction: number;
  },
): number {
  return arePositive(diameter, pitch, pitchDiameter, bearingDiameter) && areNotNegative(friction)
    ? (pitch / (2 * Math.PI) + (0.577 * pitchDiameter + bearingDiameter / 2) * friction) / diameter
    : NaN;
}
