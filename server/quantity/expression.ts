// Sums and products of figures with their dimensions and the slack of their digits. Knows arithmetic, not what a key wants.
import type { FigureForm, Part, Span, Text, UnitRef } from "../../grammar/tree.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import { DIMENSIONLESS, divideDimensions, multiplyDimensions, sameDimension } from "./dimension.ts";
import type { Dimension } from "./dimension.ts";
import { UNITS, toBase } from "./units.ts";
import type { Scale } from "./units.ts";
import { decimalsOf, lastUnitIn, unitIdOf } from "./written.ts";

/** One evaluated operand. Coherent base units, or a plain number while `bare`. */
export interface Amount {
  readonly value: number;
  readonly slack: number;
  readonly bare: boolean;
  readonly dimension: Dimension;
  readonly scale?: Scale | undefined;
  /** The unit, where the amount is one figure in one unit rather than a product of several. */
  readonly unit?: UnitId;
  /** False for anything computed. */
  readonly written: boolean;
}

/** What evaluating a part leaves behind for fixes and for display. */
export interface Trace {
  readonly digits: Text[];
  readonly units: UnitRef[];
  decimals: number;
  signed: boolean;
}

export type Trouble =
  | { readonly is: "unknown-unit"; readonly spelling: string; readonly span: Span }
  | { readonly is: "dashed"; readonly digits: Text }
  | { readonly is: "ratio"; readonly part: Part }
  | { readonly is: "no-figure"; readonly part: Part }
  | { readonly is: "hole"; readonly span: Span }
  | { readonly is: "mismatch"; readonly op: "+" | "-"; readonly left: Part; readonly right: Part; readonly span: Span }
  | { readonly is: "mixed"; readonly left: Part; readonly right: Part; readonly span: Span }
  | { readonly is: "two-units"; readonly inner: Part; readonly unit: UnitRef }
  | { readonly is: "offset"; readonly unit: string; readonly span: Span }
  | { readonly is: "zero-division"; readonly span: Span }
  | { readonly is: "too-large"; readonly span: Span };

export interface Evaluation {
  readonly trace: Trace;
  /** °C and °F as differences. */
  readonly difference: boolean;
  /** `a:b` may stand. */
  readonly ratio: boolean;
  readonly report: (trouble: Trouble) => void;
}

export function emptyTrace(): Trace {
  return { digits: [], units: [], decimals: 0, signed: false };
}

/** The amount a part comes to, or undefined after reporting why not. Never NaN, never infinite. */
export function evaluate(part: Part, e: Evaluation): Amount | undefined {
  const amount = evaluatePart(part, e, 1);
  if (amount && !Number.isFinite(amount.value + amount.slack)) {
    e.report({ is: "too-large", span: part.span });
    return undefined;
  }
  return amount;
}

function evaluatePart(part: Part, e: Evaluation, sign: 1 | -1): Amount | undefined {
  switch (part.kind) {
    case "figure": {
      e.trace.digits.push(part.digits);
      e.trace.decimals = Math.max(e.trace.decimals, decimalsOf(part.form === "comma" ? part.digits.text.replace(",", ".") : part.digits.text));
      if (part.unit) e.trace.units.push(part.unit);
      const plain = plainNumber(part.form, part.digits, part.value, e, part);
      if (plain === undefined) return undefined;
      const bare: Amount = { value: sign * plain, slack: part.halfDigit, bare: true, dimension: DIMENSIONLESS, written: true };
      return part.unit ? withUnitRef(bare, part.unit, e) : bare;
    }
    case "signed":
      e.trace.signed = true;
      return evaluatePart(part.operand, e, part.sign === "-" ? (-sign as 1 | -1) : sign);
    case "group": {
      const [inner, ...rest] = part.inner;
      if (!inner || rest.length > 0) {
        e.report({ is: "no-figure", part: rest[0] ?? part });
        return undefined;
      }
      const amount = evaluatePart(inner, e, sign);
      if (!part.unit || !amount) return amount;
      e.trace.units.push(part.unit);
      if (!amount.bare) {
        e.report({ is: "two-units", inner, unit: part.unit });
        return undefined;
      }
      return withUnitRef(amount, part.unit, e);
    }
    case "binary":
      return binary(part, e, sign);
    case "hole":
      e.report({ is: "hole", span: part.span });
      return undefined;
    default:
      e.report({ is: "no-figure", part });
      return undefined;
  }
}

function plainNumber(form: FigureForm, digits: Text, value: number, e: Evaluation, part: Part): number | undefined {
  // The grammar has reported the comma, and gives no value where it may part thousands.
  if (form === "comma" && Number.isNaN(value)) return undefined;
  if (form === "dashed") {
    e.report({ is: "dashed", digits });
    return undefined;
  }
  if (form === "ratio" && !e.ratio) {
    e.report({ is: "ratio", part });
    return undefined;
  }
  if ((form === "fraction" || form === "ratio") && !Number.isFinite(value)) {
    e.report({ is: "zero-division", span: part.span });
    return undefined;
  }
  if (!Number.isFinite(value)) {
    e.report({ is: "too-large", span: part.span });
    return undefined;
  }
  return value;
}

function withUnitRef(amount: Amount, ref: UnitRef, e: Evaluation): Amount | undefined {
  const unit = unitIdOf(ref);
  if (unit === undefined) {
    e.report({ is: "unknown-unit", spelling: ref.text, span: ref.span });
    return undefined;
  }
  return withUnit(amount, unit, e.difference);
}

/** A bare amount read in a unit. */
export function withUnit(amount: Amount, unit: UnitId, difference: boolean): Amount {
  const { dimension, scale, factor } = UNITS[unit];
  const value = difference ? amount.value * factor : toBase(amount.value, unit);
  return { value, slack: amount.slack * factor, bare: false, dimension, scale, unit, written: amount.written };
}

function binary(part: Extract<Part, { kind: "binary" }>, e: Evaluation, sign: 1 | -1): Amount | undefined {
  const spelling = unitSpeltAcross(part);
  if (spelling) {
    e.report({ is: "unknown-unit", ...spelling });
    return undefined;
  }
  const left = evaluatePart(part.left, e, 1);
  const right = evaluatePart(part.right, e, 1);
  if (!left || !right) return undefined;
  for (const operand of [left, right]) {
    if (!e.difference && operand.unit !== undefined && UNITS[operand.unit].offset !== undefined) {
      e.report({ is: "offset", unit: lastUnitIn(part)?.text ?? "°C", span: part.span });
      return undefined;
    }
  }
  const result = part.op === "+" || part.op === "-" ? sum(part, part.op, left, right, e) : product(part, part.op, left, right, e);
  return result && { ...result, value: sign * result.value };
}

/** `40 ft/lb` and `2 kg/foo` are cut into a division by a word: the unit that was meant, with its place. */
function unitSpeltAcross(part: Extract<Part, { kind: "binary" }>): { spelling: string; span: Span } | undefined {
  if (part.right.kind !== "word") return undefined;
  const unit = lastUnitIn(part.left);
  if (!unit) return { spelling: part.right.text, span: part.right.span };
  return { spelling: unit.text + part.op + part.right.text, span: { start: unit.span.start, end: part.right.span.end } };
}

function sum(part: Extract<Part, { kind: "binary" }>, op: "+" | "-", a: Amount, b: Amount, e: Evaluation): Amount | undefined {
  let [left, right] = [a, b];
  const unit = unitIdOf(lastUnitIn(part));
  if (unit !== undefined && left.bare !== right.bare) {
    if (left.bare) left = withUnit(left, unit, e.difference);
    else right = withUnit(right, unit, e.difference);
  }
  if (!sameDimension(left.dimension, right.dimension) || left.scale !== right.scale || (left.unit === "percent") !== (right.unit === "percent")) {
    e.report({ is: "mismatch", op, left: part.left, right: part.right, span: part.span });
    return undefined;
  }
  const { unit: _, written: __, ...same } = left;
  return { ...same, value: op === "+" ? left.value + right.value : left.value - right.value, slack: left.slack + right.slack, ...(right.unit && { unit: right.unit }), written: false };
}

function product(part: Extract<Part, { kind: "binary" }>, op: "*" | "/", a: Amount, b: Amount, e: Evaluation): Amount | undefined {
  if (op === "/" && b.value === 0) {
    e.report({ is: "zero-division", span: part.span });
    return undefined;
  }
  if (a.scale !== undefined && b.scale !== undefined && !(op === "/" && a.scale === b.scale)) {
    e.report({ is: "no-figure", part });
    return undefined;
  }
  const scale = op === "/" && a.scale === b.scale ? undefined : (a.scale ?? b.scale);
  const value = op === "*" ? a.value * b.value : a.value / b.value;
  // First order, as digits' slack is small beside the digits.
  const [slackA, slackB] = [multiplierSlack(a), multiplierSlack(b)];
  const slack = op === "*" ? Math.abs(a.value) * slackB + Math.abs(b.value) * slackA : (slackA + Math.abs(value) * slackB) / Math.abs(b.value);
  const unit = a.bare ? b.unit : b.bare ? a.unit : undefined;
  return {
    value,
    slack,
    bare: a.bare && b.bare,
    dimension: op === "*" ? multiplyDimensions(a.dimension, b.dimension) : divideDimensions(a.dimension, b.dimension),
    ...(scale !== undefined && { scale }),
    ...(unit !== undefined && op === "*" && { unit }),
    ...(unit !== undefined && op === "/" && b.bare && { unit }),
    written: false,
  };
}

/** A bare whole number in a product counts things and is exact: the 2 of `2 * 0.40 mm`. */
function multiplierSlack(amount: Amount): number {
  return amount.bare && Number.isInteger(amount.value) ? 0 : amount.slack;
}
