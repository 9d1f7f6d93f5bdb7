/** How a value was worked out, in words and in the builder's own units. */
import { describe, expect, it } from "vitest";
import { traceOf } from "../../server/sheet/trace.ts";
import { DUNLIN, RIDGEWAY, WREN } from "./samples.ts";
import { sheetOf } from "./sheet-of.ts";

describe("the trace of a value", () => {
  const wren = sheetOf(DUNLIN + RIDGEWAY + WREN);

  it("prints the formula with the builder's figures in it and the result", () => {
    const trace = traceOf(wren.value("squish-clearance"));
    expect(trace.expression).toBe("deck + gasket");
    expect(trace.worked).toBe("0.15 mm below + 0.80 mm crushed");
    expect(trace.result).toBe("0.95 mm");
  });

  it("puts a figure and its unit between brackets where both are raised to a power", () => {
    expect(traceOf(wren.value("displacement.total")).worked).toBe("π/4 · (83.00 mm)² · 82.00 mm · 4");
  });

  it("says who gave each figure and where it stands", () => {
    const trace = traceOf(wren.value("piston-speed.mean"));
    expect(trace.inputs.map((i) => [i.words, i.text, i.origin])).toEqual([["stroke", "82.00 mm", "asked for by Ashdown Dunlin 1.8, 12-valve"], ["redline", "7300 rpm", "chosen in this build"]]);
    const at = trace.inputs[1]?.location;
    expect(at?.tree.text.slice(at.span.start, at.span.end)).toBe("7300 rpm");
  });

  it("leads on to the values it stands on", () => {
    expect(traceOf(wren.value("centreline.intake.installed")).inputs.map((i) => [i.valueId, i.origin])).toEqual([["centreline.intake.card", "worked out"], ["cam-timing.intake.retard", "worked out"]]);
  });

  it("names the source of what was looked up and the assumption where one was made", () => {
    const trace = traceOf(wren.value("cam-cap.torque-load"));
    expect(trace.inputs.find((i) => i.name === "friction")?.origin).toMatch(/^looked up: VDI 2230/);
    expect(trace.inputs.find((i) => i.name === "bearing")?.origin).toMatch(/^assumed: .*hexagon head/);
  });

  it("prints a tightening's own stage", () => {
    expect(traceOf(wren.value("head-bolt.torque")).inputs[0]?.text).toBe("55 N·m");
  });

  it("says what is missing instead of a result", () => {
    expect(traceOf(wren.value("rod-tension.peak")).result).toBe("not computed: it needs bottom-end.reciprocating-mass");
  });
});
