// The figure that a finding is about: it is the one that its message names, and a waiver can be bound to it in the form that the tool writes.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { acceptance, acceptedBy, amountText, outgrows } from "../../server/rules/amount.ts";
import type { Finding } from "../../server/rules/finding.ts";
import { RULES } from "../../server/rules/index.ts";
import { daysAfter } from "../../server/rules/order.ts";
import { analyseText, applyEdits, MAIN, resultOf } from "../support/project.ts";
import type { Part } from "../../grammar/tree.ts";

const FOLDER = join(import.meta.dirname, "..", "fixtures", "rules");
const texts = [...readdirSync(FOLDER).filter((f) => f.endsWith(".tappet")).map((f) => readFileSync(join(FOLDER, f), "utf8")), ...RULES.map((r) => r.page.bad)];
const found: readonly Finding[] = texts.flatMap((text) => {
  const { findings, waived } = resultOf(text);
  return [...findings, ...waived].filter((f) => f.amount);
});

/** The parts of what stands after `at`, as a file holds them. */
function partsOf(text: string): readonly Part[] {
  const { findings, file } = resultOf(`engine e { source: "book"; cylinders: 4\n waive lash-tight at ${text} because "as it is" until 2099-01-01 }`);
  const [waiver] = file.declarations[0]?.waivers ?? [];
  if (!waiver?.at || findings.some((f) => f.severity === "error")) throw new Error(`at ${text} cannot be read`);
  return waiver.at;
}

/** Numbers in a text, `1/2` and the like left out. */
const numbersIn = (text: string) => (text.match(/-?\d*\.?\d+/g) ?? []).map(Number);

describe("the amount of a finding", () => {
  test("is given by the rules that hold one figure against another", () => {
    expect(new Set(found.map((f) => f.rule)).size).toBeGreaterThan(25);
  });

  test("is a figure that its message names", () => {
    const unnamed = found.flatMap((f) => {
      const [figure] = numbersIn(amountText(f.amount as NonNullable<Finding["amount"]>));
      const said = numbersIn(f.message);
      return figure === undefined || said.some((n) => Math.abs(Math.abs(n) - Math.abs(figure)) <= Math.abs(figure) * 0.01 + 0.005) ? [] : [`${f.rule}: ${figure} is not in: ${f.message}`];
    });
    // A solid spring is told by its two heights, not by what is missing between them; a clamp load by its band.
    expect(unnamed.filter((line) => !/^(coil-bind-margin|clamp-low|retainer-guide-margin|squish-tight|valve-to-valve):/.test(line))).toEqual([]);
  });

  test("is accepted as it is written down, not when it is worse, and always when it is better", () => {
    for (const finding of found) {
      const amount = finding.amount as NonNullable<Finding["amount"]>;
      const accepted = acceptedBy(partsOf(acceptance(finding).replace(/^ at /, "")), amount.kind);
      if (!accepted) throw new Error(`${finding.rule}:${acceptance(finding)} is no ${amount.kind}`);
      const step = 2.5 * accepted.halfDigit + Math.abs(amount.value) * 1e-6;
      const worse = amount.worse === "more" ? 1 : -1;
      expect([finding.rule, outgrows(amount, accepted)]).toEqual([finding.rule, false]);
      expect([finding.rule, outgrows({ ...amount, value: amount.value + worse * step }, accepted)]).toEqual([finding.rule, true]);
      expect([finding.rule, outgrows({ ...amount, value: amount.value - worse * step }, accepted)]).toEqual([finding.rule, false]);
    }
  });
});

describe("a waiver that was outgrown", () => {
  const text = `engine e { source: "book"; cylinders: 4; valve-gear { intake { lash: 0.20 ± 0.02 mm cold } } }
build b on e {
  lash { intake: 0.15 mm cold }
  waive lash-tight at 0.17 mm because "maker confirmed by letter" until 2099-01-01
}
`;
  test("is bound to what stands now by its fix, and holds again until it is worse still", () => {
    const analysis = analyseText(text);
    const outgrown = analysis.fileResult(MAIN)?.findings.find((f) => f.rule === "waiver-outgrown");
    const [fix] = outgrown?.fixes ?? [];
    expect(fix?.safe).toBe(false);
    const after = applyEdits(text, fix?.edits ?? [], analysis);
    expect(after).toContain("waive lash-tight at 0.15 mm because");
    expect(resultOf(after).findings.map((f) => f.rule)).not.toContain("waiver-outgrown");
    expect(resultOf(after).waived.map((f) => f.rule)).toEqual(["lash-tight"]);
    expect(resultOf(after.replace("intake: 0.15 mm", "intake: 0.14 mm")).findings.map((f) => f.rule)).toEqual(expect.arrayContaining(["lash-tight", "waiver-outgrown"]));
  });

  test("stands in one state on any day with any figure, and silences in two of them only", () => {
    const days = fc.integer({ min: -400, max: 400 });
    const lash = fc.integer({ min: 5, max: 22 });
    fc.assert(fc.property(days, lash, lash, (ahead, stands, accepts) => {
      const asOf = "2027-06-01";
      const until = daysAfter(asOf, ahead);
      const mm = (n: number) => `0.${String(n).padStart(2, "0")} mm`;
      const { waivers, waived } = resultOf(text.replace("intake: 0.15 mm", `intake: ${mm(stands)}`).replace("at 0.17 mm", `at ${mm(accepts)}`).replace("2099-01-01", until), asOf);
      // Tight is what is less than 0.18 mm.
      const expected = ahead < 0 ? "expired" : stands >= 18 ? "unused" : stands < accepts ? "outgrown" : ahead < 30 ? "expiring" : "active";
      expect(waivers.map((w) => w.state)).toEqual([expected]);
      expect(waived.length).toBe(expected === "active" || expected === "expiring" ? 1 : 0);
    }), { numRuns: 150 });
  });

  test("is not outgrown by what is better, and is unused once the matter is put right", () => {
    expect(resultOf(text.replace("intake: 0.15 mm", "intake: 0.175 mm")).waivers.map((w) => w.state)).toEqual(["active"]);
    expect(resultOf(text.replace("intake: 0.15 mm", "intake: 0.20 mm")).waivers.map((w) => w.state)).toEqual(["unused"]);
    expect(resultOf(text, "2099-01-02").waivers.map((w) => w.state)).toEqual(["expired"]);
    expect(resultOf(text.replace("intake: 0.15 mm", "intake: 0.17 mm"), "2098-12-20").waivers.map((w) => w.state)).toEqual(["expiring"]);
    expect(resultOf(text.replace(' because "maker confirmed by letter"', "")).waivers.map((w) => w.state)).toEqual(["void"]);
  });
});
