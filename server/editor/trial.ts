// A figure tried a step higher or lower without touching its file: the project as it would be, and what would then stand otherwise on a sheet.
// A step is one unit of the last digit written. Knows no protocol and keeps no state.
import { nodeAt } from "../../grammar/nodes.ts";
import type { Figure, Part, Span } from "../../grammar/tree.ts";
import { openFindings } from "../report/sheet-input.ts";
import type { SheetModel, ValueRow } from "../report/sheet-model.ts";
import type { Finding } from "../rules/finding.ts";
import type { Analysis } from "../workspace/analyse.ts";
import type { MadeSheet } from "../workspace/build-sheet.ts";
import { analysisAfter } from "./change.ts";
import { linesOf } from "./protocol.ts";
import { hereAt, spotAt } from "./spot.ts";

/** One figure as it is tried. */
export interface Tried {
  readonly uri: string;
  /** The text that the trial was made in: in any other one it is over. */
  readonly text: string;
  /** Where the digits stand in the file. */
  readonly span: Span;
  readonly steps: number;
  /** How a person would call it: "lash intake". */
  readonly words: string;
  /** With the unit: "0.20 mm". */
  readonly from: string;
  readonly to: string;
  readonly digits: string;
}

export interface Steppable {
  readonly span: Span;
  readonly digits: string;
  readonly unit: string;
  readonly words: string;
}

/** The figure under the caret, or the first one of the entry it is in; the refusal is one sentence. */
export function steppableAt(analysis: Analysis, uri: string, offset: number): Steppable | { readonly refusal: string } {
  const here = hereAt(analysis, uri, offset);
  if (!here) return { refusal: NONE };
  const nodes = nodeAt(here.declaration.tree, here.offset);
  const inner = nodes.findLast((n) => n.kind === "part" && n.node.kind === "figure");
  const entry = nodes.findLast((n) => n.kind === "entry");
  const figure = inner?.kind === "part" && inner.node.kind === "figure" ? inner.node : entry?.kind === "entry" ? firstFigure(entry.node.values.flatMap((v) => v.parts)) : undefined;
  if (!figure) return { refusal: NONE };
  if (figure.form !== "number" && figure.form !== "ratio") return { refusal: `${figure.digits.text} has no last digit to step by: only figures written with a point, or whole, can be tried.` };
  const spot = spotAt(here);
  const words = spot?.on === "key" || spot?.on === "value" ? spot.fact.written.replaceAll(".", " ") : spot?.on === "reading" ? `${spot.what} ${spot.reading.row}, ${spot.reading.head}` : entry?.kind === "entry" ? entry.node.key.text : "figure";
  return { span: { start: figure.digits.span.start + here.start, end: figure.digits.span.end + here.start }, digits: figure.digits.text, unit: figure.unit?.text ?? "", words };
}

const NONE = "There is no figure here to try: put the caret on one.";

function firstFigure(parts: readonly Part[]): Figure | undefined {
  for (const part of parts) {
    if (part.kind === "figure") return part;
    const inside = part.kind === "tolerance" ? (part.centre ?? part.plus) : part.kind === "range" ? (part.low ?? part.high) : part.kind === "signed" || part.kind === "compare" ? part.operand : undefined;
    const found = inside && firstFigure([inside]);
    if (found) return found;
  }
  return undefined;
}

/** The digits so many units of their last place further; the first number of a ratio. Undefined below nothing. */
export function stepped(digits: string, steps: number): string | undefined {
  const [, number = "", rest = ""] = /^([\d.]+)(.*)$/s.exec(digits) ?? [];
  const point = number.indexOf(".");
  const decimals = point < 0 ? 0 : number.length - point - 1;
  const plain = number.replace(".", "");
  if (!/^\d+$/.test(plain)) return undefined;
  const next = BigInt(plain) + BigInt(Math.trunc(steps));
  if (next < 0n) return undefined;
  const text = next.toString().padStart(decimals + 1, "0");
  const whole = text.slice(0, text.length - decimals);
  // .007 in stays without its nought.
  return (point === 0 && whole === "0" ? "" : whole) + (decimals > 0 ? `.${text.slice(text.length - decimals)}` : point >= 0 ? "." : "") + rest;
}

/** A trial with a figure moved by so many steps from where it is tried now; moved back to what is written, it is no longer tried. */
export function trying(trial: readonly Tried[], analysis: Analysis, uri: string, offset: number, by: number): readonly Tried[] | { readonly refusal: string } {
  const figure = steppableAt(analysis, uri, offset);
  if ("refusal" in figure) return figure;
  const before = trial.find((t) => t.uri === uri && t.span.start === figure.span.start);
  const steps = (before?.steps ?? 0) + by;
  const to = stepped(figure.digits, steps);
  if (to === undefined) return { refusal: `${figure.digits} cannot be stepped below nothing.` };
  const others = trial.filter((t) => t !== before);
  if (steps === 0) return others;
  const unit = figure.unit === "" ? "" : ` ${figure.unit}`;
  const text = analysis.project.files.get(uri)?.source.text ?? "";
  return [...others, { uri, text, span: figure.span, steps, words: figure.words, digits: to, from: figure.digits + unit, to: to + unit }];
}

/** What is left of a trial: figures whose file has another text now are no longer tried. */
export function stillTried(trial: readonly Tried[], analysis: Analysis): readonly Tried[] {
  const left = trial.filter((t) => analysis.project.files.get(t.uri)?.source.text === t.text);
  return left.length === trial.length ? trial : left;
}

/** The project with the figures as tried. */
export function triedAnalysis(analysis: Analysis, trial: readonly Tried[]): Analysis {
  return analysisAfter(analysis, { creates: [], edits: trial.map(({ uri, span, digits }) => ({ uri, span, text: digits })) });
}

export interface TrialOutcome {
  /** How many values of the sheet read otherwise. */
  readonly values: number;
  /** What is found with the figures as tried, and is not as they are written. */
  readonly come: readonly string[];
  /** What is found as they are written, and no longer as tried. */
  readonly gone: readonly string[];
}

/** The sheet as tried, each value that reads otherwise with what it was, and what came and went. */
export function comparedSheet(before: { readonly made: MadeSheet; readonly analysis: Analysis }, after: { readonly made: MadeSheet; readonly analysis: Analysis }): { readonly model: SheetModel; readonly outcome: TrialOutcome } {
  const was = new Map(before.made.model.sections.flatMap((s) => s.values.map((v) => [v.id, v] as const)));
  let values = 0;
  const marked = (row: ValueRow): ValueRow => {
    const old = was.get(row.id);
    const change = {
      ...(old?.value !== row.value && { value: old ? old.value : "not known" }), ...(old?.measured && old.measured.value !== row.measured?.value && { measured: old.measured.value }),
      ...(old?.limit && old.limit.margin !== row.limit?.margin && { margin: old.limit.margin }),
    };
    if (Object.keys(change).length === 0) return row;
    values++;
    return { ...row, before: change };
  };
  const model = { ...after.made.model, sections: after.made.model.sections.map((s) => ({ ...s, values: s.values.map(marked) })) };
  const [found, founds] = [keyed(before.analysis, openFindings(before.made.input)), keyed(after.analysis, openFindings(after.made.input))];
  return { model, outcome: { values, come: [...founds].flatMap(([key, f]) => (found.has(key) ? [] : [f.message])), gone: [...found].flatMap(([key, f]) => (founds.has(key) ? [] : [f.message])) } };
}

/** Findings by what stays the same while digits change: their rule, what they are about, and their line. */
function keyed(analysis: Analysis, findings: readonly Finding[]): Map<string, Finding> {
  return new Map(
    findings.map((f) => {
      const place = analysis.places.placeOf(f.at.tree);
      const line = place ? linesOf(analysis, place.uri).range({ start: f.at.span.start + place.start, end: f.at.span.start + place.start }).start.line : -1;
      return [`${f.rule} ${f.path ?? ""} ${place?.uri ?? ""} ${line}`, f];
    }),
  );
}
