// How severely a shop takes each rule: what it says of them, what it may not say, and findings taken so. Knows rules by their ids; judges no
// engine.
import type { Span } from "../../grammar/tree.ts";
import type { Declaration } from "../model/declaration.ts";
import { nearest } from "../schema/lookup.ts";
import type { Finding, Fix, Severity } from "./finding.ts";
import type { Rule } from "./rule.ts";

export type Taken = Severity | "off";

export interface Severities {
  readonly taken: ReadonlyMap<string, Taken>;
  readonly problems: readonly { readonly rule: "severity-unknown" | "severity-refused"; readonly message: string; readonly span: Span; readonly fixes: readonly Fix[] }[];
}

const WORDS: readonly Taken[] = ["error", "warning", "advice", "off"];
const RANK: Readonly<Record<Taken, number>> = { error: 3, warning: 2, advice: 1, off: 0 };

/** What a shop says of rules. A later line counts over an earlier one of the same rule. */
export function severitiesOf(shop: Declaration, rules: readonly Rule[], ruleOf: (id: string) => Rule | undefined): Severities {
  const taken = new Map<string, Taken>();
  const problems: Severities["problems"][number][] = [];
  for (const { block, key, value } of shop.loose) {
    if (block !== "severities") continue;
    const rule = ruleOf(key.text);
    const replace = (span: Span, words: readonly string[]): Fix[] => words.map((word) => ({ title: `Write ${word}`, safe: false, edits: [{ tree: shop.tree, span, text: word }] }));
    if (!rule) {
      const near = nearest(key.text, rules.map((r) => r.id));
      problems.push({ rule: "severity-unknown", message: `There is no finding called \`${key.text}\`. Use the name that the finding itself shows.`, span: key.span, fixes: replace(key.span, near) });
      continue;
    }
    const [part, more] = value;
    const word = part?.kind === "word" && !more ? part.text : undefined;
    if (part && (word === undefined || !isTaken(word))) {
      problems.push({ rule: "severity-unknown", message: `\`${rule.id}\` is taken as error, warning, advice or off.`, span: part.span, fixes: word === undefined ? [] : replace(part.span, nearest(word, WORDS)) });
      continue;
    }
    if (!part || word === undefined || !isTaken(word)) continue;
    const why = refusal(rule, word);
    if (why === undefined) taken.set(rule.id, word);
    else problems.push({ rule: "severity-refused", message: `\`${rule.id}\` stays as severe as it is: ${why}`, span: part.span, fixes: [] });
  }
  return { taken, problems };
}

function isTaken(word: string): word is Taken {
  return (WORDS as readonly string[]).includes(word);
}

/** What a shop may say of a rule. */
export function allowed(rule: Rule): readonly Taken[] {
  return WORDS.filter((word) => refusal(rule, word) === undefined);
}

/** Why a rule may not be taken so; the rest of a sentence. */
function refusal(rule: Rule, as: Taken): string | undefined {
  if (RANK[as] >= RANK[rule.severity]) return undefined;
  if (rule.breaksEngines) return "it breaks engines. Waive it in the one build that it is right for, with a reason and a date.";
  if (rule.scope === "waiver" || rule.scope === "shop") return "it watches over what was waived and turned down.";
  return rule.scope === "text" && rule.severity === "error" ? "what cannot be read is not checked at all. Put the text right." : undefined;
}

/** Findings as a shop takes them; those of rules that it turned off apart. */
export function takenSo(findings: readonly Finding[], taken: ReadonlyMap<string, Taken>): { readonly kept: readonly Finding[]; readonly off: readonly Finding[] } {
  if (taken.size === 0) return { kept: findings, off: [] };
  const off: Finding[] = [];
  const kept = findings.flatMap((finding) => {
    const as = taken.get(finding.rule);
    if (as === "off") {
      off.push(finding);
      return [];
    }
    return [as === undefined || as === finding.severity ? finding : { ...finding, severity: as }];
  });
  return { kept, off };
}
