// The wording of everything the text itself can get wrong, in a builder's words. Knows no tree and no tokens.
import type { Comparison, Span, SyntaxProblem } from "./tree.ts";
import { STATEMENT_WORDS } from "./vocabulary.ts";

function problem(code: SyntaxProblem["code"], message: string, span: Span, fix?: SyntaxProblem["fix"]): SyntaxProblem {
  return fix === undefined ? { code, message, span } : { code, message, span, fix };
}

/** Shortens what is quoted in a message. */
function quoted(text: string): string {
  const line = text.slice(0, 80).trim().split(/[\r\n]/, 1)[0] ?? "";
  return line.length > 40 ? `\`${line.slice(0, 39)}…\`` : `\`${line}\``;
}

function firstCharacter(text: string): string {
  const code = text.codePointAt(0);
  return code === undefined ? "" : String.fromCodePoint(code);
}

/** Characters that slip in from other writing, and what to write instead. */
const INSTEAD: Readonly<Record<string, string>> = {
  "–": "This long dash means nothing here: write `..` between the ends of a range, or a plain `-`.",
  "—": "This long dash means nothing here: write `..` between the ends of a range, or a plain `-`.",
  "'": "Text goes in double quotes: write \" instead of '.",
  "’": "Text goes in straight double quotes: write \" instead of ’.",
  "‘": "Text goes in straight double quotes: write \" instead of ‘.",
  "“": "Text goes in straight double quotes: write \" instead of “.",
  "”": "Text goes in straight double quotes: write \" instead of ”.",
  "″": "Write `in` for inches instead of ″.",
  "′": "Write `ft` for feet instead of ′.",
  "=": "`=` means nothing here: a key takes a colon, as in `bore: 83.00 mm`.",
  "#": "`#` starts a fingerprint, such as #3f9c21d07a4e; a comment starts with `//`.",
  "[": "Square brackets mean nothing here: a block goes in `{ }`, a list is set apart by commas.",
  "]": "Square brackets mean nothing here: a block goes in `{ }`, a list is set apart by commas.",
  ".": "A stop has no place here: write the line without it.",
  "½": "Write the fraction as 1/2.",
  "¼": "Write the fraction as 1/4.",
  "¾": "Write the fraction as 3/4.",
};

export function doesNotFit(text: string, span: Span): SyntaxProblem {
  const first = firstCharacter(text);
  return problem("syntax", INSTEAD[first] ?? `${quoted(text)} does not fit here: expected a key with a colon, a statement, or a table row that begins with \`|\`.`, span);
}

export function restDoesNotFit(text: string, span: Span, where: "value" | "head" | "cell" | "row"): SyntaxProblem {
  const first = firstCharacter(text);
  const place = { value: "in this value", head: "in this statement", cell: "in this cell", row: "after this row" }[where];
  return problem("syntax", INSTEAD[first] ?? `${quoted(text)} does not fit ${place}; end what stands before it with \`;\` or a new line, or remove it.`, span);
}

export function unclosedBlock(opener: string, span: Span): SyntaxProblem {
  return problem("unclosed-block", `The block of ${quoted(opener)} is never closed: add the missing \`}\`.`, span);
}

export function strayClose(span: Span): SyntaxProblem {
  return problem("syntax", "This `}` closes nothing: remove it, or add the `{` that belongs to it.", span, { title: "Remove the brace", span, text: "" });
}

export function strayOpen(span: Span): SyntaxProblem {
  return problem("syntax", "This `{` belongs to nothing: a block follows a name or a statement, as in `combustion { … }`.", span);
}

export function tooDeep(limit: number, span: Span): SyntaxProblem {
  return problem("syntax", `This lies more than ${limit} brackets deep, which no build needs: the brackets from here on are not read.`, span);
}

export function tooLong(limit: number, span: Span): SyntaxProblem {
  return problem("syntax", `More than ${limit} signs in one sum: what follows is not read as part of it.`, span);
}

export function longDeclaration(limit: number, span: Span): SyntaxProblem {
  return problem("syntax", `This is longer than ${Math.round(limit / 1024)} KB, which nothing in a build file is: it is not read. Look whether a brace or a quote is missing above it, or make several of it.`, span);
}

export function manyDeclarations(limit: number, span: Span): SyntaxProblem {
  return problem("syntax", `A file holds at most ${limit} declarations: from here on nothing is read. Make several files of it, and use them.`, span);
}

export function colonBeforeBlock(key: string, colon: Span): SyntaxProblem {
  return problem("syntax", `A block takes no colon: write \`${key} { … }\`.`, colon, { title: "Remove the colon", span: colon, text: "" });
}

export function keyWithoutColon(span: Span): SyntaxProblem {
  return problem("syntax", "A colon stands here without its key: write it straight after the key, as in `bore: 83.00 mm`.", span);
}

export function reservedStart(word: string, span: Span): SyntaxProblem {
  const message = word === "then"
    ? "`then` begins a line, but no stage stands before it: keep the stages on one line, as in `tighten: 30 N·m oiled, then 55 N·m`, or end the line above with a comma."
    : `\`${word}\` joins parts of a statement and cannot begin one: put it on the line of the statement it belongs to.`;
  return problem("syntax", message, span);
}

export function missingAfter(sign: string, span: Span): SyntaxProblem {
  const what = sign === "," ? "a comma: write the next figure, or remove the comma" : sign === "then" ? "`then`: write the next stage" : `\`${sign}\`: write a figure`;
  return problem("syntax", `Something is missing after ${what}.`, span);
}

export function missingBound(op: Comparison, span: Span): SyntaxProblem {
  return problem("syntax", `Something is missing after \`${op}\`: write the limit, as in \`<= 20 m/s\`.`, span);
}

export function unclosedParen(span: Span): SyntaxProblem {
  return problem("syntax", "This `(` is never closed: add the `)` that belongs to it.", span);
}

export function unclosedString(span: Span, end: number): SyntaxProblem {
  return problem("unclosed-string", "This text in quotes is never closed: add the closing \" on the same line.", span, { title: "Close the quotes", span: { start: end, end }, text: '"' });
}

export function unclosedComment(span: Span): SyntaxProblem {
  return problem("syntax", "This comment is never closed, so it ends with its line: add `*/`, or begin it with `//`.", span);
}

export function decimalComma(written: string, meant: string | undefined, span: Span): SyntaxProblem {
  if (meant === undefined) {
    const [whole = "", part = ""] = written.split(",");
    return problem("decimal-comma", `${written} can be read as ${whole}.${part} or as ${whole}${part}: write it with a decimal point or without the comma.`, span);
  }
  return problem("decimal-comma", `${written} has a comma inside the figure: write ${meant}.`, span, { title: `Write ${meant}`, span, text: meant });
}

export function trailingPoint(written: string, span: Span): SyntaxProblem {
  return problem("syntax", `${written} ends in a point: write the digits after it, or leave the point out.`, span);
}

export function dashedRange(low: string, high: string, span: Span): SyntaxProblem {
  return problem("dashed-range", `${low}-${high} reads as an order or a thread, not as a range: write ${low} .. ${high}.`, span, { title: `Write ${low} .. ${high}`, span, text: `${low} .. ${high}` });
}

export function gluedFigures(span: Span): SyntaxProblem {
  return problem("syntax", "Two figures are glued together here: set them apart, or correct the digits.", span);
}

export function useNeedsString(span: Span): SyntaxProblem {
  return problem("syntax", "`use` takes the name of a file in quotes, as in `use \"engines/dunlin-18.tappet\"`.", span);
}

export function outsideDeclaration(text: string, span: Span): SyntaxProblem {
  return problem("syntax", `${quoted(text)} stands outside any declaration: it belongs inside the braces of an engine, part, card, build or shop.`, span);
}

export function unknownDeclaration(word: string, span: Span): SyntaxProblem {
  if ((STATEMENT_WORDS as readonly string[]).includes(word)) return problem("syntax", `\`${word}\` belongs inside a declaration: put it before the brace that closes the one it is part of.`, span);
  return problem("syntax", `\`${word}\` does not begin a declaration: a file holds engine, part, card, build, shop and use.`, span);
}

export function indentedDeclaration(word: string, span: Span, indent: Span): SyntaxProblem {
  return problem("syntax", `\`${word}\` begins a declaration and stands in the first column: remove the blanks before it.`, span, { title: "Move it to the first column", span: indent, text: "" });
}

export function unreadable(span: Span): SyntaxProblem {
  return problem("syntax", "This declaration could not be read; its text is kept as written. Please report it with this text.", span);
}
