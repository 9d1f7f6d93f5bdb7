// The sheet as HTML: one body for the editor's page and for exports, and the self-contained page around it. Whatever a file says stays text.
// Knows no script: what the editor's page needs to act on is marked with data attributes.
import { code, name, prose, text } from "./markup.ts";
import { type Links, linksTo } from "./sheet-html-links.ts";
import { sectionParts } from "./sheet-html-section.ts";
import { SHEET_CSS } from "./sheet.css.ts";
import type { SheetFinding, SheetModel, SheetWaiver } from "./sheet-model.ts";
import { waiverTerms } from "./waiver-report.ts";
import { listed } from "./wording.ts";

export interface BodyOptions {
  /** `jump`: places and figures are buttons that carry data-file, data-line and data-column, and fixes are buttons. `text`: all are plain text. */
  readonly links: "jump" | "text";
}

/** A page that reads without script and without network. */
export function sheetHtml(model: SheetModel): string {
  return [
    "<!doctype html>",
    '<html lang="en">',
    "<head>",
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="color-scheme" content="light dark">',
    `<title>${text(model.title)}: build sheet</title>`,
    `<style>${SHEET_CSS}</style>`,
    "</head>",
    "<body>",
    renderSheetBody(model, { links: "text" }),
    "</body>",
    "</html>",
    "",
  ].join("\n");
}

export function renderSheetBody(model: SheetModel, options: BodyOptions = { links: "text" }): string {
  const links = linksTo(options.links);
  const sections: { readonly id: string; readonly title: string; readonly inner: readonly string[] }[] = [];
  const add = (id: string, title: string, inner: readonly string[]): void => void sections.push({ id, title, inner });

  if (model.findings.length > 0) add("put-right-first", "Put right first", ['<ol class="findings">', ...model.findings.map((f, i) => findingItem(f, i, links)), "</ol>"]);
  if (model.waivers.length > 0) add("waived", "Waived", ['<ul class="waivers">', ...model.waivers.map((w) => waiverItem(w, links)), "</ul>"]);
  if (model.notChecked.length > 0) add("not-checked", "Not checked", ["<ul>", ...model.notChecked.map((u) => `<li>${prose(u.what)}${u.missing.length > 0 ? `: needs ${listed(u.missing.map(code))}` : ""}</li>`), "</ul>"]);
  add("engine", "The engine", [`<p>${prose(model.engine)}</p>`]);
  for (const section of model.sections) add(section.id, section.title, sectionParts(section, links));
  add("cautions", "Cautions", [`<p>${text(model.deference)}</p>`, '<dl class="cautions">', ...model.cautions.map((c) => `<div><dt>${text(c.title)}</dt><dd>${text(c.words)}</dd></div>`), "</dl>"]);

  const [first = "", ...rest] = model.verdict;
  return [
    '<main class="sheet">', "<header>", `<h1>${name(model.title)}</h1>`,
    `<div class="verdict" data-stopped="${model.stopped ? "yes" : "no"}"${links.live ? ' aria-live="polite"' : ""}>`, `<p><strong>${prose(first)}</strong>${rest.map((s) => ` ${prose(s)}`).join("")}</p>`, "</div>", ...(model.kept !== undefined ? [`<p class="kept" role="status">${prose(model.kept)}</p>`] : []),
    '<dl class="facts">', ...model.facts.map((f) => `<div><dt>${text(f.label)}</dt><dd>${name(f.text)}</dd></div>`), "</dl>", "</header>",
    '<nav aria-label="On this sheet">', "<ul>", ...sections.map(({ id, title }) => `<li><a href="#${text(id)}">${text(title)}</a></li>`), "</ul>", `<p class="note">${links.hint}</p>`, "</nav>",
    ...sections.map(({ id, title, inner }) => [`<section id="${text(id)}" data-key="section:${text(id)}" aria-labelledby="${text(id)}-title">`, `<h2 id="${text(id)}-title">${text(title)}</h2>`, ...inner, "</section>"].join("\n")),
    "</main>",
  ].join("\n");
}

function findingItem(f: SheetFinding, index: number, links: Links): string {
  const related = f.related.map((r) => `<li>${prose(r.message)} ${r.places.map(links.place).join(" ")}</li>`);
  const fixes = f.fixes.map((title, i) => `<li>Fix: ${links.fix(title, i)}</li>`);
  const more = [...related, ...fixes];
  return [
    `<li data-finding="${index}" data-rule="${text(f.rule)}" data-severity="${f.severity}"${f.path !== undefined ? ` data-path="${text(f.path)}"` : ""}>`,
    `<p><span class="severity">${f.severity}</span> ${prose(f.message)}</p>`, `<p class="note"><code class="rule">${text(f.rule)}</code> ${links.place(f.place)}</p>`,
    ...(more.length > 0 ? ["<ul>", ...more, "</ul>"] : []), "</li>",
  ].join("\n");
}

function waiverItem(w: SheetWaiver, links: Links): string {
  const silences = w.silences.length > 0 ? w.silences.map((s) => `<li>${prose(s)}</li>`).join("") : "<li>Silences nothing now.</li>";
  return `<li><p><code class="rule">${text(w.rule)}</code>${text(waiverTerms(w))}, because “${name(w.reason)}” ${links.place(w.place)}</p><ul>${silences}</ul></li>`;
}
