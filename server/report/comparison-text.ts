// A comparison for a terminal: counts first, then what was changed, numbered, then what follows, each with the numbers it follows from.
import { visible } from "../../grammar/visible.ts";
import { SECTIONS } from "../schema/sections.ts";
import type { BuildComparison, Cause, ComparedFinding, Comparison } from "./comparison.ts";
import { causeOrigins, causePlaces, causedBy, countsSentence, fileWords, findingWords, headline, looseTitle, marginWords, sideText, toldValues, valueLabel, valueSides } from "./comparison-words.ts";
import { lineWords } from "./place.ts";
import { counted } from "./wording.ts";

export function comparisonText(comparison: Comparison): string {
  const blocks = [[headline(comparison)], ...comparison.builds.map(buildLines)];
  for (const one of comparison.loose) blocks.push([`${looseTitle(one)} (${fileWords(one)})`, ...causeLines(one.causes)]);
  if (comparison.elsewhere.length > 0) blocks.push(["Findings that belong to no build compared", ...findingLines(comparison.elsewhere)]);
  if (comparison.notes.length > 0) blocks.push(comparison.notes.map((n) => `Note: ${n}`));
  return `${blocks.map((lines) => lines.map(visible).join("\n")).join("\n\n")}\n`;
}

function buildLines(b: BuildComparison): string[] {
  const named = b.title === b.name ? b.name : `${b.name} "${b.title}"`;
  const lines = [`${named} (${fileWords(b)})`, countsSentence(b)];
  for (const r of b.renamed) lines.push(`${r.sort} ${r.from} goes by the name ${r.to} now`);
  if (b.causes.length > 0) lines.push("", "Changed", ...causeLines(b.causes));
  if (b.respelt.length > 0) lines.push("", "Written in another unit, and the same as near as its digits tell", ...b.respelt.map((c) => `     ${c.path}  ${sideText(c.from?.text ?? "")} → ${sideText(c.to?.text ?? "")}`));
  if (b.findings.length > 0) lines.push("", "Findings", ...findingLines(b.findings));
  if (b.margins.length > 0) lines.push("", "Margins", ...b.margins.map((m) => `     ${m.label}: ${marginWords(m)}${tail(causedBy(m.causes))}`));
  const values = toldValues(b.values);
  const seen = values.filter((v) => !v.unseen);
  for (const { id, title } of SECTIONS) {
    const own = seen.filter((v) => v.section === id);
    if (own.length === 0) continue;
    lines.push("", `${title}, in consequence`);
    for (const v of own) lines.push(`     ${valueLabel(v)}: ${valueSides(v).join(" → ")}${tail(causedBy(v.causes))}`);
  }
  const unseen = values.length - seen.length;
  if (unseen > 0) lines.push("", `${counted(unseen, "value")} more ${unseen === 1 ? "differs" : "differ"} by less than the sheet shows.`);
  if (b.unchecked.length > 0) lines.push("", ...b.unchecked.map((u) => `     ${u.what}: ${u.change}${u.missing.length > 0 ? `, for want of ${u.missing.join(", ")}` : ""}`));
  if (b.tune) lines.push("", "Tune", `     ${b.tune.from === b.tune.to ? b.tune.to : `${b.tune.from} → ${b.tune.to}`}${b.tune.stale ? "; made for other figures than the engine has now" : ""}`);
  return lines;
}

function causeLines(causes: readonly Cause[]): string[] {
  return causes.flatMap((c) => {
    const number = String(c.number).padStart(3);
    const of = c.sort === "figure" ? c.path : c.label;
    const [from, to] = [c.from?.text ?? "", c.to?.text ?? ""];
    // What is long stands on lines of its own, one for each side.
    const change = from.length + to.length > 90 ? [`${number}  ${of}`, ...(from ? [`     - ${from}`] : []), ...(to ? [`     + ${to}`] : [])] : [`${number}  ${of}: ${sideText(from)} → ${sideText(to)}`];
    const where = [causeOrigins(c), causePlaces(c)].filter((t) => t !== "").join("; ");
    return [...change, ...(where === "" ? [] : [`       ${where}`])];
  });
}

function findingLines(findings: readonly ComparedFinding[]): string[] {
  return findings.flatMap((f) => {
    const now = f.to ?? f.from;
    if (!now) return [];
    return [
      `     ${findingWords(f)}: ${now.severity}: ${f.rule}: ${now.message}${now.place ? ` (${lineWords(now.place)})` : ""}${tail(causedBy(f.causes))}`,
      ...(f.from && f.to && f.from.message !== f.to.message ? [`       before: ${f.from.message}`] : []),
    ];
  });
}

function tail(words: string): string {
  return words === "" ? "" : `  [${words}]`;
}
