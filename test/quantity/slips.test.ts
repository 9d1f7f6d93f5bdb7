import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { between } from "../../server/quantity/interval.ts";
import type { KindId } from "../../server/quantity/kinds.ts";
import { likelySlips, shiftPoint } from "../../server/quantity/slips.ts";
import { quantity, replace } from "./reading.ts";

const LASH = between(0.00005, 0.0006);
const BORE = between(0.05, 0.12);

function texts(text: string, kind: KindId, usual: { low: number; nominal: number; high: number }): string[] {
  return likelySlips(quantity(text, kind), usual).map((s) => `${s.label}: ${s.text}`);
}

describe("likely slips", () => {
  it.each([
    ["0.20 mm", "length", LASH, []],
    ["2.0 mm", "length", LASH, ["ten times less: 0.20 mm", "thou, not mm: 2.0 thou"]],
    ["20 mm", "length", LASH, ["a hundred times less: 0.20 mm", "thou, not mm: 20 thou"]],
    ["8.3 mm", "length", BORE, ["ten times more: 83 mm"]],
    ["0.008 mm", "length", LASH, ["ten times more: 0.08 mm", "in, not mm: 0.008 in"]],
    ["83 in", "length", BORE, ["mm, not in: 83 mm"]],
    ["8 in", "length", LASH, ["thou, not in: 8 thou"]],
    ["3.268 mm", "length", BORE, ["in, not mm: 3.268 in"]],
    ["0.12 .. 0.13 mm", "length", between(0.00001, 0.00002), ["ten times less: 0.012 … 0.013 mm"]],
    ["2.0 ± 0.2 mm", "length", LASH, ["ten times less: 0.20 ± 0.02 mm"]],
    ["85", "fraction", between(0.5, 1.2), ["a hundred times less: 0.85", "in %: 85%"]],
    ["650 rpm", "rotation", between(3000, 12000), ["ten times more: 6500 rpm"]],
    ["40", "count", between(1, 16), ["ten times less: 4"]],
    ["180 °C", "temperature", between(253.15, 373.15), ["ten times less: 18.0 °C", "°F, not °C: 180 °F"]],
    ["58 ft-lb", "torque", between(1, 10), ["ten times less: 5.8 ft-lb", "in-lb, not ft-lb: 58 in-lb"]],
  ] as [string, KindId, { low: number; nominal: number; high: number }, string[]][])("of %s for a %s in %o", (text, kind, usual, expected) => {
    expect(texts(text, kind, usual)).toEqual(expected);
  });

  it("leave a figure alone that reaches into its usual span", () => {
    expect(texts("0.5 .. 2.0 mm", "length", LASH)).toEqual([]);
  });

  it("leave expressions and fractions to their writer", () => {
    expect(texts("2 * 4 mm", "length", LASH)).toEqual([]);
    expect(texts("1/2 mm", "length", between(0.01, 0.02))).toEqual(["in, not mm: 1/2 in"]);
  });

  it("mend the text to a figure within the span", () => {
    for (const [text, kind, usual] of [["2.0 mm", "length", LASH], ["8.3 mm", "length", BORE], ["83 in", "length", BORE], ["0.008 mm", "length", LASH], ["2.0 ± 0.2 mm", "length", LASH], ["85", "fraction", between(0.5, 1.2)]] as const) {
      const slips = likelySlips(quantity(text, kind), usual);
      expect(slips.length).toBeGreaterThan(0);
      for (const slip of slips) {
        const mended = quantity(replace(text, slip.edits), kind);
        expect(mended.interval.low).toBeCloseTo(slip.interval.low, 12);
        expect(mended.interval.low).toBeGreaterThanOrEqual(usual.low);
        expect(mended.interval.high).toBeLessThanOrEqual(usual.high);
      }
    }
  });

  it("give the factor between what was written and what was meant", () => {
    expect(likelySlips(quantity("3.268 mm", "length"), BORE)[0]?.factor).toBeCloseTo(25.4, 12);
    expect(likelySlips(quantity("83 in", "length"), BORE)[0]?.factor).toBeCloseTo(1 / 25.4, 12);
  });
});

describe("moving the point", () => {
  it.each([
    ["0.12", -1, "0.012"], [".12", -1, ".012"], ["120", -1, "12.0"], ["0.20", 2, "20"], ["83.00", -1, "8.300"], ["8.3", 1, "83"], ["83", 1, "830"], ["5", -2, "0.05"], ["0.05", 1, "0.5"],
  ] as const)("of %s by %s gives %s", (digits, by, expected) => {
    expect(shiftPoint(digits, by)).toBe(expected);
  });

  it("multiplies by that power of ten, whatever the digits", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 999999 }), fc.integer({ min: 0, max: 5 }), fc.integer({ min: -2, max: 2 }), (n, decimals, by) => {
        const digits = (n / 10 ** decimals).toFixed(decimals);
        const moved = shiftPoint(digits, by);
        expect(moved).toMatch(/^(\d+|\d*\.\d+)$/);
        expect(Number(moved)).toBeCloseTo(Number(digits) * 10 ** by, 9);
      }),
      { seed: 21 },
    );
  });
});
