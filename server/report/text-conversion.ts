// A build file as git's own diff is to see it: one figure a line in one spelling, then what follows from it. Layout, comments and units make no
// difference, so that a diff shows changed figures and changed consequences and nothing else. Knows no git.
import type { DeclarationTree } from "../../grammar/tree.ts";
import type { Declaration, FigureFact, MeasuredFact, RecordFact } from "../model/declaration.ts";
import { plainValue } from "../model/plain-value.ts";
import type { ProjectFile } from "../model/project.ts";
import type { ReadingTable } from "../model/reading.ts";
import type { QuantityValue } from "../model/value.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { visible } from "../../grammar/visible.ts";
import { fromKindBase, kindOf } from "../quantity/kinds.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { sliceOf } from "../sheet/canonical.ts";
import { formattedValue } from "../sheet/trace.ts";
import type { CheckedSubject } from "./checked.ts";

/** `subjects` is empty where the file's uses are not at hand: then only what it says is told. */
export function conversionText(file: ProjectFile, subjects: readonly CheckedSubject[]): string {
  const blocks = file.declarations.map((d) => [...declarationLines(d), ...consequenceLines(subjects.find((s) => s.build.subject === d))]).filter((lines) => lines.length > 0);
  return `${blocks.map((lines) => lines.map(visible).join("\n")).join("\n\n")}\n`;
}

function declarationLines(d: Declaration): string[] {
  if (d.path) return [`use ${d.path.text}`];
  if (d.sort === "none" || d.sort === "use") {
    const text = sliceOf(d.tree, { start: 0, end: d.tree.text.length });
    return d.tree.phrase || d.problems.length > 0 ? [text] : [];
  }
  const name = [d.sort, d.kindName?.text, d.name?.text].filter((t) => t !== undefined).join(" ");
  const under = (lines: readonly string[], head: string) => lines.map((line) => `${name} ${head}${line}`);
  return [
    `${name}${d.title !== undefined ? ` "${d.title}"` : ""}`,
    ...(d.on ? [`${name} on ${d.on.text}`] : []), ...d.scopes.map((s) => `${name} for ${[s.engine, ...s.areas].map((t) => t.text).join(" ")}`),
    ...under(figureLines(d.figures), ""),
    ...d.fits.flatMap((fit) => {
      const part = fit.name?.text ?? fit.inline?.kindName?.text ?? "part";
      return [`${name} fit ${part}${fit.side ? ` for ${fit.side}` : ""}${fit.status ? ` ${fit.status.text}` : ""}`, ...under(figureLines([...fit.figures, ...(fit.inline?.figures ?? [])]), `fit ${part} `)];
    }),
    ...d.follows.map((f) => `${name} follow ${f.name.text}`),
    ...d.needs.map((n) => `${name} ${sliceOf(d.tree, n.span)}`),
    ...d.tables.flatMap((t) => under(tableLines(t.table), `${t.path} `)),
    ...d.measured.flatMap((m) => under(measuredLines(m), "")),
    ...d.records.flatMap((r) => under(recordLines(d.tree, r), "")),
    ...d.checks.map((c) => `${name} check ${c.title !== undefined ? `"${c.title}" ` : ""}${sliceOf(d.tree, c.condition.span)}`),
    ...d.waivers.map((w) => `${name} ${sliceOf(d.tree, w.span)}`),
  ];
}

function figureLines(figures: readonly FigureFact[]): string[] {
  return figures.map((f) => `${ownPath(f)}: ${f.value.is === "quantity" ? quantityText(f.value) : f.value.is === "stages" ? f.value.stages.map(quantityText).join(", then ") : plainValue(f.value)}`).sort();
}

/** The path within its statement, whose head stands before it already. */
function ownPath(f: FigureFact): string {
  const dot = f.written.indexOf(".");
  return dot > 0 && f.written.slice(0, dot).includes(" ") ? f.written.slice(dot + 1) : f.written;
}

function tableLines({ rows }: ReadingTable): string[] {
  return rows.map((row, i) => `row ${i + 1}: ${row.cells.map((c) => (c.quantity ? inOneUnit(c.quantity) : c.text)).join(", ")}`);
}

function recordLines(tree: DeclarationTree, r: RecordFact): string[] {
  const head = [r.word, ...r.head.map((part) => sliceOf(tree, part.span))].join(" ");
  const dated = r.date && !head.includes(r.date.text) ? `${head} on ${r.date.text}` : head;
  const own = (figures: readonly FigureFact[]) => figureLines(figures.map((f) => ({ ...f, written: f.key.key })));
  const within = [...own(r.figures), ...(r.table ? tableLines(r.table) : []), ...r.blocks.flatMap((b) => [...own(b.figures), ...(b.table ? tableLines(b.table) : [])].map((line) => `${b.word} ${line}`)), ...r.records.flatMap((inner) => recordLines(tree, inner))];
  return r.word === "plan" ? within.map((line) => `plan ${line}`) : [dated, ...within.map((line) => `${dated} ${line}`)];
}

function measuredLines(m: MeasuredFact): string[] {
  const head = ["measured", m.what.text, ...m.qualifiers.map((q) => q.text), ...(m.of ? [`for ${m.of.text}`] : []), ...(m.date ? [`on ${m.date.text}`] : [])].join(" ");
  return [...m.readings.map((r) => `${head} ${r.row} ${r.head}: ${inOneUnit(r.quantity)}`), ...figureLines(m.figures).map((line) => `${head} ${line}`), ...(m.readings.length === 0 && m.table ? tableLines(m.table).map((line) => `${head} ${line}`) : [])];
}

function quantityText(value: QuantityValue): string {
  return [inOneUnit(value.quantity), ...Object.values(value.qualifiers).sort(), ...value.clauses.map((c) => `${c.word} ${inOneUnit(c.quantity)}`)].join(" ");
}

/** In the metric unit of its kind, to the figures that any shop reads: the same for every spelling. */
function inOneUnit({ kind, interval }: Quantity): string {
  const unit = kindOf(kind).metric;
  const told = (x: number) => (Number.isFinite(x) ? String(Number(fromKindBase(x, unit, kind).toPrecision(8))) : x > 0 ? "or more" : "or less");
  const { low, nominal, high } = interval;
  const numbers = low === high ? told(nominal) : [told(low), told(nominal), told(high)].join(" .. ");
  return unit === undefined ? numbers : `${numbers} ${spellingOfUnit(unit)}`;
}

function consequenceLines(subject: CheckedSubject | undefined): string[] {
  if (!subject) return [];
  const name = `${subject.build.subject.sort} ${subject.build.subject.name?.text ?? ""}`.trim();
  return [
    ...subject.sheet.values.filter((v) => v.interval && !v.formula.quiet).map((v) => `${name} = ${v.label}: ${formattedValue(v)}`),
    ...subject.findings.map((f) => `${name} ${f.waiver ? "waived" : f.severity} ${f.rule}: ${f.message}`),
  ];
}
