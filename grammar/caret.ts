// Says where in a declaration a caret stands, for completion. Knows places, not what may stand there.
import type { IToken } from "chevrotain";
import { layOut } from "./layout.ts";
import { lex } from "./lexer.ts";
import {
  Asym, Colon, Comma, Compare, DigitRun, Doc, endOf, Key, LayoutClose, LeftBrace, LeftParen, MetricThread, Minus, Newline, Pipe, PlusMinus, Print, RightBrace,
  Semicolon, StrayBrace, Text as TextToken, Then, To, Unit, Unknown, Word,
} from "./tokens.ts";
import type { DeclarationTree, Item, Phrase, Span, Text } from "./tree.ts";

/**
 * `item`: a key or a statement may begin here. `head`: a further part of a statement. `value`: a figure, word or list item of an
 * entry. `unit`: straight after a figure. `qualifier`: after a unit. `cell`: inside a table row. `comment` and `string`: inside those.
 */
export type Slot = "item" | "head" | "value" | "unit" | "qualifier" | "cell" | "comment" | "string";

export interface Caret {
  /** The phrases whose blocks the caret stands in, from the declaration inwards. */
  readonly path: readonly Phrase[];
  readonly slot: Slot;
  /** The text left of the caret that a completion replaces; empty with a span of no width at an empty place. */
  readonly token: Text;
  /** The whole token the caret stands in or at the end of; equal to `token.span` at an empty place. */
  readonly whole: Span;
  /** The key of the entry whose value the caret stands in. */
  readonly key?: Text;
  /** What stands on the item before the token at hand, key and statement word included. */
  readonly before: readonly Text[];
  /** The column of a table cell, from zero. */
  readonly column?: number;
}

interface OpenBlock {
  readonly item: number;
  readonly indent: number;
}

/** The place of the caret at `offset` (from the declaration's start). Works in broken text and at empty places. */
export function caretAt(tree: DeclarationTree, offset: number): Caret {
  const { text } = tree;
  const at = Math.max(0, Math.min(offset, text.length));
  const { tokens: lexed, comments } = lex(text);
  const { tokens, comments: docs } = layOut(text, lexed);
  const open: OpenBlock[] = [];
  let item: IToken[] = [];
  const column = columnsBefore(text, at);
  let touched: IToken | undefined;
  for (let i = 0; i < tokens.length; i++) {
    const token = tokens[i] as IToken;
    if (token.tokenType === LayoutClose) {
      if (closesBefore(tokens, i, at)) open.pop();
      else if (open.length > 0 && column <= (open[open.length - 1] as OpenBlock).indent) open.pop();
      item = [];
      continue;
    }
    if (token.startOffset >= at) break;
    const type = token.tokenType;
    touched = at <= endOf(token) ? token : undefined;
    if (type === LeftBrace) {
      open.push({ item: item[0]?.startOffset ?? -1, indent: indentAt(text, token.startOffset) });
      item = [];
    } else if (type === RightBrace) {
      open.pop();
      item = [];
    } else if (type === Newline || type === Semicolon || type === StrayBrace || type === Doc) item = [];
    else {
      if (type === Key && item[0]?.tokenType !== Pipe) item = [];
      item.push(token);
    }
  }
  // Blocks that run to the end of the text: a caret on a line of its own, no deeper than their opening line, stands after them.
  if (nothingFollows(text, at) && text.slice(at - column, at).trim() === "" && column < at) {
    for (let top = open[open.length - 1]; top !== undefined && column <= top.indent && !hasClose(tree, top.item); top = open[open.length - 1]) open.pop();
  }
  const path = phrasesOf(tree, open.map((block) => block.item));
  const empty = { text: "", span: { start: at, end: at } };
  const comment = [...comments, ...docs, ...tokens.filter((token) => token.tokenType === Doc)].find((each) => inComment(each, at));
  if (comment !== undefined) return { path, slot: "comment", token: leftOf(text, comment.startOffset, at), whole: spanOf(comment), before: [] };
  if (touched?.tokenType === TextToken && (at < endOf(touched) || !isClosed(touched))) {
    return withKey({ path, slot: "string", token: leftOf(text, touched.startOffset, at), whole: spanOf(touched), before: item.slice(0, -1).map(textOf) }, item);
  }
  const word = wordAt(text, item, touched, at);
  const before = item.filter((token) => endOf(token) <= word.start);
  const token = word.start === at ? empty : leftOf(text, word.start, at);
  const texts = before.map(textOf);
  if (word.unit && touched !== undefined) texts.push({ text: text.slice(touched.startOffset, word.start), span: { start: touched.startOffset, end: word.start } });
  return withKey({ path, token, whole: { start: word.start, end: Math.max(word.end, at) }, before: texts, ...slotOf(before, word.unit) }, before);
}

function withKey(caret: Caret, item: readonly IToken[]): Caret {
  const first = item[0];
  return first?.tokenType === Key && item.length > 1 ? { ...caret, key: textOf(first) } : caret;
}

function spanOf(token: IToken): Span {
  return { start: token.startOffset, end: endOf(token) };
}

function textOf(token: IToken): Text {
  return { text: token.image, span: spanOf(token) };
}

function leftOf(text: string, start: number, at: number): Text {
  return { text: text.slice(start, at), span: { start, end: at } };
}

function isClosed(token: IToken): boolean {
  return token.image.length > 1 && token.image.endsWith('"');
}

/** A line comment goes on to the line's end, caret behind it included; a block comment ends before it. */
function inComment(token: IToken, at: number): boolean {
  const ends = endOf(token);
  return token.startOffset < at && (at < ends || (at === ends && !(token.image.startsWith("/*") && token.image.endsWith("*/") && token.image.length > 3)));
}

function columnsBefore(text: string, at: number): number {
  let start = at;
  while (start > 0 && text.charCodeAt(start - 1) !== 10 && text.charCodeAt(start - 1) !== 13) start--;
  return at - start;
}

function indentAt(text: string, offset: number): number {
  const start = offset - columnsBefore(text, offset);
  let at = start;
  while (text.charCodeAt(at) === 32 || text.charCodeAt(at) === 9) at++;
  return at - start;
}

/** Whether the line that closes a block by layout begins before the caret. */
function closesBefore(tokens: readonly IToken[], close: number, at: number): boolean {
  for (let i = close + 1; i < tokens.length; i++) {
    const token = tokens[i] as IToken;
    if (token.tokenType !== LayoutClose && token.tokenType !== Newline) return token.startOffset < at;
  }
  return false;
}

function nothingFollows(text: string, at: number): boolean {
  return text.slice(at).trim() === "";
}

function hasClose(tree: DeclarationTree, start: number): boolean {
  return phrasesOf(tree, [start])[0]?.block?.closed === true;
}

/** The word that a completion at `at` would replace: from its start to its end. `unit`: letters glued to digits. */
function wordAt(text: string, item: readonly IToken[], touched: IToken | undefined, at: number): { readonly start: number; readonly end: number; readonly unit: boolean } {
  const none = { start: at, end: at, unit: false };
  if (touched === undefined || touched !== item[item.length - 1]) return none;
  const type = touched.tokenType;
  const start = touched.startOffset;
  if (type === DigitRun && touched.payload === "mark") {
    const letters = /^[\d.]+(?=[^\d.])/.exec(text.slice(start, at));
    if (letters !== null) return { start: start + letters[0].length, end: endOf(touched), unit: true };
  }
  if (type === Word || type === Key || type === Unit || type === MetricThread || type === Then || type === DigitRun || type === Print || type === TextToken) return { start, end: endOf(touched), unit: false };
  const previous = item[item.length - 2];
  const glue = type === Minus || (type === Unknown && /^[._·]$/.test(touched.image));
  if (glue && previous !== undefined && (previous.tokenType === Word || previous.tokenType === Unit) && endOf(previous) === start) return { start: previous.startOffset, end: at, unit: false };
  return none;
}

function isFigure(token: IToken): boolean {
  return token.tokenType === Asym || (token.tokenType === DigitRun && token.payload !== "date" && token.payload !== "thread" && token.payload !== "mark");
}

function slotOf(before: readonly IToken[], unit: boolean): { readonly slot: Slot; readonly column?: number } {
  const first = before[0];
  const last = before[before.length - 1];
  if (first === undefined || last === undefined) return { slot: "item" };
  if (first.tokenType === Pipe) {
    const column = before.filter((token) => token.tokenType === Pipe).length - 1;
    return { slot: unit || isFigure(last) || last.tokenType === LeftParen ? "unit" : "cell", column };
  }
  if (unit || isFigure(last)) return { slot: "unit" };
  if (first.tokenType === Key) {
    if (before.length < 2) return { slot: "item" };
    if (last.tokenType === Unit) return { slot: "qualifier" };
    const type = last.tokenType;
    if (type === Colon || type === Comma || type === Then || type === To || type === PlusMinus || type === Compare) return { slot: "value" };
    let start = before.length;
    while (start > 0 && ![Comma, Then, Colon].includes((before[start - 1] as IToken).tokenType)) start--;
    return { slot: before.slice(start).some(isFigure) ? "qualifier" : "value" };
  }
  if (first.tokenType === Word) return { slot: last.tokenType === Unit ? "qualifier" : "head" };
  return { slot: "item" };
}

/** The phrases whose words begin at the given offsets, each inside the one before it. */
function phrasesOf(tree: DeclarationTree, starts: readonly number[]): Phrase[] {
  const path: Phrase[] = [];
  let items: readonly Item[] = tree.phrase === undefined ? tree.stray : [tree.phrase, ...tree.stray];
  for (const start of starts) {
    const found = items.find((item): item is Phrase => item.kind === "phrase" && item.word.span.start === start);
    if (found === undefined) continue;
    path.push(found);
    items = found.block?.items ?? [];
  }
  return path;
}
