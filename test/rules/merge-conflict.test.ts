// A merge that git could not finish: one finding each with both sides and what the other would change; fixes that settle it; the rest alive.
import { expect, test } from "vitest";
import { analyseText, applyEdits, resultOf, rulesIn } from "../support/project.ts";

const ENGINE = "engine dunlin-18 {\n  source: \"manual\"\n  cylinders: 4\n  bore: 83.00 mm\n  stroke: 82.00 mm\n  rod-length: 138.5 mm\n  redline: 6500 rpm\n}\n";
const both = (one: string, other: string) => ENGINE.replace("  stroke: 82.00 mm\n", `<<<<<<< HEAD\n${one}=======\n${other}>>>>>>> long-stroke\n`);

test("both values stand in the message, and what the other side changes beside it", () => {
  const { findings } = resultOf(both("  stroke: 82.00 mm\n", "  stroke: 84.00 mm\n"));
  const conflicts = findings.filter((f) => f.rule === "merge-conflict");
  expect(conflicts).toHaveLength(1);
  expect(conflicts[0]?.message).toBe("Not merged: HEAD has `stroke: 82.00 mm`, long-stroke has `stroke: 84.00 mm`. Keep one of them; until then what HEAD has is read.");
  // Four times a quarter of pi, 83.00 mm squared and the stroke: 1775 and 1818 cc, by hand.
  expect(conflicts[0]?.related[0]?.message).toMatch(/^With what long-stroke has, dunlin-18: .*1775 cc → 1818 cc/);
});

test("the rest of the file is alive, and the first side is read", () => {
  const text = `${both("  stroke: 82.00 mm\n", "  stroke: 84.00 mm\n")}\nbuild car "Car" on dunlin-18 {\n  octane: 98\n}\n`;
  const analysis = analyseText(text);
  const result = analysis.fileResult([...analysis.project.files.keys()][0] as string);
  expect(result?.subjects.find((s) => s.build.subject.sort === "build")?.sheet.byId.get("displacement.total")?.interval?.nominal).toBeCloseTo(Math.PI / 4 * 0.083 ** 2 * 0.082 * 4, 9);
  expect(result?.findings.some((f) => f.rule === "unit-missing")).toBe(true);
});

test.each([["ours", 0, "82.00"], ["theirs", 1, "84.00"]])("a fix keeps %s and takes the marks out", (_, index, stroke) => {
  const text = both("  stroke: 82.00 mm\n", "  stroke: 84.00 mm\n");
  const analysis = analyseText(text);
  const fix = resultOf(text).findings.length && analysis.fileResult([...analysis.project.files.keys()][0] as string)?.findings.find((f) => f.rule === "merge-conflict")?.fixes[index];
  if (!fix) throw new Error("no fix");
  expect(applyEdits(text, fix.edits, analysis)).toBe(ENGINE.replace("82.00", stroke));
  expect(fix.safe).toBe(false);
});

test("each of several conflicts is told by itself", () => {
  const text = both("  stroke: 82.00 mm\n", "  stroke: 84.00 mm\n").replace("  redline: 6500 rpm\n", "<<<<<<< HEAD\n  redline: 6500 rpm\n=======\n  redline: 7000 rpm\n>>>>>>> long-stroke\n");
  const conflicts = resultOf(text).findings.filter((f) => f.rule === "merge-conflict");
  expect(conflicts).toHaveLength(2);
  expect(conflicts[0]?.related[0]?.message).toContain("1775 cc → 1818 cc");
  expect(conflicts[1]?.related[0]?.message).not.toContain("1818 cc");
  expect(conflicts[1]?.related[0]?.message).toContain("m/s");
});

test("a side that took everything out is told as nothing", () => {
  const conflicts = resultOf(both("", "  stroke: 84.00 mm\n")).findings.filter((f) => f.rule === "merge-conflict");
  expect(conflicts[0]?.message).toContain("HEAD has nothing, long-stroke has `stroke: 84.00 mm`");
});

test("a half that was left over is text that cannot be read, and no conflict", () => {
  expect(rulesIn(`${ENGINE}>>>>>>> long-stroke\n`)).not.toContain("merge-conflict");
  expect(rulesIn(`${ENGINE}>>>>>>> long-stroke\n`).length).toBeGreaterThan(0);
});
