// Text in pieces cut into rows of cells, whatever the pieces. Keeps no more than one row beyond what it was given. Knows no column.
import papa from "papaparse/papaparse.js";
import type { Delimiter } from "./question.ts";

/** A row longer than this has a quote in it that was never closed. In characters. */
export const LONGEST_ROW = 1024 * 1024;

export interface RowCutter {
  /** The rows that this piece completes; nothing more once it has failed. */
  push(text: string): readonly (readonly string[])[];
  end(): readonly (readonly string[])[];
  /** Characters that wait for the rest of their row. */
  waiting(): number;
}

export function rowCutter(delimiter: Delimiter, newline: "\n" | "\r"): RowCutter {
  const parser = new papa.Parser({ delimiter, newline });
  let rest = "";
  return {
    push(text) {
      const all = rest === "" ? text : rest + text;
      const { data, meta } = parser.parse(all, 0, true);
      rest = all.slice(meta.cursor);
      return data;
    },
    end() {
      if (rest === "") return [];
      const { data } = parser.parse(rest, 0, false);
      rest = "";
      return data;
    },
    waiting: () => rest.length,
  };
}

/** Rows of a text that may end in the middle of one. */
export function openingRows(text: string, delimiter: Delimiter, newline: "\n" | "\r", whole: boolean): readonly (readonly string[])[] {
  return new papa.Parser({ delimiter, newline }).parse(text, 0, !whole).data;
}
