// The page of a rule, and the card of a computed value, for a terminal and for programs. Knows no build.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { kindOf } from "../quantity/kinds.ts";
import { RULES } from "../rules/index.ts";
import type { Rule } from "../rules/rule.ts";
import { cautionOf } from "../schema/cautions.ts";
import { nearest } from "../schema/lookup.ts";
import type { Formula, Input } from "../sheet/formula.ts";
import { FORMULAS } from "../sheet/formulas/index.ts";
import { listed } from "./wording.ts";

export interface RuleExplanation {
  readonly is: "rule";
  readonly id: string;
  readonly severity: string;
  readonly aliases: readonly string[];
  readonly breaksEngines: boolean;
  readonly summary: string;
  readonly why: string;
  readonly limit: string;
  readonly source: string;
  readonly remedy: string;
  readonly bad: string;
  readonly good: string;
  readonly cautions: readonly { readonly title: string; readonly words: string }[];
}

export interface ValueExplanation {
  readonly is: "value";
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly words: string;
  readonly formula: string;
  readonly source: string;
  readonly estimate: string | null;
  readonly inputs: readonly string[];
}

export type Explanation = RuleExplanation | ValueExplanation;

/** What a name stands for: a rule by its id or an earlier one, else a value; `lift.intake.gross` and `lift.{each}.gross` are one. */
export function explanationOf(name: string): Explanation | undefined {
  const rule = RULES.find((r) => r.id === name) ?? RULES.find((r) => r.aliases?.includes(name));
  if (rule) return ruleExplanation(rule);
  const value = FORMULAS.find((f) => f.id === name) ?? FORMULAS.find((f) => f.each !== undefined && matchesEach(f.id, name));
  return value && valueExplanation(value);
}

function matchesEach(id: string, name: string): boolean {
  const [before, after] = id.split("{each}");
  return before !== undefined && after !== undefined && name.length > before.length + after.length && name.startsWith(before) && name.endsWith(after);
}

function ruleExplanation(rule: Rule): RuleExplanation {
  const { page } = rule;
  return {
    is: "rule", id: rule.id, severity: rule.severity, aliases: rule.aliases ?? [], breaksEngines: rule.breaksEngines ?? false,
    summary: page.summary, why: page.why, limit: page.limit, source: page.source, remedy: page.remedy, bad: page.bad.trim(), good: page.good.trim(),
    cautions: (page.cautions ?? []).flatMap((id) => {
      const caution = cautionOf(id);
      return caution ? [{ title: caution.title, words: caution.words }] : [];
    }),
  };
}

function valueExplanation(f: Formula): ValueExplanation {
  return {
    is: "value", id: f.id, label: f.label, unit: f.unit !== undefined ? spellingOfUnit(f.unit) : kindOf(f.kind).base, words: f.words,
    formula: f.expression.replace(/\{([^{}]+)\}/g, "$1"), source: f.source, estimate: f.estimate ?? null, inputs: Object.entries(f.inputs).map(([name, input]) => `${name}: ${inputWords(input)}`),
  };
}

function inputWords(input: Input<unknown>): string {
  const from = input.reads === "either" ? listed(input.of.map(inputWords), "or") : input.reads === "value" ? `the value ${input.id}` : input.reads === "table" || input.reads === "thing" ? (input.needs.length > 0 ? `looked up by ${listed(input.needs)}` : "from a table, or as recorded") : listed(input.paths, "or");
  if (input.fallback) return `${from}, else assumed: ${input.fallback.assumption}`;
  return input.optional ? `${from}, if given` : from;
}

export function explanationText(e: Explanation): string {
  if (e.is === "value") {
    const lines = [`${e.id}: ${e.label}${e.unit ? `, in ${e.unit}` : ""}`, "", e.words, "", `Formula: ${e.formula}`, ...e.inputs.map((i) => `  ${i}`), "", `Source: ${e.source}`];
    if (e.estimate !== null) lines.push(`An estimate: ${e.estimate}`);
    return `${lines.join("\n")}\n`;
  }
  const part = (title: string, text: string) => ["", title, indented(text)];
  const lines = [
    `${e.id} (${e.severity})`, e.summary, ...part("Why it matters", e.why), ...part("How the limit is worked out", e.limit), ...part("Source", e.source), ...part("What to do", e.remedy),
    ...part("An example that it finds", e.bad), ...part("An example in order", e.good),
  ];
  if (e.breaksEngines) lines.push("", "What this finds breaks engines: waiving it takes a reason and a date.");
  if (e.aliases.length > 0) lines.push("", `Earlier names: ${listed(e.aliases)}.`);
  for (const caution of e.cautions) lines.push("", `Caution, ${caution.title.toLowerCase()}: ${caution.words}`);
  return `${lines.join("\n")}\n`;
}

function indented(text: string): string {
  return text.split("\n").map((line) => (line === "" ? "" : `  ${line}`)).join("\n");
}

export function indexJson(): { readonly rules: readonly { readonly id: string; readonly severity: string; readonly summary: string }[]; readonly values: readonly { readonly id: string; readonly label: string }[] } {
  return { rules: RULES.map((r) => ({ id: r.id, severity: r.severity, summary: r.page.summary })), values: FORMULAS.map((f) => ({ id: f.id, label: f.label })) };
}

export function indexText(): string {
  const { rules, values } = indexJson();
  const width = Math.max(...rules.map((r) => r.id.length), ...values.map((v) => v.id.length), 0) + 2;
  return [
    "Rules", ...rules.map((r) => `  ${r.id.padEnd(width)}${r.severity.padEnd(9)}${r.summary}`), "", "Values of the sheet", ...values.map((v) => `  ${v.id.padEnd(width)}${v.label}`), "",
    "tappet explain NAME prints the page of one.",
  ].join("\n") + "\n";
}

/** Names that a mistyped one was probably meant for. */
export function likelyNames(name: string): readonly string[] {
  return nearest(name, [...RULES.flatMap((r) => [r.id, ...(r.aliases ?? [])]), ...FORMULAS.map((f) => f.id)]).slice(0, 3);
}
