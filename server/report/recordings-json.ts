// Recordings for programs: how each was read, what passed a limit, and the pulls in it. Figures in the base unit of their kind, which stands
// beside them; times in seconds.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { EffectiveBuild, Recording } from "../model/effective.ts";
import { type KindId, kindOf } from "../quantity/kinds.ts";
import { JUDGED, type Judged } from "../recording/question.ts";
import type { Moment, Summary } from "../recording/summary.ts";
import { dateOf } from "../sheet/pull.ts";

export interface MomentJson {
  readonly value: number;
  readonly at: number | null;
  readonly rpm: number | null;
}

export interface RecordingJson {
  /** As written in the build. */
  readonly file: string;
  readonly date: string | null;
  /** Why nothing was read; null where it was. `unread` where nobody tried. */
  readonly problem: string | null;
  readonly rows: number | null;
  readonly seconds: number | null;
  readonly columns: readonly { readonly reading: string; readonly heading: string; readonly unit: string; readonly assumed: boolean; readonly read: number; readonly missing: number }[];
  readonly notRead: readonly { readonly reading: string; readonly heading: string; readonly why: string }[];
  readonly ends: readonly { readonly reading: string; readonly unit: string; readonly least: MomentJson; readonly greatest: MomentJson }[];
  readonly limits: readonly { readonly what: string; readonly unit: string; readonly times: number; readonly seconds: number; readonly longest: number; readonly worst: (MomentJson & { readonly limit: number }) | null }[];
  readonly notJudged: readonly { readonly what: string; readonly why: string }[];
  readonly pulls: readonly { readonly at: number; readonly seconds: number; readonly fromRpm: number; readonly toRpm: number }[];
}

const WHAT: Readonly<Record<Judged, { readonly id: string; readonly kind: KindId }>> = {
  redline: { id: "redline", kind: "rotation" }, mixture: { id: "mixture", kind: "mixture" }, oil: { id: "oil-pressure", kind: "pressure" }, boost: { id: "boost", kind: "pressure" },
  duty: { id: "injector-duty", kind: "fraction" }, coolant: { id: "coolant-temperature", kind: "temperature" }, oilTemperature: { id: "oil-temperature", kind: "temperature" },
  charge: { id: "charge-temperature", kind: "temperature" },
};

export function recordingsJson(build: EffectiveBuild): readonly RecordingJson[] {
  return (build.recordings ?? []).map(recordingJson);
}

function recordingJson({ record, path, outcome }: Recording): RecordingJson {
  const head = { file: path.text, date: dateOf(record) ?? null };
  if (!outcome || "problem" in outcome) return { ...head, problem: outcome ? outcome.problem.sort : "unread", rows: null, seconds: null, columns: [], notRead: [], ends: [], limits: [], notJudged: [], pulls: [] };
  const { summary } = outcome;
  return {
    ...head, problem: null, rows: summary.rows, seconds: summary.clock ? rounded(summary.clock.to - summary.clock.from) : null,
    columns: summary.columns.map((c) => ({ reading: c.key, heading: c.heading, unit: c.unit === undefined ? "" : spellingOfUnit(c.unit), assumed: c.assumed ?? false, read: c.read, missing: c.missing })),
    notRead: summary.lost.map((l) => ({ reading: l.key, heading: l.heading, why: l.why })),
    ends: summary.peaks.map((p) => ({ reading: p.key, unit: baseOf(p.kind, p.key), least: moment(p.least), greatest: moment(p.greatest) })),
    limits: limitsJson(summary), notJudged: summary.unjudged.map((u) => ({ what: WHAT[u.what].id, why: u.why })),
    pulls: summary.pulls.map((p) => ({ at: rounded(p.from), seconds: rounded(p.duration), fromRpm: rounded(p.fromRpm), toRpm: rounded(p.toRpm) })),
  };
}

function limitsJson({ judged }: Summary): RecordingJson["limits"] {
  return JUDGED.flatMap((what): RecordingJson["limits"][number][] => {
    const own = judged[what];
    const { id, kind } = WHAT[what];
    const unit = what === "mixture" ? "lambda" : baseOf(kind, "");
    if (!own) return [];
    if (own === "none") return [{ what: id, unit, times: 0, seconds: 0, longest: 0, worst: null }];
    const { worst } = own;
    return [{ what: id, unit, times: own.count, seconds: rounded(own.total), longest: rounded(own.longest.duration), worst: { value: rounded(worst.worst), limit: rounded(worst.limit), at: rounded(worst.at), rpm: worst.rpm === undefined ? null : rounded(worst.rpm) } }];
  });
}

function baseOf(kind: KindId, key: string): string {
  return kind === "mixture" ? key : kindOf(kind).base;
}

function moment(m: Moment): MomentJson {
  return { value: rounded(m.value), at: m.time === undefined ? null : rounded(m.time), rpm: m.rpm === undefined ? null : rounded(m.rpm) };
}

/** Twelve figures: what differs beyond them is the machine's arithmetic, not the engine's. */
function rounded(x: number): number {
  return Number.isFinite(x) ? Number(x.toPrecision(12)) : x;
}
