/** Every formula a second time, by a general library: what mathjs makes of the inputs of every sheet of the samples, and of an engine that says everything. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { FORMULAS } from "../../server/sheet/formulas/index.ts";
import { isHandedOn } from "../../server/sheet/write-pages.ts";
import { analyse } from "../../server/workspace/analyse.ts";
import { memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import recomputed from "../reference/recomputed.json" with { type: "json" };
import { FORMULA_CHECKS } from "../reference/formula-checks.ts";
import checks from "../reference/checks.json" with { type: "json" };
import { sampleTexts } from "../workspace/corpus.ts";
import { RECOMPUTATIONS, everyValue, recompute } from "./recompute.ts";

const EVERYTHING = "file:///everything.tappet";
const texts: Record<string, string> = { ...sampleTexts(), [EVERYTHING]: readFileSync(join(import.meta.dirname, "every-value.tappet"), "utf8") };
const analysis = analyse(await loadProject(memoryHost(texts), Object.keys(texts)), "2028-01-15");
const values = Object.keys(texts).flatMap((uri) => (analysis.fileResult(uri)?.subjects ?? []).flatMap((s) => everyValue(s.sheet)));
const NOT: Readonly<Record<string, string>> = recomputed.not;

/** Recordings reach a sheet through a door's own reading; what is worked out from them is what is worked out from a pull, by the same functions. */
const FROM_RECORDINGS = /^log\./;

describe("each formula", () => {
  test("is recomputed, hands an input on, or is named with the reason why it is not", () => {
    const ways = (id: string) => [id in RECOMPUTATIONS, id in NOT, FORMULAS.some((f) => f.id === id && isHandedOn(f))].filter(Boolean).length;
    expect(FORMULAS.filter((f) => ways(f.id) !== 1).map((f) => f.id)).toEqual([]);
    expect([...Object.keys(RECOMPUTATIONS), ...Object.keys(NOT), ...Object.keys(FORMULA_CHECKS)].filter((id) => !FORMULAS.some((f) => f.id === id))).toEqual([]);
    expect(Object.values(FORMULA_CHECKS).flat().filter((id) => !checks.some((c) => c.id === id))).toEqual([]);
  });

  const byFormula = Map.groupBy(values.filter((v) => v.interval), (v) => v.formula.id);

  test.each(Object.keys(RECOMPUTATIONS).filter((id) => !FROM_RECORDINGS.test(id)))("%s comes out as mathjs has it", (id) => {
    const pairs = (byFormula.get(id) ?? []).flatMap((v) => {
      const both = recompute(v);
      return both ? [{ id: v.id, ...both }] : [];
    });
    expect(pairs.length, "no sheet works it out").toBeGreaterThan(0);
    for (const { id: value, ours, theirs, within } of pairs) expect(Math.abs(ours - theirs), `${value}: ${ours} and ${theirs}`).toBeLessThanOrEqual(within * Math.abs(ours) + 1e-12);
  });
});

test("the engine that says everything is read without a mistake", () => {
  const said = analysis.fileResult(EVERYTHING)?.findings.filter((f) => f.severity === "error").map((f) => f.message);
  expect(said).toEqual([]);
});
