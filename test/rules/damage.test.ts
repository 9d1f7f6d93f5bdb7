// Whatever is done to a text, every problem that reading notes has a rule to report it, and no rule falls over.
import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { readSource } from "../../grammar/read.ts";
import { RULES } from "../../server/rules/index.ts";
import { MAIN, analyseText, filesOf } from "../support/project.ts";
import { projectFileOf } from "../../server/workspace/load.ts";

const TEXTS = RULES.flatMap((r) => [r.page.bad, r.page.good]);
const IDS = new Set(RULES.map((r) => r.id));
const SPLINTERS = ["{", "}", ":", ";", ",", "..", "±", "|", '"', "-", "0,2", "1/0", "mm", "kg", "…", "\n", "2027-02-31", "cold", "needs", "waive", "where", ">=", "(", ")", "10-12", "*", "fit", "then"];

const damaged = fc.record({ text: fc.constantFrom(...TEXTS), cuts: fc.array(fc.tuple(fc.nat(), fc.nat(12), fc.constantFrom("", ...SPLINTERS)), { minLength: 1, maxLength: 6 }) }).map(({ text, cuts }) =>
  cuts.reduce((now, [at, length, put]) => {
    const start = at % (now.length + 1);
    return now.slice(0, start) + put + now.slice(start + length);
  }, text));

describe("a damaged text", () => {
  test("raises only problems that a rule reports, and is analysed all the same", () => {
    fc.assert(
      fc.property(damaged, (text) => {
        const main = filesOf(text)[0]?.text ?? "";
        const codes = projectFileOf(readSource(MAIN, main)).declarations.flatMap((d) => d.problems.map((p) => p.code));
        expect(codes.filter((code) => !IDS.has(code))).toEqual([]);
        const result = analyseText(text).fileResult(MAIN);
        for (const f of [...(result?.findings ?? []), ...(result?.waived ?? [])]) {
          expect(f.message).not.toMatch(/undefined|NaN|\[object/);
          expect(f.at.span.start).toBeGreaterThanOrEqual(0);
          expect(f.at.span.end).toBeLessThanOrEqual(f.at.tree.text.length);
        }
      }),
      { numRuns: 1500, seed: 7 },
    );
  });
});
