// The last recording by speed: what was read under load and of hot oil against what is asked for; and the widest pulls of the last two
// recordings over each other, or of the only one.
// Means of steps of speed. Judges nothing.
import type { UnitId } from "../../grammar/vocabulary.ts";
import { leastAt } from "../recording/summarise.ts";
import { type Curve, type RecordedPull, STEP_RPM } from "../recording/summary.ts";
import { type RecordedRun, recordedRuns } from "../sheet/recorded.ts";
import type { Drawing, DrawingSource } from "./drawing.ts";
import { type Lines, type PanelSort, type Point, type What, curvesDrawn } from "./pull.ts";
import { capital } from "../quantity/spoken.ts";

const SORTS: readonly PanelSort[] = [
  { what: "mixture", kind: "mixture", words: "mixture under load" },
  { what: "oil", kind: "pressure", words: "oil pressure, hot" },
  { what: "boost", kind: "pressure", words: "boost under load" },
];
const PULL_SORTS: readonly PanelSort[] = [
  { what: "torque", kind: "torque", words: "torque" },
  { what: "power", kind: "power", words: "power" },
  { what: "mixture", kind: "mixture", words: "mixture" },
  { what: "boost", kind: "pressure", words: "boost" },
];
const KEYS: Readonly<Record<What, string>> = { torque: "torque", power: "power", mixture: "mixture", boost: "boost", oil: "oil-pressure" };

/** Fewer steps of speed than this are no curve. */
const LEAST_STEPS = 3;

/** The last recording against speed, with the limits that its readings were held against. */
export function recording({ build, system }: DrawingSource): Drawing | undefined {
  const run = recordedRuns(build).findLast((r) => SORTS.some(({ what }) => points(r, r.summary.curves, what).length >= LEAST_STEPS));
  if (!run) return undefined;
  const sorts = SORTS.filter(({ what }) => points(run, run.summary.curves, what).length >= LEAST_STEPS);
  const read = Object.fromEntries(sorts.map(({ what }) => [what, points(run, run.summary.curves, what)]));
  const asked = Object.fromEntries(sorts.flatMap(({ what }) => {
    const own = limitLine(run, what, read[what] ?? []);
    return own.length > 1 ? [[what, own] as const] : [];
  }));
  const units = unitsOf(run);
  // Without a temperature nobody knows whether the oil was hot.
  const told = run.summary.columns.some((c) => c.key === "oil-temperature" || c.key === "coolant");
  const shown: readonly Lines[] = [{ words: "as recorded, means by speed", read, units }, ...(Object.keys(asked).length > 0 ? [{ words: "the limits it was held against", read: asked, units }] : [])];
  return curvesDrawn({ id: "recording", title: `${capital(run.words)} by speed`, shown, sorts: sorts.map((s) => (s.what === "oil" && !told ? { ...s, words: "oil pressure" } : s)), system });
}

/** The widest pull of each of the last two recordings that have any; of one alone its two widest. */
export function recordedPulls({ build, system }: DrawingSource): Drawing | undefined {
  const runs = recordedRuns(build).filter((r) => widestOf(r).length > 0);
  const [run, before] = [runs.at(-1), runs.at(-2)];
  if (!run) return undefined;
  const chosen: readonly Chosen[] = before ? [{ run, pull: widestOf(run)[0] as RecordedPull }, { run: before, pull: widestOf(before)[0] as RecordedPull }]
    : widestOf(run).slice(0, 2).sort((a, b) => a.from - b.from).map((pull) => ({ run, pull }));
  const title = before ? `Widest pull of ${run.words}, laid over that of ${before.words}` : chosen.length > 1 ? `Two pulls of ${run.words}, laid over each other` : `The pull in ${run.words}`;
  return curvesDrawn({ id: "recorded-pulls", title, shown: chosen.map((c) => linesOf(c, before !== undefined)), sorts: PULL_SORTS, system });
}

interface Chosen {
  readonly run: RecordedRun;
  readonly pull: RecordedPull;
}

function widestOf(run: RecordedRun): readonly RecordedPull[] {
  return run.summary.pulls.filter((p) => sortsOf(run, p).length > 0).sort((a, b) => b.toRpm - b.fromRpm - (a.toRpm - a.fromRpm));
}

function linesOf({ run, pull }: Chosen, named: boolean): Lines {
  const words = `${named ? `${run.words}, ` : "pull "}from ${pull.from.toFixed(1)} s, ${Math.round(pull.fromRpm)} to ${Math.round(pull.toRpm)} rpm in ${pull.duration.toFixed(1)} s`;
  return { words, read: Object.fromEntries(PULL_SORTS.map(({ what }) => [what, points(run, pull.curves, what)])), units: unitsOf(run) };
}

function sortsOf(run: RecordedRun, pull: RecordedPull): readonly PanelSort[] {
  return PULL_SORTS.filter(({ what }) => points(run, pull.curves, what).length >= LEAST_STEPS);
}

/** Means at the middles of their steps; mixture on the scale of the gauge. */
function points(run: RecordedRun, curves: Readonly<Record<string, Curve>>, what: What): readonly Point[] {
  const scale = what === "mixture" ? afrOf(run) : 1;
  return (curves[KEYS[what]] ?? []).flatMap((bin, i) => (bin ? [{ rpm: (i + 0.5) * STEP_RPM, value: bin.mean * scale }] : []));
}

/** The air-fuel ratio of lambda 1 where the gauge prints afr. */
function afrOf({ summary, recording: { question } }: RecordedRun): number {
  return summary.columns.some((c) => c.key === "lambda") ? 1 : (question.stoichiometric ?? 1);
}

function unitsOf(run: RecordedRun): Readonly<Partial<Record<What, UnitId>>> {
  const unit = (...keys: readonly string[]) => keys.flatMap((key) => run.summary.columns.find((c) => c.key === key)?.unit ?? [])[0];
  const [torque, power, boost, oil] = [unit("torque"), unit("power"), unit("boost", "manifold"), unit("oil-pressure")];
  return { mixture: afrOf(run) === 1 ? "lambda" : "air-fuel-ratio", ...(torque && { torque }), ...(power && { power }), ...(boost && { boost }), ...(oil && { oil }) };
}

function limitLine(run: RecordedRun, what: What, along: readonly Point[]): readonly Point[] {
  const { question } = run.recording;
  const flat = (value: number | undefined) => (value === undefined ? [] : [along[0], along.at(-1)].flatMap((p) => (p ? [{ rpm: p.rpm, value }] : [])));
  if (what === "mixture") return flat(question.mixture === undefined ? undefined : question.mixture * afrOf(run));
  if (what === "boost") return flat(question.boost);
  const { oil } = question;
  return what === "oil" && oil ? along.flatMap(({ rpm }) => { const value = leastAt(oil, rpm); return value === undefined ? [] : [{ rpm, value }]; }) : [];
}
