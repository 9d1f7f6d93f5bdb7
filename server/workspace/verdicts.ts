// What each rule says of one build, and after an edit says still: a rule is asked again only where something that it looked at reads otherwise
// now; what the others found is taken as it was, at the places where it stands now. Judging afresh is what this must come to, to the letter.
import { type Edits, movedBy } from "../model/edited.ts";
import type { Location } from "../model/declaration.ts";
import { type Changes, type Reads, lookedThrough, watched } from "../model/reads.ts";
import type { Edit, Finding, Unchecked } from "../rules/finding.ts";
import { RULES } from "../rules/index.ts";
import type { BuildContext, Rule } from "../rules/rule.ts";
import { findingOf } from "./finding.ts";

/** What one rule said of a build. */
export interface Verdict {
  readonly findings: readonly Finding[];
  readonly unchecked: readonly Unchecked[];
  /** What it looked at. */
  readonly reads: Reads;
  /** What the parts of its work that stand for themselves came to; among the findings above too. */
  readonly parts?: ReadonlyMap<string, Verdict>;
}

type Context = Omit<BuildContext, "report" | "unchecked" | "apart">;

function checkOf(rule: Rule, { build }: Context): ((context: BuildContext) => void) | undefined {
  const sort = build.subject.sort === "build" ? "build" : "engine";
  return rule.scope === "build" && rule.on.includes(sort) ? rule.check : rule.scope === "declaration" ? rule.checkBuild : undefined;
}

/** Asks a rule and watches it. `stands` tells what an earlier verdict comes to now, if it still stands. */
function ask(rule: Rule, check: (context: BuildContext) => void, context: Context, before: Verdict | undefined, stands: (verdict: Verdict) => Verdict | undefined): Verdict {
  let findings: Finding[] = [];
  let unchecked: Unchecked[] = [];
  let parts: Map<string, Verdict> | undefined;
  const gather = (work: () => void): Verdict => {
    const [findingsAround, uncheckedAround] = [findings, unchecked];
    findings = [];
    unchecked = [];
    const { reads } = watched(work);
    const verdict = { findings, unchecked, reads };
    [findings, unchecked] = [findingsAround, uncheckedAround];
    return verdict;
  };
  const verdict = gather(() =>
    check({
      ...context,
      report: (r) => findings.push({ ...findingOf(rule, r), subject: context.build.subject }),
      unchecked: (what, missing) => unchecked.push({ rule: rule.id, what, missing }),
      apart(name, work) {
        const known = before?.parts?.get(name);
        const standing = known && stands(known);
        const part = standing ?? gather(work);
        if (standing) lookedThrough(standing.reads);
        (parts ??= new Map()).set(name, part);
        findings.push(...part.findings);
        unchecked.push(...part.unchecked);
      },
    }),
  );
  return parts ? { ...verdict, parts } : verdict;
}

/** What all rules say, one after the other. Nobody is watched: most builds are never edited, and watching costs. */
export function judge(context: Context): { readonly findings: readonly Finding[]; readonly unchecked: readonly Unchecked[] } {
  const findings: Finding[] = [];
  const unchecked: Unchecked[] = [];
  for (const rule of RULES)
    checkOf(rule, context)?.({
      ...context,
      report: (r) => findings.push({ ...findingOf(rule, r), subject: context.build.subject }),
      unchecked: (what, missing) => unchecked.push({ rule: rule.id, what, missing }),
      apart: (_, work) => work(),
    });
  return { findings, unchecked };
}

/**
 * Every rule's verdict, in the order of the rules; nothing for one that does not look at such a thing. Verdicts on an earlier state of the same
 * build are looked at where there are any; without them every rule is asked.
 */
export function judgeAgain(context: Context, earlier: { readonly verdicts: readonly (Verdict | undefined)[]; readonly changes: Changes; readonly edits: Edits } | undefined): readonly (Verdict | undefined)[] {
  const moved = earlier && movedBy(earlier.edits);
  const stands = (verdict: Verdict) => (moved && !verdict.reads.touches(earlier.changes) ? standing(verdict, context, moved) : undefined);
  return RULES.map((rule, i) => {
    const check = checkOf(rule, context);
    if (!check) return undefined;
    const before = earlier?.verdicts[i];
    return (before && stands(before)) ?? ask(rule, check, context, before, stands);
  });
}

/** A verdict at the places where it stands now; nothing where one of them was touched. */
function standing(verdict: Verdict, { build }: Pick<Context, "build">, moved: (at: Location) => Location | undefined): Verdict | undefined {
  if (verdict.findings.length === 0) return verdict;
  const parts = verdict.parts && whole([...verdict.parts], ([name, part]): [string, Verdict] | undefined => { const now = standing(part, { build }, moved); return now && [name, now]; });
  if (verdict.parts && !parts) return undefined;
  const edits = (all: readonly Edit[]) => whole(all, (e) => { const at = moved(e); return at && { ...at, text: e.text }; });
  const findings = whole(verdict.findings, (f): Finding | undefined => {
    const at = moved(f.at);
    const related = whole(f.related, (r) => { const place = moved(r.at); return place && { ...r, at: place }; });
    const fixes = whole(f.fixes, (fix) => { const all = edits(fix.edits); return all && { ...fix, edits: all }; });
    return at && related && fixes && { ...f, at, related, fixes, subject: build.subject };
  });
  return findings && { ...verdict, findings, ...(parts && { parts: new Map(parts) }) };
}

/** Every one made another, or none. */
function whole<T, U>(all: readonly T[], make: (one: T) => U | undefined): readonly U[] | undefined {
  const made: U[] = [];
  for (const one of all) {
    const other = make(one);
    if (other === undefined) return undefined;
    made.push(other);
  }
  return made;
}
