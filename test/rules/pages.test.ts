import { describe, expect, test } from "vitest";
import { RULES } from "../../server/rules/index.ts";
import { cautionOf } from "../../server/schema/cautions.ts";
import { resultOf, shown } from "../support/project.ts";

describe.each(RULES)("the page of $id", (rule) => {
  const { page } = rule;
  test("has a bad example that fires it once, and no error of another rule", () => {
    const { findings } = resultOf(page.bad);
    expect(findings.filter((f) => f.rule === rule.id).map(shown)).toHaveLength(1);
    // A waiver that does not hold leaves what it was meant for standing.
    if (rule.scope !== "waiver") expect(findings.filter((f) => f.rule !== rule.id && f.severity === "error").map(shown)).toEqual([]);
  });
  test("has a good example in which nothing is wrong", () => {
    expect(resultOf(page.good).findings.filter((f) => f.rule === rule.id || f.severity !== "advice").map(shown)).toEqual([]);
  });
  test("says what, why, from where and what to do, in sentences", () => {
    for (const text of [page.summary, page.why, page.limit, page.remedy]) expect(text).toMatch(/^[A-Z0-9].*\.$/s);
    expect(page.summary.endsWith(".")).toBe(true);
    expect(page.source.length).toBeGreaterThan(5);
    for (const id of page.cautions ?? []) expect(cautionOf(id), id).toBeDefined();
  });
});

describe("messages", () => {
  test.each(RULES)("of $id say where, what and what to do", (rule) => {
    const found = resultOf(rule.page.bad).findings.find((f) => f.rule === rule.id);
    expect(found).toBeDefined();
    expect(found?.message).toMatch(/^[^a-z].*[.?]$/s);
    expect(found?.message).not.toMatch(/undefined|NaN|\[object|Infinity/);
    // Ends where a person would point: never a whole block.
    if (found) expect(found.at.tree.text.slice(found.at.span.start, found.at.span.end).split("\n").length).toBe(1);
  });
});
