// What a recording came to: plain data of bounded size however long the recording is. Everything in the base of its kind, times in seconds
// from the recording's own clock. Refuses to know whether any of it is good or bad.
import type { KindId } from "../quantity/kinds.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import type { DecimalMark, Delimiter, Judged } from "./question.ts";

/** Speeds are gathered in steps of this many rpm, from zero. */
export const STEP_RPM = 250;
export const STEPS = 80;
/** Pulls that are kept of a recording: the widest. */
export const MOST_PULLS = 8;

export interface ReadColumn {
  readonly key: string;
  readonly kind: KindId;
  /** As it stands in the file. */
  readonly heading: string;
  readonly unit?: UnitId;
  /** Set where neither the file nor the builder said the unit and there is one that such readings are in. */
  readonly assumed?: boolean;
  /** Cells with a figure, and without one. */
  readonly read: number;
  readonly missing: number;
}

/** A column that was asked for and could not be read. */
export interface LostColumn {
  readonly key: string;
  readonly heading: string;
  /** absent: no such heading. no-unit: nobody says the unit. unit: it is in something that is no such reading. disagrees: file and builder name two units. */
  readonly why: "absent" | "no-unit" | "unit" | "disagrees";
  /** The heading found, or the ones most like it. */
  readonly found: readonly string[];
}

export type DoubtSort = "ragged" | "unreadable" | "backwards" | "twice";

/** Rows that were not as they should be: how many, and the first. */
export interface Doubt {
  readonly sort: DoubtSort;
  readonly count: number;
  readonly line: number;
  readonly text?: string;
}

export interface Moment {
  readonly value: number;
  readonly time?: number;
  readonly rpm?: number;
}

export interface Peak {
  readonly key: string;
  readonly kind: KindId;
  readonly unit?: UnitId;
  readonly least: Moment;
  readonly greatest: Moment;
}

/** A time through which a limit was passed without a break. */
export interface Stretch {
  readonly from: number;
  /** s, from its first reading to its last. */
  readonly duration: number;
  /** The reading furthest past its limit, that limit, when and at what speed. */
  readonly worst: number;
  readonly limit: number;
  readonly at: number;
  readonly rpm?: number;
}

export interface Stretches {
  readonly count: number;
  /** s, all of them together. */
  readonly total: number;
  readonly longest: Stretch;
  /** The one that went furthest past. */
  readonly worst: Stretch;
}

/** Readings at speeds from `STEP_RPM` times its place up. */
export interface Bin {
  readonly count: number;
  readonly mean: number;
  readonly least: number;
  readonly greatest: number;
}

/** Speed after speed: `undefined` where nothing was read. */
export type Curve = readonly (Bin | undefined)[];

/** Full load from a low speed to a high one without a break. */
export interface RecordedPull {
  readonly from: number;
  readonly duration: number;
  readonly fromRpm: number;
  readonly toRpm: number;
  /** Highest readings, by key. */
  readonly peaks: Readonly<Record<string, Moment>>;
  readonly curves: Readonly<Record<string, Curve>>;
  /** Seconds from the pull's start to each speed that is a whole number of steps, where it was passed. */
  readonly passed: readonly (number | undefined)[];
}

export interface Summary {
  readonly delimiter: Delimiter;
  /** Absent where no figure had a decimal. */
  readonly decimal?: DecimalMark;
  /** Lines before the headings that were passed over. */
  readonly preamble: number;
  readonly unitRow: boolean;
  /** Every heading the file has, cut to a list that can be read. */
  readonly headings: readonly string[];
  readonly columns: readonly ReadColumn[];
  readonly lost: readonly LostColumn[];
  readonly doubts: readonly Doubt[];
  readonly rows: number;
  /** First and last time; absent without a column of time. */
  readonly clock?: { readonly from: number; readonly to: number; readonly breaks: number };
  readonly peaks: readonly Peak[];
  /** What loaded was told by. */
  readonly loadBy?: "throttle" | "manifold" | "boost";
  /** Ends of the mixture under steady load, as lambda; the speeds are those it was burnt at. */
  readonly mixture?: { readonly leanest: Moment; readonly richest: Moment };
  /** What was held against a limit, and what of it passed. */
  readonly judged: Readonly<Partial<Record<Judged, Stretches | "none">>>;
  /** Limits that nothing could be held against, and why. */
  readonly unjudged: readonly { readonly what: Judged; readonly why: "no-column" | "no-time" | "no-load" | "no-scale" | "no-speed" }[];
  /** By key: mixture as lambda and boost under load, oil pressure with hot oil, torque and power under load. */
  readonly curves: Readonly<Record<string, Curve>>;
  readonly pulls: readonly RecordedPull[];
  /** All that were recognised, the ones not kept too. */
  readonly pullCount: number;
}

export type Unsummed =
  /** The reader of files could not give its text. */
  | { readonly sort: "missing" | "outside" | "not-text" | "utf-16" | "too-large" | "unreadable" | "cancelled" }
  | { readonly sort: "empty" }
  /** No line that could be headings. */
  | { readonly sort: "not-a-table"; readonly text: string }
  /** None of the columns asked for is there. */
  | { readonly sort: "no-columns"; readonly headings: readonly string[] }
  /** A quote that is opened and not closed within reason. */
  | { readonly sort: "quote"; readonly line: number }
  /** Thousands marks, or two decimal marks. */
  | { readonly sort: "marks"; readonly line: number; readonly text: string }
  /** Commas of which nobody can tell whether they are decimal or thousands. */
  | { readonly sort: "ambiguous"; readonly line: number; readonly text: string }
  /** Headings and nothing under them. */
  | { readonly sort: "no-rows"; readonly headings: readonly string[] };

export type Outcome = { readonly summary: Summary } | { readonly problem: Unsummed };
