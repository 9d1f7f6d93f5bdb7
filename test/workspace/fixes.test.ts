/** Every fix that any rule offers, applied: the text still reads, and the finding is gone. */
import { describe, expect, test } from "vitest";
import { RULES } from "../../server/rules/index.ts";
import type { Finding } from "../../server/rules/finding.ts";
import { AS_OF, MAIN, analyseText, applyEdits } from "../support/project.ts";

interface Case {
  readonly title: string;
  readonly text: string;
  readonly finding: number;
  readonly fix: number;
}

const CASES: readonly Case[] = RULES.flatMap((rule) => {
  const result = analyseText(rule.page.bad, AS_OF).fileResult(MAIN);
  return (result?.findings ?? []).flatMap((f, finding) => (f.rule === rule.id ? f.fixes.map((x, fix) => ({ title: `${rule.id}: ${x.title}`, text: rule.page.bad.replace(/^\n/, ""), finding, fix })) : []));
});

/** How often a finding of the same rule with the same words stands in a text. */
function count(findings: readonly Finding[], of: Finding): number {
  return findings.filter((f) => f.rule === of.rule && f.message === of.message).length;
}

describe("the fixes of the rules' own bad examples", () => {
  test("are there for the rules that a builder would expect them of", () => {
    const rules = new Set(CASES.map((c) => c.title.split(":")[0]));
    for (const id of ["need-unmet", "decimal-slip", "unit-missing", "qualifier-missing", "unit-mixed", "unknown-key", "unknown-word", "unresolved-name", "decimal-comma"]) expect(rules, id).toContain(id);
  });

  test.each(CASES)("$title", ({ text, finding, fix }) => {
    const before = analyseText(text, AS_OF);
    const result = before.fileResult(MAIN);
    const at = result?.findings[finding];
    const edits = at?.fixes[fix]?.edits ?? [];
    expect(edits.length).toBeGreaterThan(0);
    const after = analyseText(applyEdits(text, edits, before), AS_OF).fileResult(MAIN);
    const damage = (file: typeof result) => file?.file.source.declarations.flatMap((d) => d.tree.problems).length ?? 0;
    expect(damage(after), "damage").toBeLessThanOrEqual(damage(result));
    if (at && result && after) expect(count(after.findings, at)).toBe(count(result.findings, at) - 1);
  });

  test.each(CASES)("$title, marked safe only where no figure changes", ({ text, finding, fix }) => {
    const before = analyseText(text, AS_OF);
    const one = before.fileResult(MAIN)?.findings[finding]?.fixes[fix];
    if (!one?.safe) return;
    const figures = (t: string) => t.replace(/(?<=\d),(?=\d)/g, ".").match(/\d+(?:\.\d+)?/g);
    expect(figures(applyEdits(text, one.edits, before))).toEqual(figures(text));
  });
});
