// What a formula is: one declaration that joins schema keys to a function of server/engineering. The sheet, hover, JSON, the trace, the docs
// and a tune's fingerprint all come from it. Knows no build.
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import type { Thread } from "../model/value.ts";
import type { Location } from "../model/declaration.ts";
import type { Interval } from "../quantity/interval.ts";
import type { KindId } from "../quantity/kinds.ts";
import type { SectionId } from "../schema/sections.ts";

/** What a formula is worked out once for: the whole engine, each side of the valve gear, each fastener. `{each}` in ids and paths is replaced. */
export type Each = "side" | "fastener";

/** A number that a table gives for what the build says: friction for a lubrication, accuracy for a wrench. */
export interface LookedUp {
  readonly interval: Interval;
  readonly words: string;
  readonly source: string;
  /** Set when the number rests on a rule of thumb. */
  readonly estimate?: boolean;
  readonly location?: Location;
  /** True when nothing in the build said which row applies and a wide one was taken. */
  readonly assumption?: string;
}

export type Reads =
  | { readonly reads: "figure"; readonly paths: readonly string[] }
  | { readonly reads: "value"; readonly id: string }
  | { readonly reads: "word" | "class"; readonly paths: readonly string[] }
  | { readonly reads: "thread"; readonly paths: readonly string[] }
  | { readonly reads: "table"; readonly kind: KindId; readonly needs: readonly string[]; readonly look: (build: EffectiveBuild, each: string) => LookedUp | undefined };

/** One input of a formula; `T` is what `compute` receives: numbers in the base unit of their kind (SI; angles in degrees, rotation in rpm). */
export type Input<T> = Reads & {
  readonly optional?: boolean;
  /** Taken when the build does not say, with the sentence that is printed beside the value. */
  readonly fallback?: { readonly value: T; readonly assumption: string };
  readonly type?: T;
};

/** A figure of the build by its effective path; the first path that has one is read. */
export function figure(...paths: readonly [string, ...string[]]): Input<number> {
  return { reads: "figure", paths };
}

/** Another formula's value. */
export function value(id: string): Input<number> {
  return { reads: "value", id };
}

export function word(...paths: readonly [string, ...string[]]): Input<string> {
  return { reads: "word", paths };
}

export function propertyClass(...paths: readonly [string, ...string[]]): Input<string> {
  return { reads: "class", paths };
}

export function thread(...paths: readonly [string, ...string[]]): Input<Thread> {
  return { reads: "thread", paths };
}

/** A number looked up in a table by what the build says; `needs` are the paths to name when nothing is found. */
export function table(kind: KindId, needs: readonly string[], look: (build: EffectiveBuild, each: string) => LookedUp | undefined): Input<number> {
  return { reads: "table", kind, needs, look };
}

export function optional<T>(input: Input<T>): Input<T | undefined> {
  return { ...input, optional: true } as Input<T | undefined>;
}

/** The input, or the stated assumption printed beside the value. */
export function orAssume<T>(input: Input<T>, fallback: T, assumption: string): Input<T> {
  return { ...input, fallback: { value: fallback, assumption } };
}

export interface Formula<I extends Record<string, Input<unknown>> = Record<string, Input<unknown>>> {
  /** Stable; `{each}` where it is worked out per place: `lift.{each}.gross`. */
  readonly id: string;
  readonly each?: Each;
  readonly section: SectionId;
  /** What the sheet prints; `{each}` is replaced. */
  readonly label: string;
  readonly kind: KindId;
  /** The unit of the JSON sheet; absent for ratios, counts and fractions. */
  readonly unit?: UnitId;
  /** One sentence for a builder: what it is and why one wants it. */
  readonly words: string;
  /** The formula as it is printed, with input names in braces: `π/4 · {bore}² · {stroke}`. */
  readonly expression: string;
  readonly source: string;
  /** Why it is an estimate, when it is one. */
  readonly estimate?: string;
  /** True for helper values that the trace shows and the sheet's tables leave out. */
  readonly quiet?: boolean;
  readonly inputs: I;
  /** Base units in and out. `undefined` or NaN: these figures cannot be (the sheet says so). */
  readonly compute: (inputs: { readonly [K in keyof I]: I[K] extends Input<infer T> ? T : never }, each: string) => number | undefined;
}

/** Declares a formula; the input types of `compute` follow from `inputs`. */
export function formula<I extends Record<string, Input<unknown>>>(declaration: Formula<I>): Formula {
  return declaration as unknown as Formula;
}

/** `{each}` replaced by a place. */
export function at(template: string, each: string): string {
  return template.includes("{each}") ? template.replaceAll("{each}", each) : template;
}
