import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { languageConfiguration, printed, textmateGrammar } from "../../grammar/textmate.ts";
import { TOP_WORDS, UNIT_SPELLINGS_LONGEST_FIRST } from "../../grammar/vocabulary.ts";

function checkedIn(name: string): string {
  return readFileSync(new URL(`../../grammar/${name}`, import.meta.url), "utf8");
}

interface Rule {
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly name?: string;
  readonly captures?: Readonly<Record<string, { readonly name: string }>>;
  readonly patterns?: readonly Rule[];
}

function rulesOf(grammar: { readonly repository: Readonly<Record<string, Rule>> }): Rule[] {
  const flat = (rule: Rule): Rule[] => [rule, ...(rule.patterns ?? []).flatMap(flat)];
  return Object.values(grammar.repository).flatMap(flat);
}

describe("the colouring grammar", () => {
  const grammar = textmateGrammar() as { readonly repository: Readonly<Record<string, Rule>> };

  it("is checked in as the vocabulary has it", () => {
    expect(checkedIn("tappet.tmLanguage.json")).toBe(printed(textmateGrammar()));
    expect(checkedIn("language-configuration.json")).toBe(printed(languageConfiguration()));
  });

  it("holds only patterns that compile", () => {
    for (const rule of rulesOf(grammar)) for (const pattern of [rule.match, rule.begin, rule.end]) if (pattern !== undefined) expect(() => new RegExp(pattern, "u")).not.toThrow();
  });

  it.each(UNIT_SPELLINGS_LONGEST_FIRST)("colours %s as a unit after a figure", (spelling) => {
    const rule = rulesOf(grammar).find((each) => each.captures?.["2"]?.name === "keyword.other.unit.tappet" && each.match?.includes("(") === true);
    expect(new RegExp(rule?.match ?? "", "u").exec(`x: 20 ${spelling} cold`)?.[2]).toBe(spelling);
  });

  it.each(TOP_WORDS)("colours %s where it begins a declaration, and not where it is a key", (word) => {
    const pattern = new RegExp(grammar.repository["declaration"]?.match ?? "", "u");
    expect(pattern.exec(`${word} wren-hill-2 {`)?.[1]).toBe(word);
    expect(pattern.exec(`${word}: 4`)).toBeNull();
    expect(pattern.exec(`  ${word} x`)).toBeNull();
  });

  it("puts a comment mark on the next line of documentation, and a bar on the next row", () => {
    const { onEnterRules } = languageConfiguration() as { readonly onEnterRules: readonly { readonly beforeText: string; readonly action: { readonly appendText: string } }[] };
    const appended = (line: string): string | undefined => onEnterRules.find(({ beforeText }) => new RegExp(beforeText).test(line))?.action.appendText;
    expect(appended("  /// Stock engine")).toBe("/// ");
    expect(appended("  | 1 | 2 |")).toBe("| ");
    expect(appended("  // remark")).toBeUndefined();
    expect(appended("  bore: 83 mm")).toBeUndefined();
  });
});
