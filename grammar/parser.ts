// Turns the tokens of one declaration into its tree. Total: every token sequence parses, and what fits nowhere costs its own line only.
//
//   items       = { Newline | ";" | item } .                                (* a declaration is items, of which one is to be its phrase *)
//   block       = "{" items [ "}" | LayoutClose ] .                         (* without either, the text has ended *)
//   item        = Doc | entry | row | phrase | "…" rest | Misfit rest .
//   rest        = { Rest } .                                                (* what is left of a damaged line *)
//   entry       = Key ":" [ value ] { ( "," [ "then" ] | "then" ) [ value ] } rest [ block ] .    (* with a block: a phrase with a colon too many *)
//   phrase      = Word parts rest [ block ] .
//   parts       = { part | "," } .
//   value       = part { part } .
//   part        = Compare [ sum ] | "±" [ sum ] | ".." [ sum ] | sum [ ".." [ sum ] | "±" [ sum ] | Asym [ Unit ] ] .
//   sum         = operand { Operator [ operand ] } .                        (* a sign glued to its right side only begins a new part *)
//   operand     = atom | Sign { Sign } [ atom ] .
//   atom        = DigitRun [ Unit ] | Word | Text | MetricThread | Print | "…" [ Unit ] | group .
//   group       = "(" parts [ ")" [ Unit ] ] .
//   row         = "|" { "|" | cell } .
//   cell        = { "-" | "(" [ Unit ] { Word } [ ")" ] | part | CellRest }- .    (* once at least *)
//
// Optional where a builder must write something means that its absence is a problem in `messages`, not a failure to parse.
// Each rule is a method of the same name. The token at hand alone decides: a rule that does not begin with it takes nothing.
import type { IToken, TokenType } from "chevrotain";
import { declarationOf } from "./declaration.ts";
import { figureOf } from "./figure.ts";
import { DEPTH_LIMIT, inserted, layOut } from "./layout.ts";
import { lex } from "./lexer.ts";
import * as messages from "./messages.ts";
import { asymmetric, commentOf, docOf, grouped, over, range, spanOf, stringOf, textOf, tolerance } from "./parts.ts";
import {
  Asym, blockCommentEnd, CELL_REST, Colon, Comma, Compare, DigitRun, Doc, endOf, EndOfText, Hole, Key, LayoutClose, LeftBrace, LeftParen, MetricThread, Minus, MISFITS, Newline, Pipe,
  Plus, PlusMinus, Print, REST, RightBrace, RightParen, Semicolon, Slash, Star, StrayBrace, Text as TextToken, Then, To, Unit, Word,
} from "./tokens.ts";
import type { Block, Cell, Comparison, DeclarationTree, Figure, Item, Part, Row, Span, SyntaxProblem, Text, UnitRef, Value } from "./tree.ts";
import { RESERVED_WORDS, STATEMENT_WORDS } from "./vocabulary.ts";

const NOT_FIRST: ReadonlySet<string> = new Set(RESERVED_WORDS.filter((word) => !(STATEMENT_WORDS as readonly string[]).includes(word)));
const COMPARISONS: Readonly<Record<string, Comparison>> = { "≤": "<=", "≥": ">=", "<=": "<=", ">=": ">=", "<": "<", ">": ">" };
const NO_DOCS: readonly Text[] = [];

type Junk = Extract<Item, { kind: "junk" }>;

/** A place in the tokens, and what was found on the way to it. */
class Reading {
  readonly text: string;
  readonly problems: SyntaxProblem[];
  /** Doc lines that document nothing: comments after all. */
  readonly looseDocs: IToken[] = [];
  /** Doc lines read and not yet given to an item. */
  private docs: IToken[] = [];
  private readonly tokens: readonly IToken[];
  private at = 0;
  /** The token at hand. */
  protected next: IToken;
  /** The token before it. */
  protected last: IToken;

  constructor(text: string, tokens: readonly IToken[], problems: SyntaxProblem[]) {
    this.text = text;
    // No rule takes the end of the text, so that there always is a token at hand.
    this.tokens = [...tokens, inserted(EndOfText, text.length)];
    this.problems = problems;
    this.next = this.tokens[0] as IToken;
    this.last = this.next;
  }

  atEnd(): boolean {
    return this.next.tokenType === EndOfText;
  }

  protected take(): IToken {
    this.last = this.next;
    this.next = this.tokens[++this.at] as IToken;
    return this.last;
  }

  protected takeIf(type: TokenType): IToken | undefined {
    return this.next.tokenType === type ? this.take() : undefined;
  }

  protected takeUnit(): UnitRef | undefined {
    return this.next.tokenType === Unit ? textOf(this.take()) : undefined;
  }

  protected takeDoc(): void {
    this.docs.push(this.take());
  }

  /** The doc lines above the item that begins here. */
  protected docsHere(): readonly Text[] {
    if (this.docs.length === 0) return NO_DOCS;
    const docs = this.docs.map(docOf);
    this.docs = [];
    return docs;
  }

  protected dropDocs(): void {
    if (this.docs.length === 0) return;
    for (const one of this.docs) this.looseDocs.push(one);
    this.docs = [];
  }

  /** What is to stand behind `sign`, where nothing does. */
  protected missing(sign: IToken): Part {
    const end = endOf(sign);
    this.problems.push(messages.missingAfter(sign.image, spanOf(sign)));
    return { kind: "hole", span: { start: end, end } };
  }

  /** A plus or minus is binary when it is set apart, or glued, on both sides; `3 -2` are two figures. */
  protected atOperator(): boolean {
    const token = this.next;
    if (!isSign(token.tokenType)) return isOperator(token.tokenType);
    return isBlank(this.text, token.startOffset - 1) === isBlank(this.text, endOf(token));
  }

  protected atLoneDash(): boolean {
    if (this.next.tokenType !== Minus || this.last.tokenType !== Pipe) return false;
    const after = this.afterNext();
    return after === Pipe || after === RightBrace || after === LayoutClose || after === Newline || after === Semicolon || after === EndOfText;
  }

  protected atNote(): boolean {
    if (this.next.tokenType !== LeftParen) return false;
    const after = this.afterNext();
    return after === Unit || after === Word || after === RightParen;
  }

  private afterNext(): TokenType | undefined {
    return this.tokens[this.at + 1]?.tokenType;
  }

  protected misfit(first: IToken, span: Span): SyntaxProblem {
    if (first.tokenType === StrayBrace) return strayBrace(first);
    if (first.tokenType === Then) return messages.reservedStart("then", spanOf(first));
    if (first.tokenType === Colon) return messages.keyWithoutColon(spanOf(first));
    return messages.doesNotFit(this.text.slice(span.start, span.end), span);
  }

  protected leftOver(first: IToken, where: "value" | "head" | "cell" | "row"): Junk {
    const span = { start: first.startOffset, end: endOf(this.last) };
    this.problems.push(first.tokenType === StrayBrace ? strayBrace(first) : messages.restDoesNotFit(this.text.slice(span.start, span.end), span, where));
    return { kind: "junk", span };
  }

  /** Two figures with nothing between them, such as 12.5.3, are a slip of the fingers. */
  protected separate(left: Part, right: Part): void {
    if (left.kind === "figure" && right.kind === "figure" && left.span.end === right.span.start) this.problems.push(messages.gluedFigures(over(left, right)));
  }

  protected string(token: IToken): Part {
    const part = stringOf(token);
    if (part.kind === "string" && !part.closed) this.problems.push(messages.unclosedString(part.span, part.span.end));
    return part;
  }

  protected digitRun(token: IToken, unit: UnitRef | undefined): Part {
    const span = spanOf(token);
    switch (token.payload as string) {
      case "date": return { kind: "date", text: token.image, span };
      case "thread": return { kind: "thread", text: token.image, span };
      case "mark": return { kind: "mark", text: token.image, span };
      default: return figureOf(token.image, span, token.payload as Figure["form"], unit, this.problems);
    }
  }
}

class DeclarationParser extends Reading {
  items(): Item[] {
    const items: Item[] = [];
    for (;;) {
      const type = this.next.tokenType;
      if (type === Newline || type === Semicolon) this.take();
      else if (!this.item(items)) break;
    }
    this.dropDocs();
    return items;
  }

  private block(opener: string): Block | undefined {
    const left = this.takeIf(LeftBrace);
    if (left === undefined) return undefined;
    this.dropDocs();
    const items = this.items();
    let end = endOf(this.last);
    const closed = this.next.tokenType === RightBrace;
    if (closed) end = endOf(this.take());
    else {
      if (this.next.tokenType === LayoutClose) end = Math.max(endOf(left), this.take().startOffset);
      this.problems.push(messages.unclosedBlock(opener, spanOf(left)));
    }
    return { items, closed, span: { start: left.startOffset, end } };
  }

  /** Reads one item to the end of `items`, with what is left of its line behind it; false where none begins. */
  private item(items: Item[]): boolean {
    const type = this.next.tokenType;
    if (type === Key) this.entry(items);
    else if (type === Word) this.phrase(items);
    else if (type === Pipe) items.push(this.row());
    else if (type === Doc) this.takeDoc();
    else if (type === Hole) {
      this.dropDocs();
      items.push({ kind: "hole", span: spanOf(this.take()) });
      const junk = this.rest("row");
      if (junk !== undefined) items.push(junk);
    } else if (MISFITS.has(type)) {
      this.dropDocs();
      const first = this.take();
      while (REST.has(this.next.tokenType)) this.take();
      const span = { start: first.startOffset, end: endOf(this.last) };
      this.problems.push(this.misfit(first, span));
      items.push({ kind: "junk", span });
    } else return false;
    return true;
  }

  /** Skips what is left of a damaged line; it becomes a junk item of its own. */
  private rest(where: "value" | "head" | "row"): Junk | undefined {
    if (!REST.has(this.next.tokenType)) return undefined;
    const first = this.take();
    while (REST.has(this.next.tokenType)) this.take();
    return this.leftOver(first, where);
  }

  private entry(items: Item[]): void {
    const docs = this.docsHere();
    const key = this.take();
    const colon = this.take(); // the lexer makes a key only of what stands before one
    const first = this.value(false);
    const values = first === undefined ? [] : [first];
    for (;;) {
      const comma = this.takeIf(Comma);
      const then = this.takeIf(Then);
      const mark = then ?? comma;
      if (mark === undefined) break;
      const value = this.value(then !== undefined);
      if (value === undefined) this.problems.push(messages.missingAfter(mark.image, spanOf(mark)));
      else values.push(value);
    }
    const end = endOf(this.last);
    const junk = this.rest("value");
    const block = this.block(key.image);
    if (block === undefined) items.push({ kind: "entry", docs, key: textOf(key), values, span: { start: key.startOffset, end } });
    else {
      this.problems.push(messages.colonBeforeBlock(key.image, spanOf(colon)));
      items.push({ kind: "phrase", docs, word: textOf(key), head: values.flatMap((value) => value.parts), block, span: { start: key.startOffset, end: block.span.end } });
    }
    if (junk !== undefined) items.push(junk);
  }

  private phrase(items: Item[]): void {
    const docs = this.docsHere();
    const word = this.take();
    const head = this.parts();
    const end = endOf(this.last);
    const junk = this.rest("head");
    const block = this.next.tokenType === LeftBrace ? this.block(this.text.slice(word.startOffset, end)) : undefined;
    if (NOT_FIRST.has(word.image)) this.problems.push(messages.reservedStart(word.image, spanOf(word)));
    if (block === undefined) items.push({ kind: "phrase", docs, word: textOf(word), head, span: { start: word.startOffset, end } });
    else items.push({ kind: "phrase", docs, word: textOf(word), head, span: { start: word.startOffset, end: block.span.end }, block });
    if (junk !== undefined) items.push(junk);
  }

  private value(then: boolean): Value | undefined {
    const first = this.part();
    if (first === undefined) return undefined;
    const parts = [first];
    let last = first;
    for (let part = this.part(); part !== undefined; part = this.part()) {
      this.separate(last, part);
      parts.push(part);
      last = part;
    }
    return { parts, then, span: over(first, last) };
  }

  /** Parts with or without commas between them, which leave no trace. */
  private parts(): Part[] {
    // A list of one stays as short as it is: an empty one makes room for many at its first.
    const first = this.part();
    const parts = first === undefined ? [] : [first];
    for (;;) {
      const part = this.part();
      if (part !== undefined) parts.push(part);
      else if (this.takeIf(Comma) === undefined) return parts;
    }
  }

  private part(): Part | undefined {
    const first = this.sum();
    const type = this.next.tokenType;
    if (type === To) return range(first, this.take(), this.sum());
    if (type === PlusMinus) {
      const sign = this.take();
      return tolerance(first, sign, this.sum() ?? this.missing(sign));
    }
    if (first !== undefined) return type === Asym ? asymmetric(first, this.take(), this.takeUnit()) : first;
    if (type !== Compare) return undefined;
    const sign = this.take();
    const op = COMPARISONS[sign.image] ?? "<=";
    const operand = this.sum();
    if (operand !== undefined) return { kind: "compare", op, operand, span: { start: sign.startOffset, end: operand.span.end } };
    const span = spanOf(sign);
    this.problems.push(messages.missingBound(op, span));
    return { kind: "compare", op, operand: { kind: "hole", span: { start: span.end, end: span.end } }, span };
  }

  /** Sums and products in one flat rule; precedence is settled afterwards. */
  private sum(): Part | undefined {
    const first = this.operand();
    if (first === undefined || !this.atOperator()) return first;
    const operands: Part[] = [first];
    const operators: IToken[] = [];
    while (operators.length < DEPTH_LIMIT && this.atOperator()) {
      const operator = this.take();
      operators.push(operator);
      operands.push(this.operand() ?? this.missing(operator));
    }
    if (operators.length === DEPTH_LIMIT && isOperator(this.next.tokenType)) this.problems.push(messages.tooLong(DEPTH_LIMIT, spanOf(this.next)));
    return grouped(operands, operators);
  }

  private operand(): Part | undefined {
    const first = this.next;
    if (!isSign(first.tokenType)) return this.atom();
    // Signs beyond the first say nothing more than it does; a long run of them stays flat.
    let sign: "+" | "-" = "+";
    while (isSign(this.next.tokenType)) if (this.take().tokenType === Minus) sign = sign === "+" ? "-" : "+";
    const nearest = this.last;
    const operand = this.atom() ?? this.missing(nearest);
    return { kind: "signed", sign, operand, span: { start: first.startOffset, end: operand.span.end } };
  }

  private atom(): Part | undefined {
    const token = this.next;
    switch (token.tokenType) {
      case DigitRun: this.take(); return this.digitRun(token, this.takeUnit());
      case Word: this.take(); return { kind: "word", text: token.image, span: spanOf(token) };
      case TextToken: return this.string(this.take());
      case MetricThread: this.take(); return { kind: "thread", text: token.image, span: spanOf(token) };
      case Print: this.take(); return { kind: "print", text: token.image, span: spanOf(token) };
      // A figure that is still to come may have its unit already.
      case Hole: this.take(); return { kind: "hole", span: { start: token.startOffset, end: endOf(this.takeIf(Unit) ?? token) } };
      default: return this.group();
    }
  }

  private group(): Part | undefined {
    const left = this.takeIf(LeftParen);
    if (left === undefined) return undefined;
    const inner = this.parts();
    const start = left.startOffset;
    if (this.takeIf(RightParen) === undefined) this.problems.push(messages.unclosedParen(spanOf(left)));
    else {
      const unit = this.takeUnit();
      if (unit !== undefined) return { kind: "group", inner, span: { start, end: unit.span.end }, unit };
    }
    return { kind: "group", inner, span: { start, end: endOf(this.last) } };
  }

  private row(): Row {
    const cells: Cell[] = [];
    const first = this.take();
    let end = endOf(first);
    let filled = false;
    this.dropDocs();
    for (;;) {
      const pipe = this.takeIf(Pipe);
      if (pipe !== undefined) {
        if (!filled) cells.push({ parts: [], words: [], none: false, span: { start: end, end: pipe.startOffset } });
        filled = false;
        end = endOf(pipe);
        continue;
      }
      const cell = this.cell();
      if (cell === undefined) return { kind: "row", cells, span: { start: first.startOffset, end } };
      cells.push(cell);
      filled = true;
      end = cell.span.end;
    }
  }

  private cell(): Cell | undefined {
    const first = this.next;
    let parts: Part[] = [];
    const words: Text[] = [];
    let unit: UnitRef | undefined;
    let dash = false;
    for (;;) {
      if (this.atLoneDash()) {
        this.take();
        dash = true;
        continue;
      }
      if (this.atNote()) {
        const left = this.take();
        unit = this.takeUnit() ?? unit;
        while (this.next.tokenType === Word) words.push(textOf(this.take()));
        if (this.takeIf(RightParen) === undefined) this.problems.push(messages.unclosedParen(spanOf(left)));
        continue;
      }
      const part = this.part();
      if (part !== undefined) {
        if (parts.length === 0) parts = [part];
        else parts.push(part);
        continue;
      }
      const from = this.next;
      if (!CELL_REST.has(from.tokenType)) break;
      do this.take(); while (CELL_REST.has(this.next.tokenType) && !beginsFigureOrWord(this.next.tokenType));
      this.leftOver(from, "cell");
    }
    if (this.next === first) return undefined;
    const none = dash && parts.length === 0;
    const span = { start: first.startOffset, end: endOf(this.last) };
    return unit === undefined ? { parts, words, none, span } : { parts, words, none, span, unit };
  }
}

/** A sign before an operand. */
function isSign(type: TokenType): boolean {
  return type === Minus || type === Plus;
}

/** A sign between operands. */
function isOperator(type: TokenType): boolean {
  return isSign(type) || type === Star || type === Slash;
}

/** What a damaged cell is read on from. */
function beginsFigureOrWord(type: TokenType): boolean {
  return type === DigitRun || type === Word || type === TextToken || type === Hole || type === LeftParen || type === MetricThread || type === Print;
}

function strayBrace(token: IToken): SyntaxProblem {
  return token.image === "{" ? messages.strayOpen(spanOf(token)) : messages.strayClose(spanOf(token));
}

function isBlank(text: string, offset: number): boolean {
  const code = text.charCodeAt(offset);
  return offset < 0 || offset >= text.length || code === 32 || code === 9 || code === 10 || code === 13 || code === 0xa0;
}

/** The names of the grammar's rules, for the test that compares them with the grammar as stated above. */
export function ruleNames(): string[] {
  return Object.getOwnPropertyNames(DeclarationParser.prototype).filter((name) => name !== "constructor");
}

function contentSpan(text: string): Span {
  const start = text.length - text.trimStart().length;
  return { start, end: Math.max(start, text.trimEnd().length) };
}

/** Longer than anything that stands in a build file: what is, is damage, and would be answered in its thousands. In code units. */
export const LONGEST_DECLARATION = 256 * 1024;

/** A tree for text that is not read: kept as it is, with one problem on its first line. */
export function unreadDeclaration(text: string, problemAt: (span: Span) => SyntaxProblem): DeclarationTree {
  const span = contentSpan(text);
  const first = text.slice(span.start, span.end).search(/[\r\n]/);
  return { text, stray: [{ kind: "junk", span }], comments: [], problems: [problemAt({ start: span.start, end: first < 0 ? span.end : span.start + first })] };
}

/** The tree of one declaration's text. Never throws: an unexpected failure becomes one problem and one junk item. */
export function parseDeclaration(text: string): DeclarationTree {
  if (text.length > LONGEST_DECLARATION) return unreadDeclaration(text, (span) => messages.longDeclaration(LONGEST_DECLARATION, span));
  const lexed = lex(text);
  const laidOut = layOut(text, lexed.tokens);
  const problems = [...laidOut.problems];
  let looseDocs: readonly IToken[];
  let items: Item[];
  try {
    const parser = new DeclarationParser(text, laidOut.tokens, problems);
    items = parser.items();
    looseDocs = parser.looseDocs;
    if (!parser.atEnd()) throw new Error("a token that no rule takes");
  } catch {
    const span = contentSpan(text);
    return { text, stray: [{ kind: "junk", span }], comments: lexed.comments.map(commentOf), problems: [messages.unreadable(span)] };
  }
  for (const token of lexed.comments) {
    if (token.image.startsWith("/*") && !blockCommentEnd(token.image, 0).closed) problems.push(messages.unclosedComment(spanOf(token)));
  }
  const comments = [...lexed.comments, ...laidOut.comments, ...looseDocs].sort((a, b) => a.startOffset - b.startOffset).map(commentOf);
  return declarationOf(text, items, comments, problems);
}

