// Recordings: their span, the ends of what was read, time past the redline, and what the standards make of the torque and power in them. Knows
// no physics of its own and reads no file.
import * as air from "../../engineering/air.ts";
import type { EffectiveBuild } from "../../model/effective.ts";
import { exactly } from "../../quantity/interval.ts";
import type { KindId } from "../../quantity/kinds.ts";
import { type Formula, type Input, type LookedUp, formula, table, value } from "../formula.ts";
import { type RecordedRun, peakOf, pullPeak, runNamed } from "../recorded.ts";

const RECORDED = "as recorded";

const STANDARDS = [{ id: "sae-j1349", name: "SAE J1349" }, { id: "iso-1585", name: "ISO 1585" }] as const;

interface Reading {
  readonly id: string;
  readonly label: string;
  readonly kind: KindId;
  readonly unit: Formula["unit"];
  readonly words: string;
  readonly look: (run: RecordedRun) => number | undefined;
}

const READINGS: readonly Reading[] = [
  { id: "span", label: "Length", kind: "time", unit: "second", words: "From its first row to its last, gaps counted in.", look: ({ summary }) => summary.clock && summary.clock.to - summary.clock.from },
  { id: "most-rpm", label: "Highest speed", kind: "rotation", unit: "revolution-per-minute", words: "Highest engine speed of any row; one row alone may be a spike of the pick-up.", look: ({ summary }) => peakOf(summary, "rpm")?.value },
  {
    id: "over-redline", label: "Time over the redline", kind: "time", unit: "second", words: "All stretches of 0.1 s and more past the redline, together.",
    look: ({ summary: { judged } }) => (judged.redline === undefined ? undefined : judged.redline === "none" ? 0 : judged.redline.total),
  },
  {
    id: "leanest", label: "Leanest mixture under load", kind: "mixture", unit: "lambda",
    words: "Leanest while the engine was steadily loaded, as the gauge showed it a sensor's delay later; shifts and overrun are left out.", look: ({ summary }) => summary.mixture?.leanest.value,
  },
  { id: "most-boost", label: "Most boost", kind: "pressure", unit: "kilopascal", words: "Highest boost over the air outside of any row; from manifold pressure less the barometer where only that was recorded.", look: ({ summary, recording }) => peakOf(summary, "boost")?.value ?? lessBarometer(peakOf(summary, "manifold")?.value, recording.question.barometer) },
  { id: "most-duty", label: "Highest injector duty", kind: "fraction", unit: "percent", words: "Highest share of its time that an injector was open, of any row.", look: ({ summary }) => peakOf(summary, "duty")?.value },
  { id: "hottest-coolant", label: "Hottest coolant", kind: "temperature", unit: "degree-celsius", words: "Highest coolant temperature of any row.", look: ({ summary }) => peakOf(summary, "coolant")?.value },
  { id: "hottest-oil", label: "Hottest oil", kind: "temperature", unit: "degree-celsius", words: "Highest oil temperature of any row.", look: ({ summary }) => peakOf(summary, "oil-temperature")?.value },
  { id: "peak.torque", label: "Greatest torque in a pull", kind: "torque", unit: "newton-metre", words: "Highest torque of any pull recognised in it, as read.", look: ({ summary }) => pullPeak(summary, "torque")?.value },
  { id: "peak.power", label: "Greatest power in a pull", kind: "power", unit: "kilowatt", words: "Highest power of any pull recognised in it, as read, or torque times speed where only torque was recorded.", look: ({ summary }) => pullPeak(summary, "power")?.value },
];

/** A vacuum is no boost. */
function lessBarometer(pressure: number | undefined, barometer: number): number | undefined {
  return pressure === undefined || pressure <= barometer ? undefined : pressure - barometer;
}

export const RECORDINGS: readonly Formula[] = [
  ...READINGS.map(({ id, label, kind, unit, words, look }) =>
    formula({
      id: `log.{each}.${id}`, each: "log", section: "runs-and-pulls", label: `${label}, recording {each}`, kind, ...(unit && { unit }), words, expression: "{read}", source: RECORDED,
      inputs: { read: read(kind, label.toLowerCase(), look) }, applies: (build, each) => has(build, each, look),
      compute: ({ read: own }) => own,
    }),
  ),
  ...STANDARDS.map((standard): Formula =>
    formula({
      id: `log.{each}.factor.${standard.id}`, each: "log", section: "runs-and-pulls", label: `Factor of ${standard.name}, recording {each}`, kind: "ratio", quiet: true,
      words: "What full-load figures read in this air are multiplied by; the standards vouch for factors from 0.93 to 1.07 only.", expression: "by {dry} and {temperature} of the day", source: standard.name,
      inputs: { dry: value("log.{each}.dry-pressure"), temperature: weather("temperature", "temperature", "temperature") }, applies: correctable,
      compute: ({ dry, temperature }) => (standard.id === "sae-j1349" ? air.saeJ1349Factor({ dryPressure: dry, temperature }) : air.iso1585Factor({ dryPressure: dry, temperature })),
    }),
  ),
  formula({
    id: "log.{each}.dry-pressure", each: "log", section: "runs-and-pulls", label: "Dry part of the barometer, recording {each}", kind: "pressure", unit: "kilopascal", quiet: true,
    words: "What the barometer reads less the share of water vapour, which burns nothing.", expression: "{barometer} − {humidity} · saturation at {temperature}", source: "Magnus form for water vapour",
    inputs: { barometer: table("pressure", [], (build, name): LookedUp | undefined => barometerOf(runNamed(build, name)), () => [{ path: "log.weather.barometer", words: "`barometer` in the recording's `weather`" }]), humidity: humidity(), temperature: weather("temperature", "temperature", "temperature") },
    applies: correctable,
    compute: ({ barometer, humidity: damp, temperature }) => air.dryPressure({ pressure: barometer, humidity: damp, temperature }),
  }),
  ...STANDARDS.flatMap((standard): Formula[] =>
    (["power", "torque"] as const).map((what) =>
      formula({
        id: `log.{each}.corrected.${standard.id}.${what}`, each: "log", section: "runs-and-pulls", label: `Greatest ${what} in a pull by ${standard.name}, recording {each}`, kind: what, unit: what === "power" ? "kilowatt" : "newton-metre",
        estimate: "it holds for full load and natural breathing, and the standards vouch for factors from 0.93 to 1.07 only",
        words: "As this standard's air would have had it. Compare figures of one standard only.", expression: "{read} · {factor}", source: standard.name,
        inputs: { read: value(`log.{each}.peak.${what}`), factor: value(`log.{each}.factor.${standard.id}`) }, applies: correctable,
        compute: ({ read: observed, factor }) => air.correctedFigure({ observed, factor }),
      }),
    ),
  ),
];

function has(build: EffectiveBuild, name: string, look: Reading["look"]): boolean {
  const run = runNamed(build, name);
  return run !== undefined && look(run) !== undefined;
}

/** Torque or power was recorded as read, and somebody noted the day's air. */
function correctable(build: EffectiveBuild, name: string): boolean {
  const run = runNamed(build, name);
  return run !== undefined && run.correction === "none" && pullPeak(run.summary, "power") !== undefined && ["temperature", "barometer"].some((key) => run.weather(key) !== undefined);
}

function read(kind: KindId, words: string, look: Reading["look"]): Input<number> {
  return table(kind, [], (build, name): LookedUp | undefined => {
    const run = runNamed(build, name);
    const x = run && look(run);
    return run && x !== undefined ? { interval: exactly(x), words: `${words} of ${run.words}`, source: RECORDED } : undefined;
  });
}

function weather(key: string, kind: KindId, words: string): Input<number> {
  return table(kind, [], (build, name): LookedUp | undefined => {
    const run = runNamed(build, name);
    const own = run?.weather(key)?.quantity.interval;
    return run && own && { interval: own, words: `${words} of ${run.words}`, source: RECORDED };
  }, () => [{ path: `log.weather.${key}`, words: `\`${key}\` in the recording's \`weather\`` }]);
}

/** The day's barometer as the question to the recording has it: at the place itself. */
function barometerOf(run: RecordedRun | undefined): LookedUp | undefined {
  return run?.weather("barometer") && { interval: exactly(run.recording.question.barometer), words: `barometer of ${run.words}`, source: RECORDED };
}

/** Humidity of the day; where it was not read, the whole of what it can be. */
function humidity(): Input<number> {
  return table("fraction", [], (build, name): LookedUp => {
    const run = runNamed(build, name);
    const own = run?.weather("humidity")?.quantity.interval;
    if (run && own) return { interval: own, words: `humidity of ${run.words}`, source: RECORDED };
    return { interval: { low: 0, nominal: 0.5, high: 1 }, words: "humidity", source: "by definition", assumption: "the day's humidity is not stated: anything from dry to dripping is reckoned with" };
  });
}
