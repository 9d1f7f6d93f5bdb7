// The generated pages are what the declarations say now.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { referencePage } from "../../server/schema/write-reference.ts";
import { formulasPage } from "../../server/sheet/write-pages.ts";

const root = join(import.meta.dirname, "..", "..");

test("the formula page is current", () => {
  expect(readFileSync(join(root, "server/sheet/FORMULAS.md"), "utf8")).toBe(formulasPage());
});

test("the language reference is current", () => {
  expect(readFileSync(join(root, "grammar/REFERENCE.md"), "utf8")).toBe(referencePage());
});
