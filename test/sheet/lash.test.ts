/** Lash and lifter preload of written builds. */
import { describe, expect, it } from "vitest";
import { DUNLIN, RIDGEWAY, WREN } from "./samples.ts";
import { sheetOf } from "./sheet-of.ts";

const mm = (x: number | undefined) => (x ?? NaN) * 1e3;

describe("lash", () => {
  const wren = sheetOf(DUNLIN + RIDGEWAY + WREN);

  it("is asked for by the shaft's own card, with its band", () => {
    const asked = wren.value("lash.intake.asked").interval;
    expect([asked?.low, asked?.nominal, asked?.high].map((x) => Math.round(mm(x) * 1e6) / 1e6)).toEqual([0.18, 0.2, 0.22]);
  });

  it("is chosen by the build, and the chosen one is the one to set", () => {
    expect(mm(wren.nominal("lash.exhaust.chosen"))).toBeCloseTo(0.35, 12);
    expect(wren.value("lash.exhaust.target").interval?.low).toBe(wren.nominal("lash.exhaust.chosen"));
  });

  it("of the stock engine is the stock one, and nothing is chosen there", () => {
    const stock = sheetOf(DUNLIN);
    expect(mm(stock.nominal("lash.exhaust.target"))).toBeCloseTo(0.3, 12);
    expect(stock.sheet.byId.has("lash.exhaust.chosen")).toBe(false);
  });
});

describe("hydraulic lifters on stud rockers", () => {
  const v8 = (side: string, more = "") => sheetOf(`engine v8 "Test" {
 source: "test"
 cylinders: 8
 ${more}
 valve-gear { layout: ohv; actuation: pushrod; adjuster: hydraulic; adjuster-thread: 3/8-24; intake { rocker-ratio: 1.5; ${side} } exhaust { rocker-ratio: 1.5; ${side} } }
}`);

  it("are pushed down by turns, pitch and the lever of the rocker", () => {
    // 3/4 turn · 25.4/24 mm · (1 + 1/1.5) = 0.75 · 1.05833 · 1.66667 = 1.32292 mm.
    expect(mm(v8("preload-turns: 3/4 turn past zero").nominal("lifter.intake.preload"))).toBeCloseTo(1.32292, 5);
  });

  it("have no lash", () => {
    expect(v8("preload-turns: 3/4 turn past zero").sheet.byId.has("lash.intake.asked")).toBe(false);
  });

  it("are pushed down by as much as the block is cut where the pushrods are kept", () => {
    // .030 in preload and .012 in off the block.
    const cut = v8("preload: .030 in", "combustion { block-skim: .012 in }");
    expect(mm(cut.nominal("lifter.intake.preload-after-changes"))).toBeCloseTo(0.042 * 25.4, 9);
  });
});
