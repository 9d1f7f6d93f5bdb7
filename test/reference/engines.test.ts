/**
 * The open engine data set, each row written as an engine in its own inches: what the sheet computes must agree with what the row states
 * within the limit, except for the rows whose own figures contradict each other.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { ALLOWED_DISAGREEMENT, disagreementSlack } from "../../server/sheet/formulas/bottom-end.ts";
import { sheetOf } from "../sheet/sheet-of.ts";
import { resultOf } from "../support/project.ts";

const [header = "", ...lines] = readFileSync(join(import.meta.dirname, "engines-1985.csv"), "utf8").trim().split("\n");
const names = header.split(",");
const rows = lines.map((line) => Object.fromEntries(line.split(",").map((cell, i) => [names[i] as string, cell])));
type Row = (typeof rows)[number];

const title = (row: Row) => `${row["cylinders"]} × ${row["bore_in"]} × ${row["stroke_in"]} = ${row["engine_size_cu_in"]}`;

/** The data set holds hundredths of an inch and drops their last noughts; the digits written carry the slack, so they are put back. */
const hundredths = (text: string | undefined) => Number(text).toFixed(2);

function written(row: Row): string {
  const size = String(Number(row["engine_size_cu_in"]));
  return `engine row "${title(row)}" {
  source: "open data set of 1985 import yearbook figures"
  cylinders: ${row["cylinders"]}
  bore: ${hundredths(row["bore_in"])} in
  stroke: ${hundredths(row["stroke_in"])} in
  stated-displacement: ${size} cu-in
  stated-compression: ${row["compression_ratio"]}:1
${row["peak_rpm"] ? `  redline: ${row["peak_rpm"]} rpm\n` : ""}}`;
}

/**
 * Rows that no rounding explains: their bore, stroke, cylinders and displacement cannot all be true. Found by plain arithmetic on the row
 * alone, with no code of the project's: even at the edges of what the digits can mean, π/4·B²·S·n misses the displacement by more than 0.5 %.
 */
function contradictsItself(row: Row): boolean {
  const [bore, stroke, n, size] = ["bore_in", "stroke_in", "cylinders", "engine_size_cu_in"].map((name) => Number(row[name])) as [number, number, number, number];
  const computed = (Math.PI / 4) * bore ** 2 * stroke * n;
  const slack = (2 * 0.005) / bore + 0.005 / stroke + 0.5 / size;
  return Math.abs(computed / size - 1) > 0.005 + slack;
}

/** Cylinders × bore × stroke = displacement, inches and cubic inches. A yearbook is no calibration. */
const CONTRADICTING = [
  "4 × 2.99 × 3.47 = 103.0", "4 × 3.27 × 3.35 = 110.0", "4 × 3.24 × 3.08 = 98.0", "6 × 3.27 × 3.35 = 161.0", "6 × 3.27 × 3.35 = 171.0", "4 × 2.91 × 3.07 = 79.0",
  "4 × 2.97 × 3.23 = 92.0", "4 × 3.05 × 3.03 = 92.0", "4 × 3.15 × 3.29 = 97.0", "4 × 3.15 × 3.58 = 110.0", "4 × 3.46 × 3.9 = 132.0", "4 × 3.62 × 3.5 = 146.0",
  "6 × 3.74 × 2.9 = 194.0", "4 × 3.61 × 3.21 = 134.0",
];

describe("46 engines of an open data set, written as files", () => {
  it("are 46", () => {
    expect(rows).toHaveLength(46);
  });

  it("disagree with their stated displacement in exactly the rows that contradict themselves", () => {
    const found = rows.filter((row) => {
      const { nominal, build } = sheetOf(written(row));
      return Math.abs(nominal("displacement.disagreement")) > ALLOWED_DISAGREEMENT + (disagreementSlack(build) ?? 0);
    });
    expect(found.map(title)).toEqual(rows.filter(contradictsItself).map(title));
    expect(found.map(title)).toEqual(CONTRADICTING);
  });

  it("are named by the checker in exactly those rows, and nothing else is held against any of them", () => {
    const findings = rows.map((row) => ({ row: title(row), found: resultOf(written(row)).findings.filter((f) => f.severity !== "advice").map((f) => f.rule) }));
    expect(findings.filter((f) => f.found.includes("stated-displacement-disagrees")).map((f) => f.row)).toEqual(CONTRADICTING);
    expect(findings.filter((f) => f.found.some((rule) => rule !== "stated-displacement-disagrees"))).toEqual([]);
  });

  for (const row of rows)
    it(`computes ${title(row)} as plain arithmetic does`, () => {
      const { nominal } = sheetOf(written(row));
      const [bore, stroke, n] = ["bore_in", "stroke_in", "cylinders"].map((name) => Number(row[name])) as [number, number, number];
      expect(nominal("displacement.total") / 0.0254 ** 3).toBeCloseTo((Math.PI / 4) * bore ** 2 * stroke * n, 8);
      if (row["peak_rpm"]) expect(nominal("piston-speed.mean")).toBeCloseTo((2 * stroke * 0.0254 * Number(row["peak_rpm"])) / 60, 9);
    });
});

describe("a build on each of the 46", () => {
  it("that adds a fuel, a lash and a reading finds nothing that the engine was not found fault with for", () => {
    const alarms = rows.flatMap((row) => {
      const text = `build day-one on row {
  use: street
  fuel: petrol; octane: 95 RON
  measured cranking hot on 2027-01-09 before teardown { throttle: open; strokes: 5; | cylinder (bar) | ${Array.from({ length: Number(row["cylinders"]) }, (_, i) => i + 1).join(" | ")} |
    | dry | ${Array.from({ length: Number(row["cylinders"]) }, () => "11.4").join(" | ")} |
  }
}
${written(row)}`;
      return resultOf(text).findings.filter((f) => f.severity !== "advice" && f.rule !== "stated-displacement-disagrees").map((f) => `${title(row)}: ${f.rule} ${f.message}`);
    });
    expect(alarms).toEqual([]);
  });
});
