// What is asked of a build's recordings: the columns that its `log` names and the limits that its readings are held against, each looked for
// in its own order. Judges nothing, reads nothing.
import { standardPressure } from "../engineering/air.ts";
import { usualInjectorDutyLimit } from "../engineering/fuel.ts";
import type { RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, type Recording, quantityAt } from "../model/effective.ts";
import { resolveUse } from "../model/project.ts";
import type { DecimalMark, Delimiter, PressureCurve, Question, WantedColumn } from "../recording/question.ts";
import { RECORDED } from "../schema/records.ts";
import { heightOf } from "../sheet/formulas/air-inputs.ts";
import { oilPressureCurve } from "../sheet/oil-pressure.ts";
import { figureOf, recordQuantity } from "../sheet/pull.ts";
import { boostLimit } from "./boost-over-limit.ts";
import { limitOf } from "./limit.ts";
import { exactMixture, mixtureLimit } from "./mixture-lean-under-load.ts";
import { AT_SPEED } from "./oil-pressure-low.ts";
import { recordsOf } from "./record.ts";

/** Taken where the record does not say. Common practice, no source. */
const USUAL_GATE = 0.8;
const USUAL_DWELL = 0.3;
const USUAL_DELAY = 0.2;
/** A longer delay than the past that is kept of a recording is none. s */
const LONGEST_DELAY = 5;

const DELIMITERS: Readonly<Record<string, Delimiter>> = { comma: ",", semicolon: ";", tab: "\t", bar: "|" };
const MARKS: Readonly<Record<string, DecimalMark>> = { point: ".", comma: "," };

/** The recordings of a build that name a file, each with what is asked of it. `uri` is the build's own file. */
export function recordingsWanted(build: EffectiveBuild, uri: string): readonly Recording[] {
  return recordsOf(build, "log").flatMap((record): Recording[] => {
    const path = record.head.find((part) => part.kind === "string");
    if (path?.kind !== "string" || path.text.trim() === "") return [];
    const question = questionOf(build, record);
    const file = resolveUse(uri, path.text);
    const reading = `${file}\n${JSON.stringify(readingOf(question))}\n`;
    return [{ record, path: { text: path.text, span: path.span }, uri: file, question, key: reading + JSON.stringify(question), reading }];
  });
}

/** The part of a question that decides what is read, whatever it is held against. */
function readingOf({ columns, delimiter, decimal, gate, delay, barometer, stoichiometric, revLimit }: Question): unknown {
  return { columns, delimiter, decimal, gate, delay, barometer, stoichiometric, revLimit };
}

function questionOf(build: EffectiveBuild, record: RecordFact): Question {
  const word = (key: string) => {
    const value = figureOf(record, key)?.value;
    return value?.is === "word" ? value.word : undefined;
  };
  const least = (key: string, otherwise: number) => recordQuantity(record, key)?.quantity.interval.nominal ?? otherwise;
  const delimiter = DELIMITERS[word("delimiter") ?? ""];
  const decimal = MARKS[word("decimal") ?? ""];
  const figured = { figure: (key: string) => figureOf(record, key) };
  const exact = exactMixture(build, figured);
  const redline = quantityAt(build, "redline")?.quantity.interval.high;
  const cut = recordsOf(build, "tune").flatMap((tune) => recordQuantity(tune, "rev-limit")?.quantity.interval.nominal ?? []).at(-1);
  const oil = oilCurve(build, redline);
  const barometer = barometerOf(build, record);
  const boost = boostLimit(build)?.value;
  const absolute = boost?.qualifiers["pressure-reference"] === "absolute";
  const most = boost?.qualifiers["pressure-reference"] === "unstated" ? undefined : boost?.quantity.interval.nominal;
  const highest = (key: string) => limitOf(build, key, "greatest", "temperature")?.value;
  const [coolant, oilTemperature, charge] = [highest("coolant-temperature"), highest("oil-temperature"), highest("charge-temperature")];
  const duty = limitOf(build, "injector-duty", "greatest", "fraction", usualInjectorDutyLimit, "percent")?.value;
  return {
    columns: columnsOf(record), ...(delimiter && { delimiter }), ...(decimal && { decimal }),
    gate: least("load-gate", USUAL_GATE), dwell: least("dwell", USUAL_DWELL), delay: Math.min(Math.max(0, least("sensor-delay", USUAL_DELAY)), LONGEST_DELAY), barometer,
    ...(exact !== undefined && { stoichiometric: exact }), ...(redline !== undefined && { redline }), ...(cut !== undefined && { revLimit: cut }), mixture: mixtureLimit(build, figured).lambda,
    ...(oil && { oil }), ...(most !== undefined && { boost: absolute ? most - barometer : most }), ...(duty !== undefined && { duty }),
    ...(coolant !== undefined && { coolant }), ...(oilTemperature !== undefined && { oilTemperature }), ...(charge !== undefined && { charge }),
  };
}

/** In the order of the schema, so that the order of the keys in the file asks nothing new. */
function columnsOf(record: RecordFact): readonly WantedColumn[] {
  return Object.values(RECORDED).flatMap((key): WantedColumn[] => {
    const value = figureOf(record, key.key)?.value;
    return value?.is === "text" && value.text.trim() !== "" && key.type.is === "quantity" ? [{ key: key.key, kind: key.type.kind, heading: value.text.trim() }] : [];
  });
}

/** The maker's curve; else one figure from half the redline up. */
function oilCurve(build: EffectiveBuild, redline: number | undefined): PressureCurve | undefined {
  const curve = oilPressureCurve(build);
  if (curve.length > 0) return curve;
  const limit = quantityAt(build, "limits.oil-pressure")?.quantity.interval.low;
  return limit === undefined || redline === undefined || !Number.isFinite(limit) ? undefined : [{ rpm: AT_SPEED * redline, pressure: limit }];
}

/** Of the day, else of the height, else at sea level. Pa. */
function barometerOf(build: EffectiveBuild, record: RecordFact): number {
  const height = recordQuantity(record, "weather.altitude")?.quantity.interval.nominal ?? heightOf(build)?.nominal;
  const read = recordQuantity(record, "weather.barometer");
  const here = standardPressure({ altitude: height ?? 0 });
  if (!read) return here;
  return read.qualifiers["barometer-at"] === "sea-level" ? (read.quantity.interval.nominal * here) / standardPressure({ altitude: 0 }) : read.quantity.interval.nominal;
}
