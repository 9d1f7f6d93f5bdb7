// What a person reads when they point at something: what it is, its figure in other units, what it replaced, where it came from, and what
// follows from it. Markdown text out; knows no protocol.
import type { Span } from "../../grammar/tree.ts";
import { type Provided, type Slot, effective } from "../model/effective.ts";
import type { FigureFact } from "../model/declaration.ts";
import { namesOf } from "../model/project.ts";
import { plainValue } from "../model/plain-value.ts";
import { formatQuantity } from "../quantity/display.ts";
import { KINDS } from "../quantity/kinds.ts";
import { PART_KINDS } from "../schema/parts/index.ts";
import { QUALIFIER_SETS } from "../schema/qualifiers.ts";
import type { KeySchema } from "../schema/types.ts";
import type { SheetValue } from "../sheet/evaluate.ts";
import { formattedValue } from "../sheet/trace.ts";
import type { Analysis, SubjectResult } from "../workspace/analyse.ts";
import { ruleOf } from "../workspace/analyse.ts";
import { type Here, type Spot, hereAt, spotAt } from "./spot.ts";

export interface Hover {
  readonly markdown: string;
  /** Offsets in the file. */
  readonly span: Span;
}

export function hoverAt(analysis: Analysis, uri: string, offset: number): Hover | undefined {
  const here = hereAt(analysis, uri, offset);
  const spot = here && spotAt(here);
  if (!here || !spot) return undefined;
  const lines = textFor(here, spot);
  return lines.length > 0 ? { markdown: lines.join("\n\n"), span: { start: spot.span.start + here.start, end: spot.span.end + here.start } } : undefined;
}

function textFor(here: Here, spot: Spot): string[] {
  switch (spot.on) {
    case "key":
      return [...keyText(spot.fact.key), ...(spot.fact.docs ? [escapeMarkdown(spot.fact.docs)] : []), ...slotText(here, spot.fact)];
    case "value":
      return [...figureText(spot.fact), ...slotText(here, spot.fact), ...dependentText(here, spot.fact)];
    case "reference": {
      if (spot.reference.of === "file") return [`Everything declared in \`${escapeCode(spot.reference.name.text)}\`, and in the files it uses, is known here.`];
      const target = namesOf(subjectScope(here), spot.reference.of).get(spot.reference.name.text)?.[0];
      if (!target) return [];
      const d = target.declaration;
      const title = d.title ? `**${escapeMarkdown(d.title)}**` : `**${d.name?.text ?? ""}**`;
      const scope = d.scopes.length > 0 ? `For ${d.scopes.map((s) => [s.engine.text, ...s.areas.map((a) => a.text)].join(" ")).join(", ")}.` : "";
      const needs = d.needs.length > 0 ? `Needs ${d.needs.map((n) => n.what.text).join(", ")}.` : "";
      return [`${title} (${d.kindName?.text ?? d.sort})`, ...(d.docs ? [escapeMarkdown(d.docs)] : []), ...(scope ? [scope] : []), ...(needs ? [needs] : []), ...figuresTable(d.figures)];
    }
    case "kind":
    case "need": {
      const name = spot.on === "kind" ? spot.name.text : spot.need.what.text;
      const kind = PART_KINDS.find((k) => k.id === name);
      return kind ? [`**${name}**: ${kind.words}`] : [];
    }
    case "name": {
      const subject = subjectOf(here);
      return subject ? [`**${escapeMarkdown(here.declaration.title ?? spot.name.text)}**`, ...keyValues(subject)] : here.declaration.docs ? [escapeMarkdown(here.declaration.docs)] : [];
    }
    case "condition": {
      const subject = subjectOf(here);
      const value = subject?.sheet.byId.get(spot.condition.path.text);
      return value ? valueText(value) : [];
    }
    case "rule": {
      const rule = ruleOf(spot.waiver.rule.text);
      return rule ? rulePageText(rule.id) : [];
    }
    case "word": {
      const set = QUALIFIER_SETS.find((s) => spot.word in s.options);
      return set ? [`**${spot.word}**: ${set.options[spot.word] ?? ""}`, `The word ${set.words}.`] : [];
    }
  }
}

/** The page of a rule as markdown: the same text that `explain` prints. */
export function rulePageText(id: string): string[] {
  const rule = ruleOf(id);
  if (!rule) return [];
  return [`**${rule.id}** (${rule.severity})`, rule.page.summary, rule.page.why, `*Limit:* ${rule.page.limit}`, `*Source:* ${rule.page.source}`, `*What to do:* ${rule.page.remedy}`];
}

export function keyText(key: KeySchema): string[] {
  const takes = key.type.is === "quantity" || key.type.is === "quantities" ? KINDS[key.type.kind].words : key.type.is === "word" ? `one of ${Object.keys(key.type.options).join(", ")}` : key.type.is;
  return [`**${key.key}**: ${key.words}`, `Takes ${takes}, such as \`${key.key}: ${key.example}\`.`];
}

function figureText(fact: FigureFact): string[] {
  if (fact.value.is !== "quantity") return [`**${fact.key.key}**: ${fact.key.words}`];
  const q = fact.value.quantity;
  const words = Object.entries(fact.value.qualifiers).map(([id, word]) => `${word}: ${QUALIFIER_SETS.find((s) => s.id === id)?.options[word] ?? "not stated"}`);
  return [`**${formatQuantity(q, { both: true })}**`, fact.key.words, ...words.map((w) => `*${w}*`)];
}

/** Asked for, chosen, measured, and what it replaced. */
function slotText(here: Here, fact: FigureFact): string[] {
  const subject = subjectOf(here);
  const slot = subject?.build.slots.get(fact.path);
  if (!slot) return [];
  const chain = chainText(slot);
  return chain.length > 1 ? [chain.join("\n")] : chain;
}

/** A slot's chain, newest first. */
export function chainText(slot: Slot): string[] {
  const current = effective(slot);
  return [...slot.chain].reverse().map((p) => `- ${p.role === "asked" ? "asked for" : "chosen"} by ${escapeMarkdown(p.origin.words)}: ${escapeMarkdown(plainValue(p.fact.value))}${p === current ? "" : slot.chain.indexOf(p) < slot.from ? " (taken off)" : " (replaced)"}${sourceOf(p)}`);
}

function sourceOf(p: Provided): string {
  const source = p.origin.declaration.figures.find((f) => f.key.key === "source" && f.written === "source");
  return source?.value.is === "text" ? `, from ${escapeMarkdown(source.value.text)}` : "";
}

/** The computed values that rest on a figure. */
function dependentText(here: Here, fact: FigureFact): string[] {
  const subject = subjectOf(here);
  if (!subject) return [];
  const on = subject.sheet.values.filter((v) => !v.formula.quiet && v.interval && v.provided.some((p) => p.fact === fact)).slice(0, 6);
  return on.length > 0 ? [`It decides:\n${on.map((v) => `- ${v.label}: ${formattedValue(v)}`).join("\n")}`] : [];
}

export function valueText(value: SheetValue): string[] {
  const head = `**${value.label}**: ${value.interval ? formattedValue(value) : value.impossible ? `not computed, ${value.impossible}` : `not computed; it needs ${value.missing.map((m) => `\`${m.path}\``).join(", ")}`}`;
  return [head, value.formula.words, ...value.assumptions.map((a) => `*Assumed:* ${a}`), `*Source:* ${value.formula.source}`];
}

function keyValues(subject: SubjectResult): string[] {
  const values = ["displacement.total", "compression.static", "piston-speed.mean"].map((id) => subject.sheet.byId.get(id)).filter((v) => v?.interval) as SheetValue[];
  return values.length > 0 ? [values.map((v) => `- ${v.label}: ${formattedValue(v)}`).join("\n")] : [];
}

function figuresTable(figures: readonly FigureFact[]): string[] {
  const rows = figures.slice(0, 12).map((f) => `| ${f.written.replaceAll(".", " ")} | ${escapeMarkdown(plainValue(f.value))} |`);
  return rows.length > 0 ? [["| | |", "|---|---|", ...rows].join("\n")] : [];
}

/** The build or engine whose figures the caret's declaration decides: itself, else the first build of the file. */
export function subjectOf(here: Here): SubjectResult | undefined {
  const subjects = here.analysis.fileResult(here.file.uri)?.subjects ?? [];
  return subjects.find((s) => s.build.subject === here.declaration) ?? subjects.find((s) => s.build.parts.some((p) => p.declaration === here.declaration) || s.build.cards.some((c) => c.declaration === here.declaration) || s.build.engine === here.declaration);
}

function subjectScope(here: Here) {
  return here.analysis.scope(here.file.uri);
}

/** User text in markdown stays text. */
export function escapeMarkdown(text: string): string {
  return text.replace(/[\\`*_{}[\]()#+!|<>~-]/g, "\\$&").replace(/\s+/g, " ");
}

function escapeCode(text: string): string {
  return text.replaceAll("`", "'");
}
