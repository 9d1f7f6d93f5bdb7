// What a torque wrench can be trusted with, and what to set on it; it refuses to know the bolt.

import { cosDeg } from "./angle.ts";
import { areFinite, areNotNegative, arePositive } from "./domain.ts";

/**
 * Relative error a setting torque wrench may have, from the greatest torque of the tool (N·m): 6 % up to 10 N·m, 4 % above.
 * ISO 6789 for the usual setting classes; some classes carry 6 % at every size, and a certificate beats the standard.
 */
export function wrenchError({ maximumTorque }: { readonly maximumTorque: number }): number {
  if (!arePositive(maximumTorque)) return NaN;
  return maximumTorque <= 10 + 1e-9 ? 0.06 : 0.04;
}

/** Torque, N·m, by which a setting may be off: its relative error times the setting. Without a tool named, the setting itself picks the class. */
export function permittedDeviation({ torque, maximumTorque = torque }: { readonly torque: number; readonly maximumTorque?: number }): number {
  return areNotNegative(torque) ? torque * wrenchError({ maximumTorque }) : NaN;
}

/** True when a torque lies in the part of a wrench's range its error holds for: 20 to 100 % of the maximum. ISO 6789. */
export function isInWrenchRange({ torque, maximumTorque }: { readonly torque: number; readonly maximumTorque: number }): boolean {
  return arePositive(torque, maximumTorque) && torque >= 0.2 * maximumTorque && torque <= maximumTorque;
}

/**
 * What to set, N·m, with an offset adapter: T·L/(L + E·cos θ). L from drive centre to the hand's pull point, E from drive
 * centre to bolt centre, θ the angle of the adapter off the wrench's line (0° straight out, 90° needs no change). Lever statics.
 */
export function wrenchSetting(
  { torque, wrenchLength, adapterLength, adapterAngleDeg }: {
    readonly torque: number;
    readonly wrenchLength: number;
    readonly adapterLength: number;
    readonly adapterAngleDeg: number;
  },
): number {
  if (!areNotNegative(torque, adapterLength) || !arePositive(wrenchLength) || !areFinite(adapterAngleDeg)) return NaN;
  const reach = wrenchLength + adapterLength * cosDeg(adapterAngleDeg);
  return reach > 0 ? (torque * wrenchLength) / reach : NaN;
}

/** Torque, N·m, the bolt gets from a setting through the same adapter. */
export function torqueAtBolt(
  { setting, wrenchLength, adapterLength, adapterAngleDeg }: {
    readonly setting: number;
    readonly wrenchLength: number;
    readonly adapterLength: number;
    readonly adapterAngleDeg: number;
  },
): number {
  return areNotNegative(setting) ? setting / wrenchSetting({ torque: 1, wrenchLength, adapterLength, adapterAngleDeg }) : NaN;
}

/** What to set, N·m, on a locking thread whose specification leaves the prevailing torque out: their sum. Common practice. */
export function torqueWithPrevailing({ torque, prevailingTorque }: { readonly torque: number; readonly prevailingTorque: number }): number {
  return areNotNegative(torque, prevailingTorque) ? torque + prevailingTorque : NaN;
}
