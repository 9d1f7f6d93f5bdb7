// Reads a file's text, re-reading only the declarations that an edit touched. Knows no meaning and no other files.
import { findConflicts, readableText } from "./conflicts.ts";
import { manyDeclarations } from "./messages.ts";
import { parseDeclaration, unreadDeclaration } from "./parser.ts";
import { type PlacedTree, type SourceFile, carryLineStarts } from "./source-file.ts";
import { findStarts } from "./split.ts";
import type { DeclarationTree } from "./tree.ts";

/** Files whose text holds a block comment that is never closed: an edit anywhere below may close it. */
const withOpenComment = new WeakSet<SourceFile>();

/** The trees of a text. Declarations of `previous` whose text is unchanged are taken over as they are. */
export function readSource(uri: string, text: string, previous?: SourceFile): SourceFile {
  if (previous !== undefined && previous.text === text && previous.uri === uri) return previous;
  const conflicts = findConflicts(text);
  const before = previous?.conflicts ? { ...previous, text: readableText(previous.text, previous.conflicts) } : previous;
  if (before && previous && withOpenComment.has(previous)) withOpenComment.add(before);
  if (conflicts.length === 0) return readWhole(uri, text, before);
  const read = readWhole(uri, readableText(text, conflicts), before);
  const file = { ...read, text, conflicts };
  if (withOpenComment.has(read)) withOpenComment.add(file);
  return file;
}

/** More than any shop keeps in one file. */
export const MOST_DECLARATIONS = 20_000;

/** `afresh`: where each declaration begins is found anew from the top, and only trees are taken over. */
function readWhole(uri: string, text: string, previous: SourceFile | undefined, afresh = false): SourceFile {
  const known = previous === undefined || afresh || withOpenComment.has(previous) || previous.declarations.length > MOST_DECLARATIONS ? [] : previous.declarations;
  const head = unchangedHead(text, known);
  const tail = unchangedTail(text, known, previous?.text.length ?? 0, head);
  // A declaration's own end hangs on what follows it, so the two before the edit are cut anew (and found unchanged by their text).
  const kept = Math.max(0, head - 2);
  const from = known[kept]?.start ?? 0;
  const shiftBy = text.length - (previous?.text.length ?? 0);
  const tailStarts = new Map<number, number>();
  for (let i = tail; i < known.length; i++) tailStarts.set((known[i] as PlacedTree).start + shiftBy, i);
  let joined = known.length;
  let found = kept;
  const { starts, openComment } = findStarts(text, from, (start) => {
    if (++found === MOST_DECLARATIONS) return true;
    const at = tailStarts.get(start);
    if (at === undefined) return false;
    joined = at;
    return true;
  });
  if (known.length > 0 && (found >= MOST_DECLARATIONS || found + known.length - joined >= MOST_DECLARATIONS)) return readWhole(uri, text, previous, true);
  const bounds = [from];
  for (const start of starts) bounds.push(start);
  if (joined === known.length) bounds.push(text.length);
  // A tree stands in one place: of two declarations with the same text each takes one of its own.
  const reusable = new Map<string, DeclarationTree[]>();
  const loose = known.length > 0 ? known.slice(kept, joined) : (previous?.declarations ?? []);
  for (const { tree } of loose) {
    const same = reusable.get(tree.text);
    if (same) same.push(tree);
    else reusable.set(tree.text, [tree]);
  }
  const declarations: PlacedTree[] = known.slice(0, kept);
  for (let i = 0; i + 1 < bounds.length; i++) {
    const start = bounds[i] as number;
    const own = text.slice(start, bounds[i + 1]);
    const tree = i === MOST_DECLARATIONS - kept ? unreadDeclaration(detached(own), (span) => manyDeclarations(MOST_DECLARATIONS, span)) : (reusable.get(own)?.shift() ?? parseDeclaration(detached(own)));
    declarations.push({ start, tree });
  }
  for (let i = joined; i < known.length; i++) {
    const { start, tree } = known[i] as PlacedTree;
    declarations.push({ start: start + shiftBy, tree });
  }
  const file = { uri, text, declarations };
  if (openComment) withOpenComment.add(file);
  if (previous !== undefined && known.length > 0) carryLineStarts(file, previous, from, joined < known.length ? (known[joined] as PlacedTree).start + shiftBy : text.length, shiftBy);
  return file;
}

/** How many declarations from the first on stand unchanged in `text`. */
function unchangedHead(text: string, known: readonly PlacedTree[]): number {
  let count = 0;
  while (count < known.length) {
    const { start, tree } = known[count] as PlacedTree;
    if (!text.startsWith(tree.text, start)) break;
    count++;
  }
  return count;
}

/** The index of the first declaration from which on all stand unchanged at the end of `text`. */
function unchangedTail(text: string, known: readonly PlacedTree[], oldLength: number, head: number): number {
  const shiftBy = text.length - oldLength;
  let index = known.length;
  while (index > head) {
    const { start, tree } = known[index - 1] as PlacedTree;
    if (start + shiftBy < 0 || !text.startsWith(tree.text, start + shiftBy)) break;
    index--;
  }
  return index;
}

/** A copy that does not keep the whole text of its version of the file alive. */
function detached(slice: string): string {
  return (" " + slice).slice(1);
}
