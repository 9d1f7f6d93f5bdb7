// Looks a limit up in its order: part or card, engine, shop, common practice; and says whose it is. Judges nothing.
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { SourcedFigure } from "../engineering/provenance.ts";
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { formatValue, unitFor } from "../quantity/display.ts";
import type { KindId } from "../quantity/kinds.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { giver, textAt, written } from "./wording.ts";

export interface Limit {
  /** In the base of its kind. */
  readonly value: number;
  /** "the 1.5 mm that Ridgeway 272 asks for". */
  readonly words: string;
  /** False for a limit of common practice, which warns at most. */
  readonly owned: boolean;
  readonly quantity?: Quantity;
  readonly at?: Location;
}

/**
 * The limit at `limits.KEY` of a build. `end` says which end of a stated range is meant.
 * `unit` is the one to tell a limit of common practice in. Undefined where nobody set one and there is no rule of the trade either.
 */
export function limitOf(build: EffectiveBuild, key: string, end: "least" | "greatest", kind: KindId, practice?: SourcedFigure, unit?: UnitId): Limit | undefined {
  const path = `limits.${key}`;
  const given = effective(build.slots.get(path));
  if (given?.fact.value.is === "quantity") {
    const { quantity } = given.fact.value;
    const whose = given.origin.sort === "build" ? `the ${written(given)} that this build sets itself` : `the ${written(given)} that ${giver(given)} asks for`;
    return { value: end === "least" ? quantity.interval.low : quantity.interval.high, words: whose, owned: true, quantity, at: given.location };
  }
  const shop = build.shop;
  const fact = shop?.figures.find((f) => f.path === path);
  if (shop && fact?.value.is === "quantity") {
    const { quantity } = fact.value;
    const at = { tree: shop.tree, span: fact.span };
    return { value: end === "least" ? quantity.interval.low : quantity.interval.high, words: `the ${textAt(at)} that this shop sets`, owned: true, quantity, at };
  }
  if (!practice) return undefined;
  const both = formatValue(practice.value, kind, unit ?? unitFor(kind, "metric", practice.value), { both: true });
  return { value: practice.value, words: `the ${both} of common practice`, owned: false };
}
