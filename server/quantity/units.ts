// Every unit as data: its dimension, its exact factor, its system. Knows how units relate, not what they measure.
//
// Factors lead to a coherent base of metre, kilogram, second, kelvin, ampere and **degree of arc**: one turn is 360.
// Source: NIST SP 811 (2008), Appendix B, whose entries follow by definition from
// in = 25.4 mm, lb = 0.45359237 kg, g_n = 9.80665 m/s², US gallon = 231 in³, atm = 101325 Pa. They are built here from
// those definitions, so that no rounded factor is ever typed in.
import type { UnitId } from "../../grammar/vocabulary.ts";
import {
  ACCELERATION, ANGLE, AREA, DENSITY, DIMENSIONLESS, FORCE, FREQUENCY, INERTIA, LENGTH, MASS, MASS_FLOW, POWER, PRESSURE, ROTATION,
  SPECIFIC_CONSUMPTION, SPEED, SPRING_RATE, TEMPERATURE, TIME, TORQUE, VOLTAGE, VOLUME, VOLUME_FLOW, sameDimension,
} from "./dimension.ts";
import type { Dimension } from "./dimension.ts";

export type { Dimension } from "./dimension.ts";
export type System = "metric" | "inch" | "both";

/** Marks plain numbers that must not be exchanged for each other: an afr is no lambda, a RON no MON. */
export type Scale = "afr" | "lambda" | "RON" | "MON" | "AKI";

export interface Unit {
  readonly dimension: Dimension;
  /** Value in this unit × factor (+ offset) = value in the coherent base. */
  readonly factor: number;
  /** Only for °C and °F, and only for a temperature, never for a difference of two. */
  readonly offset?: number;
  readonly system: System;
  readonly scale?: Scale;
  /** Its name, for hovers and the reference page. */
  readonly words: string;
}

const INCH = 0.0254;
const FOOT = 12 * INCH;
const MILE = 5280 * FOOT;
const POUND = 0.45359237;
const STANDARD_GRAVITY = 9.80665;
const POUND_FORCE = POUND * STANDARD_GRAVITY;
const KILOGRAM_FORCE = STANDARD_GRAVITY;
const LITRE = 1e-3;
const US_GALLON = 231 * INCH ** 3;
/** The conventional column of mercury, of density 13595.1 kg/m³ (not the 60 °F column; a torr differs in the seventh figure). */
const METRE_OF_MERCURY = 13595.1 * STANDARD_GRAVITY;
/** Mechanical horsepower, 550 ft·lbf/s; the electric one of 746 W is another unit. */
const HORSEPOWER = 550 * FOOT * POUND_FORCE;
const METRIC_HORSEPOWER = 75 * KILOGRAM_FORCE;
const MINUTE = 60;
const HOUR = 3600;
const TURN = 360;

function unit(dimension: Dimension, factor: number, system: System, words: string): Unit {
  return { dimension, factor, system, words };
}
function scaled(scale: Scale, words: string): Unit {
  return { dimension: DIMENSIONLESS, factor: 1, system: "both", scale, words };
}

export const UNITS: Readonly<Record<UnitId, Unit>> = {
  "newton-metre": unit(TORQUE, 1, "metric", "newton metre"),
  "pound-foot": unit(TORQUE, POUND_FORCE * FOOT, "inch", "foot-pound of torque"),
  "pound-inch": unit(TORQUE, POUND_FORCE * INCH, "inch", "inch-pound of torque"),
  "kilogram-force-metre": unit(TORQUE, KILOGRAM_FORCE, "metric", "kilogram-force metre, the kg-m of old manuals"),
  "kilogram-force-centimetre": unit(TORQUE, KILOGRAM_FORCE / 100, "metric", "kilogram-force centimetre, the kg-cm of old manuals"),
  inch: unit(LENGTH, INCH, "inch", "inch"),
  thou: unit(LENGTH, INCH / 1000, "inch", "thousandth of an inch"),
  foot: unit(LENGTH, FOOT, "inch", "foot"),
  millimetre: unit(LENGTH, 1e-3, "metric", "millimetre"),
  centimetre: unit(LENGTH, 1e-2, "metric", "centimetre"),
  metre: unit(LENGTH, 1, "metric", "metre"),
  micrometre: unit(LENGTH, 1e-6, "metric", "micrometre, a thousandth of a millimetre"),
  kilometre: unit(LENGTH, 1000, "metric", "kilometre"),
  mile: unit(LENGTH, MILE, "inch", "mile"),
  "square-millimetre": unit(AREA, 1e-6, "metric", "square millimetre"),
  "square-centimetre": unit(AREA, 1e-4, "metric", "square centimetre"),
  "square-inch": unit(AREA, INCH ** 2, "inch", "square inch"),
  "cubic-centimetre": unit(VOLUME, 1e-6, "metric", "cubic centimetre"),
  "cubic-inch": unit(VOLUME, INCH ** 3, "inch", "cubic inch"),
  litre: unit(VOLUME, LITRE, "metric", "litre"),
  quart: unit(VOLUME, US_GALLON / 4, "inch", "US liquid quart"),
  pint: unit(VOLUME, US_GALLON / 8, "inch", "US liquid pint"),
  "fluid-ounce": unit(VOLUME, US_GALLON / 128, "inch", "US fluid ounce"),
  psi: unit(PRESSURE, POUND_FORCE / INCH ** 2, "inch", "pound-force per square inch"),
  bar: unit(PRESSURE, 1e5, "metric", "bar"),
  pascal: unit(PRESSURE, 1, "metric", "pascal"),
  kilopascal: unit(PRESSURE, 1e3, "metric", "kilopascal"),
  megapascal: unit(PRESSURE, 1e6, "metric", "megapascal, the N/mm² of steel tables"),
  gigapascal: unit(PRESSURE, 1e9, "metric", "gigapascal"),
  ksi: unit(PRESSURE, (1000 * POUND_FORCE) / INCH ** 2, "inch", "thousand pounds-force per square inch"),
  "inch-of-mercury": unit(PRESSURE, METRE_OF_MERCURY * INCH, "inch", "inch of mercury, conventional"),
  "millimetre-of-mercury": unit(PRESSURE, METRE_OF_MERCURY / 1000, "metric", "millimetre of mercury, conventional"),
  "kilogram-force-per-square-centimetre": unit(PRESSURE, KILOGRAM_FORCE * 1e4, "metric", "kilogram-force per square centimetre, the kg/cm² of old manuals"),
  atmosphere: unit(PRESSURE, 101325, "both", "standard atmosphere"),
  horsepower: unit(POWER, HORSEPOWER, "inch", "mechanical horsepower, 550 ft·lbf/s"),
  "metric-horsepower": unit(POWER, METRIC_HORSEPOWER, "metric", "metric horsepower, 75 kgf·m/s"),
  kilowatt: unit(POWER, 1000, "metric", "kilowatt"),
  watt: unit(POWER, 1, "metric", "watt"),
  "pound-force": unit(FORCE, POUND_FORCE, "inch", "pound-force"),
  newton: unit(FORCE, 1, "metric", "newton"),
  kilonewton: unit(FORCE, 1000, "metric", "kilonewton"),
  "kilogram-force": unit(FORCE, KILOGRAM_FORCE, "metric", "kilogram-force"),
  gram: unit(MASS, 1e-3, "metric", "gram"),
  kilogram: unit(MASS, 1, "metric", "kilogram"),
  pound: unit(MASS, POUND, "inch", "pound of mass"),
  ounce: unit(MASS, POUND / 16, "inch", "ounce of mass"),
  "newton-per-millimetre": unit(SPRING_RATE, 1000, "metric", "newton per millimetre"),
  "pound-force-per-inch": unit(SPRING_RATE, POUND_FORCE / INCH, "inch", "pound-force per inch"),
  "kilogram-force-per-millimetre": unit(SPRING_RATE, KILOGRAM_FORCE * 1000, "metric", "kilogram-force per millimetre"),
  "revolution-per-minute": unit(ROTATION, TURN / MINUTE, "both", "revolution per minute"),
  degree: unit(ANGLE, 1, "both", "degree of arc"),
  turn: unit(ANGLE, TURN, "both", "full turn"),
  "degree-celsius": { dimension: TEMPERATURE, factor: 1, offset: 273.15, system: "metric", words: "degree Celsius" },
  "degree-fahrenheit": { dimension: TEMPERATURE, factor: 1 / 1.8, offset: 459.67 / 1.8, system: "inch", words: "degree Fahrenheit" },
  kelvin: unit(TEMPERATURE, 1, "metric", "kelvin"),
  "air-fuel-ratio": scaled("afr", "air to fuel by mass"),
  lambda: scaled("lambda", "air to fuel over the fuel's own stoichiometric ratio"),
  "research-octane": scaled("RON", "research octane number"),
  "motor-octane": scaled("MON", "motor octane number"),
  "anti-knock-index": scaled("AKI", "anti-knock index, the middle of RON and MON"),
  "gram-per-second": unit(MASS_FLOW, 1e-3, "metric", "gram per second"),
  "pound-per-minute": unit(MASS_FLOW, POUND / MINUTE, "inch", "pound per minute"),
  "cubic-centimetre-per-minute": unit(VOLUME_FLOW, 1e-6 / MINUTE, "metric", "cubic centimetre per minute"),
  "pound-per-hour": unit(MASS_FLOW, POUND / HOUR, "inch", "pound per hour"),
  "litre-per-hour": unit(VOLUME_FLOW, LITRE / HOUR, "metric", "litre per hour"),
  "litre-per-minute": unit(VOLUME_FLOW, LITRE / MINUTE, "metric", "litre per minute"),
  "gallon-per-hour": unit(VOLUME_FLOW, US_GALLON / HOUR, "inch", "US gallon per hour"),
  "gram-per-kilowatt-hour": unit(SPECIFIC_CONSUMPTION, 1e-3 / (1000 * HOUR), "metric", "gram per kilowatt hour"),
  "pound-per-horsepower-hour": unit(SPECIFIC_CONSUMPTION, POUND / (HORSEPOWER * HOUR), "inch", "pound per horsepower hour"),
  "kilogram-per-litre": unit(DENSITY, 1000, "metric", "kilogram per litre"),
  "gram-per-cubic-centimetre": unit(DENSITY, 1000, "metric", "gram per cubic centimetre"),
  "kilogram-per-cubic-metre": unit(DENSITY, 1, "metric", "kilogram per cubic metre"),
  "cubic-foot-per-minute": unit(VOLUME_FLOW, FOOT ** 3 / MINUTE, "inch", "cubic foot per minute"),
  millisecond: unit(TIME, 1e-3, "both", "millisecond"),
  second: unit(TIME, 1, "both", "second"),
  minute: unit(TIME, MINUTE, "both", "minute"),
  hour: unit(TIME, HOUR, "both", "hour"),
  "kilometre-per-hour": unit(SPEED, 1000 / HOUR, "metric", "kilometre per hour"),
  "mile-per-hour": unit(SPEED, MILE / HOUR, "inch", "mile per hour"),
  "metre-per-second": unit(SPEED, 1, "metric", "metre per second"),
  "foot-per-minute": unit(SPEED, FOOT / MINUTE, "inch", "foot per minute"),
  "metre-per-second-squared": unit(ACCELERATION, 1, "metric", "metre per second squared"),
  "kilogram-square-metre": unit(INERTIA, 1, "metric", "kilogram square metre"),
  percent: unit(DIMENSIONLESS, 0.01, "both", "hundredth part"),
  hertz: unit(FREQUENCY, 1, "both", "hertz"),
  volt: unit(VOLTAGE, 1, "both", "volt"),
};

/** True when figures in the two units can be compared: same dimension, and the same scale where there is one. */
export function unitsAgree(a: UnitId, b: UnitId): boolean {
  return sameDimension(UNITS[a].dimension, UNITS[b].dimension) && UNITS[a].scale === UNITS[b].scale;
}

/** A figure in `unit` as coherent base value; °C and °F read as temperatures. */
export function toBase(value: number, unit: UnitId): number {
  return value * UNITS[unit].factor + (UNITS[unit].offset ?? 0);
}

export function fromBase(value: number, unit: UnitId): number {
  return (value - (UNITS[unit].offset ?? 0)) / UNITS[unit].factor;
}

/** The figure in another unit, or undefined where the two do not measure the same thing. */
export function convert(value: number, from: UnitId, to: UnitId): number | undefined {
  if (!unitsAgree(from, to)) return undefined;
  return from === to ? value : fromBase(toBase(value, from), to);
}

/** As `convert` for a difference: 10 °C warmer is 18 °F warmer, not 50. */
export function convertDifference(value: number, from: UnitId, to: UnitId): number | undefined {
  if (!unitsAgree(from, to)) return undefined;
  return from === to ? value : (value * UNITS[from].factor) / UNITS[to].factor;
}
