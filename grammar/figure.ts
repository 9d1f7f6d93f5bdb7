// Reads the digits of a figure as they were written. Knows notation only: no unit, no meaning.
import * as messages from "./messages.ts";
import type { Figure, FigureForm, Span, SyntaxProblem, UnitRef } from "./tree.ts";

/** Half a unit in the last of so many places. */
const HALVES = Array.from({ length: 8 }, (_, places) => Number(`0.5e-${places}`));

/** Half a unit in the last place: 0.005 for `0.20`, 0.5 for `20`. */
function halfDigitOf(digits: string): number {
  const point = digits.indexOf(".");
  const places = point < 0 ? 0 : digits.length - point - 1;
  return HALVES[places] ?? Number(`0.5e-${places}`);
}

function fractionValue(digits: string): number {
  const found = /^(?:(\d+)(?:[ \t]+|-))?(\d+)\/(\d+)$/.exec(digits);
  if (found === null) return NaN;
  return Number(found[1] ?? 0) + Number(found[2]) / Number(found[3]);
}

/** `1,775` can be a thousand and more or a little under two; such a figure has no value until it is rewritten. */
function isAmbiguousComma(digits: string): boolean {
  return /^[1-9]\d{0,2},\d{3}$/.test(digits);
}

function commaMeant(digits: string): string | undefined {
  if (digits.includes(".")) return digits.replace(",", "");
  return isAmbiguousComma(digits) ? undefined : digits.replace(",", ".");
}

/** The figure node; what is wrong with its notation is added to `problems`. */
export function figureOf(digits: string, span: Span, form: FigureForm, unit: UnitRef | undefined, problems: SyntaxProblem[]): Figure {
  let value = NaN;
  let halfDigit = 0;
  if (form === "number") {
    value = Number(digits);
    halfDigit = halfDigitOf(digits);
    if (digits.endsWith(".")) problems.push(messages.trailingPoint(digits, span));
  } else if (form === "fraction") value = fractionValue(digits);
  else if (form === "ratio") {
    const [over = "", under = ""] = digits.split(":");
    value = Number(over) / Number(under);
    halfDigit = /[.]/.test(over) ? halfDigitOf(over) / Number(under) : 0;
  } else if (form === "comma") {
    const meant = commaMeant(digits);
    if (meant !== undefined) {
      value = Number(meant);
      halfDigit = halfDigitOf(meant);
    }
    problems.push(messages.decimalComma(digits, meant, span));
  } else {
    const pair = digits.split("-");
    if (pair.length === 2 && (unit !== undefined || digits.includes("."))) problems.push(messages.dashedRange(pair[0] ?? "", pair[1] ?? "", span));
  }
  const written = { text: digits, span };
  if (unit === undefined) return { kind: "figure", form, digits: written, value, halfDigit, span: { start: span.start, end: span.end } };
  return { kind: "figure", form, digits: written, value, halfDigit, span: { start: span.start, end: unit.span.end }, unit };
}
