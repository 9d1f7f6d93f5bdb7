import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lex } from "../../grammar/lexer.ts";
import { parseDeclaration } from "../../grammar/parser.ts";
import { readSource } from "../../grammar/read.ts";
import type { DeclarationTree, Span } from "../../grammar/tree.ts";
import { BUILD, SAMPLES } from "./samples.ts";
import { allItems, itemText, placedItems } from "./tree-text.ts";

/** What the toolkit could not foresee ends in this problem; it must never be needed. */
const UNREADABLE = /could not be read/;

/** Every non-blank character lies in a token or a comment, every span in the text, and the declarations make up the whole text. */
function holdsTogether(text: string): void {
  const file = readSource("x", text);
  expect(file.declarations.map(({ tree }) => tree.text).join("")).toBe(text);
  for (const { tree } of file.declarations) {
    const { tokens, comments } = lex(tree.text);
    let rest = tree.text;
    for (const token of [...tokens, ...comments]) {
      expect(tree.text.startsWith(token.image, token.startOffset)).toBe(true);
      rest = rest.slice(0, token.startOffset) + " ".repeat(token.image.length) + rest.slice(token.startOffset + token.image.length);
    }
    expect(rest.trim().replace(/\ufeff/g, "")).toBe("");
    expect(tree.problems.filter(({ message }) => UNREADABLE.test(message))).toEqual([]);
    const whole = { start: 0, end: tree.text.length };
    for (const part of [tree.phrase, tree.stray, tree.comments, tree.problems]) inside(part, whole);
    expect(unread(tree)).toBe("");
  }
}

/** Every span in what is found lies in the span around it; doc lines stand before their item. */
function inside(found: unknown, around: Span): void {
  if (typeof found !== "object" || found === null) return;
  const { span = around } = found as { readonly span?: Span };
  expect([span.start >= around.start, span.end >= span.start, span.end <= around.end], JSON.stringify(found)).toEqual([true, true, true]);
  for (const [name, child] of Object.entries(found)) inside(child, name === "docs" || name === "fix" ? { start: 0, end: Infinity } : span);
}

/** Text that no item, comment or problem accounts for, separators and braces aside. */
function unread(tree: DeclarationTree): string {
  const mask = [...tree.text];
  const clear = ({ start, end }: Span): void => {
    for (let i = start; i < end; i++) mask[i] = " ";
  };
  // split by code units, so that spans fit
  mask.length = 0;
  for (let i = 0; i < tree.text.length; i++) mask.push(tree.text.charAt(i));
  for (const item of allItems(tree)) {
    clear(item.span);
    if ("docs" in item) item.docs.forEach(({ span }) => clear(span));
  }
  tree.comments.forEach(({ span }) => clear(span));
  return mask.join("").replace(/[;{}\s\ufeff]/g, "");
}

const PIECES = ["{", "}", "(", ")", "|", ":", ",", ";", "\"", "/*", "*/", "//", "///", "..", "...", "±", "-", "+", "*", "/", "<=", "<", "=", "@", "#", "·", "é", "😀", "then", "where", "engine", "fit ", "x: ", "12", "0.5", "1,5", "3/8", "M8x1", "10W-40", "mm", "N·m", "\n", "\r\n", "\r", "  ", "\t", "\u2028", "\ufeff", "20 mm", "…", "."];
const seeded = { seed: 20270314, numRuns: 400 };

describe("a damaged text", () => {
  it("is read at every prefix of every sample", () => {
    for (const text of SAMPLES) for (let end = 0; end <= text.length; end++) {
      const prefix = text.slice(0, end);
      const file = readSource("x", prefix);
      expect(file.declarations.map(({ tree }) => tree.text).join("")).toBe(prefix);
      for (const { tree } of file.declarations) {
        expect(tree.problems.filter(({ message }) => UNREADABLE.test(message))).toEqual([]);
        expect(unread(tree)).toBe("");
      }
    }
  });

  it("loses nothing at deletions, insertions and swaps", () => {
    const edit = fc.oneof(
      fc.record({ kind: fc.constant("delete" as const), at: fc.nat(10_000), length: fc.integer({ min: 1, max: 40 }) }),
      fc.record({ kind: fc.constant("insert" as const), at: fc.nat(10_000), piece: fc.constantFrom(...PIECES) }),
      fc.record({ kind: fc.constant("swap" as const), at: fc.nat(10_000), length: fc.integer({ min: 1, max: 20 }) }),
    );
    fc.assert(fc.property(fc.constantFrom(...SAMPLES), fc.array(edit, { minLength: 1, maxLength: 8 }), (sample, edits) => {
      let text = sample;
      for (const each of edits) {
        const at = each.at % (text.length + 1);
        if (each.kind === "delete") text = text.slice(0, at) + text.slice(at + each.length);
        else if (each.kind === "insert") text = text.slice(0, at) + each.piece + text.slice(at);
        else text = text.slice(0, at) + text.slice(at + each.length, at + 2 * each.length) + text.slice(at, at + each.length) + text.slice(at + 2 * each.length);
      }
      holdsTogether(text);
    }), seeded);
  });

  it("is read whatever it is made of", () => {
    fc.assert(fc.property(fc.array(fc.oneof(fc.constantFrom(...PIECES), fc.string({ unit: "binary", maxLength: 4 })), { maxLength: 60 }), (pieces) => {
      holdsTogether(pieces.join(""));
      holdsTogether(`engine a {\n${pieces.join(" ")}\n}`);
    }), seeded);
  });

  it("costs the damaged line and no other", () => {
    // Lines that hold whole items and open or close nothing; a doc line is no damage, for it belongs to the next item.
    const places = SAMPLES.flatMap((sample) => sample.split("\n").flatMap((line, at) => (/^ {2,}\S/.test(line) && !/[{}]$/.test(line) ? [{ sample, at }] : [])));
    const junk = fc.array(fc.constantFrom(...PIECES.filter((piece) => !/[\n\r]|\*\/|\/\/\//.test(piece))), { minLength: 1, maxLength: 8 })
      // `} b {` is sound text with another meaning: no reader can call it damage.
      .filter((pieces) => !/\}[^]*\{/.test(pieces.join(" ")));
    const itemsBeside = (text: string, line: number): string[] => {
      const lines = text.split("\n");
      const starts = lines.slice(0, line).join("\n").length + 1;
      const ends = starts + (lines[line] as string).length;
      return readSource("x", text).declarations.flatMap(({ start, tree }) => placedItems(tree)
        .filter(({ item }) => item.kind !== "phrase" || item.block === undefined)
        .filter(({ item: { span } }) => start + span.end < starts || start + span.start > ends)
        .map(({ item, path }) => path + itemText(item)));
    };
    fc.assert(fc.property(fc.constantFrom(...places), junk, ({ sample, at }, pieces) => {
      const lines = sample.split("\n");
      const indent = /^ */.exec(lines[at] as string)?.[0] ?? "";
      const damaged = lines.with(at, `${indent}${pieces.join(" ")}`).join("\n");
      expect(itemsBeside(damaged, at)).toEqual(itemsBeside(sample, at));
    }), seeded);
  });

  it("costs the damaged line when a half-typed entry stands there", () => {
    const before = parseDeclaration("engine a {\n  bore: 83 mm\n  stroke: 82 mm\n  fit b\n  intake { x: 1 }\n}");
    for (const half of ["bore:", "bore: 83 ..", "bore: 83 ±", "bore: 83,", "bore: 83 mm (", "bore: \"x", "bore: 83 +", "bore: <=", "intake {", "| 1 |", "fit b,", "}", "{", ")", "/* x"]) {
      const items = allItems(parseDeclaration(`engine a {\n  ${half}\n  stroke: 82 mm\n  fit b\n  intake { x: 1 }\n}`)).map((item) => itemText(item));
      for (const item of before.phrase?.block?.items.slice(1) ?? []) expect(items).toContain(itemText(item));
    }
  });
});

describe("an outsized text", () => {
  it("is read when nested forty thousand deep, with one problem that says so", () => {
    for (const [open, close] of [["a { ", " }"], ["x: (", ")"], ["( ", ") "]] as const) {
      const tree = parseDeclaration(`engine a { ${open.repeat(40_000)}${close.repeat(40_000)} }`);
      expect(tree.problems.filter(({ message }) => /brackets deep/.test(message)).length).toBeLessThanOrEqual(1);
      expect(tree.problems.filter(({ message }) => UNREADABLE.test(message))).toEqual([]);
    }
    expect(parseDeclaration(`engine a { ${"b { ".repeat(40_000)}${"} ".repeat(40_000)} }`).problems.map(({ message }) => message)).toEqual([expect.stringMatching(/brackets deep/)]);
    expect(parseDeclaration(`engine a { x: ${"(".repeat(40_000)}1${")".repeat(40_000)} }`).problems.map(({ message }) => message)).toEqual([expect.stringMatching(/brackets deep/)]);
  });

  it.each(["b { ", "} ", "{ ", "(a ", "| (a ", "1/1/", "1.1.1.", "1-1-", "1,1,", "a.b.", "a-b-", "/* ", "/* */ ", "\" ", "+ ", "- ", "+1 -1 ", "x: 1; ", "x:", "then ", "fit b, ", "1 1 ", "20 mm ", "μ", "…", "@ ", "/// ", "   "])(
    "is read as one line of a quarter of a megabyte of %j", (piece) => {
      const text = `engine a { ${piece.repeat(Math.floor(250_000 / piece.length))}`;
      const tree = parseDeclaration(text);
      expect(tree.text).toBe(text);
      expect(tree.problems.filter(({ message }) => UNREADABLE.test(message))).toEqual([]);
    }, 60_000);

  it("is read when every line opens a comment that is never closed", () => {
    const file = readSource("x", "/* x\n".repeat(50_000));
    expect(file.declarations).toHaveLength(1);
    expect(file.declarations[0]?.tree.comments).toHaveLength(50_000);
  });
});

describe("text left open", () => {
  it("ends a string, and a comment that is never closed, with its line", () => {
    const tree = parseDeclaration("engine a {\n  x: \"open\n  /* open\n  y: 2\n}");
    expect(allItems(tree).map((item) => itemText(item)).slice(1)).toEqual(["x: \"open", "y: 2"]);
    expect(tree.comments.map(({ text }) => text)).toEqual(["/* open"]);
  });

  it("ends a declaration that is never closed where the next one begins", () => {
    const file = readSource("x", BUILD.replaceAll("}", ""));
    expect(file.declarations.map(({ tree }) => tree.phrase?.word.text)).toEqual(["use", "part", "part", "card", "build"]);
  });
});
