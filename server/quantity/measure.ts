// One figure, range, tolerance or bound turned into an interval in the base of its kind. Knows how spread is written, not which words follow it.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { Part, Span, Text, UnitRef } from "../../grammar/tree.ts";
import { DIMENSIONLESS, sameDimension } from "./dimension.ts";
import { emptyTrace, evaluate, withUnit } from "./expression.ts";
import type { Amount, Evaluation, Trace, Trouble } from "./expression.ts";
import type { Interval } from "./interval.ts";
import { kindAccepts, toKindBase, kindOf, unitFits } from "./kinds.ts";
import type { KindId } from "./kinds.ts";
import type { Quantity, QuantityProblem, Shape } from "./quantity.ts";
import { UNITS } from "./units.ts";
import { decimalsOf, lastUnitIn, unitIdOf } from "./written.ts";
import { belowAbsoluteZero, dashedFigure, emptyRange, notWhole, openRange, spacedRange, unitMissing, wordTrouble, wrongResult, wrongUnit } from "./wording.ts";

export interface MeasureContext {
  /** The kinds the figure may be of; the written unit decides. */
  readonly kinds: readonly [KindId, ...KindId[]];
  /** A unit from further on or from outside, for figures without one. */
  readonly fallback?: UnitRef | undefined;
  readonly usual?: Interval | undefined;
  readonly report: (problem: QuantityProblem) => void;
}

/** The spread of a part before its kind is known. */
interface Spread {
  readonly shape: Shape;
  readonly low?: Amount;
  readonly centre?: Amount;
  readonly high?: Amount;
  /** Those of the three that are not the same. */
  readonly amounts: readonly Amount[];
  readonly trace: Trace;
}

/** Reads one measurable part. Undefined after at least one report. */
export function measure(part: Part, context: MeasureContext): Quantity | undefined {
  const bare = unwrap(part);
  const { core, unit: outer } = bare;
  const own = outer ?? lastUnitIn(core);
  const fallback = own ?? context.fallback ?? (context.kinds.includes("mixture") && isRatio(core) ? { text: spellingOfUnit("air-fuel-ratio"), span: part.span } : undefined);
  const difference = isDifference(context.kinds, fallback);
  const evaluation: Evaluation = {
    trace: emptyTrace(),
    difference,
    ratio: context.kinds.some((k) => kindOf(k).aToB),
    report: (t: Trouble) => context.report(wordTrouble(t, context.kinds)),
  };
  const fallbackUnit = unitIdOf(fallback);
  if (own && fallbackUnit === undefined) {
    evaluation.report({ is: "unknown-unit", spelling: own.text, span: own.span });
    return undefined;
  }
  if (isSpacedRange(core)) {
    context.report(spacedRange(core));
    return undefined;
  }
  if (core.kind === "range" && (!core.low || !core.high || core.low.kind === "hole" || core.high.kind === "hole")) {
    context.report(openRange(core));
    return undefined;
  }
  const spread = spreadOf(core, evaluation, fallbackUnit, context);
  if (!spread) return undefined;
  if (outer) spread.trace.units.push(outer);

  const { amounts } = spread;
  if (amounts.some((a) => !Number.isFinite(a.value) || !Number.isFinite(a.slack))) {
    evaluation.report({ is: "too-large", span: part.span });
    return undefined;
  }
  if (amounts.some((a) => a.scale !== amounts[0]?.scale) && core.kind === "range" && core.low && core.high) {
    evaluation.report({ is: "mixed", left: core.low, right: core.high, span: part.span });
    return undefined;
  }
  const kind = kindOfAmounts(part, amounts, spread, fallback, context);
  if (kind === undefined) return undefined;
  const base = kindOf(kind).baseFactor;
  const inBase = (amount: Amount | undefined, absent: number): number => (amount ? amount.value / base : absent);
  const interval: Interval = {
    low: inBase(spread.low, -Infinity),
    nominal: nominal(spread) / base,
    high: inBase(spread.high, Infinity),
  };
  if (interval.low > interval.high) {
    const [a, b] = spread.trace.digits;
    context.report(emptyRange(part, spread.trace.digits.length === 2 ? a : undefined, b));
    return undefined;
  }
  if (kindOf(kind).whole && amounts.some((a) => !Number.isInteger(a.value))) {
    context.report(notWhole(part));
    return undefined;
  }
  // A hair's breadth is left for the rounding of -273.15 itself.
  if (kind === "temperature" && amounts.some((a) => a.value < -1e-9)) {
    context.report(belowAbsoluteZero(part));
    return undefined;
  }
  const written = amounts.every((a) => a.written);
  const unit = fallbackUnit !== undefined && unitFits(kind, fallbackUnit) && amounts.some((a) => !a.bare) ? fallbackUnit : impliedUnit(kind, amounts);
  return {
    kind,
    interval,
    shape: spread.shape,
    unit,
    unitText: unit === undefined ? undefined : fallback !== undefined && unit === fallbackUnit ? fallback.text : spellingOfUnit(unit),
    halfDigit: Math.max(...amounts.map((a) => a.slack)) / base,
    decimals: spread.trace.decimals,
    figures: written ? spread.trace.digits.map((d) => d.span) : [],
    digits: written ? spread.trace.digits.map((d) => d.text) : [],
    unitSpans: spread.trace.units.map((u) => u.span),
    signed: spread.trace.signed,
    span: part.span,
  };
}

/** A lone bracketed part with or without a unit after the bracket: `(10 .. 12) mm`. */
function unwrap(part: Part): { core: Part; unit?: UnitRef } {
  if (part.kind !== "group" || part.inner.length !== 1) return { core: part };
  const inner = part.inner[0] as Part;
  if (inner.kind !== "range" && inner.kind !== "tolerance" && inner.kind !== "compare") return { core: part };
  return part.unit && lastUnitIn(inner) === undefined ? { core: inner, unit: part.unit } : { core: inner };
}

/** `0.20 - 0.25 mm` is a difference by its spaces, and a range by its sense. */
function isSpacedRange(part: Part): part is Extract<Part, { kind: "binary" }> {
  if (part.kind !== "binary" || part.op !== "-" || part.left.kind !== "figure" || part.right.kind !== "figure") return false;
  return (part.left.unit === undefined || part.left.unit.text === part.right.unit?.text) && part.left.value < part.right.value;
}

/** 14.7:1 of air to fuel needs no unit to be understood. */
function isRatio(part: Part): boolean {
  if (part.kind === "range") return part.low !== undefined && part.high !== undefined && isRatio(part.low) && isRatio(part.high);
  if (part.kind === "compare") return isRatio(part.operand);
  return part.kind === "figure" && part.form === "ratio";
}

function isDifference(kinds: readonly KindId[], unit: UnitRef | undefined): boolean {
  const id = unitIdOf(unit);
  const fitting = id === undefined ? kinds[0] : (kinds.find((k) => unitFits(k, id)) ?? kinds[0]);
  return fitting !== undefined && kindOf(fitting).difference === true;
}

function nominal(spread: Spread): number {
  if (spread.centre) return spread.centre.value;
  if (spread.low && spread.high) return spread.low.value + (spread.high.value - spread.low.value) / 2;
  return (spread.low ?? spread.high)?.value ?? 0;
}

function spreadOf(part: Part, e: Evaluation, unit: UnitId | undefined, context: MeasureContext): Spread | undefined {
  const read = (p: Part) => {
    const amount = evaluate(p, e);
    return amount && giveUnit(amount, unit, e.difference, context);
  };
  switch (part.kind) {
    case "range": {
      const [low, high] = [part.low && read(part.low), part.high && read(part.high)];
      return low && high && { shape: "range", low, high, amounts: [low, high], trace: e.trace };
    }
    case "compare": {
      const bound = read(part.operand);
      if (!bound) return undefined;
      return part.op.startsWith("<") ? { shape: "at-most", high: bound, amounts: [bound], trace: e.trace } : { shape: "at-least", low: bound, amounts: [bound], trace: e.trace };
    }
    case "tolerance":
      return toleranceOf(part, e, unit, context);
    case "figure": {
      if (part.form !== "dashed") break;
      const problem = dashedFigure(part);
      if (problem) context.report(problem);
      return dashedSpread(part.digits, unit, e);
    }
  }
  const amount = read(part);
  return amount && { shape: "single", low: amount, centre: amount, high: amount, amounts: [amount], trace: e.trace };
}

/** `10-12 N·m` is read as 10 .. 12 besides being reported, so that the rest of the sheet does not go dark. */
function dashedSpread(digits: Text, unit: UnitId | undefined, e: Evaluation): Spread | undefined {
  const numbers = digits.text.split("-").map(Number);
  const [a, b] = numbers;
  if (numbers.length !== 2 || a === undefined || b === undefined || !(a < b) || unit === undefined) return undefined;
  const slack = 0.5 * 10 ** -decimalsOf(digits.text.split("-")[1] ?? "");
  e.trace.decimals = decimalsOf(digits.text.split("-")[1] ?? "");
  const [low, high] = [a, b].map((value) => withUnit({ value, slack, bare: true, dimension: DIMENSIONLESS, written: false }, unit, e.difference)) as [Amount, Amount];
  return { shape: "range", low, high, amounts: [low, high], trace: e.trace };
}

function giveUnit(amount: Amount, unit: UnitId | undefined, difference: boolean, context: MeasureContext): Amount {
  if (!amount.bare || unit === undefined) return amount;
  // A count under a column head in millimetres stays a count.
  if (context.kinds.every((k) => kindOf(k).bare && !unitFits(k, unit)) && unitIdOf(context.fallback) === unit) return amount;
  return withUnit(amount, unit, difference);
}

function toleranceOf(part: Extract<Part, { kind: "tolerance" }>, e: Evaluation, unit: UnitId | undefined, context: MeasureContext): Spread | undefined {
  const wrong = (span: Span, message: string) => context.report({ code: "not-a-figure", span, message });
  const centreRead = part.centre ? evaluate(part.centre, e) : undefined;
  if (part.centre && !centreRead) return undefined;
  const zero: Amount = { value: 0, slack: 0, bare: true, dimension: DIMENSIONLESS, written: true };
  const centre = giveUnit(centreRead ?? zero, unit, e.difference || !part.centre, context);
  const symmetric = part.plus.span.start === part.minus.span.start;
  const ends: Amount[] = [];
  for (const side of symmetric ? [part.plus] : [part.plus, part.minus]) {
    // What is added is a difference even where the centre is a temperature.
    const digitsBefore = e.trace.digits.length;
    const read = evaluate(side, { ...e, difference: true });
    if (!read) return undefined;
    if (read.unit === "percent" && centre.unit !== "percent") {
      if (centre.unit !== undefined && UNITS[centre.unit].offset !== undefined && !e.difference) {
        wrong(part.span, "A percentage of a temperature says nothing, as its zero is no true zero. Write the tolerance in degrees.");
        return undefined;
      }
      e.trace.digits.length = digitsBefore;
      e.trace.units.pop();
      ends.push({ ...centre, value: Math.abs(centre.value) * read.value });
    } else ends.push(giveUnit(read, unit, true, context));
  }
  const plus = ends[0] as Amount;
  const minus = ends[1] ?? plus;
  for (const end of [plus, minus]) {
    if (end.bare !== centre.bare || !sameDimension(end.dimension, centre.dimension) || end.scale !== centre.scale) {
      e.report({ is: "mismatch", op: "+", left: part.plus, right: part.centre ?? part.minus, span: part.span });
      return undefined;
    }
  }
  const written = centre.written && plus.written && minus.written;
  const slack = part.centre ? centre.slack : plus.slack;
  const middle = { ...centre, slack, written };
  const low = { ...centre, value: centre.value - Math.abs(minus.value), written };
  const high = { ...centre, value: centre.value + Math.abs(plus.value), written };
  return { shape: "tolerance", centre: middle, low, high, amounts: [low, middle, high], trace: e.trace };
}

/** The first kind that all amounts are of; reports what is wrong when there is none. */
function kindOfAmounts(part: Part, amounts: readonly Amount[], spread: Spread, unit: UnitRef | undefined, context: MeasureContext): KindId | undefined {
  const fitting = context.kinds.find((kind) => amounts.every((a) => fits(kind, a)));
  if (fitting !== undefined) return fitting;
  if (amounts.every((a) => a.bare)) {
    context.report(unitMissing(part, context.kinds, likelyUnits(amounts, context)));
    return undefined;
  }
  const wrong = amounts.find((a) => !context.kinds.some((kind) => fits(kind, a))) ?? (amounts[0] as Amount);
  const digits = spread.trace.digits.length === 1 ? (spread.trace.digits[0] as Text).text : "";
  const place = unit && spread.trace.units.includes(unit) ? unit.span : undefined;
  context.report(wrong.unit !== undefined ? wrongUnit(part, digits, wrong.unit, place, context.kinds, (meant) => isNear(Number(digits), meant, context)) : wrongResult(part, context.kinds));
  return undefined;
}

function fits(kind: KindId, amount: Amount): boolean {
  if (amount.bare) return kindOf(kind).bare;
  return amount.unit !== undefined ? unitFits(kind, amount.unit) : kindAccepts(kind, amount.dimension, amount.scale);
}

function impliedUnit(kind: KindId, amounts: readonly Amount[]): UnitId | undefined {
  return kindOf(kind).bare ? undefined : amounts.map((a) => a.unit).findLast((u) => u !== undefined);
}

/** Past this many times what a key ever holds a unit is not the one that was meant. */
const FAR = 100;

/** False for a unit with which the figure would be far from anything its key holds. */
function isNear(digits: number, unit: UnitId, { usual, kinds }: MeasureContext): boolean {
  const kind = kinds.find((k) => unitFits(k, unit));
  if (!usual || kind === undefined || !(digits > 0)) return true;
  const value = toKindBase(digits, unit, kind);
  return value <= FAR * Math.max(Math.abs(usual.low), Math.abs(usual.high)) && value >= usual.low / FAR;
}

/** The kind's units, those that put the figure within its usual span first. */
function likelyUnits(amounts: readonly Amount[], context: MeasureContext): UnitId[] {
  const inside = (kind: KindId, unit: UnitId): boolean => {
    const usual = context.usual;
    if (!usual) return false;
    return amounts.every((a) => {
      const value = withUnit(a, unit, kindOf(kind).difference === true).value / kindOf(kind).baseFactor;
      return value >= usual.low && value <= usual.high;
    });
  };
  return context.kinds
    .flatMap((kind) => kindOf(kind).units.map((unit) => ({ unit, inside: inside(kind, unit) })))
    .sort((a, b) => Number(b.inside) - Number(a.inside))
    .map((u) => u.unit);
}
