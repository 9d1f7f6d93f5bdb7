// Tables in a block: readings by row label and column head, each with its unit and place. Knows tables, not what was measured.
import type { Cell, Part, Row, Span, Text, UnitRef } from "../../grammar/tree.ts";
import { type UnitId, spellingOfUnit, unitOfSpelling } from "../../grammar/vocabulary.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { readValue } from "../quantity/value.ts";
import { type KindId, kindOf, unitFits } from "../quantity/kinds.ts";
import { keyIn } from "../schema/lookup.ts";
import type { BlockSchema, KeySchema, TableSchema } from "../schema/types.ts";
import type { TextProblem } from "./problem.ts";
import { plainText, ruleOfProblem } from "./value.ts";

/** One reading of a grid: `intake a` of cylinder `1`. */
export interface Reading {
  readonly row: string;
  readonly head: string;
  readonly quantity: Quantity;
  /** Words of its column's heading, else of the heading of the labels: `1 (mm hot)`, `deck (mm above)`. */
  readonly words: readonly Text[];
  readonly span: Span;
}

export interface TableHead {
  readonly text: string;
  /** The key the column holds, when its head names one. */
  readonly key?: KeySchema;
  readonly unit?: UnitRef;
  readonly words: readonly Text[];
  readonly span: Span;
}

export interface TableCell {
  readonly text: string;
  readonly parts: readonly Part[];
  readonly quantity?: Quantity;
  /** False for `-`, an empty cell, or a cell that could not be read. */
  readonly given: boolean;
  readonly span: Span;
}

export interface ReadingTable {
  readonly heads: readonly TableHead[];
  readonly rows: readonly { readonly cells: readonly TableCell[]; readonly span: Span }[];
  readonly span: Span;
}

/** Reads the rows of one block; the first is the header. */
export function readTable(rows: readonly Row[], schema: TableSchema, block: BlockSchema): { table: ReadingTable; readings: Reading[]; problems: TextProblem[] } {
  const problems: TextProblem[] = [];
  const header = rows[0] as Row;
  const grid = schema.form === "grid";
  const heads = header.cells.map((cell): TableHead => {
    const text = headText(cell);
    const key = grid ? undefined : (schema.columns?.find((k) => k.key === text || k.aliases?.includes(text)) ?? keyIn(block, text));
    if (!grid && !key && text !== "" && schema.columns && !block.open)
      problems.push({ code: "unknown-key", message: `This table has no column \`${text}\` that is known here. Known columns: ${schema.columns.map((k) => k.key).join(", ")}.`, span: cell.span, fixes: [] });
    return { text, ...(key && { key }), ...(cell.unit && { unit: cell.unit }), words: cell.words, span: cell.span };
  });
  // A unit on the label column serves every column without one.
  const tableUnit = heads[0]?.unit;
  const readings: Reading[] = [];
  const out: { cells: TableCell[]; span: Span }[] = [];
  for (const row of rows.slice(1)) {
    const label = row.cells[0] ? headText(row.cells[0]) : "";
    if (row.cells.length > heads.length)
      problems.push({ code: "table-shape", message: `This row has ${row.cells.length} cells and the header ${heads.length}. Add a column head, or take the cell out.`, span: row.cells[heads.length]?.span ?? row.span, fixes: [] });
    const cells = row.cells.map((cell, i): TableCell => {
      const head = heads[i];
      const text = cell.parts.map(plainText).join(" ");
      if ((grid && i === 0) || cell.none || cell.parts.length === 0 || !head) return { text, parts: cell.parts, given: false, span: cell.span };
      const kind: KindId | undefined = grid ? schema.kind : head.key?.type.is === "quantity" ? head.key.type.kind : undefined;
      if (!kind) return { text, parts: cell.parts, given: true, span: cell.span };
      const unit = head.unit ?? (grid ? tableUnit : unitNamed(head, kind));
      const read = readValue(cell.parts, kind, unit ? { inheritedUnit: unit } : {});
      for (const p of read.problems) {
        if (p.code === "hole") continue;
        problems.push({ code: ruleOfProblem(p.code), message: p.code === "unit-missing" ? `${grid ? "This table" : `The column \`${head.text}\``} has no unit. Write it in the header: \`${grid ? heads[0]?.text : head.text} (${spellingOfUnit(kindOf(kind).units[0] as UnitId)})\`.` : p.message, span: p.span, fixes: [] });
      }
      if (!read.quantity) return { text, parts: cell.parts, given: false, span: cell.span };
      if (grid) readings.push({ row: label, head: head.text, quantity: read.quantity, words: head.words.length > 0 ? head.words : (heads[0]?.words ?? []), span: cell.span });
      return { text, parts: cell.parts, quantity: read.quantity, given: true, span: cell.span };
    });
    out.push({ cells, span: row.span });
  }
  // One missing unit is one mistake, not one for every cell below it.
  const seen = new Set<string>();
  const once = problems.filter((p) => p.code !== "unit-missing" || (!seen.has(p.message) && seen.add(p.message)));
  return { table: { heads, rows: out, span: { start: header.span.start, end: rows[rows.length - 1]?.span.end ?? header.span.end } }, readings, problems: once };
}

/** A heading that is itself a unit of its column's kind says both: `rpm`, `deg`, `afr`. */
function unitNamed(head: TableHead, kind: KindId): UnitRef | undefined {
  const unit = unitOfSpelling(head.text);
  return unit !== undefined && unitFits(kind, unit) ? { text: head.text, span: head.span } : undefined;
}

function headText(cell: Cell): string {
  return cell.parts.map(plainText).join(" ");
}
