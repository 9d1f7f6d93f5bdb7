// Figures as a builder reads them: unit, digits, the other system's figure beside. Knows how the trade rounds, not what a figure is for.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { Interval } from "./interval.ts";
import { fromKindBase, intervalIn, kindOf } from "./kinds.ts";
import type { KindId } from "./kinds.ts";
import type { Quantity } from "./quantity.ts";
import { UNITS } from "./units.ts";
import type { System } from "./units.ts";
import { beside } from "./written.ts";

/** How computed figures in a unit are rounded: to so many decimals, to so many figures, or to a step. */
export type Rounding =
  | { readonly decimals: number }
  /** Significant figures, with at most `most` decimals. */
  | { readonly figures: number; readonly most: number }
  | { readonly step: number };

const d = (decimals: number): Rounding => ({ decimals });
const f = (figures: number, most: number): Rounding => ({ figures, most });

/** Common practice, no source: the last place a shop reads or sets in each unit. */
export const TRADE_ROUNDING: Readonly<Record<UnitId, Rounding>> = {
  "newton-metre": f(3, 1), "pound-foot": f(3, 1), "pound-inch": f(3, 0), "kilogram-force-metre": f(3, 2), "kilogram-force-centimetre": f(3, 0),
  inch: f(4, 4), thou: d(1), foot: f(4, 2), millimetre: d(2), centimetre: d(2), metre: f(4, 3), micrometre: d(0), kilometre: d(0), mile: d(0),
  "square-millimetre": f(3, 1), "square-centimetre": d(2), "square-inch": d(3),
  "cubic-centimetre": f(4, 1), "cubic-inch": f(4, 2), litre: d(2), quart: d(1), pint: d(1), "fluid-ounce": d(1),
  psi: f(3, 1), bar: d(2), pascal: d(0), kilopascal: f(3, 1), megapascal: f(3, 1), gigapascal: f(3, 1), ksi: f(3, 1),
  "inch-of-mercury": d(2), "millimetre-of-mercury": d(0), "kilogram-force-per-square-centimetre": d(2), atmosphere: d(2),
  horsepower: f(3, 1), "metric-horsepower": f(3, 1), kilowatt: f(3, 1), watt: f(3, 0),
  "pound-force": f(3, 1), newton: f(3, 0), kilonewton: f(3, 2), "kilogram-force": f(3, 1),
  gram: f(4, 1), kilogram: f(4, 3), pound: f(3, 2), ounce: f(3, 2),
  "newton-per-millimetre": f(3, 1), "pound-force-per-inch": f(3, 0), "kilogram-force-per-millimetre": f(3, 2),
  "revolution-per-minute": d(0), degree: { step: 0.5 }, turn: d(2),
  "degree-celsius": d(0), "degree-fahrenheit": d(0), kelvin: d(0),
  "air-fuel-ratio": d(1), lambda: d(2), "research-octane": d(0), "motor-octane": d(0), "anti-knock-index": d(0),
  "gram-per-second": f(3, 1), "pound-per-minute": f(3, 2), "cubic-centimetre-per-minute": d(0), "pound-per-hour": f(3, 1),
  "litre-per-hour": f(3, 1), "litre-per-minute": f(3, 2), "gallon-per-hour": f(3, 1), "cubic-foot-per-minute": f(3, 1),
  "gram-per-kilowatt-hour": d(0), "pound-per-horsepower-hour": d(2),
  "kilogram-per-litre": d(3), "gram-per-cubic-centimetre": d(3), "kilogram-per-cubic-metre": f(4, 3),
  millisecond: d(2), second: d(1), minute: d(0), hour: d(1),
  "kilometre-per-hour": d(0), "mile-per-hour": d(0), "metre-per-second": f(3, 1), "foot-per-minute": f(3, 0), "metre-per-second-squared": f(3, 2),
  "kilogram-square-metre": f(3, 4), percent: { step: 0.1 }, hertz: d(0), volt: d(1),
};

/** Common practice, no source: rounding of numbers that have no unit. */
const PLAIN_ROUNDING: Partial<Record<KindId, Rounding>> = { count: d(0), ratio: d(2), fraction: d(3), number: f(4, 3) };

/** Below this a torque is given in in-lb rather than ft-lb. Common practice, no source. */
const SMALL_TORQUE = 15 * UNITS["pound-foot"].factor;
/** Below this a length is given in thou rather than inches. Common practice, no source. */
const SMALL_LENGTH = 0.1 * UNITS.inch.factor;

export interface NumberFormat {
  readonly unit?: UnitId;
  readonly kind?: KindId;
  /** Exactly so many decimals, instead of the trade's. */
  readonly decimals?: number;
}

/** A number in the trade's rounding for its unit, without the unit. Infinity prints as ∞, and no -0 is ever printed. */
export function formatNumber(value: number, format: NumberFormat = {}): string {
  if (!Number.isFinite(value)) return value > 0 ? "∞" : value < 0 ? "-∞" : "?";
  const rounding: Rounding = format.decimals !== undefined ? d(format.decimals) : roundingOf(format.unit, format.kind);
  if ("step" in rounding) {
    const stepped = Math.round(value / rounding.step) * rounding.step;
    return noMinusZero(String(Number(stepped.toFixed(6))));
  }
  if ("decimals" in rounding) return fixed(value, rounding.decimals);
  // More figures than the trade reads would claim an accuracy that no input has: 31053 is 31100 to three figures.
  const rounded = Math.abs(value) >= 10 ** rounding.figures ? Number((value * (1 + 1e-12)).toPrecision(rounding.figures)) : value;
  const text = fixed(rounded, decimalsFor(value, rounding));
  // A plain number that comes out whole, such as marks to count, is told whole.
  return format.kind === "number" && format.unit === undefined && text.includes(".") ? text.replace(/(?:\.|(?<!0))0+$/, "") : text;
}

function roundingOf(unit: UnitId | undefined, kind: KindId | undefined): Rounding {
  if (unit !== undefined) return TRADE_ROUNDING[unit];
  return (kind !== undefined ? PLAIN_ROUNDING[kind] : undefined) ?? f(4, 3);
}

function decimalsFor(value: number, rounding: { readonly figures: number; readonly most: number }): number {
  if (value === 0) return 0;
  const magnitude = Math.floor(Math.log10(Math.abs(Number(value.toPrecision(rounding.figures)))));
  return Math.max(0, Math.min(rounding.most, rounding.figures - 1 - magnitude));
}

function fixed(value: number, decimals: number): string {
  // A half goes away from zero, as a reader rounds, though 0.285 is held as a hair less; the hair is far below any digit shown.
  return noMinusZero((value * (1 + 1e-12)).toFixed(Math.min(decimals, 20)));
}

function noMinusZero(text: string): string {
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** The unit of the other system that the same figure is told in, or undefined where both say it alike. `value` in the base of the kind. */
export function inOtherSystem(unit: UnitId, kind: KindId, value: number): UnitId | undefined {
  const size = Math.abs(value);
  switch (unit) {
    case "millimetre": case "centimetre": case "micrometre":
      return size < SMALL_LENGTH ? "thou" : "inch";
    case "metre":
      return "foot";
    case "inch": case "thou":
      return "millimetre";
    case "foot":
      return "metre";
    case "kilometre":
      return "mile";
    case "mile":
      return "kilometre";
    case "square-millimetre": case "square-centimetre":
      return "square-inch";
    case "square-inch":
      return "square-millimetre";
    case "cubic-centimetre":
      return kind === "capacity" ? "fluid-ounce" : "cubic-inch";
    case "litre":
      return kind === "capacity" ? "quart" : "cubic-inch";
    case "cubic-inch": case "fluid-ounce":
      return "cubic-centimetre";
    case "quart": case "pint":
      return "litre";
    case "gram":
      return size < UNITS.pound.factor ? "ounce" : "pound";
    case "kilogram":
      return "pound";
    case "ounce":
      return "gram";
    case "pound":
      return size < 1 ? "gram" : "kilogram";
    case "newton-metre": case "kilogram-force-metre": case "kilogram-force-centimetre":
      return size < SMALL_TORQUE ? "pound-inch" : "pound-foot";
    case "pound-foot": case "pound-inch":
      return "newton-metre";
    case "bar": case "kilopascal": case "kilogram-force-per-square-centimetre": case "pascal":
      return "psi";
    case "psi":
      return kind === "stress" ? "megapascal" : "bar";
    case "inch-of-mercury":
      return "kilopascal";
    case "millimetre-of-mercury":
      return "inch-of-mercury";
    case "atmosphere":
      return "psi";
    case "megapascal": case "gigapascal":
      return kind === "pressure" ? "psi" : "ksi";
    case "ksi":
      return "megapascal";
    case "kilowatt": case "metric-horsepower": case "watt":
      return "horsepower";
    case "horsepower":
      return "kilowatt";
    case "newton": case "kilonewton": case "kilogram-force":
      return "pound-force";
    case "pound-force":
      return "newton";
    case "newton-per-millimetre": case "kilogram-force-per-millimetre":
      return "pound-force-per-inch";
    case "pound-force-per-inch":
      return "newton-per-millimetre";
    case "degree-celsius": case "kelvin":
      return "degree-fahrenheit";
    case "degree-fahrenheit":
      return "degree-celsius";
    case "gram-per-second":
      return "pound-per-minute";
    case "pound-per-minute": case "pound-per-hour":
      return "gram-per-second";
    case "litre-per-hour":
      return "gallon-per-hour";
    case "gallon-per-hour":
      return "litre-per-hour";
    case "litre-per-minute":
      return "cubic-foot-per-minute";
    case "cubic-foot-per-minute":
      return "litre-per-minute";
    case "gram-per-kilowatt-hour":
      return "pound-per-horsepower-hour";
    case "pound-per-horsepower-hour":
      return "gram-per-kilowatt-hour";
    case "kilometre-per-hour":
      return "mile-per-hour";
    case "mile-per-hour":
      return "kilometre-per-hour";
    case "metre-per-second":
      return "foot-per-minute";
    case "foot-per-minute":
      return "metre-per-second";
    default:
      return undefined;
  }
}

/** The unit for a value that nobody wrote, in a system: in-lb for small torques, thou for small lengths. `value` in the base of the kind. */
export function unitFor(kind: KindId, system: Exclude<System, "both">, value: number): UnitId | undefined {
  const { metric, inch } = kindOf(kind);
  if (system === "metric" || inch === undefined) return metric;
  return (metric !== undefined && metric !== inch ? inOtherSystem(metric, kind, value) : undefined) ?? inch;
}

export interface QuantityFormat {
  /** The unit to show; for a written quantity, its own unless given. */
  readonly unit?: UnitId;
  readonly decimals?: number;
  /** Appends the other system's figure: `0.20 mm (7.9 thou)`. */
  readonly both?: boolean;
}

/** A written quantity in its own digits and unit, or in another unit in the trade's rounding. */
export function formatQuantity(q: Quantity, format: QuantityFormat = {}): string {
  const unit = format.unit ?? q.unit ?? kindOf(q.kind).metric;
  const written = unit === q.unit && format.decimals === undefined ? asWritten(q) : undefined;
  const computed = () => withUnitText(signOf(q) + band(q.interval, q.kind, unit, format.decimals, q.shape === "tolerance"), unit);
  const main = written === undefined ? computed() : q.unitText === undefined ? written : beside(written, q.unitText);
  if (!format.both || unit === undefined) return main;
  const other = inOtherSystem(unit, q.kind, reference(q.interval));
  return other === undefined ? main : `${main} (${withUnitText(band(q.interval, q.kind, other, undefined, q.shape === "tolerance"), other)})`;
}

/** A computed interval: one figure, or `10.1 … 10.4 kN`. `interval` in the base of the kind. */
export function formatBand(interval: Interval, kind: KindId, unit: UnitId | undefined, format: Omit<QuantityFormat, "unit"> = {}): string {
  const main = withUnitText(band(interval, kind, unit, format.decimals, false), unit);
  if (!format.both || unit === undefined) return main;
  const other = inOtherSystem(unit, kind, reference(interval));
  return other === undefined ? main : `${main} (${withUnitText(band(interval, kind, other, undefined, false), other)})`;
}

/** One value, in the base of the kind. */
export function formatValue(value: number, kind: KindId, unit: UnitId | undefined, format: Omit<QuantityFormat, "unit"> = {}): string {
  return formatBand({ low: value, nominal: value, high: value }, kind, unit, format);
}

/** The builder's own digits, where they tell the whole of it: not for expressions, nor for ends in different units. */
function asWritten(q: Quantity): string | undefined {
  const [a, b, c, ...more] = q.digits.map((digits) => digits.replace(",", "."));
  if (a === undefined || more.length > 0 || q.unitSpans.length > 1) return undefined;
  switch (q.shape) {
    case "single":
      return b !== undefined ? undefined : q.signed ? (fromKindBase(q.interval.nominal, q.unit, q.kind) < 0 ? "-" : "+") + a : a;
    case "range":
      return q.signed || b === undefined || c !== undefined ? undefined : `${a} … ${b}`;
    case "at-most":
      return q.signed || b !== undefined ? undefined : `≤ ${a}`;
    case "at-least":
      return q.signed || b !== undefined ? undefined : `≥ ${a}`;
    case "tolerance":
      if (q.signed) return undefined;
      if (b === undefined) return q.interval.nominal === 0 ? `± ${a}` : undefined;
      return c === undefined ? `${a} ± ${b}` : `${a} +${b} -${c}`;
  }
}

/** An oversize keeps its sign in every unit. */
function signOf(q: Quantity): string {
  return q.signed && q.shape === "single" && q.interval.low > 0 && kindOf(q.kind).units.length > 0 && q.kind !== "temperature" ? "+" : "";
}

function reference(interval: Interval): number {
  return Number.isFinite(interval.nominal) ? interval.nominal : 0;
}

function withUnitText(digits: string, unit: UnitId | undefined): string {
  return unit === undefined ? digits : beside(digits, spellingOfUnit(unit));
}

function band(interval: Interval, kind: KindId, unit: UnitId | undefined, decimals: number | undefined, tolerance: boolean): string {
  const shown = intervalIn(interval, unit, kind);
  const format: NumberFormat = { kind, ...(unit !== undefined && { unit }), ...(decimals !== undefined && { decimals }) };
  const text = (x: number) => formatNumber(x, format);
  if (shown.low === -Infinity && shown.high === Infinity) return "anything";
  if (shown.low === -Infinity) return `≤ ${text(shown.high)}`;
  if (shown.high === Infinity) return `≥ ${text(shown.low)}`;
  const [low, high] = [text(shown.low), text(shown.high)];
  if (tolerance) {
    const [up, down] = [shown.high - shown.nominal, shown.nominal - shown.low];
    if (Math.abs(up - down) <= 1e-9 * Math.max(up, down)) return low === high ? low : `${shown.nominal === 0 ? "" : `${text(shown.nominal)} `}± ${text(up)}`;
    return `${text(shown.nominal)} +${text(up)} -${text(down)}`;
  }
  return low === high ? low : `${low} … ${high}`;
}

/** Differences smaller than this part of the two figures come from converting units, not from the engine. */
const NOISE = 1e-9;

/** -1 below, 1 above, 0 when equal but for the rounding of conversion. The one comparison that rules and display share. */
export function compareWithLimit(value: number, limit: number): -1 | 0 | 1 {
  if (value === limit) return 0;
  if (Number.isFinite(value) && Number.isFinite(limit) && Math.abs(value - limit) <= NOISE * Math.max(Math.abs(value), Math.abs(limit))) return 0;
  return value < limit ? -1 : 1;
}

/**
 * A value and its limit with as many digits as it takes to tell them apart: 27.35 mm against 27.4 mm never prints as 27.4 against 27.4.
 * Both in the base of the kind; both printed in `unit`, without it. `limitDecimals`: the decimals the limit was written with.
 */
export function formatAgainst(
  value: number, limit: number, kind: KindId, unit: UnitId | undefined, limitDecimals?: number,
): { readonly value: string; readonly limit: string } {
  const [v, l] = [fromKindBase(value, unit, kind), fromKindBase(limit, unit, kind)];
  const format: NumberFormat = { kind, ...(unit !== undefined && { unit }) };
  const order = compareWithLimit(v, l);
  const says = (a: string, b: string) => Math.sign(Number(a) - Number(b)) === order;
  const limitText = limitDecimals !== undefined ? formatNumber(l, { decimals: limitDecimals }) : formatNumber(l, format);
  const valueText = formatNumber(v, format);
  if (!Number.isFinite(v) || !Number.isFinite(l) || says(valueText, limitText)) return { value: valueText, limit: limitText };
  const exact = compareWithLimit(Number(limitText), l) === 0;
  for (let decimals = 0; decimals <= 15; decimals++) {
    const a = v.toFixed(decimals);
    const b = exact ? limitText : l.toFixed(decimals);
    if (decimals >= (valueText.split(".")[1]?.length ?? 0) && says(a, b)) return { value: noMinusZero(a), limit: noMinusZero(b) };
  }
  return order === 0 ? { value: limitText, limit: limitText } : { value: String(v), limit: String(l) };
}
