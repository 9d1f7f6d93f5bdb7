// Waivers of one declaration held against its findings: which silence something, and what is wrong with the others. The only place where a
// finding is silenced.
import type { Declaration, Location, WaiverFact } from "../model/declaration.ts";
import type { Finding } from "../rules/finding.ts";
import type { Rule } from "../rules/rule.ts";

export interface Held {
  readonly open: readonly Finding[];
  /** Silenced ones; each carries its waiver. */
  readonly waived: readonly Finding[];
}

/** `report` makes the finding of a waiver rule. `asOf` is year first. */
export function holdWaivers(
  declaration: Declaration, findings: readonly Finding[], asOf: string, ruleOf: (id: string) => Rule | undefined, report: (id: string, at: Location, message: string) => Finding | undefined,
): Held {
  if (declaration.waivers.length === 0) return { open: findings, waived: [] };
  const used = new Set<WaiverFact>();
  const open: Finding[] = [];
  const waived: Finding[] = [];
  for (const finding of findings) {
    const waiver = declaration.waivers.find((w) => covers(declaration, w, finding, ruleOf) && granted(w, ruleOf(finding.rule), asOf));
    if (waiver) {
      used.add(waiver);
      waived.push({ ...finding, waiver });
    } else open.push(finding);
  }
  for (const waiver of declaration.waivers) {
    const trouble = troubleWith(waiver, used.has(waiver), ruleOf, asOf);
    const finding = trouble && report(trouble.id, { tree: declaration.tree, span: waiver.rule.span }, trouble.message);
    if (finding) open.push(finding);
  }
  return { open, waived };
}

function troubleWith(waiver: WaiverFact, used: boolean, ruleOf: (id: string) => Rule | undefined, asOf: string): { id: string; message: string } | undefined {
  const rule = ruleOf(waiver.rule.text);
  if (!rule) return { id: "waiver-unknown-rule", message: `There is no finding called \`${waiver.rule.text}\`. Use the name that the finding itself shows.` };
  if (!waiver.because?.trim()) return { id: "waiver-without-reason", message: `This waiver of \`${rule.id}\` gives no reason, so it silences nothing. Add because "…" in your own words.` };
  if (rule.breaksEngines && !waiver.until) return { id: "waiver-without-date", message: `\`${rule.id}\` breaks engines: waiving it needs a date as well as a reason. Add until and a date.` };
  if (waiver.until && waiver.until.text < asOf) return { id: "waiver-expired", message: `This waiver of \`${rule.id}\` ended on ${waiver.until.text}. Put the matter right, or look at it again and set a new date.` };
  return used ? undefined : { id: "waiver-unused", message: `Nothing here needs this waiver of \`${rule.id}\` any more. Take it out.` };
}

function covers(declaration: Declaration, waiver: WaiverFact, finding: Finding, ruleOf: (id: string) => Rule | undefined): boolean {
  if (ruleOf(waiver.rule.text)?.id !== finding.rule) return false;
  if (waiver.path && finding.path !== waiver.path.text && !finding.path?.endsWith(`.${waiver.path.text}`)) return false;
  const whole = waiver.within.start === declaration.span.start && waiver.within.end === declaration.span.end;
  return whole || (finding.at.span.start >= waiver.within.start && finding.at.span.end <= waiver.within.end);
}

function granted(waiver: WaiverFact, rule: Rule | undefined, asOf: string): boolean {
  if (!waiver.because?.trim()) return false;
  if (rule?.breaksEngines && !waiver.until) return false;
  return !waiver.until || waiver.until.text >= asOf;
}
