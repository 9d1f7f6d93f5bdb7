// Rows as comma-separated text (RFC 4180). Knows no engine and no disk.
import papa from "papaparse/papaparse.js";

/** Lines end with a line feed. A cell that a spreadsheet would take for a formula is marked as text, so that opening the file runs nothing. */
export function separatedText(rows: readonly (readonly (string | number)[])[]): string {
  return `${papa.unparse(rows, { newline: "\n", escapeFormulae: true })}\n`;
}
