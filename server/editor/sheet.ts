// The sheet for the editor's page and for exports from the editor, and the edit behind a fix that stands on it. Knows no protocol beyond its
// own questions and answers.
import type { Finding } from "../rules/finding.ts";
import { type Atlas, atlasOf, lineWords } from "../report/place.ts";
import { openFindings } from "../report/sheet-input.ts";
import { keepingLast, nothingButLast } from "../report/sheet-kept.ts";
import type { SheetModel } from "../report/sheet-model.ts";
import { renderSheetBody, sheetHtml } from "../report/sheet-html.ts";
import { printJson } from "../report/findings-json.ts";
import { sheetJson } from "../report/sheet-json.ts";
import { sheetMarkdown } from "../report/sheet-markdown.ts";
import { type Analysis, type SubjectResult, ruleOf } from "../workspace/analyse.ts";
import { type MadeSheet, makeSheet } from "../workspace/build-sheet.ts";
import { type FileEdit, editsOf } from "./fixes.ts";
import { type Tried, type TrialOutcome, comparedSheet, triedAnalysis } from "./trial.ts";

export interface SheetQuestion {
  readonly uri: string;
  /** Which build, where the file has several; the first one otherwise. */
  readonly build?: string | null;
  /** The git revision to print on it, where the client knows one. */
  readonly revision?: string;
}

export interface SheetAnswer {
  readonly title: string;
  /** The sheet's body; everything that a file says is escaped in it. */
  readonly html: string;
  readonly build: string;
  /** Names of what the file has a sheet of. */
  readonly builds: readonly string[];
  /** While figures are being tried: which, and what comes of it here. */
  readonly trial?: SheetTrial;
}

export interface SheetTrial extends TrialOutcome {
  readonly figures: readonly { readonly words: string; readonly from: string; readonly to: string }[];
}

export interface FixQuestion extends SheetQuestion {
  /** Place of the finding in the order of the sheet. */
  readonly finding: string;
  readonly fix: number;
}

export interface ExportQuestion extends SheetQuestion {
  readonly format: "html" | "markdown" | "json";
  /** True for a sheet that everybody may see: private notes and what was paid are left out. */
  readonly public?: boolean;
}

/** The last sheets of texts that could be read: by file, then by build. */
export type LastSheets = Map<string, Map<string, SheetModel>>;

/**
 * `spell` is how the client writes a URI. While the text cannot be read in places, what they decided is kept from `last`, which every
 * readable text renews.
 */
export function sheetFor(analysis: Analysis, question: SheetQuestion, spell: (uri: string) => string, last: LastSheets = new Map()): SheetAnswer | null {
  const chosen = choose(analysis, question);
  const names = shortNames(analysis);
  const before = last.get(question.uri);
  const lost = question.build != null && before?.has(question.build) && !chosen?.all.some((s) => nameOf(s) === question.build) ? question.build : chosen ? undefined : before?.keys().next().value;
  if (lost !== undefined) {
    const troubles = troublesIn(analysis.fileResult(question.uri)?.findings ?? [], atlasOf(analysis.project, analysis.places, names, spell));
    const model = before?.get(lost);
    // A build that was taken out on purpose leaves a text without trouble behind.
    if (model && troubles.length > 0) return answerOf(nothingButLast(model, troubles), lost, [...new Set([...(chosen?.all.map(nameOf) ?? []), lost])]);
  }
  if (!chosen) return null;
  const { input, model } = makeSheet(analysis, chosen.subject, names, spell, question.revision !== undefined ? { revision: question.revision } : undefined);
  const troubles = troublesIn([...input.findings, ...input.foundation], input.atlas);
  const build = nameOf(chosen.subject);
  const known = before?.get(build);
  if (troubles.length === 0) last.set(question.uri, keptOf(before, chosen.all.map(nameOf)).set(build, model));
  return answerOf(known && troubles.length > 0 ? keepingLast(model, known, troubles) : model, build, chosen.all.map(nameOf));
}

/** Builds that are not there now and whose last sheets stay for when they come back; every letter of a name that is being typed makes one. */
const MOST_LOST = 4;

function keptOf(last: ReadonlyMap<string, SheetModel> | undefined, there: readonly string[]): Map<string, SheetModel> {
  const lost = [...(last?.keys() ?? [])].filter((name) => !there.includes(name)).slice(0, -MOST_LOST);
  return new Map([...(last ?? [])].filter(([name]) => !lost.includes(name)));
}

function answerOf(model: SheetModel, build: string, builds: readonly string[]): SheetAnswer {
  return { title: `Sheet: ${model.title}`, html: renderSheetBody(model, { links: "jump" }), build, builds };
}

/** A figure that is being typed is for a moment one that cannot be: the 6 of 6000 rpm. */
const HALF_TYPED = "impossible-figure";

/** Lines at which a text cannot be read, or says what cannot be. */
function troublesIn(findings: readonly Finding[], atlas: Atlas): readonly string[] {
  const lines = findings.filter((f) => f.severity === "error" && (ruleOf(f.rule)?.scope === "text" || f.rule === HALF_TYPED)).flatMap((f) => atlas.placeOf(f.at) ?? []).map(lineWords);
  return [...new Set(lines)];
}

/** The sheet with figures as they are tried, marked against the sheet as written. */
export function triedSheetFor(analysis: Analysis, question: SheetQuestion, spell: (uri: string) => string, trial: readonly Tried[]): SheetAnswer | null {
  const then = triedAnalysis(analysis, trial);
  const [chosen, tried] = [choose(analysis, question), choose(then, question)];
  if (!chosen || !tried) return null;
  const names = shortNames(analysis);
  const { model, outcome } = comparedSheet(
    { analysis, made: makeSheet(analysis, chosen.subject, names, spell) },
    { analysis: then, made: makeSheet(then, tried.subject, names, spell) },
  );
  // A fix is for the figures as written.
  const shown = { ...model, findings: model.findings.map((f) => ({ ...f, fixes: [] })) };
  return { ...answerOf(shown, nameOf(tried.subject), tried.all.map(nameOf)), trial: { ...outcome, figures: trial.map(({ words, from, to }) => ({ words, from, to })) } };
}

export function exportFor(analysis: Analysis, question: ExportQuestion): string | null {
  const chosen = choose(analysis, question);
  if (!chosen) return null;
  const made: MadeSheet = makeSheet(analysis, chosen.subject, shortNames(analysis), undefined, { open: question.public === true });
  if (question.format === "json") return printJson(sheetJson(made.input));
  return question.format === "markdown" ? sheetMarkdown(made.model) : sheetHtml(made.model);
}

/** The edits of a fix by its place on the sheet; none when the sheet has moved on since it was shown. */
export function sheetFix(analysis: Analysis, question: FixQuestion): readonly FileEdit[] {
  const chosen = choose(analysis, question);
  if (!chosen) return [];
  const { input } = makeSheet(analysis, chosen.subject, shortNames(analysis));
  const fix = openFindings(input)[Number(question.finding)]?.fixes[question.fix];
  return fix ? editsOf(analysis, fix) : [];
}

function choose(analysis: Analysis, question: SheetQuestion): { subject: SubjectResult; all: readonly SubjectResult[] } | undefined {
  const subjects = analysis.fileResult(question.uri)?.subjects ?? [];
  const builds = subjects.filter((s) => s.build.subject.sort === "build");
  const all = builds.length > 0 ? builds : subjects;
  const subject = all.find((s) => nameOf(s) === question.build) ?? all[0];
  return subject && { subject, all };
}

function nameOf(subject: SubjectResult): string {
  return subject.build.subject.name?.text ?? "";
}

/** Names of what a file has a sheet of, in order. */
export function namesOfBuilds(analysis: Analysis, uri: string): readonly string[] {
  return choose(analysis, { uri })?.all.map(nameOf) ?? [];
}

/** Files are told apart by the end of their path that all of them do not share. */
export function shortNames(analysis: Analysis): (uri: string) => string {
  // A file that has not been saved yet stands where it will be saved.
  const saved = (uri: string) => uri.replace(/^untitled:(?=\/)/, "file://");
  const folders = [...analysis.project.files.keys()].map((uri) => saved(uri).slice(0, saved(uri).lastIndexOf("/") + 1));
  let shared = folders[0] ?? "";
  for (const folder of folders) while (!folder.startsWith(shared)) shared = shared.slice(0, shared.lastIndexOf("/", shared.length - 2) + 1);
  return (uri) => decode(saved(uri).startsWith(shared) ? saved(uri).slice(shared.length) : uri);
}

function decode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
