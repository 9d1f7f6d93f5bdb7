// How a recording is laid out, told from its opening: line ends, delimiter, headings, row of units, decimal mark. Stated things count over
// what the opening looks like. Reads no more than the opening.
import { type FoundColumn, type Matched, likeness, matchColumns, unitNamed } from "./columns.ts";
import { markOf, numberIn } from "./cell.ts";
import type { DecimalMark, Delimiter, Question } from "./question.ts";
import { openingRows } from "./rows.ts";
import type { Unsummed } from "./summary.ts";

/** Characters that the layout is told from. The same wherever the pieces are cut. */
export const OPENING = 64 * 1024;

/** Headings are looked for no further down than this. */
const MOST_PREAMBLE = 60;
const DELIMITERS: readonly Delimiter[] = [",", ";", "\t", "|"];

export interface Layout {
  readonly newline: "\n" | "\r";
  readonly delimiter: Delimiter;
  /** Settled by the opening, or stated; where neither, by the first figure that has one. */
  readonly decimal: DecimalMark | undefined;
  /** Rows before the first one of readings: preamble, headings, units. */
  readonly skip: number;
  readonly preamble: number;
  readonly unitRow: boolean;
  readonly cells: readonly string[];
  readonly matched: Matched;
}

export function layoutOf(text: string, whole: boolean, question: Question): Layout | { readonly problem: Unsummed } {
  if (text.trim() === "") return { problem: { sort: "empty" } };
  const newline = text.includes("\n") ? "\n" : text.includes("\r") ? "\r" : "\n";
  let best: { readonly delimiter: Delimiter; readonly rows: readonly (readonly string[])[]; readonly at: number; readonly score: number } | undefined;
  for (const delimiter of question.delimiter ? [question.delimiter] : DELIMITERS) {
    const rows = openingRows(text, delimiter, newline, whole);
    rows.slice(0, MOST_PREAMBLE).forEach((row, at) => {
      const named = likeness(row, question.columns);
      // Where none of the headings asked for is there, the widest row of words that figures stand under.
      const score = named > 0 ? named * 1000 + row.length : isHeadings(row, rows[at + 1]) || isHeadings(row, rows[at + 2]) ? Math.min(row.length, 999) / 1000 : 0;
      if (score > (best?.score ?? 0)) best = { delimiter, rows, at, score };
    });
  }
  if (!best) return { problem: { sort: "not-a-table", text: firstLine(text) } };
  const { delimiter, rows, at } = best;
  const cells = (rows[at] as readonly string[]).map((cell) => cell.trim());
  const next = rows.slice(at + 1).find((row) => !isBlank(row));
  const bare = matchColumns(cells, undefined, question.columns);
  const places = [...bare.found.map((c) => c.index), ...bare.lost.flatMap((l) => (l.why === "absent" ? [] : [cells.indexOf(l.found[0] ?? "")]))];
  const unitRow = next !== undefined && isUnitRow(next, places, bare, cells);
  const matched = unitRow ? matchColumns(cells, next, question.columns) : bare;
  const headings = cells.filter((c) => c !== "");
  if (matched.found.length === 0 && matched.lost.every((l) => l.why === "absent")) return { problem: { sort: "no-columns", headings } };
  let skip = at + 1;
  if (unitRow) skip = rows.indexOf(next, skip) + 1;
  const body = rows.slice(skip);
  const mark = question.decimal ?? markOf(cellsOf(body, matched.found));
  if (mark === "ambiguous") {
    const line = body.findIndex((row) => matched.found.some((c) => markOf([row[c.index] ?? ""]) === "ambiguous"));
    const text = matched.found.map((c) => body[line]?.[c.index] ?? "").find((cell) => markOf([cell]) === "ambiguous") ?? "";
    return { problem: { sort: "ambiguous", line: skip + line + 1, text: text.trim() } };
  }
  return { newline, delimiter, decimal: mark, skip, preamble: at, unitRow, cells, matched };
}

function* cellsOf(rows: readonly (readonly string[])[], columns: readonly FoundColumn[]): Iterable<string> {
  for (const row of rows) for (const { index } of columns) yield row[index] ?? "";
}

export function isBlank(row: readonly string[]): boolean {
  return row.length <= 1 && (row[0] ?? "").trim() === "";
}

function isHeadings(row: readonly string[], below: readonly string[] | undefined): boolean {
  if (!below || row.length < 2 || Math.abs(below.length - row.length) > 1) return false;
  const words = row.filter((cell) => /\p{L}/u.test(cell)).length;
  const figures = below.filter((cell) => typeof numberIn(cell, undefined) === "number" || typeof numberIn(cell, ",") === "number").length;
  return words >= 0.6 * row.length && figures >= 0.5 * below.length;
}

/** Under the headings a row of units: no figure in any column asked for, and a unit in one at least. */
function isUnitRow(row: readonly string[], places: readonly number[], { found }: Matched, cells: readonly string[]): boolean {
  const own = places.filter((i) => i >= 0);
  if (own.some((i) => /\d{2}/.test(row[i] ?? "") || typeof numberIn(row[i] ?? "", undefined) === "number" || row[i]?.trim() === cells[i])) return false;
  return found.some((c) => unitNamed(row[c.index] ?? "", c.wanted.kind) !== undefined) || own.some((i) => /^[([{]?[\p{L}%°λ/·²³]{1,9}[)\]}]?$/u.test((row[i] ?? "").trim()));
}

function firstLine(text: string): string {
  return text.trimStart().split(/\r\n|\r|\n/, 1)[0]?.slice(0, 60) ?? "";
}
