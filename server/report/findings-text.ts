// Findings for a person at a terminal: where, what, the line underlined, what else is concerned, what would mend it. Knows no colours.
import type { Finding } from "../rules/finding.ts";
import { type CheckedFile, type Run, type Summary, summaryOf } from "./checked.ts";
import { type Atlas, type Place, lineWords, pointWords } from "./place.ts";
import { shortened, visible, visibleLine } from "../../grammar/visible.ts";
import { counted, listed, plural } from "./wording.ts";

/** The whole report of a check, ending with the summary. */
export function checkText(files: readonly CheckedFile[], run: Run): string {
  const blocks = files.flatMap((file) => file.findings.map((f) => findingText(f, file.atlas)));
  return [...blocks, summaryText(summaryOf(files, run), files)].join("\n\n") + "\n";
}

/** One finding; several lines without a line end. */
export function findingText(finding: Finding, atlas: Atlas): string {
  const at = atlas.placeOf(finding.at);
  const lines = [`${at ? `${visible(pointWords(at))}: ` : ""}${finding.severity}: ${finding.rule}: ${visible(finding.message)}`];
  if (at) lines.push(...excerpt(at, atlas));
  for (const r of finding.related) {
    const place = atlas.placeOf(r.at);
    lines.push(`  see ${place ? `${visible(pointWords(place))}: ` : ""}${visible(r.message)}`);
  }
  for (const fix of finding.fixes) lines.push(`  fix: ${visible(fix.title)}`);
  return lines.join("\n");
}

/** As much of a line as a terminal shows, and how much of it stands before what is pointed at. */
const WIDTH = 120;
const BEFORE = 40;

function excerpt(at: Place, atlas: Atlas): string[] {
  const { start, end } = at.range;
  const line = atlas.lineOf(at.uri, start.line);
  const from = start.column - 1;
  const to = end.line === start.line ? Math.min(end.column - 1, line.length) : line.length;
  const left = line.length <= WIDTH ? 0 : Math.max(0, from - BEFORE);
  const right = Math.min(line.length, left + WIDTH);
  const shown = (a: number, b: number) => visibleLine(line.slice(a, Math.max(a, Math.min(b, right))));
  const before = (left > 0 ? "…" : "") + shown(left, from);
  const under = shown(from, to);
  const gutter = String(start.line);
  const pad = before.replace(/[^\t]/gu, " ");
  return [
    `  ${gutter} | ${before}${under}${shown(Math.max(from, to), right)}${right < line.length ? "…" : ""}`,
    `  ${" ".repeat(gutter.length)} | ${pad}${"^".repeat(Math.max(1, [...under].length))}`,
  ];
}

/** What was checked against what, and how much was found. */
export function summaryLine(summary: Summary): string {
  const ran = `Checked ${counted(summary.files, "file")} and ${counted(summary.builds, "build")} against ${counted(summary.rules, "rule")}, as of ${summary.asOf}`;
  const found = summary.error + summary.warning + summary.advice === 0
    ? "nothing found"
    : listed([...(["error", "warning"] as const).map((s) => (summary[s] > 0 ? counted(summary[s], s) : "")), summary.advice > 0 ? counted(summary.advice, "piece of advice", "pieces of advice") : ""].filter((t) => t !== ""));
  return `${ran}: ${found}.`;
}

function summaryText(summary: Summary, files: readonly CheckedFile[]): string {
  const lines = [summaryLine(summary)];
  for (const u of summary.notChecked)
    lines.push(`Not checked on ${visible(u.build)}: ${visible(u.what)}${u.missing.length > 0 ? `, for want of ${listed(u.missing.map(visible))}` : ""}.`);
  for (const file of files)
    for (const f of file.waived) {
      const at = file.atlas.placeOf(f.at);
      const until = f.waiver?.until ? ` until ${f.waiver.until.text}` : "";
      lines.push(`Waived${until}: ${f.rule}${at ? ` at ${visible(lineWords(at))}` : ""}, because "${shortened(visible(f.waiver?.because ?? ""), 200)}".`);
    }
  for (const [rule, count] of Object.entries(summary.off)) lines.push(`Turned off by the shop: ${counted(count, "finding")} of ${rule}.`);
  if (summary.waived > 0) lines.push(`${counted(summary.waived, "finding")} ${plural(summary.waived, "is", "are")} waived and not counted above.`);
  return lines.join("\n");
}
