// What is asked of a recording: which columns are what, when the engine counts as loaded, and the limits that its readings are held against.
// Plain data in base units; refuses to know whose limits they are.
import type { KindId } from "../quantity/kinds.ts";

export type Delimiter = "," | ";" | "\t" | "|";
export type DecimalMark = "." | ",";

/** One reading and the heading it stands under, as the builder wrote it: `"Manifold"`, or `"Manifold (kPa)"` where the file does not say the unit. */
export interface WantedColumn {
  readonly key: string;
  readonly kind: KindId;
  readonly heading: string;
}

/** A least pressure by speed: between two points a straight line, nothing below the first, the last one's own above it. rpm and Pa. */
export type PressureCurve = readonly { readonly rpm: number; readonly pressure: number }[];

/** Two questions with the same text have the same answer for the same file. */
export interface Question {
  readonly columns: readonly WantedColumn[];
  readonly delimiter?: Delimiter;
  readonly decimal?: DecimalMark;
  /** Throttle from which the engine counts as loaded, a share of one; of the barometer where only manifold pressure was recorded. */
  readonly gate: number;
  /** How long a reading must last before it counts, s. */
  readonly dwell: number;
  /** How long after the cylinder the mixture gauge shows it, s. */
  readonly delay: number;
  /** Pa. */
  readonly barometer: number;
  /** Air-fuel ratio of lambda 1 on the gauge's scale; absent where nobody says which scale it is. */
  readonly stoichiometric?: number;
  /** rpm. */
  readonly redline?: number;
  /** rpm at which the controller cuts fuel or spark: mixture says nothing there. */
  readonly revLimit?: number;
  /** Leanest lambda allowed. */
  readonly mixture?: number;
  /** Least oil pressure by speed. */
  readonly oil?: PressureCurve;
  /** Most boost, Pa gauge. */
  readonly boost?: number;
  /** Most injector duty, a share of one. */
  readonly duty?: number;
  /** K. */
  readonly coolant?: number;
  /** K. */
  readonly oilTemperature?: number;
  /** Of the charge, K. */
  readonly charge?: number;
}

/** What limits are held against, in the order they are told. */
export const JUDGED = ["redline", "mixture", "oil", "boost", "duty", "coolant", "oilTemperature", "charge"] as const;
export type Judged = (typeof JUDGED)[number];
