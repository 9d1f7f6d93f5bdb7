// A file's text cut into declarations, and offsets turned into lines and columns. Knows nothing of what a declaration says.
import type { Conflict } from "./conflicts.ts";
import type { DeclarationTree, Span } from "./tree.ts";

/** A declaration's place in its file. The tree's offsets are relative to `start`. */
export interface PlacedTree {
  readonly start: number;
  readonly tree: DeclarationTree;
}

export interface SourceFile {
  readonly uri: string;
  readonly text: string;
  /** In order, covering the whole text without gaps. Where git left both sides of a merge, the trees read the first side and blanks. */
  readonly declarations: readonly PlacedTree[];
  /** Where git left both sides of a merge; absent where it did not. */
  readonly conflicts?: readonly Conflict[];
}

export interface Position {
  /** From zero. */
  readonly line: number;
  /** UTF-16 code units from zero. */
  readonly character: number;
}

/** Offsets of line starts; LF, CRLF and lone CR end a line. */
export function lineStarts(text: string): number[] {
  const starts = [0];
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 13 && text.charCodeAt(i + 1) === 10) i++;
    if (c === 10 || c === 13) starts.push(i + 1);
  }
  return starts;
}

const startsOf = new WeakMap<SourceFile, readonly number[]>();

/** The line starts of a file, found once for as long as it lives. */
export function lineStartsOf(file: SourceFile): readonly number[] {
  let starts = startsOf.get(file);
  if (!starts) startsOf.set(file, (starts = lineStarts(file.text)));
  return starts;
}

/**
 * Tells a file its line starts from those of the file it was before, where those are known: up to `head` the texts are the same, and from `tail`
 * on as well, moved by `by`. `tail` counts in the new text.
 */
export function carryLineStarts(file: SourceFile, previous: SourceFile, head: number, tail: number, by: number): void {
  const known = startsOf.get(previous);
  if (!known) return;
  const { text } = file;
  // Whether a line starts somewhere hangs on the characters before and at that place: those must lie in what is the same.
  let count = positionAt(known, Math.max(0, head - 1)).line + 1;
  if (count > 1 && (known[count - 1] as number) >= head) count--;
  const starts = known.slice(0, Math.max(1, count));
  for (let i = starts[starts.length - 1] as number; i < tail; i++) {
    const c = text.charCodeAt(i);
    if (c === 13 && text.charCodeAt(i + 1) === 10) i++;
    if (c === 10 || c === 13) starts.push(i + 1);
  }
  const from = tail - by;
  const last = starts[starts.length - 1] as number;
  for (let i = positionAt(known, from).line; i < known.length; i++) {
    const start = (known[i] as number) + by;
    if (start > tail && start > last) starts.push(start);
  }
  startsOf.set(file, starts);
}

/** The position of an offset, clamped to the text. */
export function positionAt(starts: readonly number[], offset: number): Position {
  let low = 0;
  let high = starts.length;
  while (low + 1 < high) {
    const mid = (low + high) >> 1;
    if ((starts[mid] as number) <= offset) low = mid;
    else high = mid;
  }
  return { line: low, character: Math.max(0, offset - (starts[low] ?? 0)) };
}

/** The offset of a position, clamped to its line's extent and the text. */
export function offsetAt(starts: readonly number[], textLength: number, position: Position): number {
  const start = starts[Math.min(position.line, starts.length - 1)] ?? 0;
  const next = position.line + 1 < starts.length ? (starts[position.line + 1] as number) : textLength;
  return Math.max(0, Math.min(start + position.character, next, textLength));
}

export function shift(span: Span, by: number): Span {
  return { start: span.start + by, end: span.end + by };
}
