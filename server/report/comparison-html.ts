// A comparison as HTML: one body for the editor's page and for exports, and the self-contained page around it. What was changed stands on the
// left, what follows on the right. Whatever a file says stays text; reads without script.
import { SECTIONS } from "../schema/sections.ts";
import { COMPARISON_CSS } from "./comparison.css.ts";
import { type BuildComparison, type Cause, type CauseSide, type ComparedFinding, type ComparedValue, type Comparison, isEmpty } from "./comparison.ts";
import { countsSentence, fileWords, findingWords, headline, looseTitle, marginWords, sideText, toldValues, valueLabel, valueSides } from "./comparison-words.ts";
import { code, figure, name, prose, text } from "./markup.ts";
import { type Links, linksTo } from "./sheet-html-links.ts";
import { SHEET_CSS } from "./sheet.css.ts";
import { capital, counted, numberWord, plural } from "./wording.ts";

export function comparisonHtml(comparison: Comparison): string {
  return [
    "<!doctype html>", '<html lang="en">', "<head>", '<meta charset="utf-8">', `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">', '<meta name="color-scheme" content="light dark">', `<title>${text(`${comparison.before.label} to ${comparison.after.label}`)}: what changed</title>`,
    `<style>${SHEET_CSS}\n${COMPARISON_CSS}</style>`, "</head>", "<body>", renderComparisonBody(comparison), "</body>", "</html>", "",
  ].join("\n");
}

export interface ComparisonBodyOptions {
  readonly links: "jump" | "text";
  /** A control that leads back to where the reader came from, in the editor. */
  readonly back?: string;
}

export function renderComparisonBody(comparison: Comparison, options: ComparisonBodyOptions = { links: "text" }): string {
  const links = linksTo(options.links);
  const { counts } = comparison;
  const stops = counts.newErrors > 0 ? `${capital(numberWord(counts.newErrors))} ${plural(counts.newErrors, "thing stops", "things stop")} an engine now that did not before.` : isEmpty(comparison) ? "" : "Nothing new was found that stops an engine.";
  return [
    '<main class="sheet comparison">', "<header>", "<h1>What changed, and what follows</h1>", `<div class="verdict" data-stopped="${counts.newErrors > 0 ? "yes" : "no"}"><p><strong>${name(headline(comparison))}</strong> ${text(stops)}</p></div>`,
    '<dl class="facts">', fact("As of", comparison.asOf), "</dl>",
    ...(options.back !== undefined ? [`<nav><button type="button" data-back="yes">${text(options.back)}</button></nav>`] : []), "</header>",
    ...comparison.builds.map((b, i) => build(b, i + 1, links)),
    ...comparison.loose.map((one, i) => section(`loose-${i + 1}`, looseTitle(one), [`<p class="note">${name(fileWords(one))}</p>`, causeList(one.causes, `loose-${i + 1}`, links)])),
    ...(comparison.elsewhere.length > 0 ? [section("elsewhere", "Findings that belong to no build compared", [findingList(comparison.elsewhere, "elsewhere", links)])] : []),
    ...(comparison.notes.length > 0 ? [section("notes", "Notes", ["<ul>", ...comparison.notes.map((n) => `<li>${name(n)}</li>`), "</ul>"])] : []),
    "</main>",
  ].join("\n");
}

function fact(label: string, said: string): string {
  return `<div><dt>${text(label)}</dt><dd>${name(said)}</dd></div>`;
}

function section(id: string, title: string, inner: readonly string[]): string {
  return [`<section id="${id}" data-key="section:${id}" aria-labelledby="${id}-title">`, `<h2 id="${id}-title">${name(title)}</h2>`, ...inner, "</section>"].join("\n");
}

function build(b: BuildComparison, index: number, links: Links): string {
  const id = `build-${index}`;
  const left = [
    ...(b.renamed.length > 0 ? ["<ul>", ...b.renamed.map((r) => `<li>${text(capital(r.sort))} ${code(r.from)} goes by the name ${code(r.to)} now</li>`), "</ul>"] : []),
    ...(b.causes.length > 0 ? [causeList(b.causes, id, links)] : b.fate === "changed" ? ["<p>No figure changed.</p>"] : []),
    ...(b.respelt.length > 0 ? ['<p class="note">Written in another unit, and the same as near as its digits tell:</p>', "<ul>", ...b.respelt.map((r) => `<li>${code(r.path)}: ${figure(sideText(r.from?.text ?? ""))} → ${figure(sideText(r.to?.text ?? ""))}</li>`), "</ul>"] : []),
  ];
  const right = consequences(b, id, links);
  const sides = b.fate === "changed" ? ['<div class="sides">', '<div class="changed"><h3>Changed</h3>', ...left, "</div>", '<div class="consequences"><h3>In consequence</h3>', ...(right.length > 0 ? right : ["<p>No value, margin or finding follows from it.</p>"]), "</div>", "</div>"] : right;
  return section(id, b.title, [`<p><strong>${text(countsSentence(b))}</strong> <span class="place">${name(fileWords(b))}</span></p>`, ...sides]);
}

function causeList(causes: readonly Cause[], id: string, links: Links): string {
  if (causes.length === 0) return "";
  // Who gives a figure is said once where it is the same as before.
  const side = (s: CauseSide | undefined, kind: "was" | "is", silent = false) => `<span class="${kind}">${s ? figure(s.text) : '<span class="note">nothing</span>'}${s && s.origin !== "" && !silent ? ` <span class="note">${name(s.origin)}</span>` : ""} ${links.place(s?.place)}</span>`;
  return ['<ol class="causes">', ...causes.map((c) => `<li id="${id}-${c.number}" data-path="${text(c.path)}"><span class="number">${c.number}</span><span>${c.sort === "figure" ? code(c.path) : name(capital(c.label))}${side(c.from, "was", c.from?.origin === c.to?.origin)}${side(c.to, "is")}</span></li>`), "</ol>"].join("\n");
}

function by(causes: readonly number[], id: string): string {
  return causes.map((n) => `<a class="cause" href="#${id}-${n}" aria-label="by change ${n}">${n}</a>`).join(" ");
}

function consequences(b: BuildComparison, id: string, links: Links): string[] {
  const out: string[] = [];
  if (b.findings.length > 0) out.push(findingList(b.findings, id, links));
  const rows: string[] = [];
  if (b.margins.length > 0) rows.push(group("Margins", b.margins.map((m) => `<tr data-margin="${text(m.id)}"><th scope="row">${name(m.label)}</th><td colspan="2">${figure(marginWords(m))}</td><td class="by">${by(m.causes, id)}</td></tr>`)));
  const values = toldValues(b.values);
  const seen = values.filter((v) => !v.unseen);
  for (const s of SECTIONS) {
    const own = seen.filter((v) => v.section === s.id);
    if (own.length > 0) rows.push(group(s.title, own.map((v) => valueLine(v, id))));
  }
  if (rows.length > 0) out.push('<table class="follows">', '<caption class="hidden">Values and margins that differ</caption>', '<thead><tr><th scope="col">Value</th><th scope="col">Before</th><th scope="col">Now</th><th scope="col" class="by">By</th></tr></thead>', ...rows, "</table>");
  const unseen = values.length - seen.length;
  if (unseen > 0) out.push(`<p class="note">${counted(unseen, "value")} more ${unseen === 1 ? "differs" : "differ"} by less than the sheet shows.</p>`);
  if (b.unchecked.length > 0) out.push("<ul>", ...b.unchecked.map((u) => `<li>${prose(capital(u.what))}: <span class="turn">${u.change}</span>${u.missing.length > 0 ? `, for want of ${u.missing.map(code).join(", ")}` : ""}</li>`), "</ul>");
  if (b.tune) out.push(`<p><span class="turn">Tune</span>: ${name(b.tune.from === b.tune.to ? b.tune.to : `${b.tune.from} → ${b.tune.to}`)}${b.tune.stale ? "; made for other figures than the engine has now" : ""}.</p>`);
  return out;
}

function group(title: string, rows: readonly string[]): string {
  return ["<tbody>", `<tr><th colspan="4" scope="rowgroup">${text(title)}</th></tr>`, ...rows, "</tbody>"].join("\n");
}

function valueLine(v: ComparedValue, id: string): string {
  return `<tr data-value="${text(v.id)}"><th scope="row">${name(valueLabel(v))}</th>${valueSides(v).map((t) => `<td>${figure(t)}</td>`).join("")}<td class="by">${by(v.causes, id)}</td></tr>`;
}

function findingList(findings: readonly ComparedFinding[], id: string, links: Links): string {
  return ['<ul class="findings">', ...findings.map((f) => {
    const now = f.to ?? f.from;
    if (!now) return "";
    const before = f.from && f.to && f.from.message !== f.to.message ? `<p class="note">Before: ${prose(f.from.message)}</p>` : "";
    return `<li data-rule="${text(f.rule)}" data-severity="${now.severity}" data-change="${f.change}"><p><span class="turn">${text(capital(findingWords(f)))}</span>: <span class="severity">${now.severity}</span> ${prose(now.message)}</p><p class="note">${code(f.rule)} ${links.place(now.place)} ${by(f.causes, id)}</p>${before}</li>`;
  }), "</ul>"].join("\n");
}
