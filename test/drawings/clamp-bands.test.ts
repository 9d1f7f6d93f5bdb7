/** Clamp bands where the computed shares put them. */
import { describe, expect, it } from "vitest";
import { clampBands } from "../../server/drawings/clamp-bands.ts";
import type { Drawing } from "../../server/drawings/drawing.ts";
import { DUNLIN, RIDGEWAY, WREN } from "../sheet/samples.ts";
import { sheetOf } from "../sheet/sheet-of.ts";
import { expectWellMade, hasPart, part, printed, sourceOf } from "./picture.ts";

const text = DUNLIN + RIDGEWAY + WREN;
const drawn = (from: string, system: "metric" | "inch" = "metric"): Drawing => {
  const drawing = clampBands(sourceOf(from, system));
  if (!drawing) throw new Error("nothing was drawn");
  return drawing;
};

describe("the fasteners of a build", () => {
  const drawing = drawn(text);
  const { value } = sheetOf(text);
  const proof = part(drawing, "proof").number("x1");

  it("are well made", () => expectWellMade(drawing));

  it("each have a band from the computed low to the computed high end, on one scale with its proof load", () => {
    for (const name of ["cam-cap", "head-bolt", "cam-gear"]) {
      const share = value(`${name}.proof-fraction`).interval;
      const band = part(drawing, `band ${name}`);
      expect(band.number("x") / proof).toBeCloseTo(share?.low ?? NaN, 3);
      expect((band.number("x") + band.number("width")) / proof).toBeCloseTo(share?.high ?? NaN, 3);
      expect(part(drawing, `middle ${name}`).number("x1") / proof).toBeCloseTo(share?.nominal ?? NaN, 3);
    }
  });

  it("are hatched from their proof load on, and only where they pass it", () => {
    expect(part(drawing, "over cam-cap").number("x")).toBeCloseTo(proof, 3);
    expect(hasPart(drawing, "over cam-gear")).toBe(false);
  });

  it("say their loads, and that a bolt is turned to yield on purpose", () => {
    // M8 8.8: 36.61 mm² · 580 MPa = 21.2 kN; M11x1.5 10.9: 72.27 mm² · 830 MPa = 60.0 kN.
    expect(printed(drawing).some((words) => words.endsWith("of 21.2 kN"))).toBe(true);
    expect(printed(drawing)).toContain("head-bolt (to yield)");
    expect(drawing.alternative).toMatch(/head-bolt: [\d.]+ … [\d.]+ kN of a proof load of 60\.0 kN, \d+ to \d+ % of it, its top end above it, turned to yield on purpose\./);
  });
});

it("speaks pounds to those who do", () => {
  expect(printed(drawn(text, "inch")).some((words) => words.endsWith("lbf"))).toBe(true);
});

it("leaves out a fastener of no class, and is not drawn where all are", () => {
  expect(hasPart(drawn(text.replace("class: 8.8; ", "")), "band cam-cap")).toBe(false);
  expect(clampBands(sourceOf("engine e { bore: 80 mm; stroke: 80 mm\nfastener cam-cap { thread: M8x1.25; torque: 20 N·m oiled } }", "metric", true))).toBeUndefined();
});
