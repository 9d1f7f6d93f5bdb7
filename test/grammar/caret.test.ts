import { describe, expect, it } from "vitest";
import { caretAt } from "../../grammar/caret.ts";
import { nodeAt } from "../../grammar/nodes.ts";
import { parseDeclaration } from "../../grammar/parser.ts";
import { SAMPLES } from "./samples.ts";
import { readSource } from "../../grammar/read.ts";

/** The caret at `¦`, as text: path, slot, token, then key and column where there are any. */
function caret(marked: string): string {
  const offset = marked.indexOf("¦");
  const found = caretAt(parseDeclaration(marked.replace("¦", "")), offset);
  return [
    found.path.map(({ word }) => word.text).join("/"), found.slot, JSON.stringify(found.token.text),
    ...(found.key === undefined ? [] : [`key ${found.key.text}`]), ...(found.column === undefined ? [] : [`column ${found.column}`]),
  ].join(" ").trim();
}

describe("the caret", () => {
  it.each([
    ["engine a {\n  ¦\n}", 'engine item ""'],
    ["engine a {\n  bo¦\n}", 'engine item "bo"'],
    ["engine a {\n  bo¦re: 4\n}", 'engine item "bo"'],
    ["engine a {\n  bore: ¦\n}", 'engine value "" key bore'],
    ["engine a {\n  bore:¦\n}", 'engine value "" key bore'],
    ["engine a {\n  bore: 83¦\n}", 'engine value "83" key bore'],
    ["engine a {\n  bore: 83 ¦\n}", 'engine unit "" key bore'],
    ["engine a {\n  bore: 83 m¦\n}", 'engine unit "m" key bore'],
    ["engine a {\n  bore: 83m¦\n}", 'engine unit "m" key bore'],
    ["engine a {\n  bore: 83q¦\n}", 'engine unit "q" key bore'],
    ["engine a {\n  torque: 20 N·¦\n}", 'engine unit "N·" key torque'],
    ["engine a {\n  lash: 0.2 mm ¦\n}", 'engine qualifier "" key lash'],
    ["engine a {\n  lash: 0.2 mm co¦ld; x: 4\n}", 'engine qualifier "co" key lash'],
    ["engine a {\n  x: 1 .. ¦\n}", 'engine value "" key x'],
    ["engine a { tighten: 30 N·m oiled, ¦\n}", 'engine value "" key tighten'],
    ["engine a { tighten: 30 N·m oiled, then ¦\n}", 'engine value "" key tighten'],
    ["engine a { x: 1; ¦", 'engine item ""'],
    ["engine a { x: valve-spring.¦\n}", 'engine value "valve-spring." key x'],
    ["engine a { needs valve-¦\n}", 'engine head "valve-"'],
    ["build b { fit ¦ }", 'build head ""'],
    ["build b { needs x where m >= 1.5 ¦}", 'build unit ""'],
    ["build b on ¦", 'head ""'],
    ["build b on du¦", 'head "du"'],
    ["¦", 'item ""'],
    ["eng¦", 'item "eng"'],
    ["engine a {\n  x: 4\n}\n¦", 'item ""'],
    ["build b { lash {\n  | a | ¦ | c |\n} }", 'build/lash cell "" column 1'],
    ["build b { lash {\n  | a | b¦ | c |\n} }", 'build/lash cell "b" column 1'],
    ["build b { lash {\n  | valve (¦) |\n} }", 'build/lash unit "" column 0'],
    ["build b { lash {\n  | valve (m¦) |\n} }", 'build/lash unit "m" column 0'],
    ["build b { lash {\n  | 0.2 ¦ |\n} }", 'build/lash unit "" column 0'],
    ["engine a { // wh¦y\n}", 'engine comment "// wh"'],
    ["engine a { // why¦\n}", 'engine comment "// why"'],
    ["engine a {\n  /// do¦c\n}", 'engine comment "/// do"'],
    ["engine a { /* c */¦ }", 'engine item ""'],
    ["engine a { note \"fo¦o\" }", 'engine string "\\"fo"'],
    ["engine a { note \"foo\"¦ }", 'engine head "\\"foo\\""'],
    ["engine a \"x¦", 'string "\\"x"'],
    ["engine a {\n  b {\n    x: 4\n    ¦\n", 'engine/b item ""'],
    ["engine a {\n  b {\n    x: 4\n  ¦\n  y: 3\n}", 'engine item ""'],
    ["engine a {\n  b {\n    x: 4\n    ¦\n  y: 3\n}", 'engine/b item ""'],
    ["engine a {\n  b {\n  }\n  ¦\n}", 'engine item ""'],
    ["engine a {\n  @ b ¦\n}", 'engine item ""'],
  ])("in %j is %s", (marked, expected) => {
    expect(caret(marked)).toBe(expected);
  });

  it("says which token a completion replaces and what stands before it", () => {
    const tree = parseDeclaration("engine a {\n  lash: 0.2 mm cold\n}");
    const found = caretAt(tree, tree.text.indexOf("ld"));
    expect(tree.text.slice(found.whole.start, found.whole.end)).toBe("cold");
    expect(found.before.map(({ text }) => text)).toEqual(["lash", ":", "0.2", "mm"]);
  });

  it("stands somewhere at every place of every sample, cut off there or not", () => {
    for (const text of SAMPLES) for (const { tree } of readSource("x", text).declarations) for (let at = 0; at <= tree.text.length; at += 3) {
      for (const each of [tree, parseDeclaration(tree.text.slice(0, at))]) {
        const found = caretAt(each, at);
        expect(found.token.span.end).toBe(at);
        expect(found.token.text).toBe(each.text.slice(found.token.span.start, at));
      }
    }
  });
});

describe("the nodes at a place", () => {
  it("lead from the declaration to the smallest", () => {
    const tree = parseDeclaration("/// D\nengine a {\n  lash: 0.15 ± 0.03 mm cold // why\n  | valve (mm) | 1 |\n}");
    const kinds = (at: string): string => nodeAt(tree, tree.text.indexOf(at) + 1).map(({ kind }) => kind).join(" ");
    expect(kinds("mm cold")).toBe("declaration phrase block entry value part part unit");
    expect(kinds("0.15")).toBe("declaration phrase block entry value part part digits");
    expect(kinds("lash")).toBe("declaration phrase block entry key");
    expect(kinds("mm)")).toBe("declaration phrase block row cell unit");
    expect(kinds("engine")).toBe("declaration phrase word");
    expect(kinds("/// D")).toBe("declaration doc");
    expect(kinds("why")).toBe("declaration phrase block comment");
  });

  it("each lie inside the one before", () => {
    for (const text of SAMPLES) for (const { tree } of readSource("x", text).declarations) for (let at = 0; at <= tree.text.length; at += 2) {
      const chain = nodeAt(tree, at);
      chain.slice(1).forEach(({ span }, i) => {
        expect(span.start).toBeGreaterThanOrEqual(chain[i]?.span.start ?? NaN);
        expect(span.end).toBeLessThanOrEqual(chain[i]?.span.end ?? NaN);
      });
    }
  });
});
