import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { RULES } from "../../server/rules/index.ts";
import { pagesText } from "../../server/rules/write-pages.ts";
import { INDEXES, indexText, membersOf } from "../../server/schema/write-index.ts";

const ROOT = join(import.meta.dirname, "..", "..");
const read = (path: string) => readFileSync(join(ROOT, path), "utf8");

describe("the catalogue of rules", () => {
  test("is the folder's: the index is current", () => {
    const index = INDEXES.find((i) => i.folder === "server/rules");
    expect(index).toBeDefined();
    if (index) expect(read("server/rules/index.ts")).toBe(indexText(index, membersOf(ROOT, index)));
  });
  test("keeps each rule in the file of its id", () => {
    const files = readdirSync(join(ROOT, "server/rules")).map((f) => f.replace(/\.ts$/, ""));
    expect(RULES.map((r) => r.id).filter((id) => !files.includes(id))).toEqual([]);
  });
  test("uses each id and alias once", () => {
    const all = RULES.flatMap((r) => [r.id, ...(r.aliases ?? [])]);
    expect(new Set(all).size).toBe(all.length);
    for (const id of all) expect(id).toMatch(/^[a-z]+(-[a-z0-9]+)*$/);
  });
  test("is printed as it is: the pages are current", () => {
    expect(read("server/rules/RULES.md")).toBe(pagesText(RULES));
  });
});

describe("every code that reading raises", () => {
  // Codes stand as the first argument of problem() and report(), as `code:` of a problem, or in a union of codes.
  const SOURCES = ["grammar/tree.ts", "grammar/messages.ts", "grammar/lexer.ts", "server/model/lower.ts", "server/model/value.ts", "server/model/reading.ts", "server/quantity/quantity.ts", "server/quantity/wording.ts"];
  // Names of the quantity floor that lowering reports under a rule's own id.
  const RENAMED: Readonly<Record<string, string>> = { hole: "not-filled-in", "not-a-figure": "wrong-form" };
  const codes = new Map<string, string>();
  for (const path of SOURCES) {
    const text = read(path);
    const seen = [...text.matchAll(/\b(?:problem|report)\("([a-z-]+)"/g), ...text.matchAll(/\bcode: "([a-z-]+)"/g), ...[...text.matchAll(/(?:readonly code:|QuantityProblemCode =)([^;]*);/g)].flatMap((m) => [...(m[1] as string).matchAll(/"([a-z-]+)"/g)])];
    for (const match of seen) codes.set(RENAMED[match[1] as string] ?? (match[1] as string), path);
  }
  test("are found where they are looked for", () => {
    for (const code of ["syntax", "unknown-key", "unit-missing", "qualifier-missing", "table-shape", "printed-pair-disagrees", "impossible-date", "wrong-form"]) expect(codes.has(code), code).toBe(true);
  });
  test.each([...codes])("%s (%s) has a rule of scope text", (code) => {
    expect(RULES.find((r) => r.id === code)?.scope).toBe("text");
  });
  test("and every rule of scope text is raised somewhere", () => {
    expect(RULES.filter((r) => r.scope === "text" && !codes.has(r.id)).map((r) => r.id)).toEqual([]);
  });
});
