// What a person reads when they point at something: what it is, its figure in other units, what it replaced, where it came from, and what
// follows from it. Markdown text out; knows no protocol.
import { lineStarts } from "../../grammar/source-file.ts";
import type { Phrase, Span } from "../../grammar/tree.ts";
import { type Provided, type Slot, effective, wordsFor } from "../model/effective.ts";
import type { Declaration, FigureFact } from "../model/declaration.ts";
import { namesOf } from "../model/project.ts";
import { plainValue } from "../model/plain-value.ts";
import type { Reading } from "../model/reading.ts";
import { formatQuantity } from "../quantity/display.ts";
import { KINDS, withArticle } from "../quantity/kinds.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { measurementOf } from "../schema/measurements.ts";
import { PART_KINDS } from "../schema/parts/index.ts";
import { phraseOf, placeAt } from "../schema/lookup.ts";
import { QUALIFIER_SETS } from "../schema/qualifiers.ts";
import type { KeySchema, ValueType } from "../schema/types.ts";
import type { SheetValue } from "../sheet/evaluate.ts";
import { at } from "../sheet/formula.ts";
import { FORMULAS } from "../sheet/formulas/index.ts";
import { formattedValue } from "../sheet/trace.ts";
import { tunesOf } from "../sheet/tune.ts";
import { tuneSentences } from "../report/tune-words.ts";
import type { Analysis, SubjectResult } from "../workspace/analyse.ts";
import { ruleOf } from "../workspace/analyse.ts";
import { escapeMarkdown } from "./markdown.ts";
import { columnText, recordingText } from "./recording.ts";
import { type Here, type Spot, hereAt, spotAt } from "./spot.ts";
import { phrasesAt, stepOf } from "./steps.ts";
import { stepText } from "./work-steps.ts";
import { capital } from "../quantity/spoken.ts";

export interface Hover {
  readonly markdown: string;
  /** Offsets in the file. */
  readonly span: Span;
}

/** More than this is not read in a hover. */
const MOST_ROWS = 8;
const MOST_OPTIONS = 8;
const MOST_DEPENDENTS = 6;

/** @param spell how the client writes a URI: links lead there. */
export function hoverAt(analysis: Analysis, uri: string, offset: number, spell: (uri: string) => string = (same) => same): Hover | undefined {
  const here = hereAt(analysis, uri, offset);
  const recorded = here && recordingText(here, subjectOf(here));
  if (here && recorded) return { markdown: recorded.lines.join("\n\n"), span: { start: recorded.span.start + here.start, end: recorded.span.end + here.start } };
  const spot = here && spotAt(here);
  if (!here || !spot) return undefined;
  const lines = textFor(here, spot, linkTo(here, spell));
  return lines.length > 0 ? { markdown: lines.join("\n\n"), span: { start: spot.span.start + here.start, end: spot.span.end + here.start } } : undefined;
}

function textFor(here: Here, spot: Spot, link: LinkTo): string[] {
  switch (spot.on) {
    case "key":
      return [...recordedTuneText(here, spot.fact), ...keyText(spot.fact.key), ...docsText(spot.fact.docs), ...slotText(here, spot.fact, link)];
    case "value":
      return [...recordedTuneText(here, spot.fact), ...figureText(spot.fact), ...columnText(here, spot.fact, subjectOf(here)), ...slotText(here, spot.fact, link), ...dependentText(here, spot.fact)];
    case "reading":
      return readingText(here, spot.what, spot.reading, link);
    case "reference": {
      if (spot.reference.of === "file") return [`Everything declared in \`${escapeCode(spot.reference.name.text)}\`, and in the files it uses, is known here.`];
      const target = namesOf(here.analysis.scope(here.file.uri), spot.reference.of).get(spot.reference.name.text)?.[0];
      return target ? declarationText(target.declaration) : [];
    }
    case "kind":
    case "need": {
      const name = spot.on === "kind" ? spot.name.text : spot.need.what.text;
      const words = PART_KINDS.find((k) => k.id === name)?.words ?? phraseOf(name)?.words;
      return words !== undefined ? [`**${escapeMarkdown(name)}**: ${words}`] : [];
    }
    case "name": {
      const subject = subjectOf(here);
      return [titleOf(here.declaration), ...docsText(here.declaration.docs), ...(subject?.build.subject === here.declaration ? keyValues(subject) : [])];
    }
    case "condition": {
      const subject = subjectOf(here);
      const values = subject ? valuesOf(subject, spot.condition.path.text) : [];
      if (subject && values.length > 0) return [...elsewhereText(here, subject), ...values.flatMap((v) => [valueLine(v), ...measuredLine(v)]), ...aboutValue(values[0] as SheetValue)];
      const formula = formulaCalled(spot.condition.path.text);
      return formula ? [`**${escapeMarkdown(spot.condition.path.text)}**: ${formula.words}`, `*Source:* ${formula.source}`] : [];
    }
    case "rule": {
      const rule = ruleOf(spot.waiver.rule.text);
      return rule ? rulePageText(rule.id) : [];
    }
    case "statement":
      return statementText(here, spot.path);
    case "word": {
      const set = QUALIFIER_SETS.find((s) => spot.word in s.options);
      if (set) return [`**${spot.word}**: ${set.options[spot.word] ?? ""}`, `The word ${set.words}.`];
      const inPlan = phrasesAt(here.declaration.tree.phrase, here.offset).some((p) => p.word.text === "plan" || p.word.text === "done" || p.word.text === "step");
      return inPlan ? [...stepText(here, subjectOf(here), spot.word)] : [];
    }
  }
}

/** What a word that begins a declaration, a statement or a block is for. */
function statementText(here: Here, path: readonly Phrase[]): string[] {
  const inner = path[path.length - 1];
  if (!inner) return [];
  const word = inner.word.text;
  const scope = here.analysis.scope(here.file.uri);
  const around = path.length > 1 ? placeAt(path.slice(0, -1).map((p) => stepOf(p, scope))) : undefined;
  const block = around?.block.blocks?.[word];
  if (block) return [`**${escapeMarkdown(word)}**: ${block.words}`];
  const phrase = phraseOf(word);
  const tune = word === "tune" ? tuneText(here, inner) : [];
  return phrase ? [...tune, `**${escapeMarkdown(word)}**: ${phrase.words}`, `\`${escapeCode(phrase.example.split("\n")[0] ?? "")}\``] : [];
}

/** Whether the tune that begins here still answers for the engine. */
function tuneText(here: Here, { span }: Phrase): string[] {
  return tuneLines(here, (start) => start === span.start);
}

/** The same at a tune's own fingerprint or that of its file. */
function recordedTuneText(here: Here, fact: FigureFact): string[] {
  if (fact.key.type.is !== "fingerprint") return [];
  return tuneLines(here, (start, end) => fact.span.start >= start && fact.span.end <= end);
}

function tuneLines(here: Here, isMeant: (start: number, end: number) => boolean): string[] {
  const subject = subjectOf(here);
  const look = subject && tunesOf(subject.sheet, subject.data).find(({ record }) => record.word === "tune" && isMeant(record.span.start, record.span.end));
  if (!look) return [];
  const told = tuneSentences(look);
  return [...told.slice(0, MOST_ROWS), ...(told.length > MOST_ROWS ? [`${told.length - MOST_ROWS} more on the sheet.`] : [])].map(escapeMarkdown);
}

/** The page of a rule as markdown: the same text that `explain` prints. */
export function rulePageText(id: string): string[] {
  const rule = ruleOf(id);
  if (!rule) return [];
  return [`**${rule.id}** (${rule.severity})`, rule.page.summary, rule.page.why, `*Limit:* ${rule.page.limit}`, `*Source:* ${rule.page.source}`, `*What to do:* ${rule.page.remedy}`];
}

export function keyText(key: KeySchema): string[] {
  return [`**${key.key}**: ${key.words}`, `${takesText(key.type)}, such as \`${key.key}: ${key.example}\`.`];
}

/** What a key takes, to begin a sentence. */
function takesText(type: ValueType): string {
  switch (type.is) {
    case "quantity":
      return capital(withArticle(KINDS[type.kind].words));
    case "quantities":
      return `Figures of the same sort, ${withArticle(KINDS[type.kind].words)} each`;
    case "word": {
      const options = Object.keys(type.options);
      const rest = options.length - MOST_OPTIONS;
      return rest > 1 ? `One of ${options.slice(0, MOST_OPTIONS).join(", ")} and ${rest} more` : `One of ${options.join(", ")}`;
    }
    case "yes-no":
      return "Yes or no";
    case "text":
      return "Words in quotes";
    case "date":
      return "A day, year first";
    case "order":
      return "Numbers joined by dashes";
    case "thread":
      return "A thread";
    case "class":
      return "A property class or grade";
    case "stages":
      return "Stages in order, a torque or an angle each";
    case "name":
      return type.of ? `The name of ${withArticle(type.of)}` : "A name";
    case "names":
      return "Names, set apart by commas";
    case "file":
      return "The path of a file in quotes, counted from this file";
    case "fingerprint":
      return "A fingerprint";
    case "mark":
      return "A mark or grade as printed";
    case "money":
      return "An amount of money with its currency";
  }
}

/** The figure as written, in the other units, and what each of its words says. */
function figureText(fact: FigureFact): string[] {
  const { value, key } = fact;
  const head = `**${escapeMarkdown(plainValue(value))}**`;
  if (value.is === "word" && key.type.is === "word") {
    const meaning = key.type.options[value.word];
    return [meaning ? `${head}: ${meaning}` : head, key.words];
  }
  if (value.is === "stages") {
    const others = value.stages.map((s) => formatQuantity(s.quantity, { both: true }));
    return [others.some((text) => text.includes("(")) ? `${head} (${value.stages.map((s) => otherUnits(s.quantity) ?? formatQuantity(s.quantity)).join(", then ")})` : head, key.words];
  }
  if (value.is !== "quantity") return [head, key.words];
  const other = otherUnits(value.quantity);
  const words = Object.entries(value.qualifiers).flatMap(([id, word]) => {
    const meaning = QUALIFIER_SETS.find((s) => s.id === id)?.options[word];
    return meaning ? [`*${word}*: ${meaning}`] : [];
  });
  return [other === undefined ? head : `${head} (${other})`, key.words, ...words];
}

/** The same figure in the other system of units, where that says it differently. */
function otherUnits(quantity: Quantity): string | undefined {
  const plain = formatQuantity(quantity);
  const both = formatQuantity(quantity, { both: true });
  return both.length > plain.length ? both.slice(plain.length).trim().replace(/^\(|\)$/g, "") : undefined;
}

/** One reading of a table, with what is asked for and chosen of the same thing. */
function readingText(here: Here, what: string, reading: Reading, link: LinkTo): string[] {
  const other = otherUnits(reading.quantity);
  const place = /^\d+$/.test(reading.head) ? `cylinder ${reading.head}` : reading.head;
  const head = `**${escapeMarkdown(reading.row)}, ${escapeMarkdown(place)}: ${escapeMarkdown(formatQuantity(reading.quantity))}**${other === undefined ? "" : ` (${other})`}`;
  const side = /^(intake|exhaust)\b/.exec(reading.row)?.[1];
  const slots = subjectOf(here)?.build.slots;
  const slot = side === undefined ? undefined : (slots?.get(`valve-gear.${side}.${what}`) ?? slots?.get(`${what}.${side}`));
  return [head, ...(measurementOf(what) ? [(measurementOf(what) as { words: string }).words] : []), ...(slot ? [chainText(slot, "this build", link).join("\n")] : [])];
}

/** What was said of a figure, newest first; nothing where only this was said. */
function slotText(here: Here, fact: FigureFact, link: LinkTo): string[] {
  const subject = subjectOf(here);
  const slot = subject && slotOf(subject, fact);
  return slot && slot.chain.length > 1 ? [...elsewhereText(here, subject), chainText(slot, ownerWords(here, subject), link).join("\n")] : [];
}

/** The place of the effective build that a figure landed on. A part set in its fit lands where its kind does. */
export function slotOf(subject: SubjectResult, fact: FigureFact): Slot | undefined {
  const own = subject.build.slots.get(fact.path);
  if (own?.chain.some((p) => p.fact === fact)) return own;
  for (const slot of subject.build.slots.values()) if (slot.chain.some((p) => p.fact === fact)) return slot;
  return undefined;
}

type LinkTo = (p: Provided, text: string) => string;

/** A link to where a figure is written, unless that is where the reader points already. */
function linkTo({ analysis, declaration, offset }: Here, spell: (uri: string) => string): LinkTo {
  return (p, text) => {
    const { tree } = p.location;
    if (tree === declaration.tree && offset >= p.fact.keySpan.start && offset <= p.fact.span.end) return text;
    const place = analysis.places.placeOf(tree);
    const source = place && analysis.project.files.get(place.uri)?.source.text;
    if (!place || source === undefined) return text;
    const line = lineStarts(source.slice(0, place.start + p.fact.span.start)).length;
    return `[${text}](${spell(place.uri).replaceAll("(", "%28").replaceAll(")", "%29")}#L${line})`;
  };
}

/** A slot's chain, newest first. `owner` is what the build itself is called. */
function chainText(slot: Slot, owner: string, link: LinkTo): string[] {
  const current = effective(slot);
  const first = Math.max(0, slot.chain.length - MOST_LINKS);
  const told = slot.chain.slice(first).map((p, i) => {
    const by = p.origin.sort === "build" ? owner : p.origin.words;
    const fate = p === current ? "" : first + i < slot.from ? " (taken off)" : " (replaced)";
    return `- ${p.role === "asked" ? "asked for by" : "chosen by"} ${escapeMarkdown(by)}: ${link(p, escapeMarkdown(plainValue(p.fact.value)))}${fate}${sourceOf(p)}`;
  });
  return [...told.reverse(), ...(first > 0 ? [`- and ${first} before ${first === 1 ? "it" : "them"}`] : [])];
}

/** A figure that is written again and again is told by the last of them. */
const MOST_LINKS = 24;

function sourceOf(p: Provided): string {
  const source = sourceText(p.origin.declaration);
  return source !== undefined && p.fact.written !== "source" ? `, from ${escapeMarkdown(source)}` : "";
}

function sourceText(declaration: Declaration): string | undefined {
  const source = declaration.figures.find((f) => f.written === "source");
  return source?.value.is === "text" ? source.value.text : undefined;
}

/** The computed values that rest on a figure. */
function dependentText(here: Here, fact: FigureFact): string[] {
  const subject = subjectOf(here);
  if (!subject) return [];
  const all = subject.sheet.values.filter((v) => !v.formula.quiet && v.interval && v.provided.some((p) => p.fact === fact));
  const rest = all.length - MOST_DEPENDENTS;
  const lines = all.slice(0, MOST_DEPENDENTS).map((v) => `- ${v.label}: ${formattedValue(v)}`);
  if (lines.length === 0) return [];
  const where = subject.uri === here.file.uri ? "" : ` in ${escapeMarkdown(wordsFor(subject.build.subject))}`;
  return [`It decides${where}:\n${lines.join("\n")}${rest > 0 ? `\n- and ${rest} more on the sheet` : ""}`];
}

/** Values that a path of a condition names: itself, or one for each side. */
function valuesOf(subject: SubjectResult, path: string): SheetValue[] {
  const exact = subject.sheet.byId.get(path);
  return exact ? [exact] : ["intake", "exhaust"].flatMap((side) => subject.sheet.byId.get(`${path}.${side}`) ?? []);
}

function formulaCalled(path: string) {
  return FORMULAS.find((f) => [f.id, at(f.id, "intake"), at(f.id, "exhaust"), f.id.replace(/\.\{each\}$/, "")].includes(path));
}

function valueLine(value: SheetValue): string {
  const needs = value.missing.map((m) => `\`${m.path}\``).join(", ");
  return `**${escapeMarkdown(value.label)}**: ${value.interval ? formattedValue(value) : value.impossible !== undefined ? `not computed: ${value.impossible}` : `not computed: it needs ${needs}`}`;
}

/** What the readings come to: each place where there are few, else the least and the greatest. */
function measuredLine(value: SheetValue): string[] {
  const found = value.measured.filter((m) => m.value.interval);
  if (found.length === 0) return [];
  const sorted = [...found].sort((a, b) => (a.value.interval?.nominal ?? 0) - (b.value.interval?.nominal ?? 0));
  const shown = found.length <= 4 ? found : [sorted[0] as typeof found[number], sorted[sorted.length - 1] as typeof found[number]];
  const of = (m: (typeof found)[number]) => `${formattedValue(m.value)}${m.place === "" ? "" : ` at ${escapeMarkdown(m.place)}`}`;
  return [`As measured: ${shown.map(of).join(found.length <= 4 ? ", " : " to ")}${found.length > 4 ? `, ${found.length} places` : ""}. Rules judge what was measured, the worst place first.`];
}

function aboutValue(value: SheetValue): string[] {
  return [value.formula.words, ...value.assumptions.map((a) => `*Assumed:* ${a}`), `*Source:* ${value.formula.source}`];
}

export function valueText(value: SheetValue): string[] {
  return [valueLine(value), ...measuredLine(value), ...aboutValue(value)];
}

function keyValues(subject: SubjectResult): string[] {
  const values = ["displacement.total", "compression.static", "piston-speed.mean"].map((id) => subject.sheet.byId.get(id)).filter((v) => v?.interval) as SheetValue[];
  return values.length > 0 ? [values.map((v) => `- ${v.label}: ${formattedValue(v)}`).join("\n")] : [];
}

/** A part, card or engine pointed at from elsewhere. */
function declarationText(d: Declaration): string[] {
  const source = sourceText(d);
  const scope = d.scopes.length > 0 ? [`For ${d.scopes.map((s) => [s.engine.text, ...s.areas.map((a) => a.text)].join(" ")).join(", ")}.`] : [];
  const needs = d.needs.length > 0 ? [`Needs ${[...new Set(d.needs.map((n) => n.what.text))].join(", ")}.`] : [];
  return [titleOf(d), ...docsText(d.docs), ...(scope.length + needs.length > 0 ? [escapeMarkdown([...scope, ...needs].join(" "))] : []), ...figuresTable(d.figures), ...(source !== undefined ? [`*From:* ${escapeMarkdown(source)}`] : [])];
}

function titleOf(d: Declaration): string {
  return `**${escapeMarkdown(wordsFor(d))}** (${escapeMarkdown(d.kindName?.text ?? d.sort)})`;
}

function figuresTable(figures: readonly FigureFact[]): string[] {
  // The figures that decide come first; who sold it is on the sheet. One that lands on both sides was written once.
  const written = [...new Map(figures.map((f) => [f.keySpan.start, f])).values()];
  const told = written.filter((f) => !NOT_TOLD.has(f.written)).sort((a, b) => weight(a) - weight(b));
  const rest = told.length - MOST_ROWS;
  const rows = told.slice(0, MOST_ROWS).map((f) => `| ${escapeMarkdown(f.written.replaceAll(".", " "))} | ${escapeMarkdown(plainValue(f.value))} |`);
  if (rows.length === 0) return [];
  return [["| | |", "|---|---|", ...rows].join("\n"), ...(rest > 0 ? [`and ${rest} more figure${rest > 1 ? "s" : ""}.`] : [])];
}

const NOT_TOLD: ReadonlySet<string> = new Set(["source", "maker", "part-number", "serial", "remark"]);

function weight({ key }: FigureFact): number {
  return key.importance === "essential" ? 0 : key.importance === "rare" ? 2 : 1;
}

function docsText(docs: string): string[] {
  return docs.trim() === "" ? [] : [escapeMarkdown(docs)];
}

/**
 * The build or engine whose figures the caret's declaration decides: itself, else the first build of the file that stands on it, else the
 * first of any file that is known.
 */
export function subjectOf(here: Here): SubjectResult | undefined {
  const { declaration, analysis } = here;
  const own = analysis.fileResult(here.file.uri)?.subjects ?? [];
  const itself = own.find((s) => s.build.subject === declaration);
  if (itself) return itself;
  const standsOnIt = (s: SubjectResult) =>
    s.build.subject.sort === "build" && (s.build.engine === declaration || s.build.parts.some((p) => p.declaration === declaration) || s.build.cards.some((c) => c.declaration === declaration));
  const near = own.find(standsOnIt);
  if (near || (declaration.sort !== "part" && declaration.sort !== "card")) return near;
  for (const uri of analysis.project.files.keys()) {
    const found = analysis.fileResult(uri)?.subjects.find(standsOnIt);
    if (found) return found;
  }
  return undefined;
}

/** Says which build is meant, where it is not the one being looked at. */
function elsewhereText(here: Here, subject: SubjectResult): string[] {
  return subject.uri === here.file.uri ? [] : [`In ${escapeMarkdown(wordsFor(subject.build.subject))}:`];
}

function ownerWords(here: Here, subject: SubjectResult): string {
  return subject.uri === here.file.uri ? "this build" : wordsFor(subject.build.subject);
}

function escapeCode(text: string): string {
  return text.replaceAll("`", "'");
}

export { escapeMarkdown };
