// Findings that rest on a figure which is itself found wrong: left out, so that one slip is one finding at its cause and no chain of nonsense
// follows. The only place where that is decided. Knows which rules find figures wrong, not how.
import type { Span } from "../../grammar/tree.ts";
import type { Declaration, Location } from "../model/declaration.ts";
import { type EffectiveBuild } from "../model/effective.ts";
import type { Finding } from "../rules/finding.ts";
import type { Rule } from "../rules/rule.ts";
import { setsOf } from "../rules/impossible-set.ts";
import type { Sheet } from "../sheet/evaluate.ts";

/** Rules that find a figure wrong by itself or against its neighbours; those of the text are told by their scope. */
const FIND_WRONG: ReadonlySet<string> = new Set(["decimal-slip", "impossible-figure", "impossible-set", "impossible-fastener", "unit-mixed", "firing-order-incomplete"]);

/** True where a finding says that a figure cannot be meant as it stands. */
function findsWrong(finding: Finding, rule: Rule | undefined): boolean {
  return finding.severity !== "advice" && rule !== undefined && (FIND_WRONG.has(rule.id) || (rule.scope === "text" && finding.path !== undefined));
}

/**
 * The findings of a build without those that rest on a wrong figure.
 * @param known what was found in each declaration that the build stands on, by itself.
 */
export function causesOnly(build: EffectiveBuild, sheet: Sheet, found: readonly Finding[], known: readonly { readonly declaration: Declaration; readonly findings: readonly Finding[] }[], ruleOf: (id: string) => Rule | undefined): readonly Finding[] {
  const wrong: Location[] = [];
  for (const { declaration, findings } of known)
    for (const f of findings) if (findsWrong(f, ruleOf(f.rule)) && !declaration.waivers.some((w) => ruleOf(w.rule.text)?.id === f.rule)) wrong.push(f.at);
  // Two figures that cannot both be true say nothing new where one of them is known to be a slip.
  const bySelf = [...wrong];
  const kept = found.filter((f) => f.rule !== "impossible-set" || ![f.at, ...f.related.map((r) => r.at)].some((at) => bySelf.some((w) => w.tree === at.tree && overlap(w.span, at.span))));
  for (const f of kept) if (findsWrong(f, ruleOf(f.rule))) wrong.push(f.at);
  // Of a set the figure pointed at and its fellows are all in doubt; and what the engine says wrongly of itself is wrong in every build on it.
  for (const { figures } of setsOf(build))
    if (!figures.some((f) => f.origin.declaration.waivers.some((w) => w.rule.text === "impossible-set"))) wrong.push(...figures.map((f) => f.location));
  if (wrong.length === 0) return kept;
  // What cannot be is judged by no other rule, not even where it stands.
  const impossible = known.flatMap(({ findings }) => findings.filter((f) => f.rule === "impossible-figure").map((f) => f.at)).filter((at) => wrong.includes(at));
  const isImpossible = (at: Location) => impossible.some((w) => w.tree === at.tree && overlap(w.span, at.span));
  const isWrong = (at: Location) => wrong.some((w) => w.tree === at.tree && overlap(w.span, at.span));
  return kept.filter((f) => findsWrong(f, ruleOf(f.rule)) || !(isImpossible(f.at) || restsOn(f, build, sheet).some(isWrong)));
}

function overlap(a: Span, b: Span): boolean {
  return a.start < b.end && b.start < a.end;
}

/** The figures and readings that the value or figure of a finding comes from. */
function restsOn(finding: Finding, build: EffectiveBuild, sheet: Sheet): readonly Location[] {
  if (finding.path === undefined) return [];
  const value = sheet.byId.get(finding.path);
  // What cannot be counts for nothing, so it is the last link of its chain and not the one that counts.
  const saidOf = (path: string) => build.slots.get(path)?.chain.at(-1)?.location ?? [];
  return [...(value ? [...value.from, ...value.missing.flatMap((m) => saidOf(m.path)), ...value.measured.flatMap((m) => m.readings.map((r) => r.location))] : []), ...[saidOf(finding.path)].flat()];
}
