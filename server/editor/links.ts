// Files that a text names (used files, tunes, recordings, pictures), and what to rewrite when one of them moves. Knows no protocol.
import type { Span } from "../../grammar/tree.ts";
import { type ProjectFile, canonicalUri, figuresNamedBy, resolveUse } from "../model/project.ts";
import type { RecordFact } from "../model/declaration.ts";
import type { Analysis } from "../workspace/analyse.ts";
import type { FileEdit } from "./fixes.ts";

export interface FileLink {
  /** The path inside the quotes. */
  readonly span: Span;
  readonly path: string;
  readonly target: string;
  readonly words: string;
}

const LINKING: Readonly<Record<string, string>> = { tune: "Open the tune file", log: "Open the recording", photo: "Open the picture", document: "Open the document" };

export function linksOf(file: ProjectFile): FileLink[] {
  const out: FileLink[] = [];
  file.declarations.forEach((d, i) => {
    const start = file.source.declarations[i]?.start ?? 0;
    const add = (quoted: Span, path: string, words: string) => {
      if (path !== "") out.push({ span: { start: quoted.start + start + 1, end: quoted.start + start + 1 + path.length }, path, target: resolveUse(file.uri, path), words });
    };
    if (d.path) add(d.path.span, d.path.text, "Open the used file");
    for (const path of figuresNamedBy(d)) add(path.span, path.text, "Open the file of figures");
    const visit = (record: RecordFact): void => {
      const words = LINKING[record.word];
      const string = record.head.find((p) => p.kind === "string");
      if (words && string?.kind === "string") add(string.span, string.text, words);
      record.records.forEach(visit);
    };
    d.records.forEach(visit);
  });
  return out;
}

/** The edits that keep every path right when files get new names: paths to them, and their own paths when they move to another folder. */
export function editsForMoves(analysis: Analysis, moves: readonly { readonly from: string; readonly to: string }[]): FileEdit[] {
  const moved = new Map(moves.map((m) => [canonicalUri(m.from), canonicalUri(m.to)]));
  const edits: FileEdit[] = [];
  for (const file of analysis.project.files.values()) {
    const home = moved.get(file.uri) ?? file.uri;
    for (const link of linksOf(file)) {
      const target = moved.get(link.target) ?? link.target;
      if (home === file.uri && target === link.target) continue;
      const path = relativePath(home, target);
      if (path !== undefined && path !== link.path) edits.push({ uri: file.uri, span: link.span, text: path });
    }
  }
  return edits;
}

/** The path from one file to another, as one would type it; undefined across schemes or hosts. */
export function relativePath(from: string, to: string): string | undefined {
  const split = (uri: string) => /^([a-z][a-z0-9+.-]*:\/\/[^/]*)?([^]*)$/i.exec(uri);
  const b = split(to);
  // A file that has not been saved yet stands where it will be saved.
  const a = split(/^untitled:\//.test(from) ? `${b?.[1] ?? ""}${from.slice("untitled:".length)}` : from);
  if (!a || !b || (a[1] ?? "") !== (b[1] ?? "")) return undefined;
  const here = (a[2] ?? "").split("/").slice(0, -1);
  const there = (b[2] ?? "").split("/");
  let same = 0;
  while (same < here.length && same < there.length - 1 && here[same] === there[same]) same++;
  const steps = [...here.slice(same).map(() => ".."), ...there.slice(same)];
  try {
    return steps.map(decodeURIComponent).join("/");
  } catch {
    return steps.join("/");
  }
}
