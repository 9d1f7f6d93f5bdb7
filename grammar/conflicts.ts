// The places of a text where git could not merge two states by itself and left both with its marks. Knows git's marks and line ends, nothing of
// the language.
import type { Span } from "./tree.ts";

export interface Conflict {
  /** From the first mark to the end of the last mark's line, its line end left out. */
  readonly span: Span;
  /** The line of the first mark, without its line end. */
  readonly mark: Span;
  /** Whole lines with their line ends; empty where that side took everything out. */
  readonly ours: Span;
  readonly theirs: Span;
  /** What git calls the two: "HEAD", "springs". Empty where it says nothing. */
  readonly ourName: string;
  readonly theirName: string;
}

const MARKED = /^(<{7}|\|{7}|>{7})(?: ([^\r\n]*))?$|^={7}$/gm;

/** Every conflict that is marked whole, in order. A text without one costs one search. */
export function findConflicts(text: string): readonly Conflict[] {
  if (!text.includes("<<<<<<<")) return NONE;
  const found: Conflict[] = [];
  let open: { mark: Span; ours: number; ourEnd?: number; middle?: number; theirs?: number; name: string } | undefined;
  // A line that ends in CR LF still ends with its mark.
  for (const mark of text.matchAll(new RegExp(MARKED.source.replaceAll("$", "(?=\\r?$)"), MARKED.flags))) {
    const start = mark.index;
    const end = start + mark[0].length;
    const next = afterLine(text, end);
    const sort = mark[0].charAt(0);
    if (sort === "<") open = { mark: { start, end }, ours: next, name: mark[2] ?? "" };
    else if (!open) continue;
    else if (sort === "|" && open.ourEnd === undefined) open.ourEnd = start;
    else if (sort === "=" && open.theirs === undefined) {
      open.ourEnd ??= start;
      open.theirs = next;
    } else if (sort === ">" && open.theirs !== undefined && open.ourEnd !== undefined) {
      found.push({ span: { start: open.mark.start, end }, mark: open.mark, ours: { start: open.ours, end: open.ourEnd }, theirs: { start: open.theirs, end: start }, ourName: open.name, theirName: mark[2] ?? "" });
      open = undefined;
    }
  }
  return found;
}

const NONE: readonly Conflict[] = [];

/**
 * The text as the first side has it, of the same length: marks and the other side are blanked, so that every place stays where it is and the
 * rest of the file can be read.
 */
export function readableText(text: string, conflicts: readonly Conflict[]): string {
  let out = "";
  let at = 0;
  for (const { span, ours } of conflicts) {
    out += text.slice(at, span.start) + blanked(text.slice(span.start, ours.start)) + text.slice(ours.start, ours.end) + blanked(text.slice(ours.end, span.end));
    at = span.end;
  }
  return out + text.slice(at);
}

export type Side = "ours" | "theirs";

/** The text with each conflict settled for one side: for the first unless `theirs` says so. Places move. */
export function settledText(text: string, conflicts: readonly Conflict[], sideOf: (index: number) => Side): string {
  let out = "";
  let at = 0;
  conflicts.forEach((conflict, i) => {
    const side = conflict[sideOf(i)];
    out += text.slice(at, conflict.span.start) + text.slice(side.start, side.end);
    at = afterLine(text, conflict.span.end);
  });
  return out + text.slice(at);
}

function blanked(text: string): string {
  return text.replace(/[^\r\n]/g, " ");
}

function afterLine(text: string, end: number): number {
  let at = end;
  if (text.charCodeAt(at) === 13) at++;
  if (text.charCodeAt(at) === 10) at++;
  return at;
}
