// Recordings that were read, by the name they have in the ids of values. Computes nothing.
import type { EffectiveBuild, Recording } from "../model/effective.ts";
import type { QuantityValue } from "../model/value.ts";
import { keptFor } from "../model/reads.ts";
import type { Moment, Summary } from "../recording/summary.ts";
import { dateOf, figureOf, recordQuantity } from "./pull.ts";

export interface RecordedRun {
  /** As a part of a value's id: `on-2027-06-12`. */
  readonly name: string;
  /** As a person would call it: "the recording of 2027-06-12". */
  readonly words: string;
  readonly recording: Recording;
  readonly summary: Summary;
  /** The correction that is in torque and power already; undefined where the build does not say. */
  readonly correction?: string;
  readonly weather: (key: string) => QuantityValue | undefined;
}

/** The recordings of a build that were read, oldest first; of one day in the order of the text. */
export const recordedRuns: (build: EffectiveBuild) => readonly RecordedRun[] = keptFor((build) => {
  const names = new Map<string, number>();
  return (build.recordings ?? []).flatMap((recording, i) => (recording.outcome && "summary" in recording.outcome ? [{ recording, summary: recording.outcome.summary, i, date: dateOf(recording.record) ?? "" }] : []))
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : a.i - b.i))
    .map(({ recording, summary, date }): RecordedRun => {
      const plain = date === "" ? "undated" : `on-${date}`;
      const count = (names.get(plain) ?? 0) + 1;
      names.set(plain, count);
      const correction = figureOf(recording.record, "correction")?.value;
      return {
        name: count === 1 ? plain : `${plain}-${count}`, words: date === "" ? "the undated recording" : `the recording of ${date}`, recording, summary,
        ...(correction?.is === "word" && correction.word !== "unstated" && { correction: correction.word }), weather: (key) => recordQuantity(recording.record, `weather.${key}`),
      };
    });
});

export function runNamed(build: EffectiveBuild, name: string): RecordedRun | undefined {
  return recordedRuns(build).find((run) => run.name === name);
}

/** The highest or lowest of a reading. */
export function peakOf(summary: Summary, key: string, end: "least" | "greatest" = "greatest"): Moment | undefined {
  return summary.peaks.find((p) => p.key === key)?.[end];
}

/** The greatest of a reading in any of the pulls recognised in it; torque of a pull is told from its power where only that was recorded. */
export function pullPeak(summary: Summary, key: string): Moment | undefined {
  return summary.pulls.flatMap((p) => p.peaks[key] ?? []).reduce<Moment | undefined>((best, one) => (best && best.value >= one.value ? best : one), undefined);
}
