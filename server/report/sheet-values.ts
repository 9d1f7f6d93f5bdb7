// The rows of computed values: figures in both unit systems, spread, limit and margin, and the trace of each. Knows no section's layout.
import { type UnitId, spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { Condition } from "../model/declaration.ts";
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import { formatAgainst, formatBand, formatValue, inOtherSystem } from "../quantity/display.ts";
import { hasSpread } from "../quantity/interval.ts";
import { type KindId, kindOf } from "../quantity/kinds.ts";
import { readValue } from "../quantity/quantity.ts";
import { UNITS } from "../quantity/units.ts";
import type { Finding, Severity } from "../rules/finding.ts";
import type { SheetValue, TracedInput } from "../sheet/evaluate.ts";
import { worse } from "./sheet-input.ts";
import type { Atlas } from "./place.ts";
import type { Trace, ValueRow } from "./sheet-model.ts";

export type System = "metric" | "inch";

/** A limit that somebody set on a value: a part in its `needs`, the builder in a `check`. */
export interface Limit {
  readonly condition: Condition;
  readonly origin: string;
}

/** The system to show first: the shop's wish, else the one in which most of the build's figures are written. */
export function systemOf(build: EffectiveBuild): System {
  const wish = build.shop?.figures.find((f) => f.key.key === "units")?.value;
  if (wish?.is === "word" && (wish.word === "metric" || wish.word === "inch")) return wish.word;
  let inch = 0;
  let metric = 0;
  for (const slot of build.slots.values()) {
    const value = effective(slot)?.fact.value;
    const unit = value?.is === "quantity" ? value.quantity.unit : undefined;
    if (unit === undefined) continue;
    if (UNITS[unit].system === "inch") inch++;
    if (UNITS[unit].system === "metric") metric++;
  }
  return inch > metric ? "inch" : "metric";
}

export function limitsOf(build: EffectiveBuild): ReadonlyMap<string, readonly Limit[]> {
  const limits = new Map<string, Limit[]>();
  const add = (condition: Condition, origin: string) => {
    if (condition.op === undefined) return;
    const list = limits.get(condition.path.text);
    if (list) list.push({ condition, origin });
    else limits.set(condition.path.text, [{ condition, origin }]);
  };
  for (const part of build.parts) for (const need of part.declaration.needs) for (const c of need.where) add(c, part.words);
  for (const check of build.subject.checks) add(check.condition, check.title ?? "this build");
  return limits;
}

export interface RowContext {
  readonly atlas: Atlas;
  readonly system: System;
  readonly limits: ReadonlyMap<string, readonly Limit[]>;
  readonly findings: readonly Finding[];
}

/** The row of a value that was worked out; nothing for one that was not. */
export function valueRow(value: SheetValue, context: RowContext): ValueRow | undefined {
  const { interval, formula } = value;
  if (!interval) return undefined;
  const [first, second] = unitsFor(formula.kind, formula.unit, interval.nominal, context.system);
  const limit = limitText(value, first, context.limits.get(value.id));
  let mark: Severity | undefined;
  for (const f of context.findings) if (f.path === value.id) mark = worse(mark, f.severity);
  return {
    id: value.id, label: value.label, value: formatValue(interval.nominal, formula.kind, first),
    other: second !== undefined ? formatValue(interval.nominal, formula.kind, second) : "",
    spread: hasSpread(interval) ? formatBand(interval, formula.kind, first) : "",
    estimate: value.estimate, ...(limit && { limit }), ...(mark && { mark }), trace: traceOf(value, context),
  };
}

/** The units to show a value in: in the builder's system, then in the other, where that says something else. */
function unitsFor(kind: KindId, own: UnitId | undefined, nominal: number, system: System): readonly [UnitId | undefined, UnitId | undefined] {
  const unit = own ?? kindOf(kind).metric;
  if (unit === undefined) return [undefined, undefined];
  const other = inOtherSystem(unit, kind, nominal);
  if (other === undefined) return [unit, undefined];
  return UNITS[unit].system === system || UNITS[other].system !== system ? [unit, other] : [other, unit];
}

/** The tightest of the limits on a value, with the margin that is left at its worst end. */
function limitText(value: SheetValue, unit: UnitId | undefined, limits: readonly Limit[] | undefined): ValueRow["limit"] {
  const { interval, formula } = value;
  if (!interval || !limits) return undefined;
  let tightest: { margin: number; text: string; origin: string } | undefined;
  for (const { condition, origin } of limits) {
    const { op, operand } = condition;
    const limit = op && operand ? readValue(operand, formula.kind).quantity?.interval.nominal : undefined;
    if (limit === undefined || op === undefined) continue;
    const floor = op.startsWith(">");
    const worst = floor ? interval.low : interval.high;
    const margin = floor ? worst - limit : limit - worst;
    if (tightest && tightest.margin <= margin) continue;
    const shown = formatAgainst(worst, limit, formula.kind, unit);
    const sign = { ">=": "≥", "<=": "≤", ">": ">", "<": "<" }[op];
    tightest = { margin, origin, text: `${sign} ${shown.limit}${unit !== undefined ? ` ${spellingOfUnit(unit)}` : ""}` };
  }
  return tightest && { text: tightest.text, origin: tightest.origin, margin: marginText(tightest.margin, formula.kind, unit), kept: tightest.margin >= 0 };
}

/** A difference of two values. Kinds whose zero is not nothing (temperatures) have no margin that reads as one. */
function marginText(margin: number, kind: KindId, unit: UnitId | undefined): string {
  return kind === "temperature" ? "" : formatValue(margin, kind, unit);
}

function traceOf(value: SheetValue, context: RowContext): Trace {
  const inputs = value.inputs.map((input) => {
    const place = input.provided ? context.atlas.placeOf(input.provided.location) : input.lookedUp?.provided?.[0] ? context.atlas.placeOf(input.lookedUp.provided[0].location) : undefined;
    return {
      name: input.name, words: input.words, value: inputText(input, context.system), origin: originWords(input), ...(input.valueId !== undefined && { valueId: input.valueId }), ...(place && { place }),
    };
  });
  const byName = new Map(inputs.map((i) => [i.name, i.value]));
  const { formula } = value;
  const used = formula.expression.replace(/\{([^}]+)\}/g, (_, name: string) => name);
  const worked = formula.expression.replace(/\{([^}]+)\}/g, (_, name: string) => byName.get(name) ?? name);
  return { words: formula.words, expression: used, worked, inputs, assumptions: value.assumptions, source: formula.source };
}

function inputText(input: TracedInput, system: System): string {
  if (input.provided) return writtenText(input.provided);
  if (input.interval && input.kind) {
    const [unit] = unitsFor(input.kind, undefined, input.interval.nominal, system);
    return formatBand(input.interval, input.kind, unit);
  }
  return input.text ?? (input.interval ? formatValue(input.interval.nominal, "number", undefined) : "");
}

function originWords(input: TracedInput): string {
  if (input.provided) return `${input.provided.role === "asked" ? "asked for by" : "chosen in"} ${input.provided.origin.words}`;
  if (input.valueId !== undefined) return "worked out";
  if (input.lookedUp) return input.lookedUp.assumption ?? input.lookedUp.source;
  return input.assumption !== undefined ? "assumed" : "";
}

/** A figure as it stands in its file, on one line. */
export function writtenText(provided: Provided): string {
  const { tree, span } = provided.location;
  return tree.text.slice(span.start, span.end).replace(/\s+/g, " ").trim();
}

/** The effective figure at a path as it is written. */
export function writtenAt(build: EffectiveBuild, path: string): string | undefined {
  const given = effective(build.slots.get(path));
  return given && writtenText(given);
}

