/** Bottom-end values of a written engine, against figures worked out by hand and by an independent library. */
import { evaluate as mathjs, unit } from "mathjs";
import { describe, expect, it } from "vitest";
import { ALLOWED_DISAGREEMENT, disagreementSlack } from "../../server/sheet/formulas/bottom-end.ts";
import { DUNLIN, RIDGEWAY, WREN } from "./samples.ts";
import { sheetOf } from "./sheet-of.ts";

const engine = (body: string) => `engine e "Test" {\n source: "test"\n cylinders: 4\n ${body}\n}`;

describe("the bottom end of the sample engine", () => {
  const stock = sheetOf(DUNLIN);

  it("displaces what a unit-aware library makes of bore, stroke and cylinders", () => {
    expect(stock.nominal("displacement.total")).toBeCloseTo(unit(mathjs("pi/4 * (83.00 mm)^2 * 82.00 mm * 4").toString()).toNumber("m^3"), 12);
  });

  it("has the compression ratio that its volumes add up to", () => {
    // 443.67 cc swept; 44.6 + 3.0 + pi/4·8.4²·0.08 = 4.433 + pi/4·8.3²·0.015 = 0.812 cc: 52.845 cc. (443.67 + 52.845)/52.845 = 9.396.
    expect(stock.nominal("clearance-volume") * 1e6).toBeCloseTo(52.845, 3);
    expect(stock.nominal("compression.static")).toBeCloseTo(9.396, 3);
    expect(stock.nominal("compression.disagreement")).toBeCloseTo(9.396 / 9.4 - 1, 4);
  });

  it("moves its pistons at twice the stroke for each turn", () => {
    // 2 · 0.082 m · 6500/60 s⁻¹ = 17.767 m/s.
    expect(stock.nominal("piston-speed.mean")).toBeCloseTo(17.7667, 4);
    // 0.041 m · (6500·2π/60)² · (1 + 82/277) = 0.041 · 463 327 · 1.29603 s⁻².
    expect(stock.nominal("piston-acceleration.peak")).toBeCloseTo(0.041 * (6500 * Math.PI / 30) ** 2 * (1 + 82 / 277), 6);
  });

  it("adds deck and crushed gasket for the squish clearance, and takes a proud piston off", () => {
    expect(stock.nominal("squish-clearance")).toBeCloseTo(0.95e-3, 12);
    expect(sheetOf(engine("combustion { deck: 0.15 mm above; gasket-thickness: 0.80 mm crushed }")).nominal("squish-clearance")).toBeCloseTo(0.65e-3, 12);
  });

  it("takes the build's own redline", () => {
    expect(sheetOf(DUNLIN + RIDGEWAY + WREN).nominal("piston-speed.mean")).toBeCloseTo(2 * 0.082 * 7300 / 60, 9);
  });

  it("does not compare a build with what the maker states of the engine", () => {
    expect(sheetOf(DUNLIN + RIDGEWAY + WREN).sheet.byId.has("displacement.disagreement")).toBe(false);
  });
});

describe("an overbore", () => {
  it("is added to the bore that was there before", () => {
    const bored = sheetOf(`${DUNLIN}\nbuild big on dunlin-18 {\n bore: +0.50 mm over\n}`);
    expect(bored.nominal("displacement.total")).toBeCloseTo((Math.PI / 4) * 0.0835 ** 2 * 0.082 * 4, 12);
  });
});

describe("the disagreement that digits explain", () => {
  it("counts half a unit in the last place twice for the bore, once for stroke and stated figure", () => {
    // 83.00 mm: 0.005/83 twice; 82.00 mm: 0.005/82; 1775 cc: 0.5/1775.
    expect(disagreementSlack(sheetOf(DUNLIN).build)).toBeCloseTo((2 * 0.005) / 83 + 0.005 / 82 + 0.5 / 1775, 10);
  });

  it("holds a figure of two decimals of a millimetre tighter than one of two decimals of an inch", () => {
    const inches = sheetOf(engine("bore: 3.27 in\n stroke: 3.23 in\n stated-displacement: 1.8 L")).build;
    // 0.005 in of 3.27 in is 0.15 %, and 0.05 L of 1.8 L 2.8 %.
    expect(disagreementSlack(inches)).toBeCloseTo((2 * 0.005) / 3.27 + 0.005 / 3.23 + 0.05 / 1.8, 10);
  });

  it("is nothing where a figure is missing", () => {
    expect(disagreementSlack(sheetOf(engine("bore: 83 mm")).build)).toBeUndefined();
  });

  it("stands beside half a per cent, which is allowed for rounding and tolerances", () => {
    expect(ALLOWED_DISAGREEMENT).toBe(0.005);
  });
});

describe("a value that cannot be worked out", () => {
  it("says which figures would give it, in the builder's words", () => {
    const bare = sheetOf(engine("bore: 83 mm"));
    expect(bare.value("displacement.total").missing).toEqual([{ path: "stroke", words: "Stroke: twice the throw of the crank." }]);
    expect(bare.value("compression.static").missing.map((m) => m.path)).toEqual(["stroke", "combustion.chamber", "combustion.gasket-bore", "combustion.gasket-thickness", "combustion.deck", "combustion.piston-dish"]);
  });

  it("says when the figures contradict each other instead of printing nonsense", () => {
    const short = sheetOf(engine("stroke: 82 mm\n rod-length: 40 mm\n redline: 6000 rpm"));
    expect(short.value("piston-speed.peak").interval).toBeUndefined();
    expect(short.value("piston-speed.peak").impossible).toBe("these figures cannot all be true of one engine");
  });

  it("does not guess a piston crown: a flat one is written as 0 cc, a domed one needs no dish", () => {
    const volumes = "bore: 83 mm\n stroke: 82 mm\n combustion { chamber: 44.6 cc; gasket-volume: 4.4 cc; deck: 0 mm below";
    expect(sheetOf(engine(`${volumes} }`)).value("compression.static").missing.map((m) => m.path)).toEqual(["combustion.piston-dish"]);
    expect(sheetOf(engine(`${volumes}; piston-dish: 0 cc }`)).nominal("clearance-volume") * 1e6).toBeCloseTo(49, 9);
    expect(sheetOf(engine(`${volumes}; piston-dome: 5 cc }`)).nominal("clearance-volume") * 1e6).toBeCloseTo(44, 9);
  });
});
