// What a figure far outside its usual span was probably meant to be: a point in the wrong place, a unit mixed up. Judges no figure wrong.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { Span } from "../../grammar/tree.ts";
import { formatQuantity } from "./display.ts";
import type { Interval } from "./interval.ts";
import { mapInterval } from "./interval.ts";
import { fromKindBase, kindOf, toKindBase } from "./kinds.ts";
import type { Quantity } from "./quantity.ts";
import { UNITS } from "./units.ts";
import { beside } from "./written.ts";

export interface Slip {
  /** Times the figure as written; for a unit, what the exchange multiplies it by. */
  readonly factor: number;
  /** The other unit, where the digits are right and the unit is not. */
  readonly unit?: UnitId;
  /** "ten times less", "in, not mm". */
  readonly label: string;
  /** The figure so mended, in the writer's digits: `0.012 mm`. */
  readonly text: string;
  readonly edits: readonly { readonly span: Span; readonly text: string }[];
  readonly interval: Interval;
}

/** Powers of ten by which a point is misplaced, nearest first. */
const SHIFTS = [
  { by: -1, label: "ten times less" },
  { by: 1, label: "ten times more" },
  { by: -2, label: "a hundred times less" },
  { by: 2, label: "a hundred times more" },
] as const;

/** Two units whose figures differ less than this (bar and atm, in-lb and kgf·cm) make one guess, not two. */
const ALIKE = 0.2;

/**
 * Readings of the same digits that land inside the usual span, when the figure as written lies wholly outside it
 * or is a tolerance that reaches past it both ways.
 * A figure 25.4 times away shows as its unit exchanged, mm for in or back, as that is how it comes about.
 * `usual` in the base of the quantity's kind. Empty when the figure is within or across the span, or nothing likely fits.
 */
export function likelySlips(quantity: Quantity, usual: Interval): Slip[] {
  const { low, high } = quantity.interval;
  // What reaches past the span both ways is as far off as what lies beside it: ± 100 deg for ± 10.
  const around = low < usual.low && high > usual.high && Number.isFinite(low) && Number.isFinite(high) && quantity.shape === "tolerance";
  if (!around && low <= usual.high && high >= usual.low) return [];
  if (quantity.unitSpans.length > 1 || quantity.figures.length === 0) return [];
  const points = pointSlips(quantity, usual);
  // Centimetres for millimetres is the same ten times as a point out of place, and less likely.
  // A bare 85 is another matter: 85 % says what was meant better than 0.85 does.
  const apart = (unit: Slip) => quantity.unit === undefined || points.every((point) => Math.abs(unit.factor / point.factor - 1) > 1e-9);
  return [...points, ...unitSlips(quantity, usual).filter(apart)];
}

/**
 * The same for a range of which one end alone lies outside the span: that end with its point moved, the other as it stands.
 * Empty unless the ends stay in order.
 */
export function likelyEndSlips(quantity: Quantity, usual: Interval): Slip[] {
  const { low, high } = quantity.interval;
  const [first, second] = quantity.figures;
  if (quantity.shape !== "range" || !first || !second || quantity.figures.length > 2) return [];
  if (low < usual.low === high > usual.high) return [];
  const i = low < usual.low ? 0 : 1;
  const digits = quantity.digits[i] as string;
  if (!/^(\d+(?:\.\d*)?|\.\d+)$/.test(digits)) return [];
  return SHIFTS.flatMap(({ by, label }): Slip[] => {
    const factor = 10 ** by;
    const end = toKindBase(fromKindBase(i === 0 ? low : high, quantity.unit, quantity.kind) * factor, quantity.unit, quantity.kind);
    if (end < usual.low || end > usual.high || (i === 0 ? end > high : end < low)) return [];
    const text = shiftPoint(digits, by);
    const interval = i === 0 ? { ...quantity.interval, low: end, nominal: (end + high) / 2 } : { ...quantity.interval, high: end, nominal: (low + end) / 2 };
    const both = quantity.digits.map((d, at) => (at === i ? text : d));
    return [{ factor, label, text: formatQuantity({ ...quantity, interval, digits: both }), edits: [{ span: i === 0 ? first : second, text }], interval }];
  }).slice(0, 1);
}

function pointSlips(quantity: Quantity, usual: Interval): Slip[] {
  if (!quantity.digits.every((text) => /^(\d+(?:\.\d*)?|\.\d+)$/.test(text))) return [];
  const slips: Slip[] = [];
  for (const { by, label } of SHIFTS) {
    const factor = 10 ** by;
    // Where one place mends it, two places the same way are no second guess.
    if (slips.some((s) => s.factor < 1 === factor < 1)) continue;
    const interval = reread(quantity, quantity.unit, (x) => x * factor);
    if (!inside(interval, usual)) continue;
    const shifted = quantity.digits.map((text) => shiftPoint(text, by));
    const digits = kindOf(quantity.kind).whole ? shifted.map((text) => text.replace(/\.0+$/, "")) : shifted;
    if (kindOf(quantity.kind).whole && digits.some((text) => text.includes("."))) continue;
    slips.push({
      factor,
      label,
      text: formatQuantity({ ...quantity, interval, digits }),
      edits: quantity.figures.map((span, i) => ({ span, text: digits[i] as string })),
      interval,
    });
  }
  return slips;
}

function unitSlips(quantity: Quantity, usual: Interval): Slip[] {
  const slips: Slip[] = [];
  const taken: number[] = [];
  for (const unit of kindOf(quantity.kind).units) {
    if (unit === quantity.unit || UNITS[unit].scale !== (quantity.unit && UNITS[quantity.unit].scale)) continue;
    const { factor } = UNITS[unit];
    if (taken.some((other) => Math.abs(other / factor - 1) < ALIKE)) continue;
    const interval = reread(quantity, unit, (x) => x);
    if (!inside(interval, usual)) continue;
    taken.push(factor);
    const spelling = spellingOfUnit(unit);
    const place = quantity.unitSpans[0];
    const end = (quantity.figures.at(-1) as Span).end;
    slips.push({
      factor: quantity.unit === undefined ? factor : factor / UNITS[quantity.unit].factor,
      unit,
      label: quantity.unitText === undefined ? `in ${spelling}` : `${spelling}, not ${quantity.unitText}`,
      text: formatQuantity({ ...quantity, interval, unit, unitText: spelling }),
      edits: [place ? { span: place, text: spelling } : { span: { start: end, end }, text: beside("", spelling) }],
      interval,
    });
  }
  return slips;
}

/** The interval that the digits give in `unit` after a change to them. */
function reread(quantity: Quantity, unit: UnitId | undefined, change: (x: number) => number): Interval {
  return mapInterval(quantity.interval, (x) => (Number.isFinite(x) ? toKindBase(change(fromKindBase(x, quantity.unit, quantity.kind)), unit, quantity.kind) : x));
}

function inside(interval: Interval, usual: Interval): boolean {
  const slack = 1e-9 * Math.max(Math.abs(usual.low), Math.abs(usual.high));
  const within = (x: number) => !Number.isFinite(x) || (x >= usual.low - slack && x <= usual.high + slack);
  return within(interval.low) && within(interval.nominal) && within(interval.high);
}

/** Moves the point of plain digits: `0.12` by -1 is `0.012`, `.12` is `.012`, `120` is `12.0`, `0.20` by 2 is `20`. */
export function shiftPoint(digits: string, by: number): string {
  const [whole = "", part = ""] = digits.split(".");
  const point = whole.length + by;
  const all = whole + part;
  const padded = point <= 0 ? "0".repeat(1 - point) + all : all.padEnd(point, "0");
  const at = point <= 0 ? 1 : point;
  const left = padded.slice(0, at).replace(/^0+(?=\d)/, "");
  const right = padded.slice(at);
  const leading = whole === "" && left === "0" ? "" : left;
  return right === "" ? left : `${leading}.${right}`;
}
