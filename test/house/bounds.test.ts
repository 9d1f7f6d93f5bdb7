/** The page of bounds tells the constants as they are. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
const rows = [...readFileSync(join(ROOT, "server/BOUNDS.md"), "utf8").matchAll(/^\| ([^|]+) \| +(\d+) \| `(\w+)` in `([^`]+)` \|/gm)].map(([, what = "", bound = "", name = "", file = ""]) => ({ what, bound: Number(bound), name, file }));

test("the page has its table", () => {
  expect(rows.length).toBeGreaterThanOrEqual(14);
});

test.each(rows)("$what: $bound", ({ bound, name, file }) => {
  const stated = new RegExp(`const ${name} = ([\\d_ *]+);`).exec(readFileSync(join(ROOT, file), "utf8"))?.[1] ?? "";
  expect(stated.replaceAll("_", "").split("*").reduce((product, factor) => product * Number(factor), 1)).toBe(bound);
});
