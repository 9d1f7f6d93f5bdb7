// How far a tabulated figure can be trusted; it refuses to know the figures themselves.

/**
 * standard: printed in a published standard; textbook: printed in a published textbook or handbook;
 * public data: printed by a public body; common practice: a rule of the trade that no standard carries;
 * from memory: known to the writer, its last digit unverified.
 */
export type Provenance = "standard" | "textbook" | "public data" | "common practice" | "from memory";

/** A span that a table gives, in the unit the table states, with the reason to believe it. */
export interface SourcedSpan {
  readonly low: number;
  readonly high: number;
  readonly provenance: Provenance;
  readonly source: string;
}

/** One tabulated figure, in the unit the table states, with the reason to believe it. */
export interface SourcedFigure {
  readonly value: number;
  readonly provenance: Provenance;
  readonly source: string;
}

/** A quantity known only as a band. */
export interface Band {
  readonly low: number;
  readonly nominal: number;
  readonly high: number;
}
