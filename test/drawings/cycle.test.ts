/** The cycle's strip: events, lifts, overlap and piston where their figures put them. */
import { describe, expect, it } from "vitest";
import { cycle } from "../../server/drawings/cycle.ts";
import type { Drawing } from "../../server/drawings/drawing.ts";
import { DUNLIN, RIDGEWAY } from "../sheet/samples.ts";
import { expectWellMade, hasPart, heightAt, part, pointsOf, printed, sourceOf } from "./picture.ts";

/** 720 degrees over 100 per cent, overlap TDC in the middle: worked here on its own. */
const percent = (deg: number) => 50 + deg / 7.2;
const build = (more = "") => `${DUNLIN}${RIDGEWAY}build b on dunlin-18 { fit ridgeway-272; fit vernier-18 { set: 3 deg crank retarded } ${more} }`;
const drawn = (text: string, system: "metric" | "inch" = "metric"): Drawing => {
  const drawing = cycle(sourceOf(text, system));
  if (!drawing) throw new Error("nothing was drawn");
  return drawing;
};

describe("the strip of a cam retarded by 3 degrees", () => {
  // Intake 236 about 112 after: opens 6 before top, closes 50 after bottom. Exhaust 232 about 110 before: opens 46 before bottom, closes 6 after top.
  const drawing = drawn(build());

  it("is well made", () => expectWellMade(drawing));

  it("spans overlap from the intake's opening to the exhaust's closing", () => {
    const overlap = part(drawing, "overlap");
    expect(overlap.number("x")).toBeCloseTo(percent(-6), 3);
    expect(overlap.number("width")).toBeCloseTo(12 / 7.2, 3);
  });

  it("opens each valve for as long as its events say", () => {
    for (const [side, opens, closes] of [["intake", -6, 230], ["exhaust", -226, 6]] as const) {
      const bar = part(drawing, `open ${side}`);
      expect(bar.number("x")).toBeCloseTo(percent(opens), 3);
      expect(bar.number("x") + bar.number("width")).toBeCloseTo(percent(closes), 2);
    }
    expect(printed(drawing)).toEqual(expect.arrayContaining(["6 btdc", "50 abdc", "46 bbdc", "6 atdc", "overlap 12 deg"]));
  });

  it("passes the lift that the events are counted at where they are, and the full lift at the centreline", () => {
    const lift = (side: string, deg: number) => 1 - heightAt(part(drawing, `lift ${side}`), percent(deg) * 10) / 1000;
    const highest = lift("intake", 112);
    // 10.65 mm of intake lift to 10.15 of exhaust; events at 1.00 mm. A straight line between every second degree errs by less than 0.05 mm.
    expect(lift("exhaust", -110) / highest).toBeCloseTo(10.15 / 10.65, 3);
    for (const [side, deg] of [["intake", -6], ["intake", 230], ["exhaust", -226], ["exhaust", 6]] as const) expect(Math.abs((lift(side, deg) / highest) * 10.65 - 1)).toBeLessThan(0.05);
  });

  it("draws the piston from top to bottom and back twice, where the crank and rod put it", () => {
    const piston = part(drawing, "piston");
    const depth = (deg: number) => heightAt(piston, percent(deg) * 10) / 1000;
    expect(pointsOf(piston)).toHaveLength(361);
    expect(depth(-180)).toBeCloseTo(1, 3);
    expect(depth(0)).toBeCloseTo(0, 3);
    // Crank square to the bore: (41 + 138.5 − √(138.5² − 41²)) / 82 = (179.5 − 132.293) / 82.
    expect(depth(90)).toBeCloseTo(47.207 / 82, 3);
  });

  it("says that the shape is assumed", () => {
    expect(drawing.title).toContain("shape of the lobes assumed");
    expect(drawing.alternative).toContain("shape assumed");
  });

  it("says every event and lift in words too", () => {
    for (const words of ["Intake opens 6 btdc, fullest 112 atdc, closes 50 abdc", "lift 10.65 mm", "Exhaust opens 46 bbdc, fullest 110 btdc, closes 6 atdc", "lift 10.15 mm", "Overlap 12 deg", "counted at 1.00 mm"]) expect(drawing.alternative).toContain(words);
  });
});

it("moves with the centreline that was found with the degree wheel", () => {
  const drawing = drawn(build("measured centreline crank on 2027-03-13 { intake: 114 deg; exhaust: 110 deg; method: wheel }"));
  expect(part(drawing, "open intake").number("x")).toBeCloseTo(percent(-4), 3);
});

it("draws no overlap where the exhaust comes down before the intake goes up", () => {
  // 200 about 112 opens 12 after top, and the exhaust closes 6 after: 6 short of overlapping.
  const drawing = drawn(build().replace("duration: 236 deg crank", "duration: 200 deg crank"));
  expect(hasPart(drawing, "overlap")).toBe(false);
  expect(printed(drawing)).toContain("overlap \u22126 deg");
  expectWellMade(drawing);
});

describe("clearance to the piston", () => {
  it("is marked at the degree where it was found, with its figure", () => {
    const drawing = drawn(build("measured piston-valve on 2027-03-13 { intake: 2.3 mm; exhaust: 2.9 mm; intake-at: 11 deg atdc; exhaust-at: 9 deg btdc; method: clay }"));
    expect(part(drawing, "gap intake").number("cx")).toBeCloseTo(percent(11), 3);
    expect(part(drawing, "gap exhaust").number("cx")).toBeCloseTo(percent(-9), 3);
    expect(printed(drawing)).toEqual(expect.arrayContaining(["2.30 mm", "2.90 mm", "at 11 atdc", "at 9 btdc"]));
    expect(drawing.alternative).toContain("intake 2.30 mm at 11 atdc, measured");
  });

  it("is taken as computed where it was not measured", () => {
    const source = sourceOf(build());
    const opens = source.sheet.byId.get("event.intake.opens");
    if (!opens) throw new Error("there is no event to stand in");
    const computed = (low: number) => ({ ...opens, provided: opens.provided, from: opens.from, interval: { low, nominal: low, high: low }, measured: [] });
    const byId = new Map([...source.sheet.values.map((v) => [v.id, v] as const), ["piston-valve.intake.clearance", computed(0.0019)], ["piston-valve.intake.at-degree", computed(12)]]);
    const drawing = cycle({ ...source, sheet: { build: source.sheet.build, values: source.sheet.values, byId } });
    if (!drawing) throw new Error("nothing was drawn");
    expect(part(drawing, "gap intake").number("cx")).toBeCloseTo(percent(12), 3);
    expect(printed(drawing)).toEqual(expect.arrayContaining(["1.90 mm", "computed", "at 12 atdc"]));
  });

  it("is told and not marked where nobody noted the degree", () => {
    const drawing = drawn(build("measured piston-valve on 2027-03-13 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }"));
    expect(hasPart(drawing, "gap intake")).toBe(false);
    expect(printed(drawing)).toContain("2.30 mm");
  });
});

describe("a lobe measured point by point", () => {
  const lobe = `lobe { counted-from: nose
    | angle (deg cam) | lift (mm at lobe) |
    |             -60 |              0.10 |
    |             -30 |              3.60 |
    |               0 |              7.10 |
    |              40 |              2.60 |
    |              60 |              0.20 |
  }`;
  const drawing = drawn(build().replace("lash: 0.20 ± 0.02 mm cold }", `lash: 0.20 ± 0.02 mm cold; ${lobe} }`));

  it("is drawn as measured: twice the cam's degrees from the centreline, and the rocker's ratio of its lift", () => {
    const curve = part(drawing, "lift intake");
    const share = (deg: number) => 1 - heightAt(curve, percent(deg) * 10) / 1000;
    expect(share(112 - 60) / share(112)).toBeCloseTo(3.6 / 7.1, 2);
    expect(share(112 + 80) / share(112)).toBeCloseTo(2.6 / 7.1, 2);
  });

  it("is not called assumed", () => {
    expect(drawing.alternative).toContain("shape from the measured lobe");
  });

  it("goes with the shaft it was measured on", () => {
    const stock = build().replace("  valve-gear {", `  camshaft { intake { duration: 220 deg crank; measured-at: 1.00 mm at valve; lobe-lift: 7.10 mm; centreline: 110 deg crank\n${lobe} } }\n  valve-gear {`);
    expect(drawn(stock).alternative).not.toContain("measured lobe");
    expect(drawn(stock.replace("fit ridgeway-272;", "camshaft { exhaust { duration: 220 deg crank; measured-at: 1.00 mm at valve; lobe-lift: 7.00 mm; centreline: 113 deg crank } }")).alternative).toContain("measured lobe");
  });

  it("is left alone where its heading does not say whose degrees they are", () => {
    const source = sourceOf(build().replace("lash: 0.20 ± 0.02 mm cold }", `lash: 0.20 ± 0.02 mm cold; ${lobe.replace("(deg cam)", "(deg)")} }`), "metric", true);
    expect(cycle(source)?.alternative).not.toContain("measured lobe");
  });
});

it("speaks inches to those who do", () => {
  expect(printed(drawn(build(), "inch"))).toContain("0.4193 in");
});

it("is not drawn where rod, stroke or an event is missing", () => {
  for (const gone of [/rod-length:[^\n]*\n/, /stroke: [^\n]*\n/]) expect(cycle(sourceOf(build().replace(gone, "\n")))).toBeUndefined();
  expect(cycle(sourceOf(build().replace(/centreline: 109 deg crank; /, "")))).toBeUndefined();
  expect(cycle(sourceOf("engine e { bore: 80 mm; stroke: 80 mm }", "metric", true))).toBeUndefined();
});
