// A table kept in columns while it is typed: after a bar, and when a row is ended. Changes blanks only, never the caret's own end of the line;
// an empty row that is ended is taken away. Offsets in the text in and out; knows no protocol.
import { formatRows } from "../../grammar/printer.ts";
import type { Span } from "../../grammar/tree.ts";

export interface TextEditAt {
  readonly span: Span;
  readonly text: string;
}

const ROW = /^[ \t]*\|/;
const EMPTY_ROW = /^[ \t]*\|[ \t]*$/;

/** @param typed the character after which the caret now stands. */
export function editsOnType(text: string, offset: number, typed: string): TextEditAt[] {
  const lines = linesAround(text);
  const at = lines.findIndex((line) => offset >= line.start && offset <= line.stop);
  const here = lines[at];
  if (!here) return [];
  const above = lines[at - 1];
  // Enter begins the next row with its bar; who writes the bar as well means that one.
  if (typed === "|" && above && ROW.test(above.text) && /^[ \t]*\|[ \t]+\|$/.test(text.slice(here.start, offset)) && offset === here.stop) return [{ span: { start: offset - 1, end: offset }, text: "" }];
  if (typed === "|") return ROW.test(here.text) && /\|$/.test(text.slice(here.start, offset)) ? alignment(lines, at) : [];
  if (!above || !ROW.test(above.text)) return [];
  // Who ends an empty row ends the table: the row goes, and what was begun on the next line with it.
  if (EMPTY_ROW.test(above.text) && ROW.test(lines[at - 2]?.text ?? "")) return [{ span: { start: above.start, end: here.start }, text: "" }];
  return alignment(lines, at - 1);
}

interface Line {
  readonly start: number;
  /** Where its text ends, before the line end. */
  readonly stop: number;
  readonly text: string;
}

function linesAround(text: string): Line[] {
  const lines: Line[] = [];
  const ends = /\r\n|\n|\r|$/g;
  for (let start = 0; start <= text.length; ) {
    ends.lastIndex = start;
    const end = ends.exec(text);
    const stop = end?.index ?? text.length;
    lines.push({ start, stop, text: text.slice(start, stop) });
    if (!end || end[0] === "") break;
    start = stop + end[0].length;
  }
  return lines;
}

/** The edits that put the rows around a line under each other. */
function alignment(lines: readonly Line[], at: number): TextEditAt[] {
  let from = at;
  let to = at;
  while (from > 0 && isWhole(lines[from - 1])) from--;
  while (to + 1 < lines.length && isWhole(lines[to + 1])) to++;
  const run = lines.slice(from, to + 1);
  const laid = formatRows(run.map((line) => line.text).join("\n")).split("\n");
  if (laid.length !== run.length) return [];
  const indent = /^[ \t]*/.exec(run[0]?.text ?? "")?.[0] ?? "";
  return run.flatMap((line, i) => blanksBetween(line, `${indent}${laid[i]?.trimStart() ?? ""}`));
}

function isWhole(line: Line | undefined): boolean {
  return line !== undefined && ROW.test(line.text) && !EMPTY_ROW.test(line.text);
}

/** Edits of the blanks alone that make a line read as it is laid out, as far as both have the same characters. */
function blanksBetween(line: Line, laid: string): TextEditAt[] {
  const edits: TextEditAt[] = [];
  let i = 0;
  let j = 0;
  while (i < line.text.length && j < laid.length) {
    const [old, fresh] = [/^[ \t]*/.exec(line.text.slice(i))?.[0] ?? "", /^[ \t]*/.exec(laid.slice(j))?.[0] ?? ""];
    // What stands at the end of the line is still being typed.
    if (i + old.length >= line.text.length) break;
    if (old !== fresh) edits.push({ span: { start: line.start + i, end: line.start + i + old.length }, text: fresh });
    i += old.length;
    j += fresh.length;
    while (i < line.text.length && j < laid.length && !/[ \t]/.test(line.text.charAt(i)) && !/[ \t]/.test(laid.charAt(j))) {
      if (line.text.charAt(i) !== laid.charAt(j)) return [];
      i++;
      j++;
    }
  }
  return edits;
}
