// Places where git left both sides of a merge: found whole, read as the first side, settled either way.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findConflicts, readableText, settledText } from "../../grammar/conflicts.ts";
import { format } from "../../grammar/printer.ts";
import { readSource } from "../../grammar/read.ts";

const BOTH = "engine e {\n<<<<<<< HEAD\n  bore: 83.00 mm\n=======\n  bore: 84.00 mm\n>>>>>>> springs\n  stroke: 82.00 mm\n}\n";
const slice = (text: string, { start, end }: { start: number; end: number }) => text.slice(start, end);

describe("finding", () => {
  test("both sides, their names and the marks", () => {
    const [c, ...more] = findConflicts(BOTH);
    expect(more).toEqual([]);
    expect(c && [slice(BOTH, c.ours), slice(BOTH, c.theirs), c.ourName, c.theirName, slice(BOTH, c.mark)]).toEqual(["  bore: 83.00 mm\n", "  bore: 84.00 mm\n", "HEAD", "springs", "<<<<<<< HEAD"]);
  });

  test("the common ancestor that git may show between is neither side", () => {
    const text = BOTH.replace("=======", "||||||| 3f9c21d\n  bore: 82.00 mm\n=======");
    const [c] = findConflicts(text);
    expect(c && [slice(text, c.ours), slice(text, c.theirs)]).toEqual(["  bore: 83.00 mm\n", "  bore: 84.00 mm\n"]);
    expect(readableText(text, findConflicts(text))).not.toContain("82.00 mm\n===");
  });

  test("with line ends of either sort, empty sides, several of them, and one at the very end", () => {
    const crlf = BOTH.replaceAll("\n", "\r\n");
    expect(findConflicts(crlf).map((c) => slice(crlf, c.theirs))).toEqual(["  bore: 84.00 mm\r\n"]);
    const empty = "<<<<<<< a\n=======\nengine e {}\n>>>>>>> b\n<<<<<<< a\nx\n=======\n>>>>>>> b";
    expect(findConflicts(empty).map((c) => [slice(empty, c.ours), slice(empty, c.theirs)])).toEqual([["", "engine e {}\n"], ["x\n", ""]]);
  });

  test.each(["<<<<<<< HEAD\n  bore: 1 mm\n", "=======\n", ">>>>>>> x\n", "<<<<<<<< HEAD\n=======\n>>>>>>> x\n", " <<<<<<< HEAD\n=======\n>>>>>>> x\n", "<<<<<<< HEAD\n>>>>>>> x\n"])("what is not marked whole is none: %j", (text) => {
    expect(findConflicts(text)).toEqual([]);
  });
});

describe("reading", () => {
  test("takes the first side, and every place stays where it is", () => {
    const file = readSource("x", BOTH);
    expect(file.text).toBe(BOTH);
    expect(file.declarations).toHaveLength(1);
    const items = file.declarations[0]?.tree.phrase?.block?.items ?? [];
    expect(items.map((i) => BOTH.slice(i.span.start, i.span.end))).toEqual(["bore: 83.00 mm", "stroke: 82.00 mm"]);
    expect(file.declarations[0]?.tree.problems).toEqual([]);
  });

  test("a conflict over whole declarations leaves the others alone", () => {
    const text = "engine a {\n}\n<<<<<<< HEAD\npart camshaft b for a {\n}\n=======\npart camshaft c for a {\n}\n>>>>>>> x\npart camshaft d for a {\n}\n";
    expect(readSource("x", text).declarations.map(({ tree }) => tree.phrase?.word.text)).toEqual(["engine", "part", "part"]);
  });

  test("is never laid out: the marks and the other side would be lost", () => {
    expect(format(readSource("x", BOTH))).toBe(BOTH);
  });

  test("again after edits equals reading from scratch, whether marks come or go", () => {
    const pieces = ["<<<<<<< HEAD\n", "=======\n", ">>>>>>> b\n", "  stroke: 1 mm\n", "/*", "*/", "\npart y\n", "}\n", ""];
    const edit = fc.record({ at: fc.nat(200), remove: fc.nat(40), piece: fc.constantFrom(...pieces) });
    fc.assert(fc.property(fc.array(edit, { minLength: 1, maxLength: 12 }), (edits) => {
      let file = readSource("x", BOTH);
      for (const { at, remove, piece } of edits) {
        const from = at % (file.text.length + 1);
        file = readSource("x", file.text.slice(0, from) + piece + file.text.slice(from + remove), file);
        const fresh = readSource("x", file.text);
        expect(file.declarations.map(({ start, tree }) => [start, tree.text])).toEqual(fresh.declarations.map(({ start, tree }) => [start, tree.text]));
        expect(file.conflicts).toEqual(fresh.conflicts);
      }
    }), { numRuns: 300 });
  });
});

describe("settling", () => {
  test("gives the text of each side without a mark", () => {
    const conflicts = findConflicts(BOTH);
    expect(settledText(BOTH, conflicts, () => "ours")).toBe("engine e {\n  bore: 83.00 mm\n  stroke: 82.00 mm\n}\n");
    expect(settledText(BOTH, conflicts, () => "theirs")).toBe("engine e {\n  bore: 84.00 mm\n  stroke: 82.00 mm\n}\n");
  });
});
