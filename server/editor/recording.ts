// What a recording came to, for who points at its path or at a heading; and the headings its file has, for who is writing one. Offsets in the
// declaration; knows no protocol.
import type { Caret } from "../../grammar/caret.ts";
import type { Span } from "../../grammar/tree.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { FigureFact } from "../model/declaration.ts";
import type { Recording } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import type { Moment, Summary } from "../recording/summary.ts";
import { JUDGED, type Judged } from "../recording/question.ts";
import { moreWords, stretchWords, timeWords } from "../rules/recorded.ts";
import { RECORDED } from "../schema/records.ts";
import type { SubjectResult } from "../workspace/analyse.ts";
import type { Here } from "./spot.ts";

const PASSED: Readonly<Record<Judged, string>> = {
  redline: "over the redline", mixture: "lean under load", oil: "oil pressure low", boost: "boost over its limit", duty: "injector duty high", coolant: "coolant hot", oilTemperature: "oil hot", charge: "charge hot",
};

/** The recording whose statement the caret is in. */
function recordingAt({ declaration, offset }: Here, subject: SubjectResult | undefined): Recording | undefined {
  if (subject?.build.subject !== declaration) return undefined;
  return subject.build.recordings?.find(({ record }) => offset >= record.span.start && offset <= record.span.end);
}

/** What the file came to, at its path. */
export function recordingText(here: Here, subject: SubjectResult | undefined): { readonly lines: string[]; readonly span: Span } | undefined {
  const recording = recordingAt(here, subject);
  if (!recording || here.offset < recording.path.span.start || here.offset > recording.path.span.end) return undefined;
  const { outcome, path } = recording;
  const lines = !outcome ? ["This recording is being read."] : "problem" in outcome ? [outcome.problem.sort === "cancelled" ? "The reading of this recording was stopped. It is read again when the file changes, or what is asked of it." : "This recording could not be read."] : summaryText(outcome.summary);
  return { lines, span: path.span };
}

function summaryText(summary: Summary): string[] {
  const { clock } = summary;
  const length = clock ? `${summary.rows} rows, ${timeWords(clock.to - clock.from)}` : `${summary.rows} rows, without a column of time`;
  const assumed = summary.columns.filter((c) => c.assumed).map((c) => `\`${c.key}\` in ${c.unit === undefined ? "" : spellingOfUnit(c.unit)}`);
  const passed = JUDGED.flatMap((what) => {
    const own = summary.judged[what];
    return own && own !== "none" ? [`- ${PASSED[what]} ${stretchWords(own.worst)}${moreWords(own)}`] : [];
  });
  const kept = JUDGED.filter((what) => summary.judged[what] === "none").map((what) => PASSED[what]);
  return [
    `**${length}**${summary.pullCount > 0 ? `, ${summary.pullCount} ${summary.pullCount === 1 ? "pull" : "pulls"}` : ""}`,
    ...(passed.length > 0 ? [passed.join("\n")] : []), ...(kept.length > 0 ? [`Never ${kept.join(", nor ")}.`] : []),
    ...(assumed.length > 0 ? [`Taken for granted: ${assumed.join(", ")}.`] : []),
  ];
}

/** Lowest and highest of the column that a heading names. */
export function columnText(here: Here, fact: FigureFact, subject: SubjectResult | undefined): string[] {
  const outcome = recordingAt(here, subject)?.outcome;
  if (!outcome || !("summary" in outcome) || !Object.hasOwn(RECORDED, fact.key.key)) return [];
  const peak = outcome.summary.peaks.find((p) => p.key === fact.key.key);
  const column = outcome.summary.columns.find((c) => c.key === fact.key.key);
  if (!peak || !column) return [];
  const told = (m: Moment) => `${formatValue(m.value, peak.kind, peak.unit)}${m.time === undefined ? "" : ` at ${timeWords(m.time)}`}${m.rpm === undefined ? "" : `, ${Math.round(m.rpm)} rpm`}`;
  return [`From ${told(peak.least)} to ${told(peak.greatest)}; ${column.read} readings${column.missing > 0 ? `, ${column.missing} missing` : ""}.${column.assumed ? " The unit is taken for granted: neither the file nor this build says it." : ""}`];
}

/** Headings of the file where one is being written, those that nothing is named by first. */
export function headingsAt(here: Here, caret: Caret, subject: SubjectResult | undefined): readonly { readonly text: string; readonly free: boolean }[] {
  if (caret.slot !== "string" || caret.path.at(-1)?.word.text !== "log" || !caret.key || !Object.hasOwn(RECORDED, caret.key.text)) return [];
  const recording = recordingAt(here, subject);
  const outcome = recording?.outcome;
  const headings = !outcome ? [] : "summary" in outcome ? outcome.summary.headings : "headings" in outcome.problem ? outcome.problem.headings : [];
  const named = new Set(recording?.question.columns.map((c) => c.heading) ?? []);
  return headings.map((text) => ({ text, free: !named.has(text) }));
}
