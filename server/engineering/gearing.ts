// Road speed against engine speed; it refuses to know slip, drag or power.

import { arePositive, areNotNegative } from "./domain.ts";

/** Nominal tyre diameter, m, from its marking: rim + 2·width·aspect, aspect as a share (0.50 for "50"). ISO 4000-1. Rolling is 2 to 4 % less. */
export function tyreDiameter({ width, aspect, rim }: { readonly width: number; readonly aspect: number; readonly rim: number }): number {
  return arePositive(width, aspect, rim) ? rim + 2 * width * aspect : NaN;
}

/** Circumference, m, of a rolling diameter. */
export function rollingCircumference({ diameter }: { readonly diameter: number }): number {
  return arePositive(diameter) ? Math.PI * diameter : NaN;
}

/** Road speed, m/s: rpm·circumference/(60·gear·final). No slip. */
export function roadSpeed({ rpm, circumference, gear, finalDrive }: { readonly rpm: number; readonly circumference: number; readonly gear: number; readonly finalDrive: number }): number {
  return areNotNegative(rpm) && arePositive(circumference, gear, finalDrive) ? (rpm * circumference) / (60 * gear * finalDrive) : NaN;
}

/** Engine speed, rpm, at a road speed (m/s). */
export function rpmAtRoadSpeed({ speed, circumference, gear, finalDrive }: { readonly speed: number; readonly circumference: number; readonly gear: number; readonly finalDrive: number }): number {
  return areNotNegative(speed) && arePositive(circumference, gear, finalDrive) ? (speed * 60 * gear * finalDrive) / circumference : NaN;
}

/** Engine speed, rpm, just after a shift: rpm·next/from. */
export function rpmAfterShift({ rpm, fromGear, toGear }: { readonly rpm: number; readonly fromGear: number; readonly toGear: number }): number {
  return areNotNegative(rpm) && arePositive(fromGear, toGear) ? (rpm * toGear) / fromGear : NaN;
}
