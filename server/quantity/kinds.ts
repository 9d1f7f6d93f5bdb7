// Kinds of quantity: what a key may ask for, in which units it may be written, and in which unit formulas receive it.
// Knows that a torque is not an energy and a temperature not a difference; knows no key and no engine.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import { isDimensionless, sameDimension } from "./dimension.ts";
import type { Dimension } from "./dimension.ts";
import type { Interval } from "./interval.ts";
import { mapInterval } from "./interval.ts";
import { UNITS, fromBase, toBase } from "./units.ts";
import type { Scale } from "./units.ts";

export interface Kind {
  /** Without article: "torque". */
  readonly words: string;
  /** Label of the unit that intervals of this kind are in. */
  readonly base: string;
  /** The kind's base unit in coherent base units; 1 except for rpm. */
  readonly baseFactor: number;
  /** Accepted units, most useful first. Others of the same dimension and scale are read as well. */
  readonly units: readonly UnitId[];
  /** Units for values that nobody wrote. */
  readonly metric?: UnitId;
  readonly inch?: UnitId;
  /** True where a number without a unit is right. */
  readonly bare: boolean;
  /** As a builder would write one. */
  readonly example: string;
  /** True where only whole numbers make sense. */
  readonly whole?: boolean;
  /** True for a difference of temperatures: °C and °F count without their offset. */
  readonly difference?: boolean;
  /** True where `9.4:1` may be written. */
  readonly aToB?: boolean;
}

const measured = (words: string, base: string, units: readonly [UnitId, ...UnitId[]], metric: UnitId, inch: UnitId, example: string): Kind => ({
  words, base, baseFactor: 1, units, metric, inch, bare: false, example,
});
const plain = (words: string, example: string, more: Partial<Kind> = {}): Kind => ({ words, base: "", baseFactor: 1, units: [], bare: true, example, ...more });

export const KINDS = {
  length: measured("length", "m", ["millimetre", "inch", "thou", "centimetre", "metre", "foot", "micrometre"], "millimetre", "inch", "83.00 mm"),
  distance: measured("distance", "m", ["kilometre", "mile", "metre", "foot"], "kilometre", "mile", "500 km"),
  area: measured("area", "m²", ["square-millimetre", "square-centimetre", "square-inch"], "square-millimetre", "square-inch", "58 mm²"),
  volume: measured("volume", "m³", ["cubic-centimetre", "litre", "cubic-inch"], "cubic-centimetre", "cubic-inch", "44.6 cc"),
  capacity: measured("quantity of fluid", "m³", ["litre", "quart", "pint", "cubic-centimetre", "fluid-ounce"], "litre", "quart", "3.5 L"),
  mass: measured("mass", "kg", ["gram", "kilogram", "pound", "ounce"], "gram", "ounce", "320 g"),
  force: measured("force", "N", ["newton", "pound-force", "kilonewton", "kilogram-force"], "newton", "pound-force", "240 N"),
  torque: measured(
    "torque", "N·m", ["newton-metre", "pound-foot", "pound-inch", "kilogram-force-metre", "kilogram-force-centimetre"], "newton-metre", "pound-foot", "25 N·m",
  ),
  pressure: measured(
    "pressure", "Pa",
    ["bar", "psi", "kilopascal", "inch-of-mercury", "millimetre-of-mercury", "kilogram-force-per-square-centimetre", "atmosphere", "megapascal", "pascal"],
    "kilopascal", "psi", "3.5 bar",
  ),
  stress: measured("stress", "Pa", ["megapascal", "ksi", "psi", "gigapascal"], "megapascal", "ksi", "830 MPa"),
  power: measured("power", "W", ["horsepower", "metric-horsepower", "kilowatt", "watt"], "kilowatt", "horsepower", "92 hp"),
  angle: measured("angle", "deg", ["degree", "turn"], "degree", "degree", "109 deg"),
  rotation: { ...measured("speed of rotation", "rpm", ["revolution-per-minute"], "revolution-per-minute", "revolution-per-minute", "6500 rpm"), baseFactor: 6 },
  speed: measured("speed", "m/s", ["metre-per-second", "kilometre-per-hour", "mile-per-hour", "foot-per-minute"], "metre-per-second", "foot-per-minute", "20 m/s"),
  "road-speed": measured("road speed", "m/s", ["kilometre-per-hour", "mile-per-hour", "metre-per-second"], "kilometre-per-hour", "mile-per-hour", "120 km/h"),
  acceleration: measured("acceleration", "m/s²", ["metre-per-second-squared"], "metre-per-second-squared", "metre-per-second-squared", "9.81 m/s²"),
  temperature: measured("temperature", "K", ["degree-celsius", "degree-fahrenheit", "kelvin"], "degree-celsius", "degree-fahrenheit", "90 °C"),
  "temperature-difference": {
    ...measured("difference of temperature", "K", ["degree-celsius", "degree-fahrenheit", "kelvin"], "degree-celsius", "degree-fahrenheit", "60 °C"), difference: true,
  },
  time: measured("time", "s", ["minute", "second", "hour", "millisecond"], "minute", "minute", "20 min"),
  "spring-rate": measured("spring rate", "N/m", ["newton-per-millimetre", "pound-force-per-inch", "kilogram-force-per-millimetre"], "newton-per-millimetre", "pound-force-per-inch", "32 N/mm"),
  "mass-flow": measured("flow by weight", "kg/s", ["gram-per-second", "pound-per-minute", "pound-per-hour"], "gram-per-second", "pound-per-minute", "85 g/s"),
  "volume-flow": measured(
    "flow by volume", "m³/s", ["cubic-centimetre-per-minute", "litre-per-hour", "litre-per-minute", "gallon-per-hour", "cubic-foot-per-minute"],
    "litre-per-minute", "cubic-foot-per-minute", "255 L/h",
  ),
  "specific-consumption": measured(
    "specific fuel consumption", "kg/J", ["gram-per-kilowatt-hour", "pound-per-horsepower-hour"], "gram-per-kilowatt-hour", "pound-per-horsepower-hour", "300 g/kWh",
  ),
  density: measured("density", "kg/m³", ["kilogram-per-litre", "gram-per-cubic-centimetre", "kilogram-per-cubic-metre"], "kilogram-per-cubic-metre", "kilogram-per-cubic-metre", "0.745 kg/L"),
  frequency: measured("frequency", "Hz", ["hertz"], "hertz", "hertz", "380 Hz"),
  voltage: measured("voltage", "V", ["volt"], "volt", "volt", "13.5 V"),
  inertia: measured("moment of inertia", "kg·m²", ["kilogram-square-metre"], "kilogram-square-metre", "kilogram-square-metre", "0.12 kg·m²"),
  /** In the scale as written, afr or lambda; `9.4:1` reads as afr. */
  mixture: { ...measured("mixture", "afr or lambda", ["air-fuel-ratio", "lambda"], "air-fuel-ratio", "air-fuel-ratio", "12.8 afr"), aToB: true },
  /** In the scale as written. */
  octane: measured("octane number", "RON, MON or AKI", ["research-octane", "motor-octane", "anti-knock-index"], "research-octane", "anti-knock-index", "98 RON"),
  fraction: plain("fraction", "85 %", { units: ["percent"] }),
  ratio: plain("ratio", "9.4:1", { aToB: true }),
  number: plain("plain number", "5.2"),
  count: plain("whole number", "4", { whole: true }),
} as const satisfies Record<string, Kind>;

export type KindId = keyof typeof KINDS;

export function kindOf(kind: KindId): Kind {
  return KINDS[kind];
}

/** "a torque", "an angle". */
export function withArticle(words: string): string {
  return (/^[aeiou]/i.test(words) ? "an " : "a ") + words;
}

/** True when a value of this dimension and scale is one of the kind. */
export function kindAccepts(kind: KindId, dimension: Dimension, scale: Scale | undefined): boolean {
  const { units, bare } = kindOf(kind);
  if (isDimensionless(dimension) && scale === undefined && bare) return true;
  return units.some((u) => sameDimension(UNITS[u].dimension, dimension) && UNITS[u].scale === scale);
}

/** True when a figure of the kind may carry this unit. */
export function unitFits(kind: KindId, unit: UnitId): boolean {
  const { units } = kindOf(kind);
  return units.includes(unit) || units.some((u) => sameDimension(UNITS[u].dimension, UNITS[unit].dimension) && UNITS[u].scale === UNITS[unit].scale);
}

/** A figure in `unit` as a value in the kind's base. */
export function toKindBase(value: number, unit: UnitId | undefined, kind: KindId): number {
  if (unit === undefined) return value;
  return (kindOf(kind).difference ? value * UNITS[unit].factor : toBase(value, unit)) / kindOf(kind).baseFactor;
}

/** A value in the kind's base as a figure in `unit`. */
export function fromKindBase(value: number, unit: UnitId | undefined, kind: KindId): number {
  if (unit === undefined) return value;
  const coherent = value * kindOf(kind).baseFactor;
  return kindOf(kind).difference ? coherent / UNITS[unit].factor : fromBase(coherent, unit);
}

export function intervalIn(interval: Interval, unit: UnitId | undefined, kind: KindId): Interval {
  return mapInterval(interval, (x) => fromKindBase(x, unit, kind));
}

/** The kind that figures in this unit are most often of: for a clause whose word says nothing of it. */
export function usualKind(unit: UnitId): KindId {
  for (const [id, kind] of Object.entries(KINDS) as [KindId, Kind][]) {
    if (kind.units.includes(unit)) return id;
  }
  return "number";
}

export function unitList(kind: KindId, most = 3): string {
  const names = kindOf(kind).units.slice(0, most).map((u) => spellingOfUnit(u));
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} or ${names.at(-1)}`;
}
