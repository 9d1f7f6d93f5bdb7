// Waivers of one declaration held against its findings: which silence something, how each of them stands, and what is wrong with it. The only
// place where a finding is silenced. Knows no clock: the day is given.
import type { Declaration, Location, WaiverFact } from "../model/declaration.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { acceptance, acceptedBy, amountText, outgrows, unitWords } from "./amount.ts";
import type { Finding, Fix } from "./finding.ts";
import { daysAfter } from "./order.ts";
import type { Rule } from "./rule.ts";

/** `void`: it names no finding, gives no reason, or lacks the day it must have, and silences nothing. */
export type WaiverState = "active" | "expiring" | "expired" | "outgrown" | "unused" | "void";

/** One waiver and how it stands on a day. */
export interface HeldWaiver {
  readonly waiver: WaiverFact;
  readonly declaration: Declaration;
  readonly state: WaiverState;
  readonly silences: readonly Finding[];
  /** What it was granted for and no longer covers. */
  readonly outgrown: readonly Finding[];
}

export interface Held {
  readonly open: readonly Finding[];
  /** Silenced ones; each carries its waiver. */
  readonly waived: readonly Finding[];
  readonly waivers: readonly HeldWaiver[];
}

/** A waiver within so many days of its end is told, so that there is time to look. Common practice, no source. */
export const EXPIRING_DAYS = 30;

const NONE: readonly HeldWaiver[] = [];

/** `report` makes the finding of a waiver rule. `asOf` is year first. */
export function holdWaivers(
  declaration: Declaration, findings: readonly Finding[], asOf: string, ruleOf: (id: string) => Rule | undefined,
  report: (id: string, at: Location, message: string, fixes?: readonly Fix[]) => Finding | undefined,
): Held {
  if (declaration.waivers.length === 0) return { open: findings, waived: [], waivers: NONE };
  const silenced = new Map<WaiverFact, Finding[]>(declaration.waivers.map((w) => [w, []]));
  const outgrown = new Map<WaiverFact, Finding[]>(declaration.waivers.map((w) => [w, []]));
  const open: Finding[] = [];
  const waived: Finding[] = [];
  for (const finding of findings) {
    const granted = declaration.waivers.filter((w) => covers(declaration, w, finding, ruleOf) && isGranted(w, ruleOf(finding.rule), asOf));
    const waiver = granted.find((w) => !isOutgrown(w, finding));
    if (waiver) {
      silenced.get(waiver)?.push(finding);
      waived.push({ ...finding, waiver });
      continue;
    }
    for (const w of granted) outgrown.get(w)?.push(finding);
    open.push(finding);
  }
  const waivers = declaration.waivers.map((waiver): HeldWaiver => {
    const [silences, past] = [silenced.get(waiver) ?? [], outgrown.get(waiver) ?? []];
    const at = { tree: declaration.tree, span: waiver.rule.span };
    const say = (id: string, message: string, fixes: readonly Fix[] = []) => {
      const finding = report(id, at, message, fixes);
      if (finding) open.push(finding);
    };
    const state = tell(waiver, silences, past, ruleOf(waiver.rule.text), asOf, say, (finding) => boundTo(declaration, waiver, finding));
    return { waiver, declaration, state, silences, outgrown: past };
  });
  return { open, waived, waivers };
}

/** How a waiver stands; says what is wrong with it. */
function tell(
  waiver: WaiverFact, silences: readonly Finding[], past: readonly Finding[], rule: Rule | undefined, asOf: string,
  say: (id: string, message: string, fixes?: readonly Fix[]) => void, bound: (finding: Finding) => Fix | undefined,
): WaiverState {
  if (!rule) {
    say("waiver-unknown-rule", `There is no finding called \`${waiver.rule.text}\`. Use the name that the finding itself shows.`);
    return "void";
  }
  if (!waiver.because?.trim()) {
    say("waiver-without-reason", `This waiver of \`${rule.id}\` gives no reason, so it silences nothing. Add because "…" in your own words.`);
    return "void";
  }
  if (rule.breaksEngines && !waiver.until) {
    say("waiver-without-date", `\`${rule.id}\` breaks engines: waiving it needs a date as well as a reason. Add until and a date.`);
    return "void";
  }
  const { until } = waiver;
  if (until && until.text < asOf) {
    say("waiver-expired", `This waiver of \`${rule.id}\` ended on ${until.text}. Put the matter right, or look at it again and set a new date.`);
    return "expired";
  }
  const stated = waiver.at;
  const [worst] = past;
  if (worst?.amount && stated) {
    const accepted = acceptedBy(stated, worst.amount.kind);
    const fix = bound(worst);
    say("waiver-outgrown", `This waiver of \`${rule.id}\` accepted ${accepted ? statedText(waiver, accepted) : "another figure"}, and it is ${amountText(worst.amount)} now. Put the matter right, or look at it again and write what is accepted.`, fix ? [fix] : []);
    return "outgrown";
  }
  if (silences.length === 0) {
    say("waiver-unused", `Nothing here needs this waiver of \`${rule.id}\` any more. Take it out.`);
    return "unused";
  }
  const unread = stated && silences.find((f) => !f.amount || !acceptedBy(stated, f.amount.kind));
  if (unread) say("waiver-value-unread", unread.amount ? `What this waiver of \`${rule.id}\` accepts cannot be read: after \`at\` comes ${unitWords(unread.amount.kind)}, such as \`${acceptance(unread).trim()}\`.` : `\`${rule.id}\` is about no figure, so this waiver cannot be bound to one. Take \`at\` and its figure out.`);
  if (until && until.text < daysAfter(asOf, EXPIRING_DAYS)) {
    say("waiver-expiring", `This waiver of \`${rule.id}\` ends on ${until.text}. Look at the matter before then.`);
    return "expiring";
  }
  return "active";
}

function isOutgrown(waiver: WaiverFact, { amount }: Finding): boolean {
  const accepted = amount && waiver.at && acceptedBy(waiver.at, amount.kind);
  return amount !== undefined && accepted !== undefined && outgrows(amount, accepted);
}

function statedText({ at }: WaiverFact, accepted: Quantity): string {
  return amountText({ value: accepted.interval.nominal, kind: accepted.kind, ...(accepted.unit !== undefined && { unit: accepted.unit }), decimals: accepted.decimals, worse: at ? "more" : "less" });
}

/** The fix that binds a waiver to a finding as it now stands; nothing where the finding is about no figure. */
export function boundTo(declaration: Declaration, waiver: WaiverFact, finding: Finding): Fix | undefined {
  const text = acceptance(finding);
  if (text === "") return undefined;
  const { tree } = declaration;
  const [first] = waiver.at ?? [];
  const last = waiver.at?.[waiver.at.length - 1];
  const after = (waiver.path ?? waiver.rule).span.end;
  const edit = first && last ? { tree, span: { start: first.span.start, end: last.span.end }, text: text.replace(/^ at /, "") } : { tree, span: { start: after, end: after }, text };
  return { title: `I have looked at it again and accept it${text}, and nothing worse`, safe: false, edits: [edit] };
}

function covers(declaration: Declaration, waiver: WaiverFact, finding: Finding, ruleOf: (id: string) => Rule | undefined): boolean {
  if (ruleOf(waiver.rule.text)?.id !== finding.rule) return false;
  if (waiver.path && finding.path !== waiver.path.text && !finding.path?.endsWith(`.${waiver.path.text}`)) return false;
  const whole = waiver.within.start === declaration.span.start && waiver.within.end === declaration.span.end;
  return whole || (finding.at.span.start >= waiver.within.start && finding.at.span.end <= waiver.within.end);
}

function isGranted(waiver: WaiverFact, rule: Rule | undefined, asOf: string): boolean {
  if (!waiver.because?.trim()) return false;
  if (rule?.breaksEngines && !waiver.until) return false;
  return !waiver.until || waiver.until.text >= asOf;
}
