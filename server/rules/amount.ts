// How far wrong a finding stands: the figure that its message names, and which way is worse, so that a waiver can be bound to what was
// accepted. Judges nothing.
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { Part } from "../../grammar/tree.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { formatValue, unitFor } from "../quantity/display.ts";
import { type KindId, fromKindBase, kindOf } from "../quantity/kinds.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { readValue } from "../quantity/value.ts";
import type { Amount, Finding } from "./finding.ts";

/** The amount of a computed value, in the base of its kind; `unit` is the one to tell it in. */
export function amount(worse: Amount["worse"], value: number, kind: KindId, unit?: UnitId): { readonly amount: Amount } {
  return { amount: { worse, value, kind, ...(unit !== undefined && { unit }) } };
}

/** The amount of a figure as it was written. */
export function amountOf(worse: Amount["worse"], { interval, kind, unit, decimals }: Quantity): { readonly amount: Amount } {
  return { amount: { worse, value: interval.nominal, kind, ...(unit !== undefined && { unit }), decimals } };
}

/** The amount as it is written after `at`: "0.27 mm". With as many digits as it takes for their rounding to reach what stands. */
export function amountText({ value, kind, unit, decimals }: Amount): string {
  const shown = unit ?? unitFor(kind, "metric", value);
  const exact = fromKindBase(value, shown, kind);
  const texts = [decimals === undefined ? formatValue(value, kind, shown) : "", ...[0, 1, 2, 3, 4, 5, 6].filter((d) => d >= (decimals ?? 0)).map((d) => formatValue(value, kind, shown, { decimals: d }))];
  const near = texts.find((text) => {
    const digits = /-?\d+(?:\.(\d+))?/.exec(text);
    return digits !== null && Math.abs(Number(digits[0]) - exact) <= 0.5 * 10 ** -(digits[1]?.length ?? 0);
  });
  return near ?? texts[texts.length - 1] ?? "";
}

/** What a waiver says it accepts, read as the kind of what was found; nothing where it is no such figure. */
export function acceptedBy(at: readonly Part[], kind: KindId): Quantity | undefined {
  const { quantity, problems } = readValue(at.filter((part) => part.kind !== "word"), kind);
  return quantity && problems.length === 0 ? quantity : undefined;
}

/** True where what was found stands further the wrong way than what was accepted, the rounding of its digits allowed for. */
export function outgrows({ value, worse }: Amount, accepted: Quantity): boolean {
  const slack = accepted.halfDigit * (1 + 1e-9) + Math.abs(accepted.interval.nominal) * 1e-9;
  return worse === "more" ? value > accepted.interval.high + slack : value < accepted.interval.low - slack;
}

/** What to write into a waiver of a finding, to bind it to what stands now: ` at 0.27 mm`; nothing where the finding has no figure. */
export function acceptance(finding: Pick<Finding, "amount">): string {
  return finding.amount ? ` at ${amountText(finding.amount)}` : "";
}

/** "m", "bar": the unit that a figure of this kind is written in, for a sentence. */
export function unitWords(kind: KindId): string {
  const unit = kindOf(kind).units[0];
  return unit === undefined ? "a plain number" : `a figure in ${spellingOfUnit(unit)} or the like`;
}
