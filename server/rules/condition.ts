// Works a condition out: `coil-bind-margin >= 1.5 mm`, or `adjustable` alone. Knows values and figures, not who asks or how bad it is.
import type { DeclarationTree, Span, Text } from "../../grammar/tree.ts";
import type { Condition } from "../model/declaration.ts";
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { intervalOf } from "../model/value.ts";
import { compareWithLimit, formatAgainst, unitFor } from "../quantity/display.ts";
import type { Interval } from "../quantity/interval.ts";
import type { KindId } from "../quantity/kinds.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { readValue } from "../quantity/value.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { keyIn, keyOfPath, nearest } from "../schema/lookup.ts";
import type { BlockSchema } from "../schema/types.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import { amount } from "./amount.ts";
import type { Amount, Fix } from "./finding.ts";
import { textAt } from "./wording.ts";

export type Outcome =
  | { readonly is: "met" }
  /** `certain`: all of its spread fails. `words`: "Piston speed is 21.4 m/s"; `asked`: "no more than 20 m/s". */
  | { readonly is: "failed"; readonly certain: boolean; readonly words: string; readonly asked: string; readonly path: string; readonly amount?: Amount }
  /** Cannot be told for want of these figures. */
  | { readonly is: "untold"; readonly words: string; readonly missing: readonly { readonly path: string; readonly words: string }[] }
  /** Nothing is called that. `meant`: what probably was, nearest first; `span`: what one of them would stand for, this word and any that follow. */
  | { readonly is: "nameless"; readonly meant: readonly string[]; readonly span: Span }
  /** The limit cannot be read; the reason why. */
  | { readonly is: "unreadable"; readonly message: string };

interface Candidate {
  readonly path: string;
  readonly words: string;
  readonly kind: KindId;
  readonly interval?: Interval;
  readonly unit?: Quantity["unit"];
  readonly missing: readonly { readonly path: string; readonly words: string }[];
}

interface Where {
  readonly build: EffectiveBuild;
  readonly sheet: Sheet;
  /** The block that a condition's path is looked for in first, with its base path: the part that is needed. */
  readonly about?: { readonly base: string; readonly schema: BlockSchema };
}

/** Names like one that means nothing: the words joined by dashes where that is a name, else what is spelt alike. */
function meantBy(words: readonly Text[], where: Where): Pick<Extract<Outcome, { is: "nameless" }>, "meant" | "span"> {
  const [first] = words as readonly [Text, ...Text[]];
  for (let n = words.length; n > 1; n--) {
    const name = words.slice(0, n).map((w) => w.text).join("-");
    if (candidatesFor(name, where).length > 0) return { meant: [name], span: { start: first.span.start, end: (words[n - 1] as Text).span.end } };
  }
  const names = [...(where.about?.schema.keys.map(({ key }) => key) ?? []), ...where.sheet.values.flatMap(({ id, formula }) => (formula.quiet ? [] : [id.replace(/\.(?:intake|exhaust)$/, "")]))];
  return { meant: nearest(first.text, new Set(names)), span: first.span };
}

/**
 * Judges one condition for a build. Where a value exists for each side, all of them must hold and the worst is told.
 * @param after the conditions that follow it: words that a blank tore apart are conditions of their own.
 */
export function judge(condition: Condition, where: Where, tree: DeclarationTree, after: readonly Condition[] = []): Outcome {
  const candidates = candidatesFor(condition.path.text, where);
  if (candidates.length === 0) return { is: "nameless", ...meantBy([condition, ...(condition.op === undefined ? after : [])].map((c) => c.path), where) };
  let failed: Extract<Outcome, { is: "failed" }> | undefined;
  let untold: Extract<Outcome, { is: "untold" }> | undefined;
  for (const candidate of candidates) {
    const outcome = judgeOne(condition, candidate, tree);
    if (outcome.is === "unreadable") return outcome;
    if (outcome.is === "failed" && (!failed || (outcome.certain && !failed.certain))) failed = outcome;
    if (outcome.is === "untold") untold ??= outcome;
  }
  return failed ?? untold ?? { is: "met" };
}

function judgeOne(condition: Condition, candidate: Candidate, tree: DeclarationTree): Outcome {
  const { interval } = candidate;
  if (!interval) return { is: "untold", words: candidate.words, missing: candidate.missing };
  if (!condition.op || !condition.operand) {
    if (interval.nominal !== 0) return { is: "met" };
    return { is: "failed", certain: true, words: `${candidate.words} is no`, asked: "yes", path: candidate.path };
  }
  const read = readValue(condition.operand, candidate.kind);
  const limit = read.quantity;
  if (!limit) return { is: "unreadable", message: read.problems[0]?.message ?? "The limit of this condition cannot be read." };
  const least = condition.op === ">=" || condition.op === ">";
  const bound = limit.interval.nominal;
  const holds = (x: number): boolean => {
    const order = compareWithLimit(x, bound);
    return condition.op === ">=" ? order >= 0 : condition.op === ">" ? order > 0 : condition.op === "<=" ? order <= 0 : order < 0;
  };
  if (holds(interval.nominal)) return { is: "met" };
  const unit = limit.unit ?? candidate.unit ?? unitFor(candidate.kind, "metric", bound);
  const shown = formatAgainst(interval.nominal, bound, candidate.kind, unit, limit.unit ? limit.decimals : undefined);
  const suffix = unit ? ` ${spellingOfUnit(unit)}` : "";
  return { is: "failed", certain: !holds(least ? interval.high : interval.low), words: `${candidate.words} is ${shown.value}${suffix}`, asked: `${COMPARISONS[condition.op]} ${limitText(condition.path, condition.span, tree)}`, path: candidate.path, ...amount(least ? "less" : "more", interval.nominal, candidate.kind, unit) };
}

/** The names that were probably meant, in the place of what means nothing. */
export function fixesOf({ meant, span }: Extract<Outcome, { is: "nameless" }>, tree: DeclarationTree): readonly Fix[] {
  return meant.map((name) => ({ title: `Change to ${name}`, safe: false, edits: [{ tree, span, text: name }] }));
}

/** A condition as it goes on from "a `cam-gear`": " that is `adjustable`", " with `coil-bind-margin` at least 1.5 mm". */
export function conditionWords({ path, op, span }: Condition, tree: DeclarationTree): string {
  return op === undefined ? ` that is \`${path.text}\`` : ` with \`${path.text}\` ${COMPARISONS[op]} ${limitText(path, span, tree)}`;
}

function limitText(path: Text, span: Span, tree: DeclarationTree): string {
  return textAt({ tree, span }).slice(path.text.length).trim().replace(/^[<>]=?\s*/, "");
}

const COMPARISONS = { ">=": "at least", ">": "more than", "<=": "no more than", "<": "less than" } as const;

function candidatesFor(path: string, { build, sheet, about }: Where): Candidate[] {
  const found: Candidate[] = [];
  if (about) {
    const key = keyIn(about.schema, path);
    const landed = key?.lands?.replace("{side}.", "");
    const tails = key ? (landed !== undefined ? [landed, key.lands?.replace("{side}", "intake") as string, key.lands?.replace("{side}", "exhaust") as string] : [`${about.base}.${path}`, `${about.base}.intake.${path}`, `${about.base}.exhaust.${path}`]) : [];
    for (const tail of tails) {
      const candidate = figureAt(build, tail);
      if (candidate) found.push(candidate);
    }
    if (found.length > 0) return found;
    if (key) return [{ path: tails[0] as string, words: `\`${path}\``, kind: kindOfKey(key.type), missing: [{ path: tails[0] as string, words: key.key }] }];
  }
  for (const id of [path, `${path}.intake`, `${path}.exhaust`]) {
    const value = sheet.byId.get(id);
    if (!value) continue;
    found.push({ path: id, words: value.label, kind: value.formula.kind, ...(value.interval && { interval: value.interval }), missing: value.missing });
    if (id === path) return found;
  }
  if (found.length > 0) return found;
  const figure = figureAt(build, path);
  if (figure) return [figure];
  // A figure that could be stated here and is not: it cannot be told, and what would tell it is its own key.
  const key = keyOfPath(path);
  return key ? [{ path, words: `\`${key.key}\``, kind: kindOfKey(key.type), missing: [{ path, words: key.key }] }] : [];
}

function figureAt(build: EffectiveBuild, path: string): Candidate | undefined {
  const given = effective(build.slots.get(path));
  const interval = given && intervalOf(given.fact.value);
  if (!given || !interval) return undefined;
  const value = given.fact.value;
  return { path, words: `\`${given.fact.key.key}\``, kind: kindOfKey(given.fact.key.type), interval, ...(value.is === "quantity" && value.quantity.unit && { unit: value.quantity.unit }), missing: [] };
}

function kindOfKey(type: { readonly is: string; readonly kind?: KindId }): KindId {
  return type.kind ?? "count";
}
