// Recordings made up for tests: rows of readings as numbers, written out with any delimiter, decimal mark and layout; and what one must find
// in them, worked out from the numbers alone, the plain slow way.
import type { DecimalMark, Delimiter, Question } from "../../server/recording/question.ts";
import type { Outcome, Summary } from "../../server/recording/summary.ts";
import { summariser } from "../../server/recording/summarise.ts";

export interface Row {
  readonly time: number;
  readonly rpm: number;
  /** Per cent. */
  readonly throttle: number;
  readonly afr: number;
  /** kPa absolute. */
  readonly map: number;
  /** bar. */
  readonly oil: number;
  /** °C. */
  readonly water: number;
  /** N·m; absent cells are blank. */
  readonly torque?: number;
}

export const HEADINGS = ["Time", "Engine Speed", "Throttle", "Wideband", "Manifold", "Oil P", "Coolant", "Torque"] as const;

/** A road test: idle, then pulls with a lean patch in some, an over-rev in some, oil pressure that sags in some. Numbers come from a counter, not from chance. */
export function roadTest(seconds: number, hz = 20, seed = 1): Row[] {
  const rows: Row[] = [];
  let state = seed >>> 0 || 1;
  const chance = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const round = (x: number, digits: number) => Number(x.toFixed(digits));
  let phase = 0;
  let length = 4;
  let pulling = false;
  let fast = 6400;
  let lean = false;
  let sag = false;
  let began = 0;
  for (let i = 0; i < seconds * hz; i++) {
    const time = round(i / hz, 3);
    if (time - began >= length) {
      began = time;
      pulling = !pulling;
      phase++;
      length = pulling ? 5 + chance() * 3 : 2 + chance() * 2;
      fast = 6100 + Math.round(chance() * 700);
      lean = chance() < 0.4;
      sag = chance() < 0.3;
    }
    const along = (time - began) / length;
    const rpm = Math.round(pulling ? 2500 + (fast - 2500) * along : fast - (fast - 2500) * along);
    const throttle = pulling ? round(92 + 6 * chance(), 1) : round(4 * chance(), 1);
    const afr = pulling ? round((lean && along > 0.5 && along < 0.7 ? 13.9 : 12.3) + 0.2 * chance(), 2) : round(15 + chance(), 2);
    const oil = round(1.2 + rpm / 2000 - (sag && along > 0.4 && along < 0.6 ? 1.6 : 0) + 0.05 * chance(), 2);
    rows.push({ time, rpm: phase === 0 ? 900 : rpm, throttle, afr, map: round(pulling ? 165 + chance() : 40 + chance(), 1), oil, water: round(80 + 10 * chance(), 1), torque: pulling ? round(150 + 20 * Math.sin(Math.PI * along), 1) : round(-20 * chance(), 1) });
  }
  return rows;
}

export interface Layout {
  readonly delimiter?: Delimiter;
  readonly decimal?: DecimalMark;
  readonly newline?: string;
  readonly head?: readonly string[];
  readonly units?: readonly string[];
  readonly preamble?: readonly string[];
  readonly quoted?: boolean;
}

export const WITH_UNITS = ["Time (s)", "Engine Speed (rpm)", "Throttle (%)", "Wideband (afr)", "Manifold (kPa)", "Oil P (bar)", "Coolant (°C)", "Torque (N·m)"] as const;

export function written(rows: readonly Row[], { delimiter = ",", decimal = ".", newline = "\n", head = WITH_UNITS, units, preamble = [], quoted = decimal === delimiter }: Layout = {}): string {
  const number = (x: number | undefined) => (x === undefined ? "" : quoted ? `"${String(x).replace(".", decimal)}"` : String(x).replace(".", decimal));
  const lines = rows.map((r) => [r.time, r.rpm, r.throttle, r.afr, r.map, r.oil, r.water, r.torque].map(number).join(delimiter));
  return [...preamble, head.join(delimiter), ...(units ? [units.join(delimiter)] : []), ...lines].map((l) => l + newline).join("");
}

export const QUESTION: Question = {
  columns: [
    { key: "time", kind: "time", heading: "Time" }, { key: "rpm", kind: "rotation", heading: "Engine Speed" }, { key: "throttle", kind: "fraction", heading: "Throttle" },
    { key: "afr", kind: "mixture", heading: "Wideband" }, { key: "manifold", kind: "pressure", heading: "Manifold" }, { key: "oil-pressure", kind: "pressure", heading: "Oil P" },
    { key: "coolant", kind: "temperature", heading: "Coolant" }, { key: "torque", kind: "torque", heading: "Torque" },
  ],
  gate: 0.8, dwell: 0.3, delay: 0.2, barometer: 100000, stoichiometric: 14.7, redline: 6500, mixture: 13.2 / 14.7,
  oil: [{ rpm: 1000, pressure: 1e5 }, { rpm: 6000, pressure: 3e5 }], boost: 0.66e5, coolant: 273.15 + 89,
};

export function read(text: string, question: Question = QUESTION, cuts: readonly number[] = []): Outcome {
  const reader = summariser(question);
  let from = 0;
  for (const cut of [...cuts].sort((a, b) => a - b)) {
    const to = Math.min(Math.max(cut, from), text.length);
    reader.push(text.slice(from, to));
    from = to;
  }
  reader.push(text.slice(from));
  return reader.end();
}

export function summaryOf(outcome: Outcome): Summary {
  if ("problem" in outcome) throw new Error(`not summed: ${JSON.stringify(outcome.problem)}`);
  return outcome.summary;
}

/** Runs of rows for which something holds, longest first; rows for which it is not known are passed over. */
export function runsOf(rows: readonly Row[], holds: (row: Row, i: number) => boolean | undefined, dwell: number): { readonly from: number; readonly duration: number }[] {
  const runs: { from: number; to: number }[] = [];
  let open: { from: number; to: number } | undefined;
  rows.forEach((row, i) => {
    const is = holds(row, i);
    if (is === undefined) return;
    if (!is) open = undefined;
    else if (open) open.to = row.time;
    else runs.push((open = { from: row.time, to: row.time }));
  });
  return runs.map(({ from, to }) => ({ from, duration: to - from })).filter((r) => r.duration > 0 && r.duration >= dwell - 1e-6);
}
