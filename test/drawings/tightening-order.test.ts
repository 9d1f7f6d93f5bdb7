/** The order of tightening, on a plan or in a row. */
import { describe, expect, it } from "vitest";
import { tighteningOrders } from "../../server/drawings/tightening-order.ts";
import { expectWellMade, part, partsOf, printed, sourceOf } from "./picture.ts";

const engine = (fasteners: string) => `engine e { bore: 80 mm; stroke: 80 mm\n${fasteners} }`;
const PLACES = `positions {
    | bolt | x (in) | y (mm) |
    |    1 |    0.0 |    0.0 |
    |    2 |   10.0 |    0.0 |
    |    3 |    0.0 |  100.0 |
    |    4 |   10.0 |  100.0 |
  }`;
const drawn = (fasteners: string) => tighteningOrders(sourceOf(engine(fasteners), "metric", true));

describe("with the places of the bolts", () => {
  const [drawing] = drawn(`fastener head-bolt { thread: M10x1.25; tighten: 30 N·m oiled, then 55 N·m; sequence: 4-1-2-3; ${PLACES} }`);
  if (!drawing) throw new Error("nothing was drawn");
  const place = (bolt: number) => {
    const ring = part(drawing, `bolt ${bolt}`);
    return [ring.number("cx"), ring.number("cy")] as const;
  };

  it("is a plan in the proportions of the joint, whatever units the places are in", () => {
    expectWellMade(drawing);
    const [one, two, three] = [place(1), place(2), place(3)];
    expect(two[0] - one[0]).toBeGreaterThan(0);
    expect(one[1]).toBeCloseTo(two[1], 3);
    // 254 mm along, 100 mm across, and across counts away from the reader.
    expect((one[1] - three[1]) / (two[0] - one[0])).toBeCloseTo(100 / 254, 3);
    expect(partsOf(drawing.svg)[0]?.attributes["viewBox"]).toMatch(/^0 0 [\d.]+ [\d.]+$/);
  });

  it("has each bolt's turn in its ring and its own number beside", () => {
    const words = printed(drawing);
    // In the order of tightening: bolt 4 first.
    expect(words).toEqual(["1", "bolt 4", "2", "bolt 1", "3", "bolt 2", "4", "bolt 3"]);
  });

  it("says the order and the stages", () => {
    expect(drawing.title).toBe("Order of tightening, head-bolt: 30 N·m oiled, then 55 N·m; plan, to scale");
    expect(drawing.alternative).toContain("4, 1, 2, 3");
  });
});

it("is a row of numbers where the places are not known, or not of all", () => {
  const without = `fastener cam-cap { thread: M8x1.25; torque: 20 N·m oiled; sequence: 3-1-2; numbering: "figure 6-12" }`;
  const some = `fastener head-bolt { thread: M10x1.25; torque: 20 N·m oiled; sequence: 5-4-1-2-3; ${PLACES} }`;
  for (const [fasteners, order] of [[without, ["3", "1", "2"]], [some, ["5", "4", "1", "2", "3"]]] as const) {
    const [drawing] = drawn(fasteners);
    if (!drawing) throw new Error("nothing was drawn");
    expectWellMade(drawing);
    expect(printed(drawing).slice(0, -1)).toEqual(order.flatMap((bolt, i) => [`${i + 1}.`, bolt]));
    expect(part(drawing, "turn 2").number("cx")).toBeCloseTo((1.5 * 100) / order.length, 2);
  }
  expect(drawn(without)[0]?.alternative).toContain("as numbered in figure 6-12");
});

it("is drawn for each fastener that has an order, each with an id of its own", () => {
  const both = drawn(`fastener a { thread: M8x1.25; torque: 20 N·m oiled; sequence: 1-2 }\nfastener b { thread: M8x1.25; torque: 20 N·m oiled }\nfastener c { thread: M8x1.25; torque: 20 N·m oiled; sequence: 2-1 }`);
  expect(both.map((d) => d.title)).toEqual(["Order of tightening, a: 20 N·m oiled", "Order of tightening, c: 20 N·m oiled"]);
  expect(new Set(both.map((d) => d.id)).size).toBe(2);
});

it("stands bolts that lie on one line, or on one spot, without stumbling", () => {
  for (const y of ["0", "5"]) {
    const [drawing] = drawn(`fastener a { thread: M8x1.25; torque: 20 N·m oiled; sequence: 1-2; positions { | bolt | x (mm) | y (mm) |\n| 1 | 0 | 0 |\n| 2 | 0 | ${y} |\n} }`);
    if (!drawing) throw new Error("nothing was drawn");
    expectWellMade(drawing);
  }
});
