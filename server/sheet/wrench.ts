// Which of the shop's torque wrenches one would reach for, and what it can be trusted with. Knows no bolt.
import { wrenchError } from "../engineering/torque-tool.ts";
import type { Declaration, FigureFact, RecordFact } from "../model/declaration.ts";
import type { EffectiveBuild, Provided } from "../model/effective.ts";
import type { Interval } from "../quantity/interval.ts";
import { figureOf, recordQuantity } from "./pull.ts";

export interface Wrench {
  /** "small", or "the wrench" where it has no name. */
  readonly name: string;
  /** Torques it can be set to, N·m. */
  readonly range: Interval;
  /** Relative error: its certificate's, else what ISO 6789 allows a tool of its size. */
  readonly error: number;
  readonly certified: boolean;
  /** Least setting that its error holds for, N·m: ISO 6789 says nothing below a fifth of the greatest. */
  readonly trustedFrom: number;
  /** Middle of the square to middle of the grip, m. */
  readonly length?: number;
  readonly record: RecordFact;
  readonly shop: Declaration;
}

/** Wrenches of the shop that say what range they have, in the order of the text. */
export function wrenchesOf(build: EffectiveBuild): readonly Wrench[] {
  const { shop } = build;
  if (!shop) return [];
  return shop.records.flatMap((record): Wrench[] => {
    const range = record.word === "wrench" ? recordQuantity(record, "range")?.quantity.interval : undefined;
    if (!range || !(range.high > 0) || !Number.isFinite(range.high)) return [];
    const stated = recordQuantity(record, "accuracy")?.quantity.interval.nominal;
    const certified = stated !== undefined && stated > 0 && stated < 1;
    const length = recordQuantity(record, "length")?.quantity.interval.nominal;
    const named = record.head[0];
    return [{
      name: named?.kind === "word" || named?.kind === "string" ? named.text : "the wrench", range, error: certified ? stated : wrenchError({ maximumTorque: range.high }), certified, trustedFrom: Math.max(range.low, 0.2 * range.high),
      ...(length !== undefined && length > 0 && { length }), record, shop,
    }];
  });
}

/** A hair of rounding in a conversion must not put a torque outside the wrench that was bought for it. */
const HAIR = 1e-9;

export function reaches(wrench: Wrench, torque: number): boolean {
  return torque >= wrench.range.low * (1 - HAIR) && torque <= wrench.range.high * (1 + HAIR);
}

/** The wrench for a torque, N·m: one that can be trusted there before one that only reaches it, then the truest, then the smallest. */
export function wrenchFor(build: EffectiveBuild, torque: number): Wrench | undefined {
  const trusted = (w: Wrench) => (torque >= w.trustedFrom * (1 - HAIR) ? 0 : 1);
  return wrenchesOf(build)
    .filter((w) => reaches(w, torque))
    .sort((a, b) => trusted(a) - trusted(b) || a.error - b.error || a.range.high - b.range.high)[0];
}

/** The figures of a wrench as links for a trace. */
export function givenBy({ record, shop }: Wrench, ...keys: readonly string[]): readonly Provided[] {
  return keys.flatMap((key): Provided[] => {
    const fact: FigureFact | undefined = figureOf(record, key);
    return fact ? [{ role: "asked", origin: { sort: "shop", declaration: shop, words: "this shop" }, fact, location: { tree: shop.tree, span: fact.span } }] : [];
  });
}
