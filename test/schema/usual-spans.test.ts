// Usual spans against engines that were really sold: test/reference/engines-1985.csv, an open data set of import yearbook figures.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { keyOfPath } from "../../server/schema/lookup.ts";
import { PER_DISPLACEMENT } from "../../server/schema/spans.ts";

const INCH = 0.0254;
const [header = "", ...lines] = readFileSync(new URL("../reference/engines-1985.csv", import.meta.url), "utf8").trim().split("\n");
const names = header.split(",");
const engines = lines.map((line) => Object.fromEntries(line.split(",").map((cell, i) => [names[i] as string, /\d/.test(cell) ? Number(cell) : NaN])));

const COLUMNS: readonly (readonly [string, string, number])[] = [
  ["bore_in", "bore", INCH],
  ["stroke_in", "stroke", INCH],
  ["engine_size_cu_in", "stated-displacement", INCH ** 3],
  ["compression_ratio", "stated-compression", 1],
  ["peak_rpm", "redline", 1],
  ["horsepower", "stated-power", 745.69987158227],
];

describe("engines that were sold fall inside the usual spans", () => {
  test.each(COLUMNS)("%s", (column, path, factor) => {
    const span = keyOfPath(path)?.usual;
    if (!span) throw new Error(`${path} has no usual span`);
    const values = engines.map((engine) => (engine[column] as number) * factor).filter((value) => !Number.isNaN(value));
    expect(values.length).toBeGreaterThan(30);
    expect(values.filter((value) => value < span.low || value > span.high)).toEqual([]);
  });

  test.each(COLUMNS.filter(([, path]) => path === "bore" || path === "stroke"))("%s read in millimetres as inches, or the other way round, falls outside", (column, path) => {
    const span = keyOfPath(path)?.usual;
    if (!span) throw new Error(`${path} has no usual span`);
    for (const engine of engines) {
      const size = (engine[column] as number) * INCH;
      expect(size * 25.4).toBeGreaterThan(span.high);
      expect(size / 25.4).toBeLessThan(span.low);
    }
  });
});

test("a fifty and a seven litre vee fall inside", () => {
  const inside = (path: string, value: number): boolean => {
    const span = keyOfPath(path)?.usual;
    return span !== undefined && span.low <= value && value <= span.high;
  };
  expect(inside("bore", 0.039) && inside("stroke", 0.041) && inside("stated-displacement", 49e-6) && inside("rod-length", 0.08) && inside("combustion.chamber", 4.5e-6)).toBe(true);
  expect(inside("bore", 0.108) && inside("stroke", 0.101) && inside("stated-displacement", 7.0e-3) && inside("rod-length", 0.165) && inside("combustion.chamber", 118e-6)).toBe(true);
});

test("engines that were sold make power for their size as the usual share has it", () => {
  const [share] = PER_DISPLACEMENT;
  if (!share) throw new Error("no share");
  const values = engines.map((e) => ((e["horsepower"] as number) * 745.69987158227) / ((e["engine_size_cu_in"] as number) * INCH ** 3)).filter((value) => !Number.isNaN(value));
  expect(values.length).toBeGreaterThan(30);
  expect(values.filter((value) => value < share.low || value > share.high)).toEqual([]);
});
