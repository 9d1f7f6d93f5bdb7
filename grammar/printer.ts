// Lays a text out: indents, aligns, closes table rows. Changes blanks only; digits, spellings and comments stay as written.
import type { IToken, TokenType } from "chevrotain";
import { joinedAt } from "./layout.ts";
import { lex } from "./lexer.ts";
import type { SourceFile } from "./source-file.ts";
import {
  Colon, Comma, Compare, DigitRun, Doc, endOf, Hole, Key, LeftBrace, LeftParen, Minus, Newline, Pipe, PlusMinus, RightBrace, RightParen, Semicolon, To, Unit, Word,
} from "./tokens.ts";
import type { DeclarationTree } from "./tree.ts";

const STEP = 2;
const CONTINUED = 4;

interface Line {
  /** Tokens and comments in order; a comment that ends the line is in `remark`. */
  readonly pieces: IToken[];
  remark: IToken | undefined;
  readonly depth: number;
  readonly continued: boolean;
  readonly blankBefore: boolean;
  /** What ended the line; empty at the end of the text. */
  eol: string;
  blankAfter: boolean;
}

/** The whole file laid out: one line end at the end, no blank lines at the start. A file that git could not merge is returned as written. */
export function format(file: SourceFile): string {
  if (file.conflicts) return file.text;
  let out = "";
  for (const { tree } of file.declarations) out += formatDeclaration(tree);
  const body = out.replace(/^(\ufeff?)(?:[ \t]*(?:\r\n?|\n))+/, "$1");
  const trimmed = body.trimEnd();
  if (trimmed === "" || trimmed === "\ufeff") return trimmed;
  const eol = /\r\n|\n|\r/.exec(body)?.[0] ?? "\n";
  return trimmed + eol;
}

const formatted = new WeakMap<DeclarationTree, string>();

/** One declaration laid out, its own trailing line ends included. Text with syntax problems is returned as written. */
export function formatDeclaration(tree: DeclarationTree): string {
  const known = formatted.get(tree);
  if (known !== undefined) return known;
  const damaged = tree.problems.some((problem) => problem.code !== "decimal-comma" && problem.code !== "dashed-range");
  const text = damaged ? tree.text : layOutText(tree.text);
  formatted.set(tree, text);
  return text;
}

/** The rows of one table laid out, each at the margin: `text` holds nothing else. */
export function formatRows(text: string): string {
  return layOutText(text);
}

function layOutText(text: string): string {
  const lines = linesOf(text);
  const out: string[] = [];
  for (let i = 0; i < lines.length;) {
    const end = runEnd(lines, i, isRow);
    if (end > i) {
      out.push(...rowTexts(lines.slice(i, end)));
      i = end;
      continue;
    }
    const entries = runEnd(lines, i, isEntry);
    if (entries > i + 1) {
      out.push(...entryTexts(lines.slice(i, entries)));
      i = entries;
      continue;
    }
    const blocks = blockRunEnd(lines, i);
    if (blocks > i + 1) {
      out.push(...blockTexts(lines.slice(i, blocks)));
      i = blocks;
      continue;
    }
    out.push(plainText((lines[i] as Line).pieces));
    i++;
  }
  return withBlanks(lines, out, text.startsWith("\ufeff"));
}

// --- lines ---------------------------------------------------------------------------------------------------------

function isComment(token: IToken): boolean {
  return token.image.startsWith("//") || token.image.startsWith("/*");
}

function linesOf(text: string): Line[] {
  const { tokens, comments } = lex(text);
  const lines: Line[] = [];
  let depth = 0;
  let continued = false;
  /** The token with which a line goes on after its end. */
  let joined = -1;
  let blank = false;
  let row = false;
  let starts = true;
  let line: Line | undefined;
  let nextComment = 0;
  const open = (token: IToken): Line => {
    if (line !== undefined) return line;
    const own = token.tokenType === RightBrace ? Math.max(0, depth - 1) : depth;
    const fresh: Line = { pieces: [], remark: undefined, depth: own, continued, blankBefore: blank, eol: "", blankAfter: false };
    lines.push(fresh);
    line = fresh;
    return fresh;
  };
  for (let i = 0; i <= tokens.length; i++) {
    const token = tokens[i];
    const at = token?.startOffset ?? Infinity;
    for (let comment = comments[nextComment]; comment !== undefined && comment.startOffset < at; comment = comments[++nextComment]) open(comment).pieces.push(comment);
    if (token === undefined) break;
    if (token.tokenType === Newline) {
      const { eol, blankLine } = lineEnds(token.image);
      if (line !== undefined) {
        line.eol = eol;
        line.blankAfter = blankLine;
      }
      if (i >= joined) joined = row ? -1 : joinedAt(tokens, i);
      continued = i < joined;
      if (!continued) {
        starts = true;
        row = false;
      }
      blank = line === undefined ? blank || blankLine : blankLine;
      line = undefined;
      continue;
    }
    open(token).pieces.push(token);
    if (token.tokenType === LeftBrace) depth++;
    else if (token.tokenType === RightBrace) depth = Math.max(0, depth - 1);
    if (token.tokenType === Semicolon || token.tokenType === LeftBrace || token.tokenType === RightBrace) {
      starts = true;
      row = false;
    } else if (starts && token.tokenType !== Doc) {
      row = token.tokenType === Pipe;
      starts = false;
    }
  }
  for (const each of lines) {
    const last = each.pieces[each.pieces.length - 1] as IToken;
    if (each.pieces.length > 1 && isComment(last) && !/[\r\n]/.test(last.image)) {
      each.pieces.pop();
      each.remark = last;
    }
  }
  return lines;
}

function lineEnds(image: string): { readonly eol: string; readonly blankLine: boolean } {
  const eol = image.startsWith("\r\n") ? "\r\n" : image.charAt(0);
  return { eol, blankLine: image.length > eol.length };
}

function withBlanks(lines: readonly Line[], texts: readonly string[], marked: boolean): string {
  let out = marked ? "\ufeff" : "";
  let remarkColumn: number | undefined;
  for (let i = 0; i < lines.length; i++) {
    const line = lines[i] as Line;
    const text = texts[i] as string;
    const before = lines[i - 1];
    if (line.blankBefore && before !== undefined && !opensBlock(before) && (line.pieces[0] as IToken).tokenType !== RightBrace) out += before.eol;
    const indent = indentOf(line);
    out += " ".repeat(indent) + text;
    if (line.remark !== undefined) {
      if (remarkColumn === undefined || line.blankBefore) remarkColumn = remarksFrom(lines, texts, i);
      out += " ".repeat(remarkColumn - indent - text.length) + line.remark.image.trimEnd();
    } else remarkColumn = undefined;
    out += line.eol;
    if (i + 1 === lines.length && line.blankAfter) out += line.eol;
  }
  return out;
}

function indentOf(line: Line): number {
  return line.depth * STEP + (line.continued ? CONTINUED : 0);
}

function opensBlock(line: Line): boolean {
  return line.pieces[line.pieces.length - 1]?.tokenType === LeftBrace;
}

/** The column where the remarks of a run of lines that all end in one begin. */
function remarksFrom(lines: readonly Line[], texts: readonly string[], from: number): number {
  let column = 0;
  for (let i = from; i < lines.length; i++) {
    const line = lines[i] as Line;
    if (line.remark === undefined || (i > from && line.blankBefore)) break;
    column = Math.max(column, indentOf(line) + (texts[i] as string).length + 2);
  }
  return column;
}

/** Where the run of lines that begins at `from` and all satisfy `fits` ends; blank lines, depth and continuation end it. */
function runEnd(lines: readonly Line[], from: number, fits: (line: Line) => boolean): number {
  let i = from;
  const depth = (lines[from] as Line).depth;
  while (i < lines.length) {
    const line = lines[i] as Line;
    if (!fits(line) || line.continued || lines[i + 1]?.continued === true || line.depth !== depth || (i > from && line.blankBefore)) break;
    i++;
  }
  return i;
}

function isPlain(line: Line): boolean {
  return line.pieces.every((piece) => !isComment(piece));
}

function isRow(line: Line): boolean {
  if (line.pieces[0]?.tokenType !== Pipe) return false;
  for (const piece of line.pieces) {
    const type = piece.tokenType;
    if (type === Semicolon || type === LeftBrace || type === RightBrace) return false;
  }
  return isPlain(line);
}

function isEntry(line: Line): boolean {
  const first = line.pieces[0];
  if (first?.tokenType !== Key || line.pieces.length < 3) return false;
  for (let i = 1; i < line.pieces.length; i++) {
    const type = (line.pieces[i] as IToken).tokenType;
    if (type === Semicolon || type === LeftBrace || type === RightBrace || type === Key) return false;
  }
  return isPlain(line);
}

// --- spacing inside a line -----------------------------------------------------------------------------------------

const SPACED: ReadonlySet<TokenType> = new Set([To, PlusMinus, Compare, Pipe, LeftBrace, RightBrace]);
const NEVER_BEFORE: ReadonlySet<TokenType> = new Set([Colon, Comma, Semicolon, RightParen]);
const ALWAYS_AFTER: ReadonlySet<TokenType> = new Set([Colon, Comma, Semicolon]);
/** Units that stand as well glued to their figure as set apart. */
const GLUED_UNIT = /^[°%]/;

/** Whether a blank stands between two neighbours. What is glued stays glued and what is apart stays apart, unless the sign says otherwise. */
function isApart(left: IToken, right: IToken): boolean {
  const before = left.tokenType;
  const after = right.tokenType;
  if (before === LeftBrace && after === RightBrace) return false;
  if (before === LeftParen || NEVER_BEFORE.has(after)) return false;
  if (ALWAYS_AFTER.has(before) || SPACED.has(before) || SPACED.has(after)) return true;
  const written = endOf(left) < right.startOffset;
  if (before === DigitRun && after === Unit) return GLUED_UNIT.test(right.image) ? written : true;
  if (after === LeftParen && (before === DigitRun || before === Unit || before === Word)) return true;
  return written;
}

function plainText(pieces: readonly IToken[], from = 0, to = pieces.length): string {
  let text = "";
  for (let i = from; i < to; i++) {
    const piece = pieces[i] as IToken;
    if (i > from && isApart(pieces[i - 1] as IToken, piece)) text += " ";
    text += isComment(piece) ? piece.image.trimEnd() : piece.image;
  }
  return text;
}

// --- runs of entries -----------------------------------------------------------------------------------------------

const NUMBER = /^(\d*)((?:\.\d*)?)$/;

interface Aligned {
  /** Digits before and after the point of a leading plain number. */
  readonly whole: string;
  readonly part: string;
  readonly unit: boolean;
  readonly rest: string;
}

/** Splits a value that begins with a plain number, so that points and units can stand under each other. */
function aligned(pieces: readonly IToken[], from: number, to: number): Aligned | undefined {
  const first = pieces[from];
  if (from >= to || first?.tokenType !== DigitRun || first.payload !== "number") return undefined;
  const digits = NUMBER.exec(first.image);
  if (digits === null) return undefined;
  const second = from + 1 < to ? pieces[from + 1] as IToken : undefined;
  const unit = second?.tokenType === Unit && isApart(first, second);
  const rest = second === undefined ? "" : (isApart(first, second) && !unit ? " " : "") + plainText(pieces, from + 1, to);
  return { whole: digits[1] as string, part: digits[2] as string, unit, rest };
}

function entryTexts(run: readonly Line[]): string[] {
  const values = run.map((line) => aligned(line.pieces, 2, line.pieces.length));
  const column = Math.max(...run.map((line) => (line.pieces[0] as IToken).image.length)) + 2;
  const whole = Math.max(0, ...values.map((value) => (value?.unit === true ? value.whole.length : 0)));
  const part = Math.max(0, ...values.map((value) => (value?.unit === true ? value.part.length : 0)));
  return run.map((line, i) => {
    const key = `${(line.pieces[0] as IToken).image}:`.padEnd(column);
    const value = values[i];
    if (value?.unit !== true) return key + plainText(line.pieces, 2);
    return `${key}${value.whole.padStart(whole)}${value.part.padEnd(part)} ${value.rest}`;
  });
}

// --- runs of one-line blocks ---------------------------------------------------------------------------------------

/** The keys of a line such as `intake { lash: 0.15 mm; lift: 9 mm }`, or undefined when the line is no such block. */
function blockKeys(line: Line): string | undefined {
  const { pieces } = line;
  if (pieces[0]?.tokenType !== Word || pieces[pieces.length - 1]?.tokenType !== RightBrace || !isPlain(line)) return undefined;
  let keys = "";
  let braces = 0;
  for (const piece of pieces) {
    if (piece.tokenType === LeftBrace) braces++;
    else if (piece.tokenType === Key) keys += `${piece.image}:`;
  }
  return braces === 1 && keys !== "" ? keys : undefined;
}

function blockRunEnd(lines: readonly Line[], from: number): number {
  const keys = blockKeys(lines[from] as Line);
  if (keys === undefined) return from;
  return runEnd(lines, from, (line) => blockKeys(line) === keys);
}

/** One-line blocks with the same keys, one under the other: their braces align. */
function blockTexts(run: readonly Line[]): string[] {
  const heads = run.map((line) => {
    const at = line.pieces.findIndex((piece) => piece.tokenType === LeftBrace);
    return { head: plainText(line.pieces, 0, at), body: plainText(line.pieces, at) };
  });
  const width = Math.max(...heads.map(({ head }) => head.length));
  return heads.map(({ head, body }) => `${head.padEnd(width)} ${body}`);
}

// --- tables --------------------------------------------------------------------------------------------------------

interface CellText {
  readonly text: string;
  readonly number: Aligned | undefined;
  /** A lone `-` or `…`, which stands where the numbers stand. */
  readonly blankMark: boolean;
}

function cellsOf(line: Line): CellText[] {
  const cells: CellText[] = [];
  const { pieces } = line;
  let from = 1;
  for (let i = 1; i <= pieces.length; i++) {
    const piece = pieces[i];
    if (piece !== undefined && piece.tokenType !== Pipe) continue;
    if (piece === undefined && from === i) break; // closed already
    const only = i - from === 1 ? (pieces[from] as IToken).tokenType : undefined;
    cells.push({ text: plainText(pieces, from, i), number: aligned(pieces, from, i), blankMark: only === Minus || only === Hole });
    from = i + 1;
  }
  return cells;
}

interface Column {
  readonly width: number;
  readonly numeric: boolean;
  readonly part: number;
}

function rowTexts(run: readonly Line[]): string[] {
  const rows = run.map(cellsOf);
  const count = Math.max(...rows.map((row) => row.length));
  const columns: Column[] = [];
  for (let c = 0; c < count; c++) {
    const body = rows.slice(1).map((row) => row[c]).filter((cell): cell is CellText => cell !== undefined && cell.text !== "");
    const numeric = body.some((cell) => cell.number !== undefined) && body.every((cell) => cell.number !== undefined || cell.blankMark);
    const part = numeric ? Math.max(...body.map((cell) => partOf(cell))) : 0;
    let width = 0;
    rows.forEach((row, r) => {
      const cell = row[c];
      if (cell !== undefined) width = Math.max(width, numeric && r > 0 ? numberText(cell, part).length : cell.text.length);
    });
    columns.push({ width, numeric, part });
  }
  return rows.map((row, r) => {
    let text = "|";
    row.forEach((cell, c) => {
      const { width, numeric, part } = columns[c] as Column;
      text += ` ${numeric ? (r > 0 ? numberText(cell, part) : cell.text).padStart(width) : cell.text.padEnd(width)} |`;
    });
    return text;
  });
}

function partOf(cell: CellText): number {
  return cell.number === undefined || cell.number.rest !== "" ? 0 : cell.number.part.length;
}

/** A number with blanks for the decimals that its neighbours have and it has not. */
function numberText(cell: CellText, part: number): string {
  return cell.number === undefined || cell.number.rest !== "" ? cell.text : cell.text + " ".repeat(part - cell.number.part.length);
}
