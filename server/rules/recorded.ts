// What recordings came to, as rules look at it: the stretches of time that passed a limit, where a finding about one points, and how a moment
// of a recording is told. Judges nothing.
import type { Location } from "../model/declaration.ts";
import type { EffectiveBuild, Recording } from "../model/effective.ts";
import type { Judged } from "../recording/question.ts";
import type { ReadColumn, Stretch, Stretches, Summary } from "../recording/summary.ts";
import { figureOf } from "../sheet/pull.ts";

export interface Recorded {
  readonly recording: Recording;
  readonly summary: Summary;
}

/** The recordings that were read. */
export function recordedIn(build: EffectiveBuild): readonly Recorded[] {
  return (build.recordings ?? []).flatMap((recording) => (recording.outcome && "summary" in recording.outcome ? [{ recording, summary: recording.outcome.summary }] : []));
}

export interface Passed extends Recorded {
  readonly stretches: Stretches;
  /** The heading that the reading stands under, in the build. */
  readonly at: Location;
  readonly column: ReadColumn | undefined;
}

/** Recordings in which a limit was passed. `keys`: the readings it may have been told by, likeliest first. */
export function passedIn(build: EffectiveBuild, what: Judged, keys: readonly string[]): readonly Passed[] {
  return recordedIn(build).flatMap(({ recording, summary }): Passed[] => {
    const stretches = summary.judged[what];
    if (!stretches || stretches === "none") return [];
    const column = keys.flatMap((key) => summary.columns.find((c) => c.key === key) ?? [])[0];
    return [{ recording, summary, stretches, column, at: columnAt(build, recording, column?.key) }];
  });
}

/** The heading of a reading as the build names it; the file's path where it names none. */
export function columnAt(build: EffectiveBuild, recording: Recording, key: string | undefined): Location {
  const span = key === undefined ? undefined : figureOf(recording.record, key)?.span;
  return { tree: build.subject.tree, span: span ?? recording.path.span };
}

/** "at 83.4 s and 5230 rpm, for 0.8 s". */
export function stretchWords(stretch: Stretch): string {
  return `at ${timeWords(stretch.at)}${stretch.rpm === undefined ? "" : ` and ${Math.round(stretch.rpm)} rpm`}, for ${lengthWords(stretch.duration)}`;
}

/** A moment on the recording's clock: "83.4 s", "12 min 3.4 s". */
export function timeWords(seconds: number): string {
  if (Math.abs(seconds) < 120) return `${seconds.toFixed(1)} s`;
  if (Math.abs(seconds) >= 7200) {
    const whole = Math.round(Math.abs(seconds) / 60);
    return `${seconds < 0 ? "-" : ""}${Math.floor(whole / 60)} h ${whole % 60} min`;
  }
  const tenths = Math.round(seconds * 10);
  const minutes = Math.trunc(tenths / 600);
  return `${minutes} min ${(Math.abs(tenths % 600) / 10).toFixed(1)} s`;
}

export function lengthWords(seconds: number): string {
  return seconds < 1 ? `${seconds.toFixed(2)} s` : timeWords(seconds);
}

/** "; 2 more times too, 3.1 s in all" where there was more than one. */
export function moreWords({ count, total }: Stretches): string {
  return count < 2 ? "" : `; ${count - 1} more ${count === 2 ? "time" : "times"} too, ${lengthWords(total)} in all`;
}

/** `the recording "runs/hill.csv"`. */
export function recordingWords(recording: Recording): string {
  return `the recording "${recording.path.text}"`;
}
