// Torque, angle and stretch against clamp load; it refuses to know which bolt of which engine is being turned.
//
// Sources: ISO 16047 and VDI 2230 for the long form with thread and under-head friction and for the combined stress;
// a machine-design textbook for the short form, the stiffnesses and the turn-of-nut relation.

import { toRadians } from "./angle.ts";
import { areFinite, areNotNegative, arePositive } from "./domain.ts";
import type { Band } from "./provenance.ts";
import { pitchDiameter, stressDiameter } from "./thread.ts";
import type { Thread } from "./thread.ts";

/** Everything the long form needs besides a torque or a load: m and pure coefficients. */
export interface TorqueGeometry {
  readonly pitch: number;
  readonly pitchDiameter: number;
  /** Mean diameter of the friction face under the head: (outer + hole)/2. */
  readonly bearingDiameter: number;
  readonly threadFriction: number;
  readonly headFriction: number;
}

/** Torque per newton of clamp load, m: P/2π + 0.577·d2·μG + Dkm/2·μK. ISO 16047. */
export function torquePerLoad({ pitch, pitchDiameter: d2, bearingDiameter, threadFriction, headFriction }: TorqueGeometry): number {
  return arePositive(pitch, d2, bearingDiameter) && areNotNegative(threadFriction, headFriction)
    ? pitch / (2 * Math.PI) + 0.577 * d2 * threadFriction + (bearingDiameter / 2) * headFriction
    : NaN;
}

/** Tightening torque, N·m, for a clamp load (N) by the long form. */
export function torqueForLoad({ load, ...geometry }: TorqueGeometry & { readonly load: number }): number {
  return areNotNegative(load) ? load * torquePerLoad(geometry) : NaN;
}

/** Clamp load, N, from a torque (N·m) by the long form, the prevailing torque of a locking thread taken off first. */
export function loadFromTorque(
  { torque, prevailingTorque = 0, ...geometry }: TorqueGeometry & { readonly torque: number; readonly prevailingTorque?: number },
): number {
  return areNotNegative(torque, prevailingTorque) ? Math.max(0, torque - prevailingTorque) / torquePerLoad(geometry) : NaN;
}

/** Share of the tightening torque that becomes clamp load, a pure ratio; about an eighth for a usual bolt. */
export function stretchingShare(geometry: TorqueGeometry): number {
  return geometry.pitch / (2 * Math.PI) / torquePerLoad(geometry);
}

/** The long form as VDI 2230 rounds it: F·(0.16·P + 0.58·d2·μ + Dkm/2·μ). N·m. */
export function torqueForLoadRounded({ load, pitch, pitchDiameter: d2, bearingDiameter, threadFriction, headFriction }: TorqueGeometry & { readonly load: number }): number {
  return areNotNegative(load, threadFriction, headFriction) && arePositive(pitch, d2, bearingDiameter)
    ? load * (0.16 * pitch + 0.58 * d2 * threadFriction + (bearingDiameter / 2) * headFriction)
    : NaN;
}

/**
 * The textbook's power-screw form for a standard bolt, N·m:
 * F·d2/2·(tan λ + μG·sec 30°)/(1 − μG·tan λ·sec 30°) + F·Dkm/2·μK, tan λ = P/(π·d2).
 */
export function torqueForLoadOnHelix({ load, pitch, pitchDiameter: d2, bearingDiameter, threadFriction, headFriction }: TorqueGeometry & { readonly load: number }): number {
  if (!areNotNegative(load, threadFriction, headFriction) || !arePositive(pitch, d2, bearingDiameter)) return NaN;
  const lead = pitch / (Math.PI * d2);
  const flank = threadFriction / Math.cos(toRadians(30));
  return load * ((d2 / 2) * ((lead + flank) / (1 - lead * flank)) + (bearingDiameter / 2) * headFriction);
}

/** Torque by the short form, N·m: K·F·d. A cross-check, not a second opinion: K hides the thread and the head. */
export function torqueShortForm({ nutFactor, load, diameter }: { readonly nutFactor: number; readonly load: number; readonly diameter: number }): number {
  return arePositive(nutFactor, diameter) && areNotNegative(load) ? nutFactor * load * diameter : NaN;
}

/** Clamp load by the short form, N: T/(K·d). */
export function loadShortForm({ nutFactor, torque, diameter }: { readonly nutFactor: number; readonly torque: number; readonly diameter: number }): number {
  return arePositive(nutFactor, diameter) && areNotNegative(torque) ? torque / (nutFactor * diameter) : NaN;
}

/**
 * Clamp load as the band it is, N: the torque band, widened by the wrench's relative error, against the friction band.
 * The most load comes of the highest torque on the lowest friction. Thread and head share one coefficient.
 */
export function clampLoadBand(
  { torque, wrenchError, friction, pitch, pitchDiameter: d2, bearingDiameter, prevailingTorque = 0 }: {
    readonly torque: Band;
    readonly wrenchError: number;
    readonly friction: Band;
    readonly pitch: number;
    readonly pitchDiameter: number;
    readonly bearingDiameter: number;
    readonly prevailingTorque?: number;
  },
): Band {
  const at = (turned: number, coefficient: number): number =>
    areNotNegative(wrenchError) && wrenchError < 1
      ? loadFromTorque({ torque: turned, prevailingTorque, pitch, pitchDiameter: d2, bearingDiameter, threadFriction: coefficient, headFriction: coefficient })
      : NaN;
  return {
    low: at(torque.low * (1 - wrenchError), friction.high),
    nominal: at(torque.nominal, friction.nominal),
    high: at(torque.high * (1 + wrenchError), friction.low),
  };
}

/**
 * The torsion term of the combined stress: 1.5 for a section wholly yielded in torsion (VDI 2230 of 2003 and on),
 * 2 for an elastic one (the 1986 edition, and the stricter reading).
 */
export type TorsionFactor = 1.5 | 2;

/** √(1 + 3·(k·(d2/d0)·(P/(π·d2) + 1.155·μG))²): by how much turning raises the equivalent stress over plain tension. */
export function torsionShare(
  { pitch, pitchDiameter: d2, sectionDiameter, threadFriction, torsionFactor = 1.5 }: {
    readonly pitch: number;
    readonly pitchDiameter: number;
    /** Diameter of the loaded section: (d2 + d3)/2 of the thread, or a thinner shank. */
    readonly sectionDiameter: number;
    readonly threadFriction: number;
    readonly torsionFactor?: TorsionFactor;
  },
): number {
  if (!arePositive(pitch, d2, sectionDiameter) || !areNotNegative(threadFriction)) return NaN;
  const torsion = torsionFactor * (d2 / sectionDiameter) * (pitch / (Math.PI * d2) + 1.155 * threadFriction);
  return Math.sqrt(1 + 3 * torsion * torsion);
}

/** Equivalent (von Mises) stress while turning, Pa: tension × torsion share. VDI 2230. */
export function combinedStress(
  { load, thread, shankDiameter, threadFriction, torsionFactor = 1.5 }: {
    readonly load: number;
    readonly thread: Thread;
    readonly shankDiameter?: number | undefined;
    readonly threadFriction: number;
    readonly torsionFactor?: TorsionFactor;
  },
): number {
  if (!areNotNegative(load)) return NaN;
  const sectionDiameter = section(thread, shankDiameter);
  return (load / ((Math.PI / 4) * sectionDiameter ** 2)) *
    torsionShare({ pitch: thread.pitch, pitchDiameter: pitchDiameter(thread), sectionDiameter, threadFriction, torsionFactor });
}

function section(thread: Thread, shankDiameter: number | undefined): number {
  const threaded = stressDiameter(thread);
  return shankDiameter === undefined ? threaded : arePositive(shankDiameter) ? Math.min(threaded, shankDiameter) : NaN;
}

/**
 * Assembly preload, N, at which the combined stress reaches a share (90 % in VDI 2230) of the yield strength (Pa) while
 * the bolt is turned: A0·share·Rp / torsion share. The guideline's 2001/2003 tables follow it with torsion factor 1.5.
 */
export function assemblyPreload(
  { thread, shankDiameter, yieldStrength, threadFriction, share = 0.9, torsionFactor = 1.5 }: {
    readonly thread: Thread;
    readonly shankDiameter?: number | undefined;
    readonly yieldStrength: number;
    readonly threadFriction: number;
    readonly share?: number;
    readonly torsionFactor?: TorsionFactor;
  },
): number {
  if (!arePositive(yieldStrength, share)) return NaN;
  return (share * yieldStrength) / combinedStress({ load: 1, thread, shankDiameter, threadFriction, torsionFactor });
}

/** Mean friction diameter under a head, m: (bearing face + hole)/2. */
export function meanBearingDiameter({ faceDiameter, holeDiameter }: { readonly faceDiameter: number; readonly holeDiameter: number }): number {
  return arePositive(faceDiameter, holeDiameter) && faceDiameter > holeDiameter ? (faceDiameter + holeDiameter) / 2 : NaN;
}

/** Bearing face of a hexagon head (ISO 4014 grade A, least d_w) and clearance hole (ISO 273 medium) by size, mm. M8 to M14 as VDI 2230's tables use them; the rest from memory. */
const hexagonHeadsMm: readonly (readonly [size: number, face: number, hole: number])[] = [
  [5, 6.88, 5.5], [6, 8.88, 6.6], [8, 11.63, 9], [10, 14.63, 11], [12, 16.63, 13.5], [14, 19.64, 15.5], [16, 22.49, 17.5], [18, 25.34, 20], [20, 28.19, 22],
];

/**
 * Mean friction diameter, m, of an ordinary hexagon head when nobody measured one: the standard head where the size has
 * one, else 1.25·d, which is the textbook's washer face of 1.5·d over a hole of d. ESTIMATE where it falls back.
 */
export function usualBearingDiameter({ diameter }: { readonly diameter: number }): { readonly diameter: number; readonly estimate: boolean } {
  const row = hexagonHeadsMm.find(([size]) => Math.abs(size - diameter * 1000) < 1e-6);
  if (row !== undefined) return { diameter: meanBearingDiameter({ faceDiameter: row[1] / 1000, holeDiameter: row[2] / 1000 }), estimate: false };
  return { diameter: arePositive(diameter) ? 1.25 * diameter : NaN, estimate: true };
}

/** Young's modulus of bolt steel, Pa (207 GPa), as machine-design textbooks round it. */
export const boltSteelModulus = 207e9;

/** Stiffness, N/m, of sections of a bolt in series: each length (m) over area (m²) and modulus (Pa). */
export function boltStiffness(
  { sections, modulus = boltSteelModulus }: {
    readonly sections: readonly { readonly length: number; readonly area: number }[];
    readonly modulus?: number;
  },
): number {
  let compliance = 0;
  for (const { length, area } of sections) {
    if (!areNotNegative(length) || !arePositive(area)) return NaN;
    compliance += length / area;
  }
  return arePositive(compliance, modulus) ? modulus / compliance : NaN;
}

/**
 * Stiffness of clamped members of one material, N/m, for a washer face of 1.5·d and a 30° pressure cone:
 * 0.5774·π·E·d / (2·ln(5·(0.5774·l + 0.5·d)/(0.5774·l + 2.5·d))). A machine-design textbook; ESTIMATE (a gasket is far softer).
 */
export function memberStiffness({ modulus, diameter, grip }: { readonly modulus: number; readonly diameter: number; readonly grip: number }): number {
  if (!arePositive(modulus, diameter, grip)) return NaN;
  const cone = 0.5774 * grip;
  return (0.5774 * Math.PI * modulus * diameter) / (2 * Math.log((5 * (cone + 0.5 * diameter)) / (cone + 2.5 * diameter)));
}

/** Share of an outside load that the bolt carries, a pure ratio: kb/(kb + km). */
export function jointConstant({ boltStiffness: bolt, memberStiffness: members }: { readonly boltStiffness: number; readonly memberStiffness: number }): number {
  return arePositive(bolt, members) ? bolt / (bolt + members) : NaN;
}

/** Load, N, that a turn after snug adds while everything stays elastic: (θ/360)·P / (1/kb + 1/km). Rigid members when none are given. */
export function elasticAngleLoad(
  { turnDeg, pitch, boltStiffness: bolt, memberStiffness: members }: {
    readonly turnDeg: number;
    readonly pitch: number;
    readonly boltStiffness: number;
    readonly memberStiffness?: number | undefined;
  },
): number {
  if (!areNotNegative(turnDeg) || !arePositive(pitch, bolt)) return NaN;
  if (members !== undefined && !arePositive(members)) return NaN;
  return ((turnDeg / 360) * pitch) / (1 / bolt + (members === undefined ? 0 : 1 / members));
}

/** Load, N, after snug torque and turn, never shown above the load at which the bolt yields; `beyondYield` says when the elastic sum went past it. ESTIMATE. */
export function angleLoad(
  { snugLoad, elasticLoad, yieldLoad }: { readonly snugLoad: number; readonly elasticLoad: number; readonly yieldLoad: number },
): { readonly load: number; readonly beyondYield: boolean } {
  const elastic = snugLoad + elasticLoad;
  if (!areNotNegative(snugLoad, elasticLoad) || !arePositive(yieldLoad)) return { load: NaN, beyondYield: false };
  return { load: Math.min(elastic, yieldLoad), beyondYield: elastic > yieldLoad };
}

/** Stretch of a bolt, m, under a load below yield: F/k. */
export function boltStretch({ load, stiffness }: { readonly load: number; readonly stiffness: number }): number {
  return areNotNegative(load) && arePositive(stiffness) ? load / stiffness : NaN;
}

/** Load, N, read from a measured stretch below yield: k·δ. */
export function loadFromStretch({ stretch, stiffness }: { readonly stretch: number; readonly stiffness: number }): number {
  return areNotNegative(stretch) && arePositive(stiffness) ? stretch * stiffness : NaN;
}

/** Torques, N·m, of the stages of a final figure; common practice where the manual gives only the last is 50, 75 and 100 %. */
export function stageTorques({ torque, shares = [0.5, 0.75, 1] }: { readonly torque: number; readonly shares?: readonly number[] }): readonly number[] {
  return shares.map((share) => (areNotNegative(torque, share) ? torque * share : NaN));
}

/** Sum of angle steps, degrees. For the load only: steps asked singly are turned singly, in order. */
export function totalTurnDeg(steps: readonly number[]): number {
  return steps.length > 0 && steps.every((step) => areFinite(step)) ? steps.reduce((sum, step) => sum + step, 0) : NaN;
}

/** Share of a proof load left as preload by textbook advice: 75 % where a bolt will be reused, 90 % where it stays. Equation from memory. */
export const advisedPreload = { reused: 0.75, permanent: 0.9 } as const;
