// The readings of a build by what they are readings of and where they were taken, so that values can be worked out as measured. Knows no
// formula; judges no reading.
import type { Location, MeasuredFact, Side } from "../model/declaration.ts";
import { type EffectiveBuild, quantityAt } from "../model/effective.ts";
import { readingCountsForNothing } from "../model/possible.ts";
import { keptFor } from "../model/reads.ts";
import type { Interval } from "../quantity/interval.ts";
import type { KindId } from "../quantity/kinds.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { qualifierSetOf } from "../schema/lookup.ts";
import { type Measurement, measurementOf } from "../schema/measurements.ts";
import { meaningOfFigure } from "./meaning.ts";

/** Where on the engine: a cylinder, bearing or bolt by its number, and of several valves of one kind which. */
export interface MeasuredPlace {
  readonly side?: Side;
  readonly valve?: string;
  readonly number?: string;
  /** What the numbers count: cylinders, bearings or bolts are never mixed. */
  readonly counts?: "cylinder" | "bearing" | "bolt";
}

export interface MeasuredReading {
  /** The figure of the effective build that this is a reading of. */
  readonly path?: string;
  /** The computed value that it confirms or denies. */
  readonly valueId?: string;
  readonly place: MeasuredPlace;
  /** Base unit of the kind; repeats at one place span from the least to the greatest, with their mean. */
  readonly interval: Interval;
  readonly kind: KindId;
  readonly words: string;
  readonly date: string;
  readonly location: Location;
}

/** Every reading that stands for a figure or a value, oldest first. Readings taken before the work say nothing of what is fitted now. */
export const measuredReadings: (build: EffectiveBuild) => readonly MeasuredReading[] = keptFor(readingsIn);

function readingsIn(build: EffectiveBuild): readonly MeasuredReading[] {
  if (build.measured.length === 0) return [];
  const readings = build.measured.filter((m) => !m.qualifiers.some((q) => q.text === "before")).flatMap((fact) => {
    const measurement = measurementOf(fact.what.text);
    return measurement ? [...gridReadings(build, fact, measurement), ...figureReadings(build, fact, measurement)] : [];
  });
  return readings.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
}

/** True when a reading taken at one place holds at another: one without a number holds for every cylinder. */
export function describesPlace(reading: MeasuredPlace, place: MeasuredPlace): boolean {
  return (
    (reading.number === undefined || (reading.number === place.number && reading.counts === place.counts)) &&
    (reading.side === undefined || place.side === undefined || reading.side === place.side) &&
    (reading.valve === undefined || reading.valve === place.valve)
  );
}

/** The places that readings tell apart: the particular ones where there are any, else the whole engine. */
export function measuredPlaces(readings: readonly MeasuredReading[]): readonly MeasuredPlace[] {
  const places = new Map(readings.map((r) => [placeWords(r.place), r.place]));
  const all = [...places.values()];
  // A place that another one narrows down is left to that one: a reading for a whole cylinder counts at each of its valves.
  return all.filter((place) => !all.some((other) => other !== place && describesPlace(place, other) && !describesPlace(other, place)));
}

export function placeWords({ side, valve, number, counts }: MeasuredPlace): string {
  return [[side, valve].filter((word) => word !== undefined).join(" "), number === undefined ? "" : `${counts ?? "cylinder"} ${number}`].filter((words) => words !== "").join(", ");
}

function gridReadings(build: EffectiveBuild, fact: MeasuredFact, measurement: Measurement): readonly MeasuredReading[] {
  const counts = measurement.forms.includes("bearing") ? "bearing" : measurement.forms.includes("bolt") ? "bolt" : "cylinder";
  const cylinders = quantityAt(build, "cylinders")?.quantity.interval.nominal;
  const repeats = new Map<string, { readonly reading: Omit<MeasuredReading, "interval">; readonly intervals: Interval[] }>();
  for (const { row, head, quantity, words, span } of fact.readings) {
    if (readingCountsForNothing(build.subject, span)) continue;
    const [word, valve] = row.split(/\s+/);
    const side = word === "intake" || word === "exhaust" ? word : undefined;
    if (measurement.forms.includes("valve") && !side) continue;
    // A place that the engine has not is reported, and nothing is worked out for it.
    if (!/^\d*$/.test(head) || (counts === "cylinder" && cylinders !== undefined && Number(head) > cylinders)) continue;
    const fixedRow = measurement.rows?.includes(row) ? row : undefined;
    const said = { ...headQualifiers(fact.qualifiers), ...headQualifiers(words) };
    const target = targetOf(measurement, fact, side, fixedRow, said);
    const meaning = target && meaningOfReading(quantity, said, target.path ?? `${target.valueId}`);
    if (!target || !meaning) continue;
    const place: MeasuredPlace = { ...(side && { side }), ...(side && valve !== undefined && { valve }), ...(head !== "" && { number: head, counts }) };
    const key = `${target.path ?? target.valueId}|${placeWords(place)}`;
    const before = repeats.get(key);
    if (before) before.intervals.push(meaning);
    else repeats.set(key, { intervals: [meaning], reading: { ...target, place, kind: quantity.kind, words: `${fact.what.text} as measured`, date: fact.date?.text ?? "", location: { tree: build.subject.tree, span } } });
  }
  return [...repeats.values()].map(({ reading, intervals }) => ({ ...reading, interval: together(intervals) }));
}

function figureReadings(build: EffectiveBuild, fact: MeasuredFact, measurement: Measurement): readonly MeasuredReading[] {
  return fact.figures.flatMap((figure): MeasuredReading[] => {
    const key = figure.key.key;
    const side: Side | undefined = key === "intake" || key === "exhaust" ? key : undefined;
    const row = measurement.rows?.includes(key) ? key : undefined;
    if (side === undefined && row === undefined && key !== "reading") return [];
    const value = figure.value;
    if (value.is !== "quantity" || readingCountsForNothing(build.subject, figure.span)) return [];
    const sides: readonly (Side | undefined)[] = side ? [side] : measurement.reads?.includes("{side}") || measurement.confirms?.includes("{side}") ? ["intake", "exhaust"] : [undefined];
    // A reading for a side serves every valve of it; the side is in what it stands for, so both sides' readings meet in one place.
    return sides.flatMap((one): MeasuredReading[] => {
      const said = { ...headQualifiers(fact.qualifiers), ...value.qualifiers };
      const target = targetOf(measurement, fact, one, row, said);
      const meaning = target && meaningOfReading(value.quantity, said, target.path ?? `${target.valueId}`);
      return target && meaning
        ? [{ ...target, place: side && !`${measurement.reads ?? ""}${measurement.confirms ?? ""}`.includes("{side}") ? { side } : {}, interval: meaning, kind: value.quantity.kind, words: `${fact.what.text} as measured`, date: fact.date?.text ?? "", location: { tree: build.subject.tree, span: figure.span } }]
        : [];
    });
  });
}

/** What the reading stands for: the value it confirms, else the figure it reads; nothing where its fastener or side is not said. */
function targetOf(measurement: Measurement, fact: MeasuredFact, side: string | undefined, row: string | undefined, said: Readonly<Record<string, string>>): Pick<MeasuredReading, "path" | "valueId"> | undefined {
  const fill = (template: string) => {
    const filled = template.replaceAll("{side}", side ?? "{side}").replaceAll("{row}", row ?? "{row}").replaceAll("{of}", fact.of?.text ?? "{of}");
    return filled.includes("{") ? undefined : filled;
  };
  // A lift read at the lobe is the lobe's, and the rocker multiplies it.
  if (measurement.id === "lift" && said["lift-at"] === "at lobe") {
    const lobe = fill("camshaft.{side}.lobe-lift");
    return lobe === undefined ? undefined : { path: lobe };
  }
  const valueId = measurement.confirms === undefined ? undefined : fill(measurement.confirms);
  if (valueId !== undefined) return { valueId };
  const path = measurement.reads === undefined ? undefined : fill(measurement.reads);
  return path === undefined ? undefined : { path };
}

/** Words in the head, or in a heading, say of what every reading below is: `measured deck above on …`, `| cylinder (mm above) |`. */
function headQualifiers(words: readonly { readonly text: string }[]): Readonly<Record<string, string>> {
  const given: Record<string, string> = {};
  words.forEach(({ text }, i) => {
    const set = qualifierSetOf(text) ?? qualifierSetOf(`${text} ${words[i + 1]?.text ?? ""}`);
    if (set) given[set.id] = Object.hasOwn(set.options, text) ? text : `${text} ${words[i + 1]?.text ?? ""}`;
  });
  return given;
}

/** A reading's number once its words are heeded, by the same reckoning as an asked-for figure. */
function meaningOfReading(quantity: Quantity, qualifiers: Readonly<Record<string, string>>, path: string): Interval | undefined {
  return meaningOfFigure({ is: "quantity", quantity, qualifiers, clauses: [] }, "the reading", path, () => undefined)?.interval;
}

/** Several readings of one place as one: their mean, from the least to the greatest. */
function together(intervals: readonly Interval[]): Interval {
  const mean = intervals.reduce((sum, i) => sum + i.nominal, 0) / intervals.length;
  return { low: Math.min(...intervals.map((i) => i.low)), nominal: mean, high: Math.max(...intervals.map((i) => i.high)) };
}
