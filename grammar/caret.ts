// Says where in a declaration a caret stands, for completion, hover and selection. Knows places, not what may stand there.
import type { IToken } from "chevrotain";
import { layOut } from "./layout.ts";
import { lex } from "./lexer.ts";
import {
  Asym, Colon, Comma, Compare, DigitRun, Doc, End, endOf, Key, LayoutClose, LeftBrace, LeftParen, MetricThread, Minus, Newline, Pipe, PlusMinus, Print, RightBrace,
  StrayBrace, Text as TextToken, Then, To, Unit, Unknown, Word,
} from "./tokens.ts";
import type { Block, Cell, Comment, DeclarationTree, Entry, Item, Part, Phrase, Row, Span, Text, Value } from "./tree.ts";

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
    } else if (type === Newline || isEnd(token) || type === StrayBrace || type === Doc) item = [];
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

function isEnd(token: IToken): boolean {
  return (token.tokenType.CATEGORIES ?? []).includes(End);
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

// --- nodes -----------------------------------------------------------------------------------------------------------

/** A node of the tree with its span, for hover and for growing a selection. */
export type TreeNode =
  | { readonly kind: "declaration"; readonly node: DeclarationTree; readonly span: Span }
  | { readonly kind: "comment"; readonly node: Comment; readonly span: Span }
  | { readonly kind: "phrase"; readonly node: Phrase; readonly span: Span }
  | { readonly kind: "block"; readonly node: Block; readonly span: Span }
  | { readonly kind: "entry"; readonly node: Entry; readonly span: Span }
  | { readonly kind: "value"; readonly node: Value; readonly span: Span }
  | { readonly kind: "row"; readonly node: Row; readonly span: Span }
  | { readonly kind: "cell"; readonly node: Cell; readonly span: Span }
  | { readonly kind: "part"; readonly node: Part; readonly span: Span }
  /** A statement word, key, doc line, unit, run of digits or word of a cell's brackets. */
  | { readonly kind: "word" | "key" | "doc" | "unit" | "digits" | "note"; readonly node: Text; readonly span: Span }
  | { readonly kind: "hole" | "junk"; readonly node: Item; readonly span: Span };

/** The nodes that hold `offset`, from the declaration down to the smallest. A node holds the places at both its ends. */
export function nodeAt(tree: DeclarationTree, offset: number): TreeNode[] {
  const chain: TreeNode[] = [{ kind: "declaration", node: tree, span: { start: 0, end: tree.text.length } }];
  for (let node = chain[0]; node !== undefined;) {
    let next: TreeNode | undefined;
    // Of two that meet at the caret, the one that begins there wins.
    for (const child of childrenOf(node)) if (child.span.start <= offset && offset <= child.span.end) next = child;
    if (next !== undefined) chain.push(next);
    node = next;
  }
  const comment = tree.comments.find(({ span }) => span.start <= offset && offset <= span.end);
  if (comment !== undefined) chain.push({ kind: "comment", node: comment, span: comment.span });
  return chain;
}

function childrenOf({ kind, node }: TreeNode): TreeNode[] {
  switch (kind) {
    case "declaration": return [...(node.phrase === undefined ? [] : itemNodes(node.phrase)), ...node.stray.flatMap(itemNodes)];
    case "phrase": return [named("word", node.word), ...node.head.map(partNode), ...(node.block === undefined ? [] : [{ kind: "block" as const, node: node.block, span: node.block.span }])];
    case "block": return node.items.flatMap(itemNodes);
    case "entry": return [named("key", node.key), ...node.values.map((value): TreeNode => ({ kind: "value", node: value, span: value.span }))];
    case "value": return node.parts.map(partNode);
    case "row": return node.cells.map((cell): TreeNode => ({ kind: "cell", node: cell, span: cell.span }));
    case "cell": return [...node.parts.map(partNode), ...(node.unit === undefined ? [] : [named("unit", node.unit)]), ...node.words.map((word) => named("note", word))];
    case "part": return partChildren(node);
    default: return [];
  }
}

function named(kind: "word" | "key" | "doc" | "unit" | "digits" | "note", node: Text): TreeNode {
  return { kind, node, span: node.span };
}

function partNode(node: Part): TreeNode {
  return { kind: "part", node, span: node.span };
}

/** An item and, beside it, its doc lines, which stand before its span. */
function itemNodes(item: Item): TreeNode[] {
  switch (item.kind) {
    case "phrase": return [...item.docs.map((doc) => named("doc", doc)), { kind: "phrase", node: item, span: item.span }];
    case "entry": return [...item.docs.map((doc) => named("doc", doc)), { kind: "entry", node: item, span: item.span }];
    case "row": return [{ kind: "row", node: item, span: item.span }];
    case "hole": return [{ kind: "hole", node: item, span: item.span }];
    case "junk": return [{ kind: "junk", node: item, span: item.span }];
  }
}

function partChildren(part: Part): TreeNode[] {
  const parts = (...found: (Part | undefined)[]): TreeNode[] => found.filter((each): each is Part => each !== undefined).map(partNode);
  switch (part.kind) {
    case "figure": return [named("digits", part.digits), ...(part.unit === undefined ? [] : [named("unit", part.unit)])];
    case "range": return parts(part.low, part.high);
    case "tolerance": return part.plus === part.minus ? parts(part.centre, part.plus) : parts(part.centre, part.plus, part.minus);
    case "compare": case "signed": return parts(part.operand);
    case "binary": return parts(part.left, part.right);
    case "group": return [...part.inner.map(partNode), ...(part.unit === undefined ? [] : [named("unit", part.unit)])];
    default: return [];
  }
}
