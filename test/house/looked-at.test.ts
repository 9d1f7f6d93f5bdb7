// After an edit only that is worked out again which looked at something that changed (server/model/reads.ts). Facts say so themselves when they
// are looked at; a declaration's text does not, so whoever reads it is named here, with why that is safe.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

const ROOT = join(import.meta.dirname, "..", "..");
const READS_A_TREE = /\btree\)?\.(?:text|phrase|stray|comments|problems)\b|\{[^{}]*\b(?:text|phrase|stray|comments|problems)\b[^{}]*\} = [^;\n]*\btree\b/;

/** Text within the span of a fact is that fact's: an edit of it is an edit of the fact. */
const WITHIN_A_FACT = ["server/rules/lobe-table-broken.ts", "server/rules/wording.ts", "server/sheet/canonical.ts"];
/** Say that they look at the whole text. */
const SAYS_SO = ["server/rules/date-in-future.ts", "server/rules/template.ts", "server/rules/tune-record.ts"];

const files = ["server/rules", "server/sheet"].flatMap((folder) => readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" }).filter((f) => f.endsWith(".ts") && !f.startsWith("write-")).map((f) => `${folder}/${f.replaceAll("\\", "/")}`));
const textOf = (file: string) => readFileSync(join(ROOT, file), "utf8");

test("no rule and no formula reads a declaration's text behind the watch's back", () => {
  expect(files.length).toBeGreaterThan(100);
  expect(files.filter((file) => READS_A_TREE.test(textOf(file))).toSorted()).toEqual([...WITHIN_A_FACT, ...SAYS_SO].toSorted());
});

test.each(SAYS_SO)("%s says that it looks at the whole text", (file) => {
  expect(textOf(file)).toMatch(/\bwhole\(/);
});
