/** Values as specified and as measured, side by side, where readings were taken. */
import { describe, expect, it } from "vitest";
import { DUNLIN, RIDGEWAY } from "./samples.ts";
import { sheetOf } from "./sheet-of.ts";

const build = (body: string) => sheetOf(`${DUNLIN}${RIDGEWAY}build b on dunlin-18 {\n fit ridgeway-272\n${body}\n}`);
const places = (w: ReturnType<typeof sheetOf>, id: string) => w.value(id).measured.map((m) => [m.place, m.value.interval?.nominal ?? NaN] as const);
const mm = (x: number) => Math.round(x * 1e8) / 1e5;

describe("a head measured chamber by chamber", () => {
  const w = build(`measured chamber on 2027-03-01 {
    | cylinder (cc) |    1 |    2 |    3 |    4 |
    | chamber       | 46.2 | 45.0 | 44.6 | 44.4 |
  }`);

  it("gives a compression ratio for each cylinder beside the specified one", () => {
    // 443.67 cc swept; 8.245 cc of dish, gasket and deck beside each chamber.
    const swept = (Math.PI / 4) * 83 ** 2 * 82e-3;
    const rest = 3 + (Math.PI / 4) * 84 ** 2 * 0.8e-3 + (Math.PI / 4) * 83 ** 2 * 0.15e-3;
    expect(places(w, "compression.static").map(([place]) => place)).toEqual(["cylinder 1", "cylinder 2", "cylinder 3", "cylinder 4"]);
    for (const [i, chamber] of [46.2, 45, 44.6, 44.4].entries()) expect(places(w, "compression.static")[i]?.[1]).toBeCloseTo((swept + chamber + rest) / (chamber + rest), 9);
    expect(w.nominal("compression.static")).toBeCloseTo((swept + 44.6 + rest) / (44.6 + rest), 9);
  });

  it("leaves values alone that rest on no reading", () => {
    expect(w.value("displacement.total").measured).toEqual([]);
  });

  it("says which readings a figure rests on and where they stand", () => {
    const first = w.value("clearance-volume").measured[0];
    const at = first?.readings[0]?.location;
    expect(at?.tree.text.slice(at.span.start, at.span.end).trim()).toBe("46.2");
    expect(first?.value.inputs.find((i) => i.name === "chamber")?.words).toBe("chamber as measured");
  });
});

describe("readings of several things", () => {
  it("meet at the cylinder they were taken at, and one for all holds everywhere", () => {
    const w = build(`
      measured deck above on 2027-03-01 {
        | cylinder (mm) |    1 |    2 |
        | deck          | 0.10 | 0.05 |
      }
      measured gasket-thickness on 2027-03-01 { reading: 0.90 mm crushed }`);
    expect(places(w, "squish-clearance").map(([place, x]) => [place, mm(x)])).toEqual([["cylinder 1", 0.8], ["cylinder 2", 0.85]]);
  });

  it("make known what was only measured and never specified", () => {
    const w = sheetOf(`engine e "Test" {\n source: "test"\n cylinders: 1\n combustion { gasket-thickness: 1.00 mm crushed }\n}\nbuild b on e {\n measured deck below on 2027-03-01 { reading: 0.20 mm }\n}`);
    expect(w.value("squish-clearance").interval).toBeUndefined();
    expect(places(w, "squish-clearance").map(([place, x]) => [place, mm(x)])).toEqual([["", 1.2]]);
  });

  it("count in the latest measurement only, and none that was taken before the work", () => {
    const w = build(`
      measured gasket-thickness on 2027-02-01 { reading: 1.10 mm crushed }
      measured gasket-thickness on 2027-03-01 { reading: 0.90 mm crushed }
      measured gasket-thickness before on 2027-04-01 { reading: 2.00 mm crushed }`);
    expect(places(w, "squish-clearance").map(([, x]) => mm(x))).toEqual([1.05]);
  });
});

describe("springs measured valve by valve", () => {
  const w = build(`measured spring-height on 2027-03-01 {
    | valve (mm) |    1 |    2 |
    | intake a   | 38.1 | 37.8 |
    | intake b   | 38.0 | 38.0 |
    | exhaust    | 38.4 | 38.0 |
  }`);

  it("have a coil-bind margin for each valve", () => {
    // Installed less 10.65 less 27.4.
    expect(places(w, "coil-bind-margin.intake").map(([place, x]) => [place, mm(x)])).toEqual([
      ["intake a, cylinder 1", 0.05], ["intake a, cylinder 2", -0.25], ["intake b, cylinder 1", -0.05], ["intake b, cylinder 2", -0.05],
    ]);
    expect(places(w, "coil-bind-margin.exhaust").map(([place]) => place)).toEqual(["exhaust, cylinder 1", "exhaust, cylinder 2"]);
  });
});

describe("a shaft that was degreed", () => {
  it("has its events from the centreline that was found", () => {
    const w = build("measured centreline on 2027-03-15 { intake: 112 deg crank }");
    expect(w.nominal("centreline.intake.installed")).toBe(109);
    expect(places(w, "centreline.intake.installed")).toEqual([["", 112]]);
    // (112 + 113)/2.
    expect(places(w, "lobe-separation")).toEqual([["", 112.5]]);
    // 236/2 − 112 before top; the exhaust, not degreed, shuts 3 after as its card has it.
    expect(places(w, "overlap")).toEqual([["", 9]]);
  });

  it("on both sides meets in one overlap", () => {
    const w = build("measured centreline on 2027-03-15 { intake: 112 deg crank; exhaust: 110 deg crank }");
    expect(places(w, "lobe-separation")).toEqual([["", 111]]);
    expect(places(w, "overlap")).toEqual([["", 12]]);
  });
});

describe("a reading with a spread", () => {
  it("spans the repeats at one place, with their mean", () => {
    const w = build(`measured bore on 2027-03-01 {
      | place (mm) |     1 |
      | top        | 83.02 |
      | middle     | 83.01 |
      | bottom     | 83.00 |
    }`);
    const [first] = w.value("displacement.cylinder").measured;
    const of = (bore: number) => (Math.PI / 4) * (bore / 1000) ** 2 * 0.082;
    expect(first?.value.interval?.low).toBeCloseTo(of(83), 12);
    expect(first?.value.interval?.nominal).toBeCloseTo(of(83.01), 12);
    expect(first?.value.interval?.high).toBeCloseTo(of(83.02), 12);
  });
});

describe("the words of a heading", () => {
  it("say of what a column's readings are, as those in the head do", () => {
    const head = build("measured deck above on 2027-03-01 {\n | cylinder (mm) | 1 | 2 |\n | deck | 0.10 | 0.05 |\n}");
    const label = build("measured deck on 2027-03-01 {\n | cylinder (mm above) | 1 | 2 |\n | deck | 0.10 | 0.05 |\n}");
    expect(places(label, "squish-clearance")).toEqual(places(head, "squish-clearance"));
    expect(places(label, "squish-clearance").map(([, x]) => mm(x))).toEqual([0.7, 0.75]);
  });

  it("keep a lift read at the lobe from passing for one at the valve", () => {
    const w = build("measured lift on 2027-03-01 { intake: 7.00 mm at lobe; exhaust: 10.10 mm at valve }");
    expect(places(w, "lift.intake.gross").map(([, x]) => mm(x))).toEqual([10.5]);
    expect(places(w, "lift.exhaust.gross").map(([, x]) => mm(x))).toEqual([10.1]);
  });
});
