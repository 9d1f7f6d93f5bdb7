// The tokens a text is cut into, with the patterns whose meaning hangs on what stands before them. Knows spelling only, never meaning.
import { createToken, Lexer } from "chevrotain";
import type { CustomPatternMatcherReturn, IToken, TokenType } from "chevrotain";
import type { FigureForm } from "./tree.ts";
import { unitLengthAt } from "./unit-spelling.ts";

/** What the lexer found out about a digit-led run; carried as the token's payload. */
export type DigitLed = FigureForm | "date" | "thread" | "mark";

/** Letters a word may hold, as the inside of a character class: Latin, Greek, Cyrillic and the further scripts below the symbols. */
const LETTERS = "A-Za-z\\u00b5\\u00c0-\\u00d6\\u00d8-\\u00f6\\u00f8-\\u02af\\u0370-\\u1fff\\u3040-\\ud7ff";
const ALNUM = `${LETTERS}0-9`;
const W = `[${LETTERS}](?:[${ALNUM}_]|-(?=[${ALNUM}]))*`;
const PATH = `${W}(?:\\.[${ALNUM}](?:[${ALNUM}_]|-(?=[${ALNUM}]))*)*`;

const wide: number[] = [];
for (let code = 0x80; code < 0x100; code++) wide.push(code);
// The toolkit files start characters beyond Latin-1 in drawers of 255; one of each opens them all.
for (let code = 0x100; code < 0x10000; code += 0xff) wide.push(code);
wide.push(0xffff);
const asciiLetters = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"];
const digits = [..."0123456789"];

// --- blanks and comments -------------------------------------------------------------------------------------------

/** The usual blanks by themselves: runs of characters that are all ASCII the toolkit passes over without a regular expression. */
const Blank = createToken({ name: "Blank", pattern: /[ \t\u000b\u000c]+/, group: Lexer.SKIPPED, start_chars_hint: [" ", "\t", 0x0b, 0x0c] });
const OddBlank = createToken({ name: "OddBlank", pattern: /[\u00a0\u2007\u202f\ufeff\u2028\u2029]+/, group: Lexer.SKIPPED, start_chars_hint: [0xa0, 0x2007, 0x2028, 0x2029, 0x202f, 0xfeff] });

/** One line end and the blank lines after it. */
export const Newline = createToken({ name: "Newline", pattern: /(?:\r\n?|\n)(?:[ \t]*(?:\r\n?|\n))*/, line_breaks: true, start_chars_hint: ["\r", "\n"] });
export const Semicolon = createToken({ name: "Semicolon", pattern: ";" });

export const Doc = createToken({ name: "Doc", pattern: /\/\/\/[^\r\n]*/, start_chars_hint: ["/"] });
const LineComment = createToken({ name: "LineComment", pattern: /\/\/[^\r\n]*/, group: "comments", start_chars_hint: ["/"] });

/**
 * What a search for the end of an unclosed comment learned about the comments that open inside it: a text full of
 * unclosed comments would otherwise be searched to its end for each. Holds one text at a time.
 */
let searched: { readonly text: string; readonly ends: ReadonlyMap<number, number | undefined> } | undefined;

/** The end of the block comment that opens at `offset`; one that is never closed ends with its own line. */
export function blockCommentEnd(text: string, offset: number): { readonly end: number; readonly closed: boolean } {
  if (searched?.text === text && searched.ends.has(offset)) {
    const end = searched.ends.get(offset);
    return end === undefined ? { end: lineEnd(text, offset), closed: false } : { end, closed: true };
  }
  const edge = /\/\*|\*\//g;
  edge.lastIndex = offset;
  const open: number[] = [];
  const ends = new Map<number, number | undefined>();
  for (let found = edge.exec(text); found !== null; found = edge.exec(text)) {
    if (found[0] === "/*") {
      open.push(found.index);
      continue;
    }
    ends.set(open.pop() as number, edge.lastIndex);
    if (open.length === 0) return { end: edge.lastIndex, closed: true };
  }
  for (const start of open) ends.set(start, undefined);
  searched = { text, ends };
  return { end: lineEnd(text, offset), closed: false };
}

function lineEnd(text: string, offset: number): number {
  let at = offset;
  while (at < text.length && text.charCodeAt(at) !== 10 && text.charCodeAt(at) !== 13) at++;
  return at;
}

const BlockComment = createToken({
  name: "BlockComment",
  pattern: {
    exec: (text, offset) => (text.startsWith("/*", offset) ? [text.slice(offset, blockCommentEnd(text, offset).end)] as unknown as RegExpExecArray : null),
  },
  group: "comments", line_breaks: true, start_chars_hint: ["/"],
});

// --- digit-led runs ------------------------------------------------------------------------------------------------

const DATE = /\d{4}-\d\d-\d\d/y;
const INCH_THREAD = /(?:\d+-)?\d+\/\d+-\d+/y;
const FRACTION = /(?:\d+(?:[ \t]+|-))?\d+\/\d+(?!\d|\.\d|\/\d)/y;
const RATIO = /\d+(?:\.\d+)?:\d+(?:\.\d+)?/y;
const DASHED = /\d+(?:\.\d+)?(?:-\d+(?:\.\d+)?)+/y;
const COMMA = /\d+,\d+(?:\.\d+)?(?![\d]|,\d)/y;
const NUMBER = /\d+(?:\.\d+|\.(?![.\w]))?|\.\d+/y;
const GLUED = new RegExp(`\\.?\\d(?:[${ALNUM}_]|[-./](?=[${ALNUM}])){0,100}`, "y");
const GLUES = new RegExp(`[${ALNUM}_°%]|[-./][${ALNUM}]`, "y");
const LETTER = new RegExp(`[${LETTERS}]`);

const RUNS: readonly (readonly [DigitLed, RegExp])[] = [
  ["date", DATE], ["thread", INCH_THREAD], ["fraction", FRACTION], ["ratio", RATIO], ["dashed", DASHED], ["comma", COMMA], ["number", NUMBER],
];

function matchAt(pattern: RegExp, text: string, offset: number): number {
  pattern.lastIndex = offset;
  return pattern.test(text) ? pattern.lastIndex : -1;
}

function isDigit(code: number): boolean {
  return code >= 48 && code <= 57;
}

/** True where a plain number certainly ends: nothing glued to it could make it a longer run. */
function endsNumber(text: string, end: number): boolean {
  const code = text.charCodeAt(end);
  if (end >= text.length || code === 59 || code === 10 || code === 13 || code === 125 || code === 41) return true; // ; \n \r } )
  if (code === 32) {
    const after = text.charCodeAt(end + 1);
    return !isDigit(after) && after !== 32;
  }
  return false;
}

function digitLed(text: string, offset: number): CustomPatternMatcherReturn | null {
  let end = offset;
  while (isDigit(text.charCodeAt(end))) end++;
  if (text.charCodeAt(end) === 46 && isDigit(text.charCodeAt(end + 1))) {
    end += 2;
    while (isDigit(text.charCodeAt(end))) end++;
  }
  if (end === offset) return null;
  if (endsNumber(text, end)) return run(text, offset, end, "number");
  for (const [form, pattern] of RUNS) {
    const found = matchAt(pattern, text, offset);
    if (found < 0) continue;
    if (form === "comma" && text.charCodeAt(offset - 1) === 44) continue; // the 2,3 of 1,2,3: a list, not a decimal
    if (matchAt(GLUES, text, found) >= 0) {
      if (form === "date" || form === "thread") continue;
      if (unitLengthAt(text, found) === 0) {
        const whole = matchAt(GLUED, text, offset);
        if (whole > found && LETTER.test(text.slice(offset, whole))) return run(text, offset, whole, "mark");
      }
    }
    return run(text, offset, found, form);
  }
  return null;
}

function run(text: string, start: number, end: number, form: DigitLed): CustomPatternMatcherReturn {
  const match = [text.slice(start, end)] as unknown as CustomPatternMatcherReturn;
  match.payload = form;
  return match;
}

export const DigitRun = createToken({
  name: "DigitRun",
  pattern: { exec: (text, offset) => digitLed(text, offset) },
  line_breaks: false, start_chars_hint: [...digits, "."],
});

// --- words and units -----------------------------------------------------------------------------------------------

export const Key = createToken({ name: "Key", pattern: new RegExp(`${PATH}(?=[ \\t]*:)`, "y"), line_breaks: false, start_chars_hint: [...asciiLetters, ...wide] });
export const MetricThread = createToken({ name: "MetricThread", pattern: new RegExp(`M\\d+(?:\\.\\d+)?(?:[x×]\\d+(?:\\.\\d+)?)?(?![${ALNUM}_]|[-.][${ALNUM}])`, "y"), line_breaks: false, start_chars_hint: ["M"] });
export const Then = createToken({ name: "Then", pattern: new RegExp(`then(?![${ALNUM}_]|[-.][${ALNUM}])`, "y"), line_breaks: false, start_chars_hint: ["t"] });

function isFigure(token: IToken | undefined): boolean {
  return token !== undefined && token.tokenType === DigitRun && token.payload !== "date" && token.payload !== "thread" && token.payload !== "mark";
}

/** The last answer of `inRow`, so that a long line is looked over once and not at each of its brackets. */
let lookedOver: { readonly tokens: readonly IToken[]; readonly upTo: number; readonly row: boolean } | undefined;

/** True when the tokens so far leave us inside a table row. */
function inRow(before: readonly IToken[]): boolean {
  const from = lookedOver?.tokens === before ? lookedOver.upTo : 0;
  let row = from > 0 && lookedOver?.row === true;
  for (let i = before.length - 1; i >= from; i--) {
    const type = (before[i] as IToken).tokenType;
    const ends = type === Newline || type === Semicolon || type === LeftBrace || type === RightBrace;
    if (!ends && type !== Pipe) continue;
    row = !ends;
    break;
  }
  lookedOver = { tokens: before, upTo: before.length, row };
  return row;
}

/** Lets go of what the last text left behind. */
export function forgetTokens(): void {
  lookedOver = undefined;
  searched = undefined;
}

export const Unit = createToken({
  name: "Unit",
  pattern: {
    exec: (text, offset, before) => {
      const last = before[before.length - 1];
      if (last === undefined) return null;
      if (!isFigure(last) && last.tokenType !== Hole && last.tokenType !== Asym && last.tokenType !== RightParen && !(last.tokenType === LeftParen && inRow(before))) return null;
      const length = unitLengthAt(text, offset);
      return length === 0 ? null : [text.slice(offset, offset + length)] as unknown as RegExpExecArray;
    },
  },
  line_breaks: false, start_chars_hint: [...asciiLetters, ...wide, "%", "1"],
});

const WORD = new RegExp(PATH, "y");
const UNIT_TAIL = new RegExp(`(?:[·⋅•/](?=[${LETTERS}])[${ALNUM}_]+|[²³]|-[${ALNUM}_]+)+`, "y");

export const Word = createToken({
  name: "Word",
  pattern: {
    exec: (text, offset, before) => {
      let end = matchAt(WORD, text, offset);
      if (end < 0) return null;
      // Straight after a figure, a spelling such as mm/s or N·mm is one unknown unit, not a product of words.
      if (isFigure(before[before.length - 1])) end = Math.max(end, matchAt(UNIT_TAIL, text, end));
      return [text.slice(offset, end)] as unknown as RegExpExecArray;
    },
  },
  line_breaks: false, start_chars_hint: [...asciiLetters, ...wide],
});

export const Text = createToken({ name: "Text", pattern: /"[^"\r\n]*"?/, line_breaks: false, start_chars_hint: ['"'] });
export const Print = createToken({ name: "Print", pattern: new RegExp(`#[0-9a-fA-F]+(?![${ALNUM}_])`, "y"), line_breaks: false, start_chars_hint: ["#"] });

// --- signs ---------------------------------------------------------------------------------------------------------

const ASYM = /\+(?:\d+(?:[.,]\d+)?|\.\d+)[ \t]*(?:\/[ \t]*)?-(?:\d+(?:[.,]\d+)?|\.\d+)(?![\d]|[.,-]\d)/y;

/** `+0.02 -0.01`, only straight after a figure, its unit, a group or a word: elsewhere the signs belong to single figures. */
export const Asym = createToken({
  name: "Asym",
  pattern: {
    exec: (text, offset, before) => {
      const last = before[before.length - 1];
      if (last === undefined || !(isFigure(last) || last.tokenType === Unit || last.tokenType === RightParen || last.tokenType === Word)) return null;
      const end = matchAt(ASYM, text, offset);
      return end < 0 ? null : [text.slice(offset, end)] as unknown as RegExpExecArray;
    },
  },
  line_breaks: false, start_chars_hint: ["+"],
});

export const Hole = createToken({ name: "Hole", pattern: /…|\.\.\./, line_breaks: false, start_chars_hint: ["…", "."] });
export const To = createToken({ name: "To", pattern: ".." });
export const PlusMinus = createToken({ name: "PlusMinus", pattern: /±|\+\/-|\+-/, start_chars_hint: ["±", "+"] });
export const Compare = createToken({ name: "Compare", pattern: /<=|>=|<|>|≤|≥/, start_chars_hint: ["<", ">", "≤", "≥"] });
export const Plus = createToken({ name: "Plus", pattern: "+" });
export const Minus = createToken({ name: "Minus", pattern: /[-\u2212]/, start_chars_hint: ["-", "\u2212"] });
export const Star = createToken({ name: "Star", pattern: "*" });
export const Slash = createToken({ name: "Slash", pattern: "/" });
export const Comma = createToken({ name: "Comma", pattern: "," });
export const Colon = createToken({ name: "Colon", pattern: ":" });
export const Pipe = createToken({ name: "Pipe", pattern: "|" });
export const LeftParen = createToken({ name: "LeftParen", pattern: "(" });
export const RightParen = createToken({ name: "RightParen", pattern: ")" });
export const LeftBrace = createToken({ name: "LeftBrace", pattern: "{" });
export const RightBrace = createToken({ name: "RightBrace", pattern: "}" });
/** Put in by the layout pass where a block without a closing brace ends. Zero width. */
export const LayoutClose = createToken({ name: "LayoutClose", pattern: Lexer.NA });
/** Put in by the parser behind all else. Zero width. */
export const EndOfText = createToken({ name: "EndOfText", pattern: Lexer.NA });
/** A brace that opens or closes nothing; the layout pass turns braces into these. */
export const StrayBrace = createToken({ name: "StrayBrace", pattern: Lexer.NA });
/** Any other character. */
export const Unknown = createToken({ name: "Unknown", pattern: /[\ud800-\udbff][\udc00-\udfff]|[^]/, line_breaks: false, start_chars_hint: [...Array.from({ length: 256 }, (_, i) => i), ...wide] });

/** In the order the lexer tries them. */
export const LEXED: readonly TokenType[] = [
  Blank, OddBlank, Newline, Doc, LineComment, BlockComment, Key, MetricThread, Unit, DigitRun, Then, Word, Text, Print,
  Asym, Hole, To, PlusMinus, Compare, Plus, Minus, Star, Slash, Comma, Semicolon, Colon, Pipe, LeftParen, RightParen, LeftBrace, RightBrace, Unknown,
];

/** What cannot begin an item. */
export const MISFITS: ReadonlySet<TokenType> = new Set([
  Unit, DigitRun, MetricThread, Then, Text, Print, Asym, To, PlusMinus, Compare, Plus, Minus, Star, Slash, Comma, Colon, LeftParen, RightParen, StrayBrace, Unknown,
]);
/** What may be skipped to reach the end of a damaged line. */
export const REST: ReadonlySet<TokenType> = new Set([...MISFITS, Word, Hole, Pipe]);
/** What may be skipped inside a damaged cell. */
export const CELL_REST: ReadonlySet<TokenType> = new Set([...MISFITS, Word, Hole, Key]);

export function endOf(token: IToken): number {
  return token.startOffset + token.image.length;
}
