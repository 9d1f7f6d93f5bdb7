// What a formula is: one declaration that joins schema keys to a function of server/engineering. The sheet, hover, JSON, the trace, the docs
// and a tune's fingerprint all come from it. Knows no build.
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { Location } from "../model/declaration.ts";
import type { EffectiveBuild, Provided } from "../model/effective.ts";
import { effective } from "../model/effective.ts";
import { keptFor } from "../model/reads.ts";
import type { Thread } from "../model/value.ts";
import type { Interval } from "../quantity/interval.ts";
import type { KindId } from "../quantity/kinds.ts";
import type { SectionId } from "../schema/sections.ts";

/**
 * What a formula is worked out once for: the whole engine, each side of the valve gear, each fastener, each pull, each recording, each speed of the last pull,
 * each gear, each cylinder in the order it fires. `{each}` in ids and paths is replaced; server/sheet/places.ts says by what.
 */
export type Each = "side" | "fastener" | "pull" | "log" | "pull-speed" | "gear" | "cylinder";

/** A number that a table gives for what the build says: friction for a lubrication, accuracy for a wrench. */
export interface LookedUp {
  readonly interval: Interval;
  readonly words: string;
  readonly source: string;
  /** Set when the number rests on a rule of thumb. */
  readonly estimate?: boolean;
  /** The figures of the build that chose the row. */
  readonly provided?: readonly Provided[];
  /** The sentence printed beside the value when nothing in the build said which row applies. */
  readonly assumption?: string;
}

export type Reads =
  | { readonly reads: "figure"; readonly paths: readonly string[]; readonly role?: Provided["role"] | "measured" }
  | { readonly reads: "stage"; readonly paths: readonly string[]; readonly stage: Stage }
  | { readonly reads: "either"; readonly of: readonly Input<number>[]; readonly ask?: Input<number> }
  | { readonly reads: "value"; readonly id: string }
  | { readonly reads: "word" | "class"; readonly paths: readonly string[] }
  | { readonly reads: "thread"; readonly paths: readonly string[] }
  | { readonly reads: "thing"; readonly needs: readonly string[]; readonly look: (build: EffectiveBuild, each: string) => Thing | undefined }
  | { readonly reads: "table"; readonly kind: KindId; readonly needs: readonly string[]; readonly look: (build: EffectiveBuild, each: string) => LookedUp | undefined; readonly ask?: Ask };

/** What is no number and yet goes into a formula: a lobe's shape, a kit of shims. It has no spread. */
export interface Thing {
  readonly what: unknown;
  /** What of it tells it from another, places in the text left out; all of it where absent. */
  readonly figures?: unknown;
  readonly words: string;
  /** As it is told in the trace: "61 readings". */
  readonly text: string;
  readonly location?: Location;
  readonly provided?: readonly Provided[];
  readonly assumption?: string;
}

/** What to ask for where a table finds nothing and the figure that would help is none of the effective build's: one of a record's own. */
export type Ask = (build: EffectiveBuild, each: string) => readonly { readonly path: string; readonly words: string }[];

/** Which part of a tightening in stages is meant: the last torque, or all the angles after it together. */
export type Stage = "last-torque" | "turn";

/** One input of a formula; `T` is what `compute` receives: numbers in the base unit of their kind (SI; angles in degrees, rotation in rpm). */
export type Input<T> = Reads & {
  readonly optional?: boolean;
  /** Where false, the build has no such thing: the formula receives nothing and nothing is missing. */
  readonly where?: (build: EffectiveBuild, each: string) => boolean;
  /** Taken when the build does not say, with the sentence that is printed beside the value. */
  readonly fallback?: { readonly value: T; readonly assumption: string };
  readonly type?: T;
};

/** A figure of the build by its effective path. Of several paths the one said last counts (a part's over the engine's), of two said together the first. */
export function figure(...paths: readonly [string, ...string[]]): Input<number> {
  return { reads: "figure", paths };
}

/** A figure as the last source asked for it, or as the builder chose it, whichever of the two counts now. */
export function figureBy(role: Provided["role"], ...paths: readonly [string, ...string[]]): Input<number> {
  return { reads: "figure", paths, role };
}

/** A figure only as it was measured: for a value in which a reading counts over what was chosen. */
export function reading(...paths: readonly [string, ...string[]]): Input<number> {
  return { reads: "figure", paths, role: "measured" };
}

/** A torque or angle out of a tightening in stages; a plain figure is its own last torque. */
export function stage(stage: Stage, ...paths: readonly [string, ...string[]]): Input<number> {
  return { reads: "stage", paths, stage };
}

/** The first of several ways to come by a number; when none can be gone, the one that lacks least is asked for. */
export function either(...of: readonly [Input<number>, Input<number>, ...Input<number>[]]): Input<number> {
  return { reads: "either", of };
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
export function table(kind: KindId, needs: readonly string[], look: (build: EffectiveBuild, each: string) => LookedUp | undefined, ask?: Ask): Input<number> {
  return { reads: "table", kind, needs, look, ...(ask && { ask }) };
}

/** Something of the build that is no number; `needs` are the paths to name when it is not there. */
export function thing<T>(needs: readonly string[], look: (build: EffectiveBuild, each: string) => (Thing & { readonly what: T }) | undefined): Input<T> {
  return { reads: "thing", needs, look };
}

export function optional<T>(input: Input<T>): Input<T | undefined> {
  return { ...input, optional: true } as Input<T | undefined>;
}

/** The input where the build has such a thing, and then it must be known; elsewhere nothing. */
export function where<T>(input: Input<T>, has: (build: EffectiveBuild, each: string) => boolean): Input<T | undefined> {
  return { ...input, where: has } as Input<T | undefined>;
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
  /** True where a tune rests on it: figures that reach it make a tune stale when they change. */
  readonly tune?: true;
  /** Words for the two signs of a value that is printed without one: "3° retarded". */
  readonly signs?: { readonly positive: string; readonly negative: string };
  /** False where a build has no such thing: the value is then left out altogether, rather than shown as not computed. */
  readonly applies?: (build: EffectiveBuild, each: string) => boolean;
  readonly inputs: I;
  /** Base units in and out. `undefined` or NaN: these figures cannot be (the sheet says so). */
  readonly compute: (inputs: { readonly [K in keyof I]: I[K] extends Input<infer T> ? T : never }, each: string) => number | undefined;
}

/** Declares a formula; the input types of `compute` follow from `inputs`. */
export function formula<I extends Record<string, Input<unknown>>>(declaration: Formula<I>): Formula {
  return declaration as unknown as Formula;
}

/** One of the ways of `either` that is asked for when none can be gone, though another would take fewer figures. */
export function asking(input: Input<number>, ask: Input<number>): Input<number> {
  return input.reads === "either" ? { ...input, ask } : input;
}

/** A figure of the build that chooses a row of a table or a branch, with everything around it, for `table` and `applies`. */
export function slotHas(build: EffectiveBuild, path: string): boolean {
  return effective(build.slots.get(path)) !== undefined;
}

const spokenOf = keptFor((build: EffectiveBuild): ReadonlySet<string> => {
  const found = new Set<string>();
  for (const path of build.said) {
    for (let dot = path.lastIndexOf("."); dot > 0; dot = path.lastIndexOf(".", dot - 1)) found.add(path.slice(0, dot));
  }
  return found;
});

/** True when the build says anything below a path. */
export function blockHas(build: EffectiveBuild, base: string): boolean {
  return spokenOf(build).has(base);
}

const filled = new Map<string, Map<string, string>>();

/** `{each}` replaced by a place. */
export function at(template: string, each: string): string {
  // The same few templates are filled for every build: a table beats working them out again.
  let byEach = filled.get(each);
  if (!byEach) {
    // Names of fasteners come from files without end; the table must not.
    if (filled.size > 500) filled.clear();
    byEach = new Map();
    filled.set(each, byEach);
  }
  let text = byEach.get(template);
  if (text === undefined) {
    text = template.includes("{each}") ? template.replaceAll("{each}", each) : template;
    byEach.set(template, text);
  }
  return text;
}
