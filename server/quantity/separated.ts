// Text whose figures are parted by commas, semicolons or tabs, as loggers and spreadsheets write it: rows of cells, and figures with a decimal
// point or a decimal comma. Knows no column's meaning.
import papa from "papaparse/papaparse.js";

export type Delimiter = "," | ";" | "\t";

export interface SeparatedRow {
  /** Trimmed. */
  readonly cells: readonly string[];
  /** The line it begins on, counted from one. */
  readonly line: number;
}

export interface Separated {
  readonly delimiter: Delimiter;
  /** Blank lines and lines that begin with # left out. */
  readonly rows: readonly SeparatedRow[];
  /** The mark between whole and part, the same in the whole text: 12,5 in one cell forbids 12.5 in another. */
  readonly decimal: "." | ",";
  /** True where rows past the bound were left unread. */
  readonly cut: boolean;
}

/**
 * Cuts a text into rows. The delimiter is the tab where the first line has one, else the semicolon, else the comma; a decimal comma is taken
 * where the comma does not part cells and some cell is such a figure. Reads no more than `mostRows`.
 */
export function readSeparated(text: string, mostRows = Infinity): Separated {
  const first = text.split(/\r\n|\r|\n/, 200).find((line) => line.trim() !== "" && !line.trimStart().startsWith("#")) ?? "";
  const delimiter: Delimiter = first.includes("\t") ? "\t" : first.includes(";") ? ";" : ",";
  const parsed = papa.parse(text, { delimiter, header: false, ...(Number.isFinite(mostRows) && { preview: mostRows + 1 }) });
  const rows: SeparatedRow[] = [];
  let line = 1;
  for (const row of parsed.data.slice(0, mostRows)) {
    const cells = row.map((cell) => cell.trim());
    if (cells.some((cell) => cell !== "") && !cells[0]?.startsWith("#")) rows.push({ cells, line });
    // A quoted cell may hold line ends.
    line += 1 + row.reduce((sum, cell) => sum + (cell.match(/\r\n|\r|\n/g)?.length ?? 0), 0);
  }
  const decimal = delimiter !== "," && rows.some((row) => row.cells.some((cell) => /^[-+−]?\d*,\d+$/.test(cell))) ? "," : ".";
  return { delimiter, rows, decimal, cut: parsed.data.length > mostRows };
}

/** A cell as a figure: digits with one decimal mark and perhaps an exponent. Thousands marks, units and words make it none. */
export function figureIn(cell: string, decimal: "." | ","): number | undefined {
  const plain = decimal === "," ? (cell.includes(".") ? "" : cell.replace(",", ".")) : cell;
  if (!/^[-+−]?(\d+(?:\.\d*)?|\.\d+)(e[-+]?\d{1,3})?$/i.test(plain)) return undefined;
  const value = Number(plain.replace("−", "-"));
  return Number.isFinite(value) ? value : undefined;
}

export interface ColumnHead {
  /** The heading in small letters, brackets opened: "angle deg crank". */
  readonly words: readonly string[];
  readonly text: string;
}

/** A heading such as `lift (mm at lobe)`, `Lift [mm]` or `lift_mm` as its words. */
export function headOf(cell: string): ColumnHead {
  return { text: cell, words: cell.replace(/[()[\]{}_,:]/g, " ").trim().split(/\s+/).filter((word) => word !== "") };
}
