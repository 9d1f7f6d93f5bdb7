// What a written figure says: its kind, its spread, its digits and unit as written, and what is wrong with it. Data only.
import type { Span, Text, UnitRef } from "../../grammar/tree.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { Interval } from "./interval.ts";
import type { KindId } from "./kinds.ts";

export type Shape = "single" | "range" | "tolerance" | "at-most" | "at-least";

export interface Quantity {
  readonly kind: KindId;
  /** In the base of the kind. A bound leaves its open end at ±Infinity, with the bound itself as the nominal. */
  readonly interval: Interval;
  readonly shape: Shape;
  /** The unit to show it in: the last one written, where that is a unit of the kind. */
  readonly unit?: UnitId | undefined;
  readonly unitText?: string | undefined;
  /** Half a unit in the last place written, in the base of the kind: the slack of the digits. */
  readonly halfDigit: number;
  /** Most decimals written in any of its figures. */
  readonly decimals: number;
  /** Where its digits stand, for fixes that rewrite them; empty for an expression, whose digits no fix may touch. */
  readonly figures: readonly Span[];
  /** The digits at `figures`. */
  readonly digits: readonly string[];
  /** Where its units stand, for fixes that rewrite them. */
  readonly unitSpans: readonly Span[];
  /** True where a sign was written: `+0.50 mm over`, `-10 °C`. */
  readonly signed: boolean;
  readonly span: Span;
}

export type QuantityProblemCode =
  | "unknown-unit" | "unit-missing" | "wrong-dimension" | "empty-range" | "printed-pair-disagrees"
  | "dashed-range" | "not-a-figure" | "hole" | "impossible-expression";

export interface Suggestion {
  readonly title: string;
  readonly span: Span;
  readonly text: string;
}

export interface QuantityProblem {
  readonly code: QuantityProblemCode;
  readonly span: Span;
  /** One or two sentences: what was read, and what to write. */
  readonly message: string;
  /** Likeliest first. None is safe to apply unasked: each changes what the figure says. */
  readonly suggestions?: readonly Suggestion[];
}

/** A figure, date or other part that a word attaches: `for 20 min`, `at 850 rpm`, `on 2027-03-14`. */
export interface Clause {
  readonly word: Text;
  readonly quantity?: Quantity;
  /** The clause's own reading. Its problems are among those of the whole. */
  readonly value?: ReadValue;
  readonly date?: Text;
}

export interface ReadValue {
  readonly quantity?: Quantity | undefined;
  /** Words that say of what the figure is. A joining word and the word after it are one: "at valve", "past zero". */
  readonly qualifiers: readonly Text[];
  readonly clauses: readonly Clause[];
  readonly strings: readonly Text[];
  /** Dates, threads, marks and prints that stand beside the figure. */
  readonly others: readonly (Text & { readonly kind: "date" | "thread" | "mark" | "print" })[];
  readonly problems: readonly QuantityProblem[];
}

export interface ReadOptions {
  /** Other kinds the figure may be of: the unit written decides. */
  readonly or?: readonly KindId[];
  /** The unit at the end of the list, or in the table's header, for figures without one. */
  readonly inheritedUnit?: UnitRef;
  /** The span the key ever holds, in the base of its kind: puts the likeliest unit first among suggestions. */
  readonly usual?: Interval;
  /** Words the key takes after its figure. When given, any other word straight after a figure without unit is read as a misspelt unit. */
  readonly qualifiers?: readonly string[];
  /** Kinds of the figures that words attach; for others the written unit decides. */
  readonly clauses?: Readonly<Record<string, KindId>>;
}
