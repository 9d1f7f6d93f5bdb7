// A comparison as Markdown, for a review or a repository page. Whatever a file says stays text: nothing in it can become markup.
import type { BuildComparison, Cause, ComparedFinding, Comparison } from "./comparison.ts";
import { causeOrigins, causePlaces, causedBy, countsSentence, fileWords, findingWords, headline, looseTitle, marginWords, sideText, toldValues, valueLabel, valueSides } from "./comparison-words.ts";
import { lineWords } from "./place.ts";
import { grid, prose, text } from "./sheet-markdown.ts";
import { capital, counted } from "./wording.ts";

export function comparisonMarkdown(c: Comparison): string {
  const out = ["# What changed, and what follows", "", text(headline(c)), ...c.builds.flatMap(buildLines)];
  for (const one of c.loose) out.push("", `## ${text(looseTitle(one))}`, "", text(fileWords(one)), ...causeTable(one.causes));
  if (c.elsewhere.length > 0) out.push("", "## Findings that belong to no build compared", "", ...c.elsewhere.flatMap(findingLines));
  if (c.notes.length > 0) out.push("", "## Notes", "", ...c.notes.map((n) => `- ${text(n)}`));
  return `${out.join("\n")}\n`;
}

function buildLines(b: BuildComparison): string[] {
  const out = ["", `## ${text(b.title)}`, "", `**${text(countsSentence(b))}** ${text(fileWords(b))}`];
  if (b.renamed.length > 0) out.push("", ...b.renamed.map((r) => `- ${capital(r.sort)} ${text(r.from)} goes by the name ${text(r.to)} now`));
  if (b.causes.length > 0) out.push("", "### Changed", ...causeTable(b.causes));
  if (b.respelt.length > 0) out.push("", "Written in another unit, and the same as near as its digits tell:", "", ...b.respelt.map((r) => `- ${text(r.path)}: ${text(sideText(r.from?.text ?? ""))} → ${text(sideText(r.to?.text ?? ""))}`));
  const values = toldValues(b.values);
  const seen = values.filter((v) => !v.unseen);
  if (b.findings.length > 0) out.push("", "### Findings", "", ...b.findings.flatMap(findingLines));
  if (b.margins.length > 0) out.push("", "### Margins", "", ...b.margins.map((m) => `- ${text(m.label)}: ${text(marginWords(m))}${by(m.causes)}`));
  if (seen.length > 0) out.push("", "### In consequence", "", ...grid(["Value", "Before", "After", "By"], seen.map((v) => [text(valueLabel(v)), ...valueSides(v).map(text), v.causes.join(", ")])));
  const unseen = values.length - seen.length;
  if (unseen > 0) out.push("", `${counted(unseen, "value")} more ${unseen === 1 ? "differs" : "differ"} by less than the sheet shows.`);
  if (b.unchecked.length > 0) out.push("", ...b.unchecked.map((u) => `- ${text(capital(u.what))}: ${u.change}${u.missing.length > 0 ? `, for want of ${text(u.missing.join(", "))}` : ""}`));
  if (b.tune) out.push("", `Tune: ${text(b.tune.from === b.tune.to ? b.tune.to : `${b.tune.from} → ${b.tune.to}`)}${b.tune.stale ? "; made for other figures than the engine has now" : ""}.`);
  return out;
}

function causeTable(causes: readonly Cause[]): string[] {
  if (causes.length === 0) return [];
  const rows = causes.map((c) => [String(c.number), text(c.sort === "figure" ? c.path : c.label), text(sideText(c.from?.text ?? "")), text(sideText(c.to?.text ?? "")), text([causeOrigins(c), causePlaces(c)].filter((t) => t !== "").join("; "))]);
  return ["", ...grid(["", "What", "Before", "After", "Where"], rows)];
}

function findingLines(f: ComparedFinding): string[] {
  const now = f.to ?? f.from;
  if (!now) return [];
  const before = f.from && f.to && f.from.message !== f.to.message ? [`  - Before: ${prose(f.from.message)}`] : [];
  return [`- **${text(findingWords(f))}**, ${now.severity}, ${text(f.rule)}: ${prose(now.message)}${now.place ? ` (${text(lineWords(now.place))})` : ""}${by(f.causes)}`, ...before];
}

function by(causes: readonly number[]): string {
  return causes.length > 0 ? `, ${causedBy(causes)}` : "";
}
