// Torque, power and what they say of an engine; it refuses to know weather (air.ts) or gearing (gearing.ts).

import { angularSpeed } from "./angle.ts";
import { areNotNegative, arePositive } from "./domain.ts";
import type { Provenance, SourcedSpan } from "./provenance.ts";

/** Power, W, of a torque (N·m) at `rpm`: T·ω. */
export function powerFromTorque({ torque, rpm }: { readonly torque: number; readonly rpm: number }): number {
  return areNotNegative(torque, rpm) ? torque * angularSpeed(rpm) : NaN;
}

/** Torque, N·m, of a power (W) at `rpm`. */
export function torqueFromPower({ power, rpm }: { readonly power: number; readonly rpm: number }): number {
  return areNotNegative(power) && arePositive(rpm) ? power / angularSpeed(rpm) : NaN;
}

/** Speed, rpm, at which a torque (N·m) makes a power (W). With one lbf·ft and one hp it is where the two curves cross on an inch chart. */
export function rpmFromPowerAndTorque({ power, torque }: { readonly power: number; readonly torque: number }): number {
  return areNotNegative(power) && arePositive(torque) ? power / torque / angularSpeed(1) : NaN;
}

/** Brake mean effective pressure of a four-stroke, Pa: 4π·T/Vd. */
export function brakeMeanEffectivePressure({ torque, displacement }: { readonly torque: number; readonly displacement: number }): number {
  return areNotNegative(torque) && arePositive(displacement) ? (4 * Math.PI * torque) / displacement : NaN;
}

/** Spark-ignition mean effective pressures at best torque, Pa; far above is an alarm for the figures, not a compliment. */
export const usualMeanEffectivePressure: Readonly<Record<"natural" | "boosted", SourcedSpan>> = {
  natural: { low: 850e3, high: 1050e3, provenance: "from memory", source: "an engine textbook of 1988; modern engines reach 1300 kPa" },
  boosted: { low: 1250e3, high: 1700e3, provenance: "from memory", source: "an engine textbook of 1988; modern engines reach 2500 kPa" },
};

/** Power at the crank, W, from power at the wheels and a loss share: P/(1 − loss). Multiplying by (1 + loss) is another, wrong, sum. ESTIMATE. */
export function crankPowerFromWheels({ wheelPower, loss }: { readonly wheelPower: number; readonly loss: number }): number {
  return areNotNegative(wheelPower, loss) && loss < 1 ? wheelPower / (1 - loss) : NaN;
}

/** Drive-line loss shares. Weak: a loss is partly fixed and partly proportional. */
export const usualDrivelineLoss: Readonly<Record<"front" | "rear-manual" | "automatic-or-all-wheel", SourcedSpan>> = {
  front: { low: 0.1, high: 0.15, provenance: "common practice", source: "rule of thumb" },
  "rear-manual": { low: 0.12, high: 0.18, provenance: "common practice", source: "rule of thumb" },
  "automatic-or-all-wheel": { low: 0.18, high: 0.25, provenance: "common practice", source: "rule of thumb" },
};

export interface QuarterMileFit {
  /** Seconds, for pounds with driver over horsepower. */
  readonly time: number;
  /** Miles an hour, for the same. */
  readonly speed: number;
  readonly provenance: Provenance;
}

/** Published fits of the standing quarter mile, three pairs of constants that differ by up to 8 %: time = k·(W/P)^(1/3), speed = k·(P/W)^(1/3), W in lb, P in hp. */
export const quarterMileFits: readonly QuarterMileFit[] = [
  { time: 5.825, speed: 234, provenance: "common practice" },
  { time: 6.29, speed: 224, provenance: "common practice" },
  { time: 6.269, speed: 230, provenance: "common practice" },
];

const pound = 0.45359237;
const horsepower = 745.6998715822702;

function poundsPerHorsepower(mass: number, power: number): number {
  return arePositive(mass, power) ? mass / pound / (power / horsepower) : NaN;
}

/** Standing quarter mile, s, from mass with driver (kg) and power (W). Rule of thumb, half a second to a second. */
export function quarterMileTime({ mass, power, fit }: { readonly mass: number; readonly power: number; readonly fit: QuarterMileFit }): number {
  return fit.time * Math.cbrt(poundsPerHorsepower(mass, power));
}

/** Speed at its end, m/s. Rule of thumb, about 5 %; the better sign of power. */
export function quarterMileSpeed({ mass, power, fit }: { readonly mass: number; readonly power: number; readonly fit: QuarterMileFit }): number {
  return (fit.speed * 0.44704) / Math.cbrt(poundsPerHorsepower(mass, power));
}

/** Power, W, that a quarter-mile time (s) with a mass (kg) hints at. Rule of thumb. */
export function powerFromQuarterMileTime({ mass, time, fit }: { readonly mass: number; readonly time: number; readonly fit: QuarterMileFit }): number {
  return arePositive(mass, time) ? (horsepower * (mass / pound)) / (time / fit.time) ** 3 : NaN;
}
