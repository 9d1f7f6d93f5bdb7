/** Texts past every bound of reading: one clear finding, the text kept as it is, and the same however it came about. */
import { describe, expect, test } from "vitest";
import { LONGEST_DECLARATION } from "../../grammar/parser.ts";
import { format } from "../../grammar/printer.ts";
import { MOST_DECLARATIONS, readSource } from "../../grammar/read.ts";
import type { SourceFile } from "../../grammar/source-file.ts";

const told = (file: SourceFile) => file.declarations.flatMap(({ start, tree }) => tree.problems.map((p) => [p.message, start + p.span.start, start + p.span.end]));

describe("a declaration that is too long to be one", () => {
  const inside = "  bore: 83 mm\n".repeat(Math.ceil(LONGEST_DECLARATION / 14));
  const long = `engine e {\n${inside}}\n`;
  test("is not read, says so once on its first line, and leaves its neighbours be", () => {
    const file = readSource("a", `engine a {\n}\n${long}engine c {\n}\n`);
    expect(told(file)).toEqual([[expect.stringContaining("longer than 256 KB"), 13, 23]]);
    expect(file.declarations.map(({ tree }) => tree.phrase?.head.length)).toEqual([1, undefined, 1]);
  });
  test("is laid out as it is written", () => {
    expect(format(readSource("a", long))).toBe(long);
  });
  test("is read again as soon as it is short enough", () => {
    const before = readSource("a", long);
    const after = readSource("a", long.replace(inside, "  bore: 83 mm\n"), before);
    expect(told(after)).toEqual([]);
  });
  test("of two hundred thousand figures in a row is answered without one call for each", () => {
    expect(told(readSource("a", `engine e { bore: ${"1 ".repeat(120_000)}/ }`)).length).toBeGreaterThan(0);
  });
});

describe("more declarations than a file holds", () => {
  const many = (n: number) => Array.from({ length: n }, (_, i) => `card c${i} { }\n`).join("");
  test("are read up to the bound, and the rest is said to be left at its first line", () => {
    expect(told(readSource("a", many(MOST_DECLARATIONS)))).toEqual([]);
    const text = many(MOST_DECLARATIONS + 3);
    const start = text.indexOf(`card c${MOST_DECLARATIONS} `);
    expect(told(readSource("a", text))).toEqual([[expect.stringContaining("at most 20000 declarations"), start, text.indexOf("\n", start)]]);
    expect(format(readSource("a", text)).endsWith(text.slice(start))).toBe(true);
  });
  test("are the same whether the text was read at once or came there by edits", () => {
    let text = many(MOST_DECLARATIONS - 1);
    let file = readSource("a", text);
    const edits: readonly (readonly [number, number, string])[] = [[0, 0, "card first { }\n"], [0, 0, "card zero { }\n"], [text.length / 2, 0, "\ncard half { }\n"], [text.length - 5, 0, "card\n"], [0, 40, ""], [100, 60, ""], [200, 0, "/* open"], [200, 7, ""], [0, 80, ""]];
    for (const [at, cut, put] of edits) {
      const from = Math.floor(at);
      text = text.slice(0, from) + put + text.slice(from + cut);
      file = readSource("a", text, file);
      const anew = readSource("a", text);
      expect(file.declarations.map((d) => [d.start, d.tree.text, d.tree.problems])).toEqual(anew.declarations.map((d) => [d.start, d.tree.text, d.tree.problems]));
    }
  });
});
