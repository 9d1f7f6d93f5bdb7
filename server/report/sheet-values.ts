// The rows of computed values: figures in both unit systems, spread, limit and margin, and the trace of each. Knows no section's layout.
import { type UnitId, spellingOfUnit } from "../../grammar/vocabulary.ts";
import { leastCoilBindMargin } from "../engineering/valve-spring.ts";
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import type { System } from "../model/system.ts";
import { intervalOf } from "../model/value.ts";
import { compareWithLimit, formatAgainst, formatValue, inOtherSystem } from "../quantity/display.ts";
import { type Interval, exactly, hasSpread } from "../quantity/interval.ts";
import { type KindId, kindOf } from "../quantity/kinds.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { readValue } from "../quantity/value.ts";
import { UNITS } from "../quantity/units.ts";
import type { Finding, Severity } from "../rules/finding.ts";
import type { SheetValue } from "../sheet/evaluate.ts";
import type { Formula } from "../sheet/formula.ts";
import { formattedInterval, traceOf } from "../sheet/trace.ts";
import { worse } from "./sheet-input.ts";
import type { Atlas } from "./place.ts";
import type { MeasuredRow, Trace, ValueRow } from "./sheet-model.ts";
import { capital } from "./wording.ts";


/** A limit on a value: set by a part in its `needs`, by the builder in a `check`, or under `limits`. */
export interface Limit {
  /** In the base of the value's kind. */
  readonly bound: number;
  /** `>=` and `>` are floors. */
  readonly op: "<=" | ">=" | "<" | ">";
  readonly origin: string;
  /** As it was written, where it was. */
  readonly written?: Quantity;
}

/** Keys under `limits` that hold a value of the sheet: which one, which way, and the trade's own figure where there is one. */
const HELD: readonly { readonly key: string; readonly value: string; readonly op: Limit["op"]; readonly practice?: number }[] = [
  { key: "piston-speed", value: "piston-speed.mean", op: "<=" },
  { key: "piston-acceleration", value: "piston-acceleration.peak", op: "<=" },
  { key: "squish", value: "squish-clearance", op: ">=" },
  { key: "coil-bind-margin", value: "coil-bind-margin", op: ">=", practice: leastCoilBindMargin.value },
  { key: "retainer-guide-margin", value: "retainer-guide-margin", op: ">=" },
  { key: "spring-stress", value: "spring.stress", op: "<=" },
  { key: "spring-load", value: "spring.open-load", op: "<=" },
  { key: "lift", value: "lift.{each}.gross", op: "<=" },
  { key: "compression", value: "compression.static", op: "<=" },
];

/** The limits on a value: what fitted parts and the builder ask for; where no part asks, the engine's or shop's, and last the trade's. */
function limitsOn({ id, formula }: SheetValue, build: EffectiveBuild): readonly Limit[] {
  const means = (path: string) => path === id || path === formula.id || `${path}.{each}` === formula.id;
  const limits: Limit[] = [];
  for (const part of build.parts)
    for (const { path, op, operand } of part.declaration.needs.flatMap((need) => need.where)) {
      const written = op && operand && means(path.text) ? readValue(operand, formula.kind).quantity : undefined;
      if (op && written) limits.push({ bound: written.interval.nominal, op, origin: part.words, written });
    }
  const held = HELD.find((h) => means(h.value));
  if (held && limits.length === 0) {
    const path = `limits.${held.key}`;
    const own = effective(build.slots.get(path));
    const shop = build.shop?.figures.find((f) => f.path === path);
    const given = own?.fact.value ?? shop?.value;
    const interval = given && intervalOf(given);
    if (interval) limits.push({ bound: held.op === ">=" ? finite(interval.low, interval) : finite(interval.high, interval), op: held.op, origin: own ? own.origin.words : "this shop", ...(given.is === "quantity" && { written: given.quantity }) });
    else if (held.practice !== undefined) limits.push({ bound: held.practice, op: held.op, origin: "common practice" });
  }
  for (const check of build.subject.checks) {
    const { path, op, operand } = check.condition;
    const written = op && operand && means(path.text) ? readValue(operand, formula.kind).quantity : undefined;
    if (op && written) limits.push({ bound: written.interval.nominal, op, origin: check.title ?? "this build", written });
  }
  return limits;
}

/** The end of a limit's range, or the limit itself where the range has no such end. */
function finite(end: number, { nominal }: Interval): number {
  return Number.isFinite(end) ? end : nominal;
}

export interface RowContext {
  readonly atlas: Atlas;
  readonly build: EffectiveBuild;
  readonly system: System;
  readonly findings: readonly Finding[];
}

/** What the readings come to: told where a reading is of the value itself, or where it comes out otherwise than as specified. */
function measuredRow(value: SheetValue, first: UnitId | undefined, second: UnitId | undefined, { atlas }: RowContext): MeasuredRow | undefined {
  const { formula, interval } = value;
  const found = value.measured.flatMap((m) => (m.value.interval ? [{ ...m, interval: m.value.interval }] : []));
  const told = (x: Interval, unit: UnitId | undefined) => inUnit(exactly(x.nominal), formula, unit);
  const itself = found.some((m) => m.readings.some((r) => r.valueId === value.id));
  const [one] = found;
  if (!one || (!itself && interval && found.every((m) => told(m.interval, first) === told(interval, first)))) return undefined;
  const nominals = found.map((m) => m.interval.nominal);
  const span = { low: Math.min(...nominals), nominal: one.interval.nominal, high: Math.max(...nominals) };
  const text = (unit: UnitId | undefined) => (told(exactly(span.low), unit) === told(exactly(span.high), unit) ? told(one.interval, unit) : inUnit(span, formula, unit));
  return {
    label: found.length > 1 ? `as measured, ${found.length} places` : one.place === "" ? "as measured" : `as measured, ${one.place}`, value: text(first), other: second !== undefined ? text(second) : "",
    places: found.map((m) => {
      const location = m.readings[m.readings.length - 1]?.location;
      const at = location && atlas.placeOf(location);
      return { place: m.place, value: told(m.interval, first), ...(at && { at }) };
    }),
  };
}

/** The row of a value that was worked out or measured; nothing for one that was neither. */
export function valueRow(value: SheetValue, context: RowContext): ValueRow | undefined {
  const { interval, formula } = value;
  const seen = interval ?? value.measured.find((m) => m.value.interval)?.value.interval;
  if (!seen) return undefined;
  const [first, second] = unitsFor(formula.kind, formula.unit, seen.nominal, context.system);
  const limit = limitText(value, first, tightestLimit(value, context.build));
  const measured = measuredRow(value, first, second, context);
  let mark: Severity | undefined;
  for (const f of context.findings) if (f.path === value.id) mark = worse(mark, f.severity);
  return {
    id: value.id, label: value.label, ...groupOf(value), value: interval ? inUnit(exactly(interval.nominal), formula, first) : "",
    other: interval && second !== undefined ? inUnit(exactly(interval.nominal), formula, second) : "",
    spread: interval && hasSpread(interval) ? inUnit(interval, formula, first) : "",
    estimate: interval !== undefined && value.estimate, ...(measured && { measured }), ...(limit && { limit }), ...(mark && { mark }), trace: traceFor(value, context.atlas),
  };
}

/** A value of one fastener stands under that fastener's name. */
function groupOf({ formula, each, label }: SheetValue): Pick<ValueRow, "group"> {
  const said = `${each}: `;
  return formula.each === "fastener" && label.startsWith(said) ? { group: { name: each, label: capital(label.slice(said.length)) } } : {};
}

function inUnit(interval: Interval, formula: Formula, unit: UnitId | undefined): string {
  const { unit: _, ...rest } = formula;
  const text = formattedInterval(interval, unit === undefined ? rest : { ...rest, unit });
  // Three marks are three marks, not 3.000.
  return formula.kind === "number" && unit === undefined ? text.replace(/(\d)\.0+(?!\d)/g, "$1") : text;
}

/** From this on a force is told in kilonewtons. Common practice, no source. */
const LARGE_FORCE = 10_000;

/** The units to show a value in: in the builder's system, then in the other, where that says something else. */
function unitsFor(kind: KindId, own: UnitId | undefined, nominal: number, system: System): readonly [UnitId | undefined, UnitId | undefined] {
  const declared = own ?? kindOf(kind).metric;
  const unit = declared === "newton" && Math.abs(nominal) >= LARGE_FORCE ? "kilonewton" : declared;
  if (unit === undefined) return [undefined, undefined];
  const other = inOtherSystem(unit, kind, nominal);
  if (other === undefined) return [unit, undefined];
  return UNITS[unit].system === system || UNITS[other].system !== system ? [unit, other] : [other, unit];
}

export interface Tightest extends Limit {
  /** What is left at the value's worst end; negative where the limit is passed. Base unit of the value's kind. */
  readonly margin: number;
  readonly worst: number;
  readonly kept: boolean;
}

/** The limit that leaves a value least, where it has any. */
export function tightestLimit(value: SheetValue, build: EffectiveBuild): Tightest | undefined {
  const { interval } = value;
  if (!interval) return undefined;
  let tightest: (Limit & { readonly margin: number; readonly worst: number }) | undefined;
  for (const limit of limitsOn(value, build)) {
    const worst = limit.op.startsWith(">") ? interval.low : interval.high;
    const margin = limit.op.startsWith(">") ? worst - limit.bound : limit.bound - worst;
    if (!tightest || margin < tightest.margin) tightest = { ...limit, margin, worst };
  }
  if (!tightest) return undefined;
  const { op, bound, worst, margin } = tightest;
  const order = compareWithLimit(worst, bound);
  return { ...tightest, margin: order === 0 ? 0 : margin, kept: op === ">=" ? order >= 0 : op === "<=" ? order <= 0 : op === ">" ? order > 0 : order < 0 };
}

/** The tightest of the limits on a value in words, with the margin that is left. */
export function limitText(value: SheetValue, unit: UnitId | undefined, tightest: Tightest | undefined): ValueRow["limit"] {
  if (!tightest) return undefined;
  const { formula } = value;
  const { op, bound, worst, margin, origin, written, kept } = tightest;
  const shown = formatAgainst(worst, bound, formula.kind, unit, written && written.unit === unit ? written.decimals : undefined);
  const sign = { ">=": "≥", "<=": "≤", ">": ">", "<": "<" }[op];
  return { text: `${sign} ${shown.limit}${unit !== undefined ? ` ${spellingOfUnit(unit)}` : ""}`, origin, margin: marginText(margin, formula.kind, unit), kept };
}

/** A difference of two values. Kinds whose zero is not nothing (temperatures) have no margin that reads as one. */
function marginText(margin: number, kind: KindId, unit: UnitId | undefined): string {
  return kind === "temperature" ? "" : formatValue(margin, kind, unit);
}

function traceFor(value: SheetValue, atlas: Atlas): Trace {
  const { words, expression, worked, inputs, assumptions, estimate, source } = traceOf(value);
  return {
    words, expression, worked, assumptions, source, ...(estimate !== undefined && { estimate }),
    inputs: inputs.map((input) => {
      const place = input.location && atlas.placeOf(input.location);
      return { name: input.name, words: input.words, value: input.text, origin: input.origin, ...(input.valueId !== undefined && { valueId: input.valueId }), ...(place && { place }) };
    }),
  };
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

