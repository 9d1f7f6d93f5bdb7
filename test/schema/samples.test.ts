import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { BUILD, ENGINE } from "../grammar/samples.ts";
import { problemsOf } from "./reading.ts";

const FIXTURES = new URL("./fixtures/", import.meta.url);

test("the stock engine of the language's own sample is accounted for to the last word", () => {
  expect(problemsOf(ENGINE)).toEqual([]);
});

test("the build of the language's own sample is accounted for to the last word", () => {
  expect(problemsOf(BUILD)).toEqual([]);
});

for (const name of readdirSync(FIXTURES).filter((file) => file.endsWith(".tappet"))) {
  test(`${name} is accounted for to the last word`, () => {
    expect(problemsOf(readFileSync(new URL(name, FIXTURES), "utf8"))).toEqual([]);
  });
}

test("what the schema does not know is not passed over", () => {
  const slips: readonly (readonly [string, string, string])[] = [
    ["bore: 83.00 mm", "boar: 83.00 mm", "boar"],
    ["bore: 83.00 mm", "bore: 83.00 kg", "bore"],
    ["bore: 83.00 mm", "bore: 8.300 mm", "usual"],
    ["lash: 0.15 ± 0.03 mm cold", "lash: 0.15 ± 0.03 mm", "thermal"],
    ["lash: 0.15 ± 0.03 mm cold", "lash: 0.15 ± 0.03 mm dry", "dry"],
    ["layout: sohc", "layout: tohc", "layout"],
    ["combustion {", "combustion2 {", "combustion2"],
  ];
  for (const [from, to, word] of slips) {
    expect(ENGINE, from).toContain(from);
    expect(problemsOf(ENGINE.replace(from, to)).join("\n"), to).toContain(word);
  }
});
