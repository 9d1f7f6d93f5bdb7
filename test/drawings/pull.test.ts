/** Pulls: what was read, at the speeds it was read at. */
import { describe, expect, it } from "vitest";
import { pull } from "../../server/drawings/pull.ts";
import { DUNLIN, RIDGEWAY } from "../sheet/samples.ts";
import { expectWellMade, hasPart, part, partsOf, pointsOf, printed, sourceOf } from "./picture.ts";

const build = (pulls: string) => sourceOf(`${DUNLIN}${RIDGEWAY}build b on dunlin-18 { fit ridgeway-272\n${pulls} }`);
const LAST = `pull on 2027-05-02 { at: wheels; correction: none; stated-power: 104 hp at wheels
    |  rpm | torque (N·m) |  afr |
    | 6000 |          130 | 12.6 |
    | 3000 |          112 | 13.1 |
    | 5000 |          140 | 12.7 |
  }`;
const BEFORE = `pull on 2027-04-02 { at: wheels; correction: none
    |  rpm | torque (N·m) | boost (kPa) |
    | 3000 |          100 |          10 |
    | 6000 |          120 |          30 |
  }`;

describe("one pull", () => {
  const drawing = pull(build(LAST));
  if (!drawing) throw new Error("nothing was drawn");

  it("is well made", () => expectWellMade(drawing));

  it("draws torque in rising order of speed, and as high as it was read", () => {
    const points = pointsOf(part(drawing, "torque 1"));
    const [a, b, c] = points as [readonly [number, number], readonly [number, number], readonly [number, number]];
    expect(points).toHaveLength(3);
    expect((b[0] - a[0]) / (c[0] - a[0])).toBeCloseTo(2000 / 3000, 3);
    // Heights count from the foot of the panel, which is at 1000.
    expect((1000 - a[1]) / (1000 - b[1])).toBeCloseTo(112 / 140, 3);
  });

  it("works power out of torque and speed", () => {
    const [a, b] = pointsOf(part(drawing, "power 1")) as [readonly [number, number], readonly [number, number]];
    expect((1000 - a[1]) / (1000 - b[1])).toBeCloseTo((112 * 3000) / (140 * 5000), 3);
    // 130 N·m at 6000 rpm: 130 · 2π · 100 = 81.68 kW, 109.5 hp in the unit that the printout states.
    expect(printed(drawing)).toContain("110 hp");
  });

  it("says every reading in words", () => {
    expect(drawing.alternative).toContain("torque 112 N·m at 3000, 140 N·m at 5000 and 130 N·m at 6000 rpm, most 140 N·m");
    expect(drawing.alternative).toContain("mixture 13.1 afr at 3000");
    expect(drawing.title).toBe("Pull of 2027-05-02, at wheels, as read");
  });

  it("has no panel for what was not read", () => expect(printed(drawing)).not.toContain("boost"));
});

describe("two pulls", () => {
  const drawing = pull(build(LAST + BEFORE));
  if (!drawing) throw new Error("nothing was drawn");

  it("are laid over each other on the same scales, the later one solid", () => {
    expectWellMade(drawing);
    const [later, earlier] = [part(drawing, "torque 1"), part(drawing, "torque 2")];
    expect(later.attributes["stroke-dasharray"]).toBeUndefined();
    expect(earlier.attributes["stroke-dasharray"]).toBeDefined();
    const foot = (path: typeof later) => 1000 - (pointsOf(path)[0]?.[1] ?? NaN);
    expect(foot(earlier) / foot(later)).toBeCloseTo(100 / 112, 3);
    expect(pointsOf(earlier)[0]?.[0]).toBeCloseTo(pointsOf(later)[0]?.[0] ?? NaN, 1);
    // Marks tell them apart where colour and line do not.
    expect(partsOf(drawing.svg).some((p) => p.tag === "circle" && p.attributes["class"] === "open")).toBe(true);
  });

  it("keep what only one of them read", () => expect(hasPart(drawing, "boost 2")).toBe(true));
});

it("does not lay a pull at the crank over one at the wheels, nor a corrected one over one as read", () => {
  for (const other of [BEFORE.replace("at: wheels", "at: crank"), BEFORE.replace("correction: none", "correction: sae-j1349")]) {
    const drawing = pull(build(LAST + other));
    expect(drawing?.title).toBe("Pull of 2027-05-02, at wheels, as read");
  }
});

it("is not drawn without a table of at least two speeds", () => {
  expect(pull(build("pull on 2027-05-02 { at: wheels; correction: none; stated-power: 104 hp at wheels }"))).toBeUndefined();
  expect(pull(build(""))).toBeUndefined();
});
