/** Clearances of written builds, as specified and as measured. */
import { describe, expect, it } from "vitest";
import checks from "../reference/checks.json" with { type: "json" };
import { toSi } from "../reference/reference-units.ts";
import { sheetOf } from "./sheet-of.ts";

const engine = (body: string) => `engine e "Test" {\n source: "test"\n cylinders: 4\n ${body}\n}\n`;
const um = (x: number | undefined) => Math.round((x ?? NaN) * 1e7) / 10;
const printed = (id: string) => {
  const check = checks.find((c) => c.id === id);
  if (!check) throw new Error(`no check ${id}`);
  return toSi(Number(check.expected.value), check.expected.unit);
};

describe("an oil clearance", () => {
  it("is housing less two shells less journal, as the published example has it", () => {
    const w = sheetOf(engine("bottom-end { main { housing: 56.020 mm; shell: 1.992 mm; journal: 52.000 mm } }"));
    expect(w.nominal("bearing.main.clearance")).toBeCloseTo(printed("b-bearing-fit"), 12);
  });

  it("as measured comes from bore and journal of each big end", () => {
    const w = sheetOf(`${engine("bottom-end { rod { journal: 45.00 mm } }")}build b on e {
      measured rod-bore on 2027-02-01 {
        | cylinder (mm) |      1 |      2 |
        | big end       | 45.045 | 45.041 |
      }
      measured rod-journal on 2027-02-01 {
        | cylinder (mm) |      1 |      2 |
        | journal       | 44.998 | 44.990 |
      }
    }`);
    expect(w.value("bearing.rod.clearance").interval).toBeUndefined();
    expect(w.value("bearing.rod.clearance").measured.map((m) => [m.place, um(m.value.interval?.nominal)])).toEqual([["cylinder 1", 47], ["cylinder 2", 51]]);
  });

  it("read with a strip stands for the difference", () => {
    const w = sheetOf(`${engine("bottom-end { main { clearance: 0.030 .. 0.060 mm } }")}build b on e {
      measured main-clearance on 2027-02-01 {
        | bearing (mm) |     1 |     5 |
        | main         | 0.045 | 0.050 |
      }
    }`);
    expect(w.value("bearing.main.clearance").measured.map((m) => [m.place, um(m.value.interval?.nominal)])).toEqual([["bearing 1", 45], ["bearing 5", 50]]);
  });
});

describe("an end play", () => {
  it("is what is asked for, with the reading beside it", () => {
    const w = sheetOf(`${engine("bottom-end { thrust-endplay: 0.08 .. 0.20 mm }")}build b on e { measured thrust-endplay on 2027-02-01 { reading: 0.12 mm } }`);
    const { low, high } = w.value("thrust.endplay").interval ?? {};
    expect([um(low), um(high)]).toEqual([80, 200]);
    expect(w.value("thrust.endplay").measured.map((m) => um(m.value.interval?.nominal))).toEqual([120]);
  });
});

describe("a piston in its bore", () => {
  it("is measured cylinder by cylinder", () => {
    const w = sheetOf(`${engine("bore: 83.00 mm\n bottom-end { piston-diameter: 82.96 mm }")}build b on e {
      measured bore on 2027-02-01 {
        | cylinder (mm) |     1 |     2 |
        | middle        | 83.01 | 83.02 |
      }
    }`);
    expect(um(w.nominal("piston-wall.clearance"))).toBe(40);
    expect(w.value("piston-wall.clearance").measured.map((m) => um(m.value.interval?.nominal))).toEqual([50, 60]);
  });
});

describe("a ring gap", () => {
  it("by the trade's factors is marked as an estimate, checked against the published set", () => {
    const w = sheetOf(`${engine("bore: 4.000 in")}build b on e { use: racing-turbo }`);
    expect(w.nominal("ring-gap.top.required")).toBeCloseTo(printed("b-ring-racing-nitrous-or-turbo-top"), 12);
    expect(w.nominal("ring-gap.second.required")).toBeCloseTo(printed("b-ring-racing-nitrous-or-turbo-second"), 12);
    expect(w.value("ring-gap.top.required").estimate).toBe(true);
  });

  it("that the maker asks for stands above any factor, and is not replaced by what was measured", () => {
    const w = sheetOf(`${engine("bore: 83 mm\n bottom-end { rings { top-gap: 0.30 .. 0.45 mm } }")}build b on e {
      use: street
      measured ring-gap on 2027-02-01 {
        | ring (mm) |    1 |
        | top       | 0.36 |
      }
    }`);
    expect(um(w.value("ring-gap.top.required").interval?.low)).toBe(300);
    expect(w.value("ring-gap.top.required").measured).toEqual([]);
  });

  it("is not guessed where nobody says how the engine will be used", () => {
    expect(sheetOf(engine("bore: 83 mm")).sheet.byId.has("ring-gap.top.required")).toBe(false);
  });
});
