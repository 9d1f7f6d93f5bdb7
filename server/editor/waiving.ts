// Accepting a finding in the file: the waiver that would silence it, put beside what it is about. Makes up no reason: an empty one silences
// nothing until a person has written it.
import type { Span } from "../../grammar/tree.ts";
import { acceptance } from "../rules/amount.ts";
import type { Finding, Fix } from "../rules/finding.ts";
import { boundTo } from "../rules/waiver-state.ts";
import { type Analysis, ruleOf } from "../workspace/analyse.ts";
import type { FileEdit } from "./fixes.ts";
import { insertionAfter, tallPhraseAround } from "./items.ts";
import { hereAt } from "./spot.ts";

export interface Waivable {
  readonly finding: Finding;
  /** True where what was found breaks engines: the waiver needs a day on which it ends. */
  readonly needsDate: boolean;
  /** A day to propose, year first: soon enough to be looked at again. */
  readonly until: string;
}

export interface WaiverWords {
  readonly because: string;
  /** Year first. */
  readonly until?: string;
}

/** Common practice, no source: two months, so that nobody forgets, and its end is told a month before. */
const PROPOSED_DAYS = 60;

/** The findings at a place that a waiver can silence: not what the text itself gets wrong, and not what is wrong with a waiver. */
export function waivableAt(analysis: Analysis, uri: string, span: Span): Waivable[] {
  const seen = new Set<string>();
  return (analysis.fileResult(uri)?.findings ?? []).flatMap((finding) => {
    const place = analysis.places.placeOf(finding.at.tree);
    const rule = ruleOf(finding.rule);
    if (!rule || rule.scope === "text" || rule.scope === "waiver" || place?.uri !== uri) return [];
    if (finding.at.span.end + place.start < span.start || finding.at.span.start + place.start > span.end) return [];
    const id = `${finding.rule} ${finding.path ?? ""} ${finding.at.span.start}`;
    if (seen.has(id)) return [];
    seen.add(id);
    return [{ finding, needsDate: rule.breaksEngines === true, until: dayAfter(analysis.asOf, PROPOSED_DAYS) }];
  });
}

/** The edit that writes the waiver. A reason that holds a quote mark or a line end is written without it. */
export function waiverFor(analysis: Analysis, finding: Finding, words: WaiverWords): FileEdit[] {
  const place = analysis.places.placeOf(finding.at.tree);
  const around = tallPhraseAround(finding.at.tree, finding.at.span);
  if (!place || !around) return [];
  const because = words.because.replace(/\s+/g, " ").replaceAll('"', "'").trim();
  const text = `waive ${waivedAs(analysis, finding)}${acceptance(finding)} because "${because}"${words.until === undefined ? "" : ` until ${words.until}`}`;
  const edit = insertionAfter(finding.at.tree, around.block, around.item, text);
  return [{ uri: place.uri, span: { start: edit.span.start + place.start, end: edit.span.end + place.start }, text: edit.text }];
}

/** The fix that binds a waiver which states no figure to what it silences now: offered on the waiver itself. */
export function bindableAt(analysis: Analysis, uri: string, span: Span): Fix | undefined {
  const here = hereAt(analysis, uri, span.start);
  if (!here) return undefined;
  const held = analysis.fileResult(uri)?.waivers.find((w) => w.declaration === here.declaration && here.offset >= w.waiver.span.start && here.offset <= w.waiver.span.end);
  // Of several figures none is the one that was looked at.
  const [only, other] = held?.silences ?? [];
  return held && only && !other && !held.waiver.at ? boundTo(held.declaration, held.waiver, only) : undefined;
}

/** The rule, and the figure by name where the rule finds something of another one inside the same braces: only what was looked at is accepted. */
export function waivedAs(analysis: Analysis, finding: Finding): string {
  const uri = analysis.places.placeOf(finding.at.tree)?.uri;
  const within = tallPhraseAround(finding.at.tree, finding.at.span)?.phrase.span;
  if (finding.path === undefined || uri === undefined || !within) return finding.rule;
  const others = (analysis.fileResult(uri)?.findings ?? []).some(
    (f) => f.rule === finding.rule && f.path !== finding.path && f.at.tree === finding.at.tree && f.at.span.start >= within.start && f.at.span.end <= within.end,
  );
  return others ? `${finding.rule} for ${finding.path}` : finding.rule;
}

/** A day of the calendar so many days later, year first. */
export function dayAfter(day: string, days: number): string {
  const [year = 0, month = 1, date = 1] = day.split("-").map(Number);
  return new Date(Date.UTC(year, month - 1, date + days)).toISOString().slice(0, 10);
}
