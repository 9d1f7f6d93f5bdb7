import { describe, expect, test } from "vitest";
import { readSource } from "../../grammar/read.ts";
import { PHRASES } from "../../server/schema/phrases.ts";
import { everyBlock, everyRow } from "./every-block.ts";
import { problemsOfValue, valuesOf } from "./reading.ts";

const COLUMNS = new Set([...everyBlock().values()].flatMap((block) => block.table?.columns ?? []));

describe("the example of every key", () => {
  for (const [name, row] of everyRow()) {
    test(name, () => {
      const values = valuesOf(row.key, row.example);
      // A column's qualifier stands in its heading, so the cell's example may go without.
      const found = problemsOfValue(row, values).filter((problem) => !(COLUMNS.has(row) && problem.includes("no word of")));
      expect(found).toEqual([]);
      expect(valuesOf(row.key, row.example).length).toBeGreaterThan(0);
    });
  }
});

describe("the example of every phrase", () => {
  for (const phrase of Object.values(PHRASES)) {
    test(phrase.word, () => {
      const top = ["use", "engine", "part", "card", "build", "shop"].includes(phrase.word);
      const text = top ? `${phrase.example}\n` : `build a on b {\n  ${phrase.example}\n}\n`;
      const file = readSource("file:///example.tappet", text);
      expect(file.declarations.flatMap(({ tree }) => tree.problems.map((problem) => problem.message))).toEqual([]);
      const outer = file.declarations[0]?.tree.phrase;
      const inner = outer?.block?.items[0];
      expect(top ? outer?.word.text : inner?.kind === "phrase" ? inner.word.text : undefined).toBe(phrase.word);
    });
  }
});

describe("the example of every table", () => {
  for (const [name, block] of everyBlock()) {
    if (!block.table) continue;
    const { table } = block;
    test(name, () => {
      const file = readSource("file:///example.tappet", `build a on b {\n  ${table.example}\n}\n`);
      expect(file.declarations.flatMap(({ tree }) => tree.problems.map((problem) => problem.message))).toEqual([]);
      const row = file.declarations[0]?.tree.phrase?.block?.items[0];
      expect(row?.kind).toBe("row");
      if (row?.kind !== "row" || table.form !== "columns") return;
      const headings = row.cells.map((cell) => cell.parts.map((part) => (part.kind === "word" ? part.text : "")).join(" ")).filter((heading) => heading !== "");
      expect(headings.filter((heading) => !table.columns?.some((column) => column.key === heading))).toEqual([]);
      expect(headings.length).toBeGreaterThan(1);
    });
  }
});
