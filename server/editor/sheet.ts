// The sheet for the editor's page and for exports from the editor, and the edit behind a fix that stands on it. Knows no protocol beyond its
// own questions and answers.
import { openFindings } from "../report/sheet-input.ts";
import { renderSheetBody, sheetHtml } from "../report/sheet-html.ts";
import { printJson } from "../report/findings-json.ts";
import { sheetJson } from "../report/sheet-json.ts";
import { sheetMarkdown } from "../report/sheet-markdown.ts";
import type { Analysis, SubjectResult } from "../workspace/analyse.ts";
import { type MadeSheet, makeSheet } from "../workspace/build-sheet.ts";
import { type FileEdit, editsOf } from "./fixes.ts";

export interface SheetQuestion {
  readonly uri: string;
  /** Which build, where the file has several; the first one otherwise. */
  readonly build?: string | null;
}

export interface SheetAnswer {
  readonly title: string;
  /** The sheet's body; everything that a file says is escaped in it. */
  readonly html: string;
  readonly build: string;
  /** Names of what the file has a sheet of. */
  readonly builds: readonly string[];
}

export interface FixQuestion extends SheetQuestion {
  /** Place of the finding in the order of the sheet. */
  readonly finding: string;
  readonly fix: number;
}

export interface ExportQuestion extends SheetQuestion {
  readonly format: "html" | "markdown" | "json";
}

/** `spell` is how the client writes a URI. */
export function sheetFor(analysis: Analysis, question: SheetQuestion, spell: (uri: string) => string): SheetAnswer | null {
  const chosen = choose(analysis, question);
  if (!chosen) return null;
  const { model } = makeSheet(analysis, chosen.subject, shortNames(analysis), spell);
  return { title: `Sheet: ${model.title}`, html: renderSheetBody(model, { links: "jump" }), build: nameOf(chosen.subject), builds: chosen.all.map(nameOf) };
}

export function exportFor(analysis: Analysis, question: ExportQuestion): string | null {
  const chosen = choose(analysis, question);
  if (!chosen) return null;
  const made: MadeSheet = makeSheet(analysis, chosen.subject, shortNames(analysis));
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

/** Files are told apart by the end of their path that all of them do not share. */
function shortNames(analysis: Analysis): (uri: string) => string {
  const folders = [...analysis.project.files.keys()].map((uri) => uri.slice(0, uri.lastIndexOf("/") + 1));
  let shared = folders[0] ?? "";
  for (const folder of folders) while (!folder.startsWith(shared)) shared = shared.slice(0, shared.lastIndexOf("/", shared.length - 2) + 1);
  return (uri) => decode(uri.startsWith(shared) ? uri.slice(shared.length) : uri);
}

function decode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
