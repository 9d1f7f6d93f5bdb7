// How a value was worked out, in plain words: the formula with the numbers in it, and each input with where it came from. Data for whoever
// draws it; knows no page and no protocol.
import type { Location } from "../model/declaration.ts";
import type { Provided } from "../model/effective.ts";
import { formatBand, formatQuantity, formatValue } from "../quantity/display.ts";
import type { Interval } from "../quantity/interval.ts";
import { kindOf } from "../quantity/kinds.ts";
import type { SheetValue, TracedInput } from "./evaluate.ts";
import type { Formula } from "./formula.ts";

export interface TraceInput {
  /** As it stands in the formula. */
  readonly name: string;
  readonly words: string;
  /** In the units the builder wrote, where the builder wrote it. */
  readonly text: string;
  /** "asked for by Ridgeway 272", "chosen in this build", "worked out", "looked up: VDI 2230 …", "assumed: …". */
  readonly origin: string;
  readonly location?: Location;
  /** The value to open next, when it is one. */
  readonly valueId?: string;
}

export interface Trace {
  readonly id: string;
  readonly label: string;
  readonly words: string;
  /** The formula with names: `π/4 · bore² · stroke`. */
  readonly expression: string;
  /** The formula with numbers: `π/4 · 83.00 mm² · 82.00 mm`; names stand where nothing is known. */
  readonly worked: string;
  /** The value, or why there is none. */
  readonly result: string;
  readonly inputs: readonly TraceInput[];
  readonly source: string;
  readonly estimate?: string;
  readonly assumptions: readonly string[];
}

export function traceOf(value: SheetValue): Trace {
  const { formula } = value;
  const inputs = value.inputs.map(traceInput);
  const texts = new Map(inputs.map((i) => [i.name, i.text]));
  return {
    id: value.id, label: value.label, words: formula.words, expression: filled(formula, (name) => name), worked: filled(formula, (name) => texts.get(name) ?? name),
    result: resultOf(value), inputs, source: formula.source, ...(formula.estimate !== undefined && { estimate: formula.estimate }), assumptions: value.assumptions,
  };
}

/** A computed value as a builder reads it, in the formula's own unit: "27.4 mm", "10.1 … 13.8 kN", "3 deg retarded". */
export function formattedValue(value: SheetValue): string {
  const { interval, formula } = value;
  return interval ? formattedInterval(interval, formula) : resultOf(value);
}

export function formattedInterval(interval: Interval, formula: Formula): string {
  const unit = formula.unit ?? kindOf(formula.kind).metric;
  const { signs } = formula;
  if (!signs) return formatBand(interval, formula.kind, unit);
  const size = (x: number) => formatValue(Math.abs(x), formula.kind, unit);
  const said = (x: number) => (x === 0 ? size(x) : `${size(x)} ${x > 0 ? signs.positive : signs.negative}`);
  if (interval.low >= 0 || interval.high <= 0) {
    const ends = [Math.abs(interval.low), Math.abs(interval.high)].sort((a, b) => a - b) as [number, number];
    const word = interval.high > 0 ? ` ${signs.positive}` : interval.low < 0 ? ` ${signs.negative}` : "";
    return formatBand({ low: ends[0], nominal: Math.abs(interval.nominal), high: ends[1] }, formula.kind, unit) + word;
  }
  return `${said(interval.low)} … ${said(interval.high)}`;
}

function resultOf(value: SheetValue): string {
  if (value.interval) return formattedInterval(value.interval, value.formula);
  if (value.impossible !== undefined) return `not computed: ${value.impossible}`;
  return `not computed: it needs ${value.missing.map((m) => m.path).join(", ")}`;
}

/** The expression with something put in for each name; a power of a figure with its unit is the power of both: (83.00 mm)². */
function filled(formula: Formula, say: (name: string) => string): string {
  return formula.expression.replace(/\{([^{}]+)\}([²³⁴]?)/g, (_, name: string, power: string) => {
    const said = say(name);
    return power !== "" && said.includes(" ") ? `(${said})${power}` : `${said}${power}`;
  });
}

function traceInput(input: TracedInput): TraceInput {
  const location = input.provided?.location ?? input.reading?.location ?? input.thing?.location ?? input.thing?.provided?.[0]?.location ?? input.lookedUp?.provided?.[0]?.location;
  return {
    name: input.name, words: input.words, text: inputText(input), origin: originOf(input),
    ...(location && { location }), ...(input.valueId !== undefined && { valueId: input.valueId }),
  };
}

function inputText(input: TracedInput): string {
  const written = input.provided && writtenFigure(input.provided, input);
  if (written !== undefined) return written;
  if (input.interval) return formatBand(input.interval, input.kind ?? "number", input.kind && kindOf(input.kind).metric);
  return input.text ?? "";
}

/** A figure as written, with its qualifiers; a tightening in stages gives the stage that was read. */
function writtenFigure(provided: Provided, input: TracedInput): string | undefined {
  const value = provided.fact.value;
  if (value.is === "quantity") return [formatQuantity(value.quantity), ...Object.values(value.qualifiers)].join(" ");
  if (value.is !== "stages" || !input.interval) return undefined;
  const stage = value.stages.find((s) => s.quantity.interval.nominal === input.interval?.nominal);
  return stage && formatQuantity(stage.quantity);
}

function originOf(input: TracedInput): string {
  if (input.provided) return `${input.provided.role === "asked" ? "asked for by" : "chosen in"} ${input.provided.origin.words}`;
  if (input.valueId !== undefined) return "worked out";
  if (input.reading) return `measured${input.reading.date === "" ? "" : ` on ${input.reading.date}`}`;
  if (input.thing) return "as given";
  if (input.assumption !== undefined) return `assumed: ${input.assumption}`;
  return input.lookedUp ? `looked up: ${input.lookedUp.source}` : "";
}
