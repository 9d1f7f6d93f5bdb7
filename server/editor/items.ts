// Items of a block as a hand would take them out or put them in: with their line, their semicolon and the explanation above them. Knows the
// text's layout; knows no meaning.
import type { Block, DeclarationTree, Entry, Item, Phrase, Span } from "../../grammar/tree.ts";
import type { Edit } from "../rules/finding.ts";

/** The line ending that a text uses. */
export function lineEndOf(text: string): string {
  return /\r\n|\n|\r/.exec(text)?.[0] ?? "\n";
}

/** The blanks that the line of an offset begins with. */
export function indentAt(text: string, offset: number): string {
  return /^[ \t]*/.exec(text.slice(lineStart(text, offset)))?.[0] ?? "";
}

/** True where a block's braces stand on different lines. */
export function isTall(text: string, block: Block): boolean {
  return /[\r\n]/.test(text.slice(block.span.start, block.span.end));
}

/** What is taken out of a text with an item: the explanation above it, and its line or its semicolon. */
export function removalOf(text: string, item: Entry | Phrase): Span {
  const start = Math.min(item.span.start, ...item.docs.map((d) => d.span.start));
  const from = lineStart(text, start);
  const to = lineStop(text, item.span.end);
  const before = text.slice(from, start);
  const after = text.slice(item.span.end, to);
  if (before.trim() === "" && /^[ \t]*(?:;[ \t]*)?$/.test(after)) return { start: from, end: to + (/^\r\n|^[\r\n]/.exec(text.slice(to))?.[0].length ?? 0) };
  const next = /^[ \t]*;[ \t]*/.exec(after);
  if (next) return { start, end: item.span.end + next[0].length };
  // Blanks are looked for from the end: a pattern would try every blank of a long line as the first.
  const upTo = withoutBlanks(before, before.length);
  return before[upTo - 1] === ";" ? { start: from + withoutBlanks(before, upTo - 1), end: item.span.end } : { start, end: item.span.end };
}

function withoutBlanks(text: string, end: number): number {
  let at = end;
  while (at > 0 && (text[at - 1] === " " || text[at - 1] === "\t")) at--;
  return at;
}

/** A further item on a line of its own after another one of the same block, or first in the block. */
export function insertionAfter(tree: DeclarationTree, block: Block, item: Item | undefined, words: string): Edit {
  const { text } = tree;
  const eol = lineEndOf(text);
  const put = (at: number, inserted: string): Edit => ({ tree, span: { start: at, end: at }, text: inserted });
  if (!isTall(text, block)) {
    const close = block.closed ? block.span.end - 1 : block.span.end;
    const used = text.slice(block.span.start + 1, close).trimEnd();
    const at = block.span.start + 1 + used.length;
    return put(at, `${used.trim() === "" || used.endsWith(";") ? " " : "; "}${words}${text.slice(at, close) === "" ? " " : ""}`);
  }
  if (!item) {
    const inner = block.items[0];
    const indent = inner ? indentAt(text, inner.span.start) : `${indentAt(text, block.span.start)}  `;
    return put(block.span.start + 1, `${eol}${indented(words, indent, eol)}`);
  }
  const stop = lineStop(text, item.span.end);
  const rest = text.slice(item.span.end, stop);
  // What opens or closes further along the line belongs to others.
  if (/[{}]/.test(rest.replace(/"[^"]*"?|\/\/.*/g, ""))) return put(item.span.end, `; ${words.replace(/\s+/g, (blank) => (/[\r\n]/.test(blank) ? " " : blank))}`);
  return put(stop, `${eol}${indented(words, indentAt(text, item.span.start), eol)}`);
}

/** The innermost phrase, in a block over several lines, that a span stands inside of; the declaration's own phrase at the least. */
export function tallPhraseAround(tree: DeclarationTree, span: Span): { readonly phrase: Phrase; readonly block: Block; readonly item: Item | undefined } | undefined {
  let found: { phrase: Phrase; block: Block; item: Item | undefined } | undefined;
  for (let phrase = tree.phrase; phrase?.block; ) {
    const block: Block = phrase.block;
    const item: Item | undefined = block.items.find((i) => i.span.start <= span.start && i.span.end >= span.end);
    if (!found || (isTall(tree.text, block) && span.start > block.span.start && span.end < block.span.end)) found = { phrase, block, item };
    phrase = item?.kind === "phrase" ? item : undefined;
  }
  return found;
}

export function indented(words: string, indent: string, eol: string): string {
  return words.split("\n").map((line) => (line === "" ? line : indent + line)).join(eol);
}

function lineStart(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && text[at - 1] !== "\n" && text[at - 1] !== "\r") at--;
  return at;
}

function lineStop(text: string, offset: number): number {
  let at = offset;
  while (at < text.length && text[at] !== "\n" && text[at] !== "\r") at++;
  return at;
}
