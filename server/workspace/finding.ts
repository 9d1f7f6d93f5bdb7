// A rule's report made a finding. Knows no rule and no file.
import type { Finding } from "../rules/finding.ts";
import type { Report, Rule } from "../rules/rule.ts";

/** A message quotes what a file says, and a file may say a word of a megabyte: cut to what a person reads. */
export function bounded(message: string): string {
  if (message.length <= LONGEST_QUOTE) return message;
  const words = message.replace(LONG_WORD, (word) => `${word.slice(0, LONGEST_QUOTE / 2)}…`);
  return words.length <= LONGEST_MESSAGE ? words : `${words.slice(0, LONGEST_MESSAGE)}…`;
}

const LONGEST_QUOTE = 160;
const LONGEST_MESSAGE = 500;
const LONG_WORD = new RegExp(`\\S{${LONGEST_QUOTE},}`, "g");

export function findingOf(rule: Rule, r: Report): Finding {
  return { rule: rule.id, severity: r.severity ?? rule.severity, message: bounded(r.message), at: r.at, related: r.related ?? [], fixes: r.fixes ?? [], ...(r.path !== undefined && { path: r.path }), ...(r.amount && { amount: r.amount }) };
}
