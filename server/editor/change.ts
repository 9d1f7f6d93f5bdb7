// A change to several files, new ones among them, and what the project is once it is made: so that a change can promise what it leaves as it was.
import { readSource } from "../../grammar/read.ts";
import { plainValue } from "../model/plain-value.ts";
import { effective } from "../model/effective.ts";
import type { ProjectFile } from "../model/project.ts";
import { type Analysis, type SubjectResult, analyse } from "../workspace/analyse.ts";
import { projectFileOf } from "../workspace/load.ts";
import type { FileEdit } from "./fixes.ts";

export interface NewFile {
  readonly uri: string;
  readonly text: string;
}

export interface Change {
  readonly edits: readonly FileEdit[];
  readonly creates: readonly NewFile[];
}

/** A text with edits made to it. Edits do not overlap; of two at one place the first one given comes first. */
export function edited(text: string, edits: readonly FileEdit[]): string {
  let out = text;
  for (const { span, text: words } of [...edits].reverse().sort((a, b) => b.span.start - a.span.start || b.span.end - a.span.end)) out = out.slice(0, span.start) + words + out.slice(span.end);
  return out;
}

/** The analysis of a project as it would be after a change. What the change does not touch is not worked out again. */
export function analysisAfter(analysis: Analysis, { edits, creates }: Change): Analysis {
  const files = new Map<string, ProjectFile>(analysis.project.files);
  const unreadable = new Map(analysis.project.unreadable);
  const put = (uri: string, text: string) => {
    const before = files.get(uri);
    files.set(uri, projectFileOf(readSource(uri, text, before?.source), before));
    unreadable.delete(uri);
  };
  for (const { uri, text } of creates) put(uri, text);
  for (const uri of new Set(edits.map((e) => e.uri))) put(uri, edited(files.get(uri)?.source.text ?? "", edits.filter((e) => e.uri === uri)));
  return analyse({ files, unreadable, ...(analysis.project.data && { data: analysis.project.data }), ...(analysis.project.recordings && { recordings: analysis.project.recordings }) }, analysis.asOf);
}

/** True where every build of these files has the same figures after a change as before it, whoever says them. */
export function leavesFigures(before: Analysis, after: Analysis, uris: readonly string[]): boolean {
  return uris.every((uri) => {
    const [old, fresh] = [builds(before, uri), builds(after, uri)];
    return old.length === fresh.length && old.every((s, i) => figuresOf(s) === figuresOf(fresh[i] as SubjectResult));
  });
}

function builds(analysis: Analysis, uri: string): readonly SubjectResult[] {
  return (analysis.fileResult(uri)?.subjects ?? []).filter((s) => s.build.subject.sort === "build");
}

function figuresOf({ build }: SubjectResult): string {
  // A source says of whom a figure is, not what it is.
  const all = [...build.slots.values()].flatMap((slot) => {
    const current = effective(slot);
    return current && slot.key.key !== "source" ? [`${slot.path}: ${plainValue(current.fact.value)}`] : [];
  });
  return all.sort().join("\n");
}
