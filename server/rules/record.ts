// Records of a build as rules look at them: where to point, their names and days, and what was changed from the stock engine. Judges nothing.
import type { Location, RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, type FittedPart, effective, quantityAt } from "../model/effective.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import { dateOf, recordQuantity } from "../sheet/pull.ts";
import { FULL_LOAD, plansOf } from "../sheet/work.ts";
import { spanOfFit } from "./placed.ts";

/** The smallest place that stands for a record: its day, else its first word. */
export function headOf(build: EffectiveBuild, record: RecordFact): Location {
  return { tree: build.subject.tree, span: record.date?.span ?? { start: record.span.start, end: record.span.start + record.word.length } };
}

/** The record by its name and day: "the run first-start of 2027-03-20". */
export function recordWords(record: RecordFact): string {
  const name = record.head.find((part) => part.kind === "word" && part.text !== "on");
  const date = dateOf(record);
  return `the ${record.word}${name?.kind === "word" ? ` ${name.text}` : ""}${date === undefined ? "" : ` of ${date}`}`;
}

/** Records of this word, in the order of the text. */
export function recordsOf(build: EffectiveBuild, word: string): readonly RecordFact[] {
  return build.subject.records.filter((record) => record.word === word);
}

/** The day on which a step of the plan was ticked off. */
export function doneOn(build: EffectiveBuild, step: string): { readonly date: string; readonly at: Location } | undefined {
  for (const plan of plansOf(build)) {
    const [tick] = plan.byName.get(step)?.ticks ?? [];
    if (tick) return tick;
  }
  return undefined;
}

export { FULL_LOAD };

/** Runs at full load. */
export function fullLoadRuns(build: EffectiveBuild): readonly RecordFact[] {
  return recordsOf(build, "run").filter((run) => (recordQuantity(run, "load")?.quantity.interval.high ?? 0) >= FULL_LOAD);
}

/** The first fitted part after which the engine must be tuned. */
export function tunedFor(build: EffectiveBuild): FittedPart | undefined {
  return build.parts.find((part) => part.kind?.asksForTune);
}

/** The part or figure that brought boost to an engine that its maker built without; where it stands. */
export function boostAdded(build: EffectiveBuild): Location | undefined {
  if (!build.engine || build.subject.sort !== "build") return undefined;
  if (build.engine.figures.some((f) => /^(boost|blower|turbo)\./.test(f.path))) return undefined;
  const part = build.parts.find((p) => p.kindId === "blower" || p.kindId === "turbo");
  if (part) return { tree: build.subject.tree, span: spanOfFit(part.fit) };
  return effective(build.slots.get("boost.target"))?.location;
}

/** How far the compression ratio rose over the one the engine's maker states; nothing where either is unknown. */
export function compressionRise(build: EffectiveBuild, sheet: Sheet): { readonly from: number; readonly to: number } | undefined {
  const to = sheet.byId.get("compression.static")?.interval?.nominal;
  const from = build.subject.sort === "build" ? quantityAt(build, "stated-compression")?.quantity.interval.nominal : undefined;
  return from === undefined || to === undefined ? undefined : { from, to };
}
