import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { INDEXES, indexText, membersOf } from "../../server/schema/write-index.ts";

const ROOT = join(import.meta.dirname, "..", "..");

for (const index of INDEXES) {
  test(`the index of ${index.folder} is what its script writes`, () => {
    const names = membersOf(ROOT, index);
    if (names.length === 0) return;
    expect(readFileSync(join(ROOT, index.folder, "index.ts"), "utf8")).toBe(indexText(index, names));
  });
}

test("an index lists its members in order, whatever order the folder gives them in", () => {
  const index = INDEXES[0] as (typeof INDEXES)[number];
  expect(indexText(index, ["valve-spring", "camshaft"])).toBe(indexText(index, ["camshaft", "valve-spring"]));
  expect(indexText(index, ["valve-spring"])).toContain('import { KIND as valveSpringKind } from "./valve-spring.ts";');
});
