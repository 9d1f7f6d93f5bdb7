/** Lash valve by valve against its band. */
import { describe, expect, it } from "vitest";
import type { Drawing } from "../../server/drawings/drawing.ts";
import { lashDeviations } from "../../server/drawings/lash-deviations.ts";
import { DUNLIN, RIDGEWAY } from "../sheet/samples.ts";
import { expectWellMade, part, printed, sourceOf } from "./picture.ts";

const build = (more: string) => `${DUNLIN}${RIDGEWAY}build b on dunlin-18 { fit ridgeway-272; lash { intake: 0.20 mm cold; exhaust: 0.35 mm cold } ${more} }`;
const GRID = `measured lash cold on 2027-03-14 {
    | valve (mm) |    1 |    2 |    3 |    4 |
    | intake a   | 0.20 | 0.21 | 0.15 | 0.18 |
    | intake b   | 0.20 | 0.20 | 0.24 | 0.22 |
  }`;
const drawn = (text: string, side: "intake" | "exhaust" = "intake"): Drawing => {
  const drawing = lashDeviations(sourceOf(text), side);
  if (!drawing) throw new Error("nothing was drawn");
  return drawing;
};

describe("eight intake valves", () => {
  const drawing = drawn(build(GRID));
  const band = part(drawing, "band");
  const [top, height] = [band.number("y"), band.number("height")];
  /** The band is 0.04 mm high and the lash grows upwards. */
  const y = (lash: number) => top + ((0.22 - lash) / 0.04) * height;
  const at = (place: string) => {
    const { tag, number } = part(drawing, place);
    return { shape: tag, y: number(tag === "circle" ? "cy" : "y") };
  };

  it("are well made", () => expectWellMade(drawing));

  it("stand above and below the band by as much as they are out of it", () => {
    for (const [place, lash] of [["intake a, cylinder 1", 0.2], ["intake a, cylinder 2", 0.21], ["intake a, cylinder 3", 0.15], ["intake b, cylinder 3", 0.24]] as const) expect(at(place).y).toBeCloseTo(y(lash), 2);
  });

  it("have another shape where they are out, and the ends of the band are in it", () => {
    expect(at("intake a, cylinder 3").shape).toBe("svg");
    expect(at("intake b, cylinder 3").shape).toBe("svg");
    for (const place of ["intake a, cylinder 4", "intake b, cylinder 4", "intake a, cylinder 1"]) expect(at(place).shape).toBe("circle");
  });

  it("say which are tight and which loose", () => {
    expect(drawing.alternative).toContain("intake a, cylinder 3: 0.15 mm, tight");
    expect(drawing.alternative).toContain("intake b, cylinder 3: 0.24 mm, loose");
    expect(drawing.alternative).toContain("Asked for: 0.18 mm to 0.22 mm cold. 2 of 8 lie outside it.");
    expect(printed(drawing)).toEqual(expect.arrayContaining(["3a", "3b", "0.15", "0.24", "0.22", "0.18"]));
  });
});

it("shows a chosen lash that is not the middle of the band", () => {
  expect(printed(drawn(build(GRID).replace("intake: 0.20 mm cold", "intake: 0.19 mm cold")))).toContain("chosen 0.19 mm");
  expect(printed(drawn(build(GRID))).some((words) => words.startsWith("chosen"))).toBe(false);
});

it("takes one reading for a whole side", () => {
  const drawing = drawn(build("measured lash cold on 2027-03-14 { intake: 0.21 mm; exhaust: 0.36 mm }"), "exhaust");
  expectWellMade(drawing);
  expect(drawing.alternative).toContain("the exhaust side: 0.36 mm");
});

it("shows the last readings, not those taken before the work", () => {
  const later = GRID.replace("2027-03-14", "2027-05-01").replaceAll("0.15", "0.19");
  expect(drawn(build(`${GRID}\n${later}\n${GRID.replace("cold on 2027-03-14", "cold on 2027-06-01 before teardown")}`)).title).toContain("measured 2027-05-01");
});

it("is not drawn where none was measured, none is asked for, or the lifters take it up", () => {
  expect(lashDeviations(sourceOf(build("")), "intake")).toBeUndefined();
  expect(lashDeviations(sourceOf(build(GRID)), "exhaust")).toBeUndefined();
  expect(lashDeviations(sourceOf(build(GRID).replace("adjuster: screw", "adjuster: hydraulic")), "intake")).toBeUndefined();
});
