// How entries and tables are read where a builder's hand differs from the book's: lists, headings, threads, capitals.
import { describe, expect, it } from "vitest";
import { readSource } from "../../grammar/read.ts";
import { lower } from "../../server/model/lower.ts";
import type { FigureValue } from "../../server/model/value.ts";

function read(text: string): { values: Map<string, FigureValue>; problems: string[]; fixes: string[]; table?: (string | undefined)[][] } {
  const declarations = readSource("memory:/values.tappet", text).declarations.map((d) => lower(d.tree));
  const problems = declarations.flatMap((d) => d.problems);
  const table = declarations.flatMap((d) => d.records)[0]?.table;
  return {
    values: new Map(declarations.flatMap((d) => d.figures.map((f) => [f.path, f.value] as const))),
    problems: problems.map((p) => `${p.code}: ${p.message}`),
    fixes: problems.flatMap((p) => p.fixes.map((f) => f.edits.map((e) => e.text).join())),
    ...(table && { table: table.rows.map((r) => r.cells.map((c) => c.quantity?.unit)) }),
  };
}

const engine = (body: string) => read(`engine one { cylinders: 1\n${body}\n}`);

describe("a list of figures", () => {
  it("takes the unit at its end for all bare figures before it", () => {
    const { values, problems } = read(`shop { blades { metric: 0.05, 0.10, 0.15 mm; inch: .004, .006 in } }`);
    expect(problems).toEqual([]);
    const metric = values.get("shop.blades.metric");
    expect(metric?.is === "stages" && metric.stages.map((s) => s.quantity.interval.nominal)).toEqual([0.05e-3, 0.1e-3, 0.15e-3].map((x) => expect.closeTo(x, 12)));
    const inch = values.get("shop.blades.inch");
    expect(inch?.is === "stages" && inch.stages.map((s) => s.quantity.unit)).toEqual(["inch", "inch"]);
  });
  it("takes the next unit written, not the last, where units change on the way", () => {
    const { values, problems } = read(`shop { blades { metric: 4, 6 thou, 0.15, 0.20 mm } }`);
    expect(problems).toEqual([]);
    const metric = values.get("shop.blades.metric");
    expect(metric?.is === "stages" && metric.stages.map((s) => s.quantity.unit)).toEqual(["thou", "thou", "millimetre", "millimetre"]);
  });
  it("never lends the angle at the end of a tightening to the torque before it", () => {
    const { problems } = engine("fastener bolt { tighten: 30 N·m oiled, then 55 N·m, then 90 deg }");
    expect(problems).toEqual([]);
  });
  it("still wants a unit where none is written at all", () => {
    expect(read(`shop { blades { metric: 0.05, 0.10 } }`).problems).toHaveLength(2);
  });
});

describe("a table's heading", () => {
  it("is a unit by itself where its name is one", () => {
    const { problems, table } = read(`build one on two {\n pull on 2027-04-02 {\n at: wheels\n | rpm | torque (N·m) | afr |\n | 3000 | 112 | 13.1 |\n }\n}`);
    expect(problems).toEqual([]);
    expect(table).toEqual([["revolution-per-minute", "newton-metre", "air-fuel-ratio"]]);
  });
  it("is asked for a unit of the column's own kind, once", () => {
    const { problems } = read(`build one on two {\n pull on 2027-04-02 {\n | rpm | torque |\n | 3000 | 112 |\n | 4000 | 120 |\n }\n}`);
    expect(problems).toEqual(["unit-missing: The column `torque` has no unit. Write it in the header: `torque (N·m)`."]);
  });
  it("is asked for once in a grid, however many columns have no unit", () => {
    const { problems } = read(`build one on two {\n measured lash cold on 2027-04-02 {\n | valve | 1 | 2 |\n | intake | 0.20 | 0.21 |\n }\n}`);
    expect(problems).toEqual(["unit-missing: This table has no unit. Write it in the header: `valve (mm)`."]);
  });
});

describe("a thread", () => {
  const pitch = (thread: string) => {
    const { values, problems, fixes } = engine(`fastener bolt { thread: ${thread} }`);
    const value = values.get("fastener.bolt.thread");
    return { pitch: value?.is === "thread" ? Number((value.thread.pitch * 1e3).toFixed(3)) : undefined, problems, fixes };
  };
  it.each([["M10x1.25", 1.25], ["M10 x 1.25", 1.25], ["M10X1.25", 1.25], ["M10", 1.5], ["3/8-24", 1.058], ["3/8-24 UNF", 1.058], ["10-32", 0.794]])("reads %s with a pitch of %s mm", (thread, mm) => {
    expect(pitch(thread)).toEqual({ pitch: mm, problems: [], fixes: [] });
  });
  it.each([["M10 1.25", "M10x1.25"], ["M10x1,25", "M10x1.25"]])("does not pass over what stands after %s", (thread, meant) => {
    const read = pitch(thread);
    expect(read.pitch).toBeUndefined();
    expect(read.problems).toHaveLength(1);
    expect(read.problems[0]).toMatch(/^wrong-form: /);
    expect(read.fixes).toEqual([meant]);
  });
});

describe("a qualifier", () => {
  it.each(["10 deg btdc", "10 deg BTDC", "10° Btdc"])("is the same word in capitals: %s", (figure) => {
    const { values, problems } = engine(`ignition { base-timing: ${figure} }`);
    expect(problems).toEqual([]);
    const value = values.get("ignition.base-timing");
    expect(value?.is === "quantity" && value.qualifiers).toEqual({ event: "btdc" });
  });
  it("is not asked for where the figure has no unit", () => {
    expect(engine("ignition { base-timing: 10 BTDC }").problems.map((p) => p.split(":")[0])).toEqual(["unit-missing"]);
  });
  it.each(["constructor", "toString"])("is not a word that only the language below knows: %s", (word) => {
    expect(engine(`ignition { base-timing: 10 deg btdc ${word} }`).problems.map((p) => p.split(":")[0])).toEqual(["unknown-word"]);
    expect(engine(`valve-gear { drive: ${word} }`).problems.map((p) => p.split(":")[0])).toEqual(["unknown-word"]);
  });
});
