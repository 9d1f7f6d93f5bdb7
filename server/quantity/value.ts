// A whole written value: its figure, the words round it, the figures that words attach. Knows the order in which things are written, no key.
import type { Part, Span, Text, UnitRef } from "../../grammar/tree.ts";
import { RESERVED_WORDS, unitOfSpelling } from "../../grammar/vocabulary.ts";
import { formatNumber } from "./display.ts";
import { kindOf, usualKind, fromKindBase } from "./kinds.ts";
import type { KindId } from "./kinds.ts";
import { measure } from "./measure.ts";
import type { MeasureContext } from "./measure.ts";
import type { Clause, Quantity, QuantityProblem, ReadOptions, ReadValue } from "./quantity.ts";
import { nearestUnits } from "./spelling.ts";
import { beside, holdsFigure, lastUnitIn, textOf } from "./written.ts";
import { exponent, hole, isUnitFor, notAFigure, pairDisagrees, secondFigure, unknownUnit } from "./wording.ts";

/** Words that make one phrase with the word after them: "at valve", "past zero", "from belt". */
const JOINING: ReadonlySet<string> = new Set([...RESERVED_WORDS, "past", "of", "to", "by", "under", "over"]);
/** Of these, the ones that also end a value on their own: an oversize is "over", an undersize "under". */
const STANDS_ALONE: ReadonlySet<string> = new Set(["over", "under"]);
/** Feeler blades: the one that goes and the one that stops. */
const GOES = "goes";
const STOPS = "stops";

/**
 * Reads the parts of one value as a quantity of `kind`, or of one of `options.or`.
 * The quantity is absent when there is none or when it cannot be relied on; then `problems` says why, unless the value holds words only
 * that the key takes. Never throws, never yields NaN.
 */
export function readValue(parts: readonly Part[], kind: KindId, options: ReadOptions = {}): ReadValue {
  const kinds: readonly [KindId, ...KindId[]] = [kind, ...(options.or ?? [])];
  const found: Found = { qualifiers: [], clauses: [], strings: [], others: [], problems: [] };
  const state: { quantity?: Quantity; main?: Part } = {};
  for (let i = 0; i < parts.length; ) i = readPart(parts, i, kinds, options, found, state);

  if (!state.main && found.problems.length === 0 && found.clauses.length === 0) {
    const meant = found.others.length > 0 || found.strings.length > 0 || found.qualifiers.some((q) => !options.qualifiers?.includes(q.text.toLowerCase()));
    if (meant) found.problems.push(notAFigure(parts.map(textOf).join(" "), spanOf(parts), kinds));
  }
  const { qualifiers, clauses, strings, others, problems } = found;
  return { quantity: state.quantity, qualifiers, clauses, strings, others, problems };
}

interface Found {
  readonly qualifiers: Text[];
  readonly clauses: Clause[];
  readonly strings: Text[];
  readonly others: ReadValue["others"][number][];
  readonly problems: QuantityProblem[];
}

/** Reads from part `i`; returns where the next one begins. */
function readPart(
  parts: readonly Part[], i: number, kinds: readonly [KindId, ...KindId[]], options: ReadOptions, found: Found, state: { quantity?: Quantity; main?: Part },
): number {
  const part = parts[i] as Part;
  switch (part.kind) {
    case "word":
      return readWord(parts, i, kinds, options, found, state);
    case "string":
      found.strings.push({ text: part.text, span: part.span });
      return i + 1;
    case "hole":
      found.problems.push(hole(part.span));
      state.main ??= part;
      return i + 1;
    case "mark": {
      const spelt = /^([\d.,]+(?:\/\d+)?)(\D.*)$/.exec(part.text);
      if (!state.main && /^(?:\d+(?:\.\d+)?|\.\d+)e[+-]?\d+$/i.test(part.text)) {
        found.problems.push(exponent(part.text, part.span));
        state.main = part;
        const after = parts[i + 1];
        return after?.kind === "word" && isUnitFor(unitOfSpelling(after.text), kinds) ? i + 2 : i + 1;
      }
      if (!state.main && spelt) {
        const start = part.span.end - (spelt[2] as string).length;
        found.problems.push(unknownUnit(spelt[2] as string, { start, end: part.span.end }, kinds));
        state.main = part;
        return i + 1;
      }
      found.others.push({ kind: part.kind, text: part.text, span: part.span });
      return i + 1;
    }
    case "date":
    case "thread":
    case "print":
      found.others.push({ kind: part.kind, text: part.text, span: part.span });
      return i + 1;
    default:
      if (!holdsFigure(part)) {
        looseGroup(part, found, kinds);
        return i + 1;
      }
      if (!state.main) return readMain(parts, i, kinds, options, found, state);
      if (part.kind === "group") {
        comparePair(state.main, part, state.quantity, kinds, found);
        return i + 1;
      }
      found.problems.push(secondFigure(state.main, part));
      return i + 1;
  }
}

/** Words in brackets say of what the figure is, as words after it do. */
function looseGroup(part: Part, found: Found, kinds: readonly KindId[]): void {
  if (part.kind === "group") {
    for (const inner of part.inner) {
      if (inner.kind === "word") found.qualifiers.push({ text: inner.text, span: inner.span });
      else if (inner.kind === "string") found.strings.push({ text: inner.text, span: inner.span });
      else if (inner.kind === "hole") found.problems.push(hole(inner.span));
      else looseGroup(inner, found, kinds);
    }
    return;
  }
  found.problems.push(notAFigure(textOf(part), part.span, kinds));
}

function readWord(
  parts: readonly Part[], i: number, kinds: readonly [KindId, ...KindId[]], options: ReadOptions, found: Found, state: { quantity?: Quantity; main?: Part },
): number {
  let word: Text = { text: (parts[i] as Text).text, span: (parts[i] as Part).span };
  let next = i + 1;
  const after = parts[next];
  if (JOINING.has(word.text) && after?.kind === "word" && !(STANDS_ALONE.has(word.text) && JOINING.has(after.text))) {
    word = { text: `${word.text} ${after.text}`, span: { start: word.span.start, end: after.span.end } };
    next++;
  }
  const operand = parts[next];
  const joins = JOINING.has((parts[i] as Text).text) && !STANDS_ALONE.has((parts[i] as Text).text);
  if (operand?.kind === "date" && joins) {
    found.clauses.push({ word, date: { text: operand.text, span: operand.span } });
    return next + 1;
  }
  if (operand && holdsFigure(operand) && (joins || (state.main !== undefined && operand.kind !== "group"))) {
    found.clauses.push(readClause(word, operand, options, found));
    return next + 1;
  }
  found.qualifiers.push(word);
  return next;
}

function readClause(word: Text, operand: Part, options: ReadOptions, found: Found): Clause {
  const unit = lastUnitIn(operand);
  const id = unit && unitOfSpelling(unit.text);
  const kind = options.clauses?.[word.text] ?? (id !== undefined ? usualKind(id) : word.text === "for" ? "time" : "number");
  const value = readValue([operand], kind);
  for (const one of value.problems) found.problems.push(one);
  return { word, value, ...(value.quantity && { quantity: value.quantity }) };
}

/** The figure itself, with what may follow it directly: a blade reading's second half, a misspelt unit. */
function readMain(
  parts: readonly Part[], i: number, kinds: readonly [KindId, ...KindId[]], options: ReadOptions, found: Found, state: { quantity?: Quantity; main?: Part },
): number {
  const blades = readBlades(parts, i);
  const main = blades?.part ?? (parts[i] as Part);
  const next = blades?.next ?? i + 1;
  state.main = main;
  let fallback: UnitRef | undefined = options.inheritedUnit;
  if (lastUnitIn(main) === undefined) {
    const at = parts.findIndex((p, j) => j >= next && p.kind === "word" && !JOINING.has(p.text) && isUnitFor(unitOfSpelling(p.text), kinds));
    const trailing = parts[at];
    // After "stops" or a qualifier a unit is cut as a word; standing last, it is the unit of the figures before it.
    if (trailing?.kind === "word" && at === parts.length - 1) {
      fallback = { text: trailing.text, span: trailing.span };
      const quantity = measure(main, contextOf(kinds, options, found, fallback));
      if (quantity) state.quantity = quantity;
      for (let j = next; j < at; ) j = readPart(parts, j, kinds, options, found, state);
      return parts.length;
    }
    const misspelt = misspeltUnit(parts[next], kinds, options, fallback);
    if (misspelt) {
      found.problems.push(unknownUnit(misspelt.text, misspelt.span, kinds));
      return next + 1;
    }
  }
  const quantity = measure(main, contextOf(kinds, options, found, fallback));
  if (quantity) state.quantity = quantity;
  return next;
}

function contextOf(kinds: readonly [KindId, ...KindId[]], options: ReadOptions, found: Found, fallback: UnitRef | undefined): MeasureContext {
  return { kinds, fallback, usual: options.usual, report: (problem) => found.problems.push(problem) };
}

/** `0.20 goes 0.22 stops` as a range, `0.20 goes` as at least, `0.22 stops` as at most. */
function readBlades(parts: readonly Part[], i: number): { part: Part; next: number } | undefined {
  const first = parts[i] as Part;
  const word = parts[i + 1];
  if (word?.kind !== "word") return undefined;
  if (word.text === STOPS) return { part: { kind: "compare", op: "<=", operand: first, span: { start: first.span.start, end: word.span.end } }, next: i + 2 };
  if (word.text !== GOES) return undefined;
  const second = parts[i + 2];
  const stops = parts[i + 3];
  if (second && holdsFigure(second) && stops?.kind === "word" && stops.text === STOPS)
    return { part: { kind: "range", low: first, high: second, span: { start: first.span.start, end: second.span.end } }, next: i + 4 };
  return { part: { kind: "compare", op: ">=", operand: first, span: { start: first.span.start, end: word.span.end } }, next: i + 2 };
}

/** The word straight after a figure without unit, when it looks like a unit gone wrong rather than a word that says of what it is. */
function misspeltUnit(part: Part | undefined, kinds: readonly KindId[], options: ReadOptions, fallback: UnitRef | undefined): Text | undefined {
  if (part?.kind !== "word" || JOINING.has(part.text) || options.qualifiers?.includes(part.text.toLowerCase())) return undefined;
  if (kinds.some((k) => kindOf(k).bare) || fallback) {
    return isUnitLike(part.text, kinds) ? { text: part.text, span: part.span } : undefined;
  }
  const near = nearestUnits(part.text, kinds.flatMap((k) => kindOf(k).units)).length > 0;
  // Where the key's own words are known, a short word that is none of them can only be a unit.
  return near || (options.qualifiers && part.text.length <= 4) ? { text: part.text, span: part.span } : undefined;
}

function isUnitLike(word: string, kinds: readonly KindId[]): boolean {
  return kinds.some((k) => kindOf(k).units.length > 0) && nearestUnits(word, kinds.flatMap((k) => kindOf(k).units)).length > 0;
}

/** A figure in brackets after the figure: the same in another unit, or one of the two was copied wrong. */
function comparePair(main: Part, group: Part, quantity: Quantity | undefined, kinds: readonly [KindId, ...KindId[]], found: Found): void {
  const problems: QuantityProblem[] = [];
  const other = measure(group, { kinds: quantity ? [quantity.kind] : kinds, report: (p) => problems.push(p) });
  for (const one of problems) found.problems.push(one);
  if (!other || !quantity || quantity.unit === undefined || other.unit === undefined) return;
  if (kindOf(quantity.kind).units.length === 0) return;
  // Scales that only a fuel or a density joins cannot be held against each other.
  if (!comparable(quantity, other)) return;
  const slack = (quantity.halfDigit + other.halfDigit) * (1 + 1e-9);
  const apart = (a: number, b: number) => a !== b && Math.abs(a - b) > slack;
  if (!apart(quantity.interval.low, other.interval.low) && !apart(quantity.interval.high, other.interval.high)) return;
  const unit = other.unit;
  const inOther = (x: number) => formatNumber(fromKindBase(x, unit, other.kind), { decimals: other.decimals + 1 });
  const ends = [quantity.interval.low, quantity.interval.high].filter(Number.isFinite);
  const as = ends.length === 2 && ends[0] !== ends[1] ? `${inOther(ends[0] as number)} .. ${inOther(ends[1] as number)}` : inOther(ends[0] as number);
  found.problems.push(pairDisagrees(main, group, beside(as, other.unitText ?? "")));
}

function comparable(a: Quantity, b: Quantity): boolean {
  if (a.kind === "mixture" || a.kind === "octane") return a.unit === b.unit;
  return true;
}

function spanOf(parts: readonly Part[]): Span {
  return { start: parts[0]?.span.start ?? 0, end: parts.at(-1)?.span.end ?? 0 };
}
