// Builds the nodes of values from tokens: spans, ranges, tolerances, and the precedence of sums. Knows no rules of the grammar.
import type { IToken } from "chevrotain";
import { figureOf } from "./figure.ts";
import { endOf, Minus } from "./tokens.ts";
import type { Comment, Part, Span, SyntaxProblem, Text, UnitRef } from "./tree.ts";

const PRECEDENCE: Readonly<Record<string, number>> = { "+": 1, "-": 1, "*": 2, "/": 2 };

export function spanOf(token: IToken): Span {
  return { start: token.startOffset, end: endOf(token) };
}

export function textOf(token: IToken): Text {
  return { text: token.image, span: spanOf(token) };
}

export function over(first: { readonly span: Span }, last: { readonly span: Span }): Span {
  return { start: first.span.start, end: last.span.end };
}

export function docOf(token: IToken): Text {
  return { text: token.image.slice(3).trim(), span: spanOf(token) };
}

/** Strings carry their text without quotes; one that is not closed keeps everything to the line's end. */
export function stringOf(token: IToken): Part {
  const closed = token.image.length > 1 && token.image.endsWith('"');
  return { kind: "string", text: token.image.slice(1, closed ? -1 : undefined), closed, span: spanOf(token) };
}

export function commentOf(token: IToken): Comment {
  return { text: token.image, span: spanOf(token) };
}

export function range(low: Part | undefined, dots: IToken, high: Part | undefined): Part {
  const span = { start: low?.span.start ?? dots.startOffset, end: high?.span.end ?? endOf(dots) };
  if (low !== undefined && high !== undefined) return { kind: "range", low, high, span };
  return low !== undefined ? { kind: "range", low, span } : high !== undefined ? { kind: "range", high, span } : { kind: "range", span };
}

/** `half` is what stands behind `sign`, or the place where it is to stand. */
export function tolerance(centre: Part | undefined, sign: IToken, half: Part): Part {
  const span = { start: centre?.span.start ?? sign.startOffset, end: half.span.end };
  return centre === undefined ? { kind: "tolerance", plus: half, minus: half, span } : { kind: "tolerance", plus: half, minus: half, span, centre };
}

export function asymmetric(centre: Part, token: IToken, unit: UnitRef | undefined): Part {
  const minusAt = token.image.indexOf("-");
  const plusDigits = (/^\+([\d.,]+)/.exec(token.image) as RegExpExecArray)[1] as string;
  const start = token.startOffset;
  const none: SyntaxProblem[] = [];
  const plus = figureOf(plusDigits, { start: start + 1, end: start + 1 + plusDigits.length }, plusDigits.includes(",") ? "comma" : "number", undefined, none);
  const minusDigits = token.image.slice(minusAt + 1);
  const minus = figureOf(minusDigits, { start: start + minusAt + 1, end: endOf(token) }, minusDigits.includes(",") ? "comma" : "number", unit, none);
  return { kind: "tolerance", centre, plus, minus, span: { start: centre.span.start, end: unit?.span.end ?? endOf(token) } };
}

/** Precedence climbing over a flat list; products bind before sums, both from the left. */
export function grouped(operands: readonly Part[], operators: readonly IToken[]): Part {
  const stack: Part[] = [operands[0] as Part];
  const pending: string[] = [];
  const fold = (): void => {
    const right = stack.pop() as Part;
    const left = stack.pop() as Part;
    stack.push({ kind: "binary", op: pending.pop() as "+" | "-" | "*" | "/", left, right, span: over(left, right) });
  };
  operators.forEach((operator, i) => {
    const op = operator.tokenType === Minus ? "-" : operator.image;
    while (pending.length > 0 && (PRECEDENCE[pending[pending.length - 1] as string] as number) >= (PRECEDENCE[op] as number)) fold();
    pending.push(op);
    stack.push(operands[i + 1] as Part);
  });
  while (pending.length > 0) fold();
  return stack[0] as Part;
}
