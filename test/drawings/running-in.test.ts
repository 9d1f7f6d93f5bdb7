/** Running-in: what is asked for and what was run, on one clock. */
import { describe, expect, it } from "vitest";
import { runningIn } from "../../server/drawings/running-in.ts";
import { DUNLIN, RIDGEWAY } from "../sheet/samples.ts";
import { expectWellMade, hasPart, part, printed, sourceOf } from "./picture.ts";

const CARD = RIDGEWAY.replace('source: "cam card in the box"', 'source: "cam card in the box"; break-in: 1800 .. 2400 rpm for 20 min');
const build = (card: string, runs: string) => sourceOf(`${DUNLIN}${card}build b on dunlin-18 { fit ridgeway-272\n${runs} }`);

describe("twenty minutes asked for, run in two goes", () => {
  const drawing = runningIn(build(CARD, `
    run first-start on 2027-03-20 { speed: 1800 .. 2400 rpm for 15 min }
    run again on 2027-03-21 { speed: 2200 rpm for 10 min }
    run shakedown on 2027-03-22 { distance: 40 km }`));
  if (!drawing) throw new Error("nothing was drawn");
  const [asked, first, again] = [part(drawing, "asked"), part(drawing, "run first start, 2027-03-20"), part(drawing, "run again, 2027-03-21")];

  it("is well made", () => expectWellMade(drawing));

  it("lays the runs one after another on a clock of 25 minutes", () => {
    // The clock runs over the drawing's width, a hundredth left free at either end for the marks of readings.
    const minutes = (from: { number(a: string): number }) => [((from.number("x") - 1) / 98) * 25, (from.number("width") / 98) * 25].map((x) => Number(x.toFixed(3)));
    expect(minutes(asked)).toEqual([0, 20]);
    expect(minutes(first)).toEqual([0, 15]);
    expect(minutes(again)).toEqual([15, 10]);
  });

  it("stands each as high as its speeds", () => {
    expect(first.number("y")).toBeCloseTo(asked.number("y"), 3);
    expect(first.number("height")).toBeCloseTo(asked.number("height"), 3);
    const middle = again.number("y") + again.number("height") / 2;
    expect((middle - asked.number("y")) / asked.number("height")).toBeCloseTo((2400 - 2200) / 600, 2);
  });

  it("says both in words, and leaves out what held no speed", () => {
    expect(drawing.alternative).toContain("Ridgeway 272 asks for 1800 rpm to 2400 rpm for 20 min.");
    expect(drawing.alternative).toContain("first start, 2027-03-20: 1800 rpm to 2400 rpm for 15 min.");
    expect(drawing.alternative).not.toContain("shakedown");
    expect(printed(drawing)).toContain("asked for by Ridgeway 272");
  });
});

it("draws what was read as the run went on", () => {
  const drawing = runningIn(build(RIDGEWAY, `run first-start on 2027-03-20 {
    | time (min) |  rpm |
    |          0 | 2000 |
    |         10 | 2200 |
  }`));
  expect(drawing?.alternative).toContain("read 2000 rpm at 0 min, 2200 rpm at 10 min");
  expect(drawing?.title).toBe("Running-in as it was run");
});

it("draws what is asked for before anything was run", () => {
  const drawing = runningIn(build(CARD, ""));
  expect(drawing?.title).toBe("Running-in asked for");
  expect(drawing && hasPart(drawing, "asked")).toBe(true);
});

it("is not drawn where nothing is asked for and nothing was run for a time", () => {
  expect(runningIn(build(RIDGEWAY, "run shakedown on 2027-03-22 { distance: 40 km; max-rpm: 4500 rpm }"))).toBeUndefined();
});
