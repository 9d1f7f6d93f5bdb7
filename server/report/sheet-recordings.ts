// Recordings as tables of the sheet: how they were read, their ends, what passed a limit, and their pulls side by side. Computes nothing.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import { formatValue, unitFor } from "../quantity/display.ts";
import type { KindId } from "../quantity/kinds.ts";
import { JUDGED, type Judged } from "../recording/question.ts";
import { type Moment, type RecordedPull, STEP_RPM, type Stretch, type Summary } from "../recording/summary.ts";
import { lengthWords, timeWords } from "../rules/recorded.ts";
import { figureOf } from "../sheet/pull.ts";
import { type RecordedRun, recordedRuns } from "../sheet/recorded.ts";
import type { Atlas } from "./place.ts";
import type { SheetTable } from "./sheet-model.ts";
import { systemOf } from "../model/system.ts";
import { capital, listed } from "./wording.ts";

const PARTED: Readonly<Record<string, string>> = { ",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright bars" };
const LIMITS: Readonly<Record<Judged, { readonly words: string; readonly kind: KindId; readonly key: readonly string[] }>> = {
  redline: { words: "Over the redline", kind: "rotation", key: ["rpm"] },
  mixture: { words: "Lean under load", kind: "mixture", key: ["lambda", "afr"] },
  oil: { words: "Oil pressure low", kind: "pressure", key: ["oil-pressure"] },
  boost: { words: "Boost over its limit", kind: "pressure", key: ["boost", "manifold"] },
  duty: { words: "Injector duty high", kind: "fraction", key: ["duty"] },
  coolant: { words: "Coolant hot", kind: "temperature", key: ["coolant"] },
  charge: { words: "Charge hot", kind: "temperature", key: ["inlet"] },
  oilTemperature: { words: "Oil hot", kind: "temperature", key: ["oil-temperature"] },
};
const WHY: Readonly<Record<Summary["unjudged"][number]["why"], string>> = {
  "no-column": "no such column is named", "no-time": "no column of time is named", "no-load": "no column of throttle, manifold pressure or boost says when it was loaded",
  "no-scale": "nobody says which scale its afr is on", "no-speed": "no column of speed is named",
};

/** The tables of every recording that was read. */
export function recordingTables(build: EffectiveBuild, atlas: Atlas): readonly SheetTable[] {
  return recordedRuns(build).flatMap((run) => [readTable(run, build, atlas), endsTable(run, build), ...limitsTable(run, build), ...pullsTable(run, build)]);
}

function name({ recording }: RecordedRun): string {
  return `"${recording.path.text}"`;
}

function readTable(run: RecordedRun, build: EffectiveBuild, atlas: Atlas): SheetTable {
  const { recording, summary } = run;
  const assumed = summary.columns.filter((c) => c.assumed).map((c) => `${c.key.replaceAll("-", " ")} in ${c.unit === undefined ? "" : spellingOfUnit(c.unit)}`);
  const missing = summary.columns.filter((c) => c.missing > 0).map((c) => `${c.missing} of ${c.heading}`);
  const { clock } = summary;
  const lost = summary.lost.map((l) => l.heading);
  const place = atlas.placeOf({ tree: build.subject.tree, span: recording.path.span });
  const rows: readonly (readonly [string, string])[] = [
    ["rows", clock ? `${summary.rows}, ${timeWords(clock.to - clock.from)} long${clock.breaks > 0 ? `, with ${clock.breaks} ${clock.breaks === 1 ? "break" : "breaks"}` : ""}` : `${summary.rows}, without time`],
    ["columns", summary.columns.map((c) => `${c.key.replaceAll("-", " ")}: ${c.heading}${c.unit === undefined || c.heading.includes(spellingOfUnit(c.unit)) ? "" : `, ${spellingOfUnit(c.unit)}`}`).join("; ")],
    ["written with", `${PARTED[summary.delimiter] ?? summary.delimiter} between cells${summary.decimal === undefined ? "" : `, decimal ${summary.decimal === "," ? "commas" : "points"}`}${summary.preamble > 0 ? `, ${summary.preamble} ${summary.preamble === 1 ? "line" : "lines"} before the headings` : ""}${summary.unitRow ? ", a row of units" : ""}`],
    ...(assumed.length > 0 ? [["taken for granted", `${listed(assumed)}: neither the file nor this build says the unit`] as const] : []),
    ...(missing.length > 0 ? [["cells without a reading", missing.join("; ")] as const] : []),
    ...(lost.length > 0 ? [["not read", lost.join("; ")] as const] : []),
    ...(torqueWords(run) !== "" ? [["torque and power", torqueWords(run)] as const] : []),
    ...(summary.loadBy ? [["loaded", loadWords(run, build)] as const] : []),
  ];
  return { caption: `Recording ${name(run)}${dateWords(run)}`, heads: ["Of", "As read"], rows: rows.map((cells) => ({ cells: [...cells], ...(place && { place }) })) };
}

/** Where torque or power was taken, and what is in it already. */
function torqueWords({ recording: { record }, summary, correction }: RecordedRun): string {
  if (!summary.columns.some((c) => c.key === "torque" || c.key === "power")) return "";
  const at = figureOf(record, "at")?.value;
  return [at?.is === "word" ? `at ${at.word}` : "", correction === undefined ? "correction not stated" : correction === "none" ? "as read" : `corrected, ${correction}`].filter((w) => w !== "").join(", ");
}

function dateWords({ words }: RecordedRun): string {
  const date = /\d{4}-\d{2}-\d{2}/.exec(words)?.[0];
  return date === undefined ? "" : ` of ${date}`;
}

function loadWords({ recording: { question }, summary }: RecordedRun, build: EffectiveBuild): string {
  const gate = summary.loadBy === "throttle" ? `throttle from ${formatValue(question.gate, "fraction", "percent")}`
    : summary.loadBy === "manifold" ? `manifold pressure from ${formatValue(question.gate * question.barometer, "pressure", unitFor("pressure", systemOf(build), 1e5))}` : "boost over the air outside";
  return `${gate}; mixture seen ${lengthWords(question.delay)} late; what lasts ${lengthWords(question.dwell)} counts`;
}

function endsTable({ summary, recording }: RecordedRun, build: EffectiveBuild): SheetTable {
  const rows = summary.peaks.map((p) => {
    const told = (m: Moment) => [formatValue(m.value, p.kind, p.unit ?? unitFor(p.kind, systemOf(build), m.value)), momentWords(m)];
    return { cells: [capital(p.key.replaceAll("-", " ")), ...told(p.least), ...told(p.greatest)] };
  });
  return { caption: `Lowest and highest in "${recording.path.text}"`, heads: ["Reading", "Lowest", "When", "Highest", "When"], rows };
}

function momentWords({ time, rpm }: Moment): string {
  return [time === undefined ? "" : timeWords(time), rpm === undefined ? "" : `${Math.round(rpm)} rpm`].filter((w) => w !== "").join(", ") || "–";
}

function limitsTable(run: RecordedRun, build: EffectiveBuild): SheetTable[] {
  const { summary, recording: { question, path } } = run;
  const rows = JUDGED.flatMap((what) => {
    const { words, kind, key } = LIMITS[what];
    const judged = summary.judged[what];
    const why = summary.unjudged.find((u) => u.what === what)?.why;
    // A limit of common practice that nothing was recorded for is no loss.
    if (why === "no-column" || (judged === undefined && why === undefined)) return [];
    if (judged === undefined) return [{ cells: [words, `not judged: ${WHY[why ?? "no-column"]}`, "", "", "", ""] }];
    const column = key.flatMap((k) => summary.columns.find((c) => c.key === k) ?? [])[0];
    const scale = column?.key === "afr" ? (question.stoichiometric ?? 1) : 1;
    const told = (x: number) => formatValue(x * scale, kind, column?.unit ?? unitFor(kind, systemOf(build), x));
    const limit = what === "oil" ? "the curve asked for" : told(question[what] as number);
    if (judged === "none") return [{ cells: [words, limit, "never", "", "", ""] }];
    const stretch = (s: Stretch) => `${told(s.worst)} at ${timeWords(s.at)}${s.rpm === undefined || what === "redline" ? "" : `, ${Math.round(s.rpm)} rpm`}`;
    return [{ cells: [words, what === "oil" ? told(judged.worst.limit) : limit, String(judged.count), lengthWords(judged.total), `${lengthWords(judged.longest.duration)} from ${timeWords(judged.longest.from)}`, stretch(judged.worst)] }];
  });
  return rows.length > 0 ? [{ caption: `Limits in "${path.text}"`, heads: ["What", "Limit", "Times", "In all", "Longest", "Worst"], rows }] : [];
}

/** Pulls side by side, with the time each took through the speeds they all went through. */
function pullsTable({ summary, recording: { question, path } }: RecordedRun, build: EffectiveBuild): SheetTable[] {
  const { pulls } = summary;
  if (pulls.length === 0) return [];
  const shared = sharedSpeeds(pulls);
  const scale = summary.columns.some((c) => c.key === "lambda") ? undefined : question.stoichiometric;
  const unit = (key: string) => summary.columns.find((c) => c.key === key)?.unit;
  const columns: readonly { readonly head: string; readonly cell: (p: RecordedPull) => string | undefined }[] = [
    { head: "Speeds", cell: (p) => `${Math.round(p.fromRpm)} to ${Math.round(p.toRpm)} rpm` },
    { head: "Took", cell: (p) => lengthWords(p.duration) },
    { head: shared ? `${shared.low} to ${shared.high} rpm` : "", cell: (p) => shared && lengthWords((p.passed[shared.high / STEP_RPM] ?? NaN) - (p.passed[shared.low / STEP_RPM] ?? NaN)) },
    { head: "Torque", cell: (p) => peak(p, "torque", "torque", unit("torque") ?? unitFor("torque", systemOf(build), 100)) },
    { head: "Power", cell: (p) => peak(p, "power", "power", unit("power") ?? unitFor("power", systemOf(build), 1e5)) },
    { head: "Leanest", cell: (p) => { const m = p.peaks["mixture"]; return m && formatValue(m.value * (scale ?? 1), "mixture", scale === undefined ? "lambda" : "air-fuel-ratio"); } },
    { head: "Most boost", cell: (p) => peak(p, "boost", "pressure", unit("boost") ?? unit("manifold") ?? unitFor("pressure", systemOf(build), 1e5)) },
  ];
  const used = columns.filter(({ head, cell }) => head !== "" && pulls.some((p) => cell(p) !== undefined));
  const more = summary.pullCount > pulls.length ? `, the ${pulls.length} widest of ${summary.pullCount}` : "";
  return [{ caption: `Pulls in "${path.text}"${more}`, heads: ["From", ...used.map((c) => c.head)], rows: pulls.map((p) => ({ cells: [timeWords(p.from), ...used.map((c) => c.cell(p) ?? "–")] })) }];
}

function peak(pull: RecordedPull, key: string, kind: KindId, unit: Parameters<typeof formatValue>[2]): string | undefined {
  const m = pull.peaks[key];
  return m && `${formatValue(m.value, kind, unit)}${m.rpm === undefined ? "" : ` at ${Math.round(m.rpm)} rpm`}`;
}

/** The widest run of steps that every pull went through. */
function sharedSpeeds(pulls: readonly RecordedPull[]): { readonly low: number; readonly high: number } | undefined {
  if (pulls.length < 2) return undefined;
  const steps = pulls.map((p) => p.passed.flatMap((t, i) => (t === undefined ? [] : [i])));
  const low = Math.max(...steps.map((s) => s[0] ?? Infinity));
  const high = Math.min(...steps.map((s) => s.at(-1) ?? -Infinity));
  return Number.isFinite(low) && high - low >= 2 && pulls.every((p) => p.passed[low] !== undefined && p.passed[high] !== undefined) ? { low: low * STEP_RPM, high: high * STEP_RPM } : undefined;
}
