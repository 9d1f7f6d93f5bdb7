// Several files written as one text, analysed without a disk. `--- name.tappet` starts another file; the first, unnamed one is main.tappet; any that is no build file is one of figures.
import { type SourceFile, lineStarts, positionAt } from "../../grammar/source-file.ts";
import { printOfText } from "../../server/model/print.ts";
import type { DataFile, Project, ProjectFile, Unreadable } from "../../server/model/project.ts";
import { readSource } from "../../grammar/read.ts";
import type { Location } from "../../server/model/declaration.ts";
import { type Analysis, type FileResult, analyse } from "../../server/workspace/analyse.ts";
import { projectFileOf } from "../../server/workspace/load.ts";
import { recordingsOf } from "../../server/workspace/recordings.ts";
import type { Outcome } from "../../server/recording/summary.ts";
import { summariser } from "../../server/recording/summarise.ts";
import type { Edit, Finding } from "../../server/rules/finding.ts";

export const ROOT = "file:///project/";
export const MAIN = `${ROOT}main.tappet`;
/** The day on which texts are checked unless a test says otherwise. */
export const AS_OF = "2027-06-01";

export interface TestFile {
  readonly name: string;
  readonly text: string;
  /** Set by `--- name.tappet (too-large)`: the file is there and cannot be read. */
  readonly unreadable?: Unreadable;
}

const HEAD = /^--- (\S+)(?: \(([a-z-]+)\))?[ \t]*$/;

/** Cuts a text into its files. A text may begin with a line end, so that literals read well. */
export function filesOf(text: string): TestFile[] {
  const files: { name: string; lines: string[]; unreadable?: Unreadable }[] = [{ name: "main.tappet", lines: [] }];
  for (const line of text.replace(/^\n/, "").split("\n")) {
    const head = HEAD.exec(line);
    if (head) files.push({ name: head[1] as string, lines: [], ...(head[2] !== undefined && { unreadable: head[2] as Unreadable }) });
    else files[files.length - 1]?.lines.push(line);
  }
  return files.map(({ name, lines, unreadable }) => ({ name, text: lines.join("\n"), ...(unreadable && { unreadable }) }));
}

/** The project of a text of several files. */
export function projectOf(text: string): Project {
  const files = new Map<string, ProjectFile>();
  const unreadable = new Map<string, Unreadable>();
  const data = new Map<string, DataFile>();
  for (const file of filesOf(text)) {
    const uri = ROOT + file.name;
    if (file.unreadable) unreadable.set(uri, file.unreadable);
    // What is no build file stands for the bytes of its text.
    if (!file.name.endsWith(".tappet")) data.set(uri, file.unreadable ? { problem: file.unreadable } : { print: printOfText(file.text), text: file.text });
    else if (!file.unreadable) files.set(uri, projectFileOf(readSource(uri, file.text)));
  }
  const recordings = recordedIn({ files, unreadable }, text);
  return { files, unreadable, data, ...(recordings.size > 0 && { recordings }) };
}

/** What the recordings among the files of a text come to. */
function recordedIn(project: Project, text: string): ReadonlyMap<string, Outcome> {
  const outcomes = new Map<string, Outcome>();
  for (const { key, uri, question } of recordingsOf(project)) {
    const file = filesOf(text).find((f) => ROOT + f.name === uri);
    if (!file || file.unreadable) {
      outcomes.set(key, { problem: { sort: file?.unreadable ?? "missing" } });
      continue;
    }
    const reader = summariser(question);
    reader.push(file.text);
    outcomes.set(key, reader.end());
  }
  return outcomes;
}

export function analyseText(text: string, asOf = AS_OF): Analysis {
  return analyse(projectOf(text), asOf);
}

/** What is found in the first file of a text. */
export function resultOf(text: string, asOf = AS_OF): FileResult {
  const result = analyseText(text, asOf).fileResult(MAIN);
  if (!result) throw new Error("the text holds no file");
  return result;
}

/** Ids of what is found in the first file, in the order of the text. */
export function rulesIn(text: string, asOf = AS_OF): string[] {
  return resultOf(text, asOf).findings.map((f) => f.rule);
}

/** The text that a location covers. */
export function textOfLocation(at: Location): string {
  return at.tree.text.slice(at.span.start, at.span.end);
}

/** The file and line (from zero) that a location begins on. */
export function lineOf(analysis: Analysis, at: Location): { readonly uri: string; readonly line: number } {
  const place = analysis.places.placeOf(at.tree);
  if (!place) throw new Error("a location lies in no file of the project");
  const file = analysis.project.files.get(place.uri) as ProjectFile;
  return { uri: place.uri, line: positionAt(lineStarts(file.source.text), place.start + at.span.start).line };
}

/** The text of a project's files with edits made, in the form it was written in. */
export function applyEdits(text: string, edits: readonly Edit[], analysis: Analysis): string {
  const changed = filesOf(text).map((file) => {
    const uri = ROOT + file.name;
    const own = edits
      .flatMap((e) => {
        const place = analysis.places.placeOf(e.tree);
        return place?.uri === uri ? [{ start: place.start + e.span.start, end: place.start + e.span.end, text: e.text }] : [];
      })
      .sort((a, b) => b.start - a.start);
    return { ...file, text: own.reduce((now, e) => now.slice(0, e.start) + e.text + now.slice(e.end), file.text) };
  });
  return changed.map((f, i) => (i === 0 ? f.text : `--- ${f.name}${f.unreadable ? ` (${f.unreadable})` : ""}\n${f.text}`)).join("\n");
}

/** One finding as a test reads it. */
export function shown(finding: Finding): string {
  return `${finding.severity} ${finding.rule}: ${finding.message}`;
}

export type { SourceFile };
