import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readSource } from "../../grammar/read.ts";
import type { SourceFile } from "../../grammar/source-file.ts";
import { BUILD, ENGINE, SAMPLES } from "./samples.ts";

function places(file: SourceFile): { start: number; text: string }[] {
  return file.declarations.map(({ start, tree }) => ({ start, text: tree.text }));
}

function cut(text: string): string[] {
  return readSource("x", text).declarations.map(({ tree }) => tree.text);
}

describe("cutting a text into declarations", () => {
  it("takes the comment lines directly above a declaration with it, and no others", () => {
    expect(cut("// apart\n\n/// doc\n// note\nengine a {\n}\n// behind\n\npart b {\n}\n")).toEqual(["// apart\n\n", "/// doc\n// note\nengine a {\n}\n// behind\n\n", "part b {\n}\n"]);
  });

  it("cuts at top words in column one only, and not at keys or longer words", () => {
    expect(cut("engine a {\n  part b\nengine: 4\nengine : 4\nparts\npart-b\nuse\n")).toEqual(["engine a {\n  part b\nengine: 4\nengine : 4\nparts\npart-b\n", "use\n"]);
  });

  it("does not cut inside a block comment that is closed, but does inside one that is not", () => {
    expect(cut("engine a {}\n/*\npart b {}\n/* */ */\ncard c {}\n")).toEqual(["engine a {}\n/*\npart b {}\n/* */ */\n", "card c {}\n"]);
    expect(cut("engine a {}\n/*\npart b {}\n/* */\ncard c {}\n")).toEqual(["engine a {}\n/*\n", "part b {}\n/* */\n", "card c {}\n"]);
    expect(cut("engine a { x: \"/*\" }\npart b {} // /*\ncard c {}\n// */\n")).toEqual(["engine a { x: \"/*\" }\n", "part b {} // /*\n", "card c {}\n// */\n"]);
  });

  it("covers every text without gaps, the empty one too", () => {
    for (const text of ["", "\n", "\ufeff", "\ufeffengine a {}\r\rpart b {}", "x", ...SAMPLES]) expect(cut(text).join("")).toBe(text);
  });
});

describe("reading again", () => {
  it("keeps the trees of the declarations that an edit did not touch", () => {
    const before = readSource("x", BUILD);
    const after = readSource("x", BUILD.replace("lobe-lift: 7.10 mm", "lobe-lift: 7.15 mm"), before);
    expect(after.declarations.map(({ tree }, i) => tree === before.declarations[i]?.tree)).toEqual([true, false, true, true, true]);
  });

  it("keeps them when declarations come and go around them", () => {
    const before = readSource("x", `${ENGINE}\n${BUILD}`);
    const trees = new Set(before.declarations.map(({ tree }) => tree));
    const grown = readSource("x", `${ENGINE}\npart new {\n}\n${BUILD}`, before);
    expect(grown.declarations.filter(({ tree }) => !trees.has(tree)).map(({ tree }) => tree.phrase?.head[0])).toMatchObject([{ text: "new" }]);
    const shrunk = readSource("x", BUILD, before);
    expect(shrunk.declarations.filter(({ tree }) => !trees.has(tree))).toEqual([]);
  });

  it("returns the same file for the same text", () => {
    const before = readSource("x", BUILD);
    expect(readSource("x", BUILD, before)).toBe(before);
  });

  it("equals reading from scratch after any edits", () => {
    const pieces = ["engine z {\n", "}\n", "\npart y\n", "// c\n", "/// d\n", "/*", "*/", "\"", "\n", "\r", "use", ":", "x", "\n\ncard k {\n  x: 1\n}\n", "part", " ", ""];
    const edit = fc.record({ at: fc.nat(100_000), remove: fc.oneof(fc.constant(0), fc.nat(30), fc.nat(600)), piece: fc.constantFrom(...pieces) });
    const small = "use \"a\"\n\n// one\nengine a {\n  x: 1\n}\n/// two\npart b { y: 2 }\n/* three\ncard z\n*/\ncard c {\n}\nshop {\n}\n";
    fc.assert(fc.property(fc.constantFrom(small, small, `${ENGINE}\n${BUILD}`), fc.array(edit, { minLength: 1, maxLength: 12 }), (start, edits) => {
      let text = start;
      let file = readSource("x", text);
      for (const { at, remove, piece } of edits) {
        const from = at % (text.length + 1);
        text = text.slice(0, from) + piece + text.slice(from + remove);
        file = readSource("x", text, file);
        const scratch = readSource("x", text);
        expect(places(file)).toEqual(places(scratch));
        expect(file.declarations.map(({ tree }) => tree)).toEqual(scratch.declarations.map(({ tree }) => tree));
      }
    }), { seed: 20270314, numRuns: 400 });
  });
});
