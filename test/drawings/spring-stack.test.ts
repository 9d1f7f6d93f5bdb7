/** The spring's heights to scale, and what is left before its coils touch. */
import { describe, expect, it } from "vitest";
import type { Drawing } from "../../server/drawings/drawing.ts";
import { springStack } from "../../server/drawings/spring-stack.ts";
import { DUNLIN, RIDGEWAY } from "../sheet/samples.ts";
import { expectWellMade, hasPart, part, printed, sourceOf } from "./picture.ts";

const withSprings = (block: string, more = "") => `${DUNLIN.replace(/valve-spring \{[^}]*\}/, block)}${RIDGEWAY}build b on dunlin-18 { fit ridgeway-272\n${more} }`;
const STOCK = "valve-spring { wire: 3.8 mm; mean-diameter: 24.0 mm; active-coils: 5.2; seat-height: 38.0 mm; seat-load: 240 N; solid-height: 27.4 mm }";
const drawn = (text: string, side: "intake" | "exhaust" = "intake"): Drawing => {
  const drawing = springStack(sourceOf(text), side);
  if (!drawing) throw new Error("nothing was drawn");
  return drawing;
};

describe("the stock spring under the bigger shaft", () => {
  const drawing = drawn(withSprings(STOCK));
  const height = (state: string) => part(drawing, state).number("height");

  it("is well made", () => expectWellMade(drawing));

  it("stands at heights in the proportion of its lengths", () => {
    // Installed 38.0; open 38.0 − 7.10 · 1.50 = 27.35; solid 27.4; free 38.0 + 240 N / 27.991 N/mm = 46.574 mm.
    expect(height("open") / height("installed")).toBeCloseTo(27.35 / 38, 3);
    expect(height("solid") / height("installed")).toBeCloseTo(27.4 / 38, 3);
    expect(height("free") / height("installed")).toBeCloseTo(46.574 / 38, 3);
  });

  it("stands on one seat", () => {
    const feet = ["free", "installed", "open", "solid"].map((state) => part(drawing, state).number("y") + height(state));
    for (const foot of feet) expect(foot).toBeCloseTo(feet[0] ?? 0, 2);
  });

  it("shows as hatched how far it would be squeezed past solid, and says so", () => {
    const margin = part(drawing, "margin");
    expect(margin.attributes["fill"]).toBe("url(#spring-stack-intake-hatch)");
    expect(margin.number("height") / height("installed")).toBeCloseTo(0.05 / 38, 3);
    expect(printed(drawing)).toContain("0.05 mm too far");
    expect(drawing.alternative).toContain("solid 0.05 mm before full lift");
  });

  it("shows what is left on the side where something is", () => {
    const exhaust = drawn(withSprings(STOCK), "exhaust");
    expect(part(exhaust, "margin").attributes["fill"]).toBeUndefined();
    expect(part(exhaust, "margin").number("height") / part(exhaust, "installed").number("height")).toBeCloseTo(0.45 / 38, 3);
    expect(printed(exhaust)).toContain("0.45 mm left");
  });

  it("prints each height under its spring", () => {
    expect(printed(drawing)).toEqual(expect.arrayContaining(["46.57 mm", "38.00 mm", "27.35 mm", "27.40 mm", "10.65 mm lift"]));
  });
});

it("takes a free length that is stated", () => {
  const drawing = drawn(withSprings(STOCK.replace("seat-load: 240 N;", "seat-load: 240 N; free-length: 47.5 mm;")));
  expect(part(drawing, "free").number("height") / part(drawing, "installed").number("height")).toBeCloseTo(47.5 / 38, 3);
});

it("leaves the free length out where it would be a guess", () => {
  const drawing = drawn(withSprings("valve-spring { form: beehive; seat-height: 38.0 mm; seat-load: 240 N; open-height: 27.0 mm; open-load: 560 N; solid-height: 24.0 mm }"));
  expect(hasPart(drawing, "free")).toBe(false);
  expect(drawing.title).not.toContain("free");
});

describe("a pair of coils", () => {
  const drawing = drawn(withSprings(`valve-spring { seat-height: 38.0 mm
    outer { wire: 4.0 mm; mean-diameter: 27.0 mm; active-coils: 4.5; solid-height: 25.0 mm; seat-load: 200 N }
    inner { wire: 2.8 mm; mean-diameter: 19.0 mm; active-coils: 6.0; seat-height: 36.0 mm; solid-height: 23.4 mm; seat-load: 90 N } }`));

  it("is drawn coil by coil, each with its own margin", () => {
    expectWellMade(drawing);
    const installed = part(drawing, "installed outer").number("height");
    expect(part(drawing, "installed inner").number("height") / installed).toBeCloseTo(36 / 38, 3);
    expect(part(drawing, "margin outer").number("height") / installed).toBeCloseTo((38 - 10.65 - 25) / 38, 3);
    expect(part(drawing, "margin inner").number("height") / installed).toBeCloseTo((36 - 10.65 - 23.4) / 38, 3);
    expect(printed(drawing)).toEqual(expect.arrayContaining(["outer 2.35 mm left", "inner 1.95 mm left"]));
  });
});

it("stands at the measured height of the place where least is left", () => {
  const drawing = drawn(withSprings(STOCK.replace("27.4", "25.0"), `measured spring-height on 2027-03-13 {
    | valve (mm) |    1 |    2 |    3 |    4 |
    | intake a   | 38.2 | 37.8 | 38.1 | 38.0 |
  }`));
  expect(drawing.title).toContain("as measured, intake a, cylinder 2");
  expect(printed(drawing)).toEqual(expect.arrayContaining(["37.80 mm", "27.15 mm", "2.15 mm left"]));
});

it("is not drawn where solid height, installed height or lift is missing", () => {
  for (const gone of ["solid-height: 27.4 mm", "seat-height: 38.0 mm; "]) expect(springStack(sourceOf(withSprings(STOCK.replace(gone, ""))), "intake")).toBeUndefined();
  expect(springStack(sourceOf(DUNLIN), "intake")).toBeUndefined();
});
