// The sheet as HTML: one body for the editor's page and for exports, and the self-contained page around it. Whatever a file says stays text.
// Knows no script: what the editor's page needs to act on is marked with data attributes.
import { type Place, lineWords } from "./place.ts";
import { SHEET_CSS } from "./sheet.css.ts";
import type { SheetFinding, SheetList, SheetModel, SheetSection, SheetTable, SheetWaiver, Trace, ValueRow } from "./sheet-model.ts";
import { visible } from "./visible.ts";
import { listed } from "./wording.ts";

export interface BodyOptions {
  /** `jump`: places are buttons that carry data-file, data-line and data-column, and fixes are buttons. `text`: both are plain text. */
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
  const page = pageOf(options);
  const out = [
    '<main class="sheet">', "<header>", `<h1>${name(model.title)}</h1>`, `<div class="verdict" data-stopped="${model.stopped ? "yes" : "no"}">`, `<p>${model.verdict.map(prose).join(" ")}</p>`, "</div>", "<dl>",
    ...model.facts.map((f) => `<div><dt>${text(f.label)}</dt><dd>${name(f.text)}</dd></div>`), "</dl>", "</header>",
  ];
  if (model.findings.length > 0) out.push(section("put-right-first", "Put right first", ['<ol class="findings">', ...model.findings.map((f, i) => page.finding(f, i)), "</ol>"]));
  if (model.waivers.length > 0) out.push(section("waived", "Waived", ["<ul>", ...model.waivers.map(page.waiver), "</ul>"]));
  if (model.notChecked.length > 0) out.push(section("not-checked", "Not checked", ["<ul>", ...model.notChecked.map((u) => `<li>${prose(u.what)}${u.missing.length > 0 ? `: needs ${listed(u.missing.map(code))}` : ""}</li>`), "</ul>"]));
  out.push(section("engine", "The engine", [`<p>${prose(model.engine)}</p>`]), ...model.sections.map(page.section));
  out.push(section("cautions", "Cautions", [`<p>${text(model.deference)}</p>`, "<dl class=\"cautions\">", ...model.cautions.map((c) => `<dt>${text(c.title)}</dt><dd>${text(c.words)}</dd>`), "</dl>"]), "</main>");
  return out.join("\n");
}

function section(id: string, title: string, inner: readonly string[]): string {
  return [`<section id="${attribute(id)}" data-key="section:${attribute(id)}" aria-labelledby="${attribute(id)}-title">`, `<h2 id="${attribute(id)}-title">${text(title)}</h2>`, ...inner, "</section>"].join("\n");
}

function pageOf({ links }: BodyOptions) {
  const jump = links === "jump";

  const place = (at: Place | undefined): string => {
    if (!at) return "";
    const { line, column } = at.range.start;
    if (!jump) return `<span class="place">${text(lineWords(at))}</span>`;
    return `<button type="button" class="place" data-file="${attribute(at.uri)}" data-line="${line}" data-column="${column}">${text(lineWords(at))}</button>`;
  };

  const finding = (f: SheetFinding, index: number): string => {
    const fixes = f.fixes.map((title, i) => (jump ? `<li><button type="button" data-fix="${i}">${prose(title)}</button></li>` : `<li>Fix: ${prose(title)}</li>`));
    const related = f.related.map((r) => `<li>${prose(r.message)} ${r.places.map(place).join(" ")}</li>`);
    const more = [...related, ...fixes];
    return [
      `<li data-finding="${index}" data-rule="${attribute(f.rule)}" data-severity="${f.severity}"${f.path !== undefined ? ` data-path="${attribute(f.path)}"` : ""}>`,
      `<p><span class="severity">${f.severity}</span> ${prose(f.message)} <code class="rule">${text(f.rule)}</code> ${place(f.place)}</p>`,
      ...(more.length > 0 ? ["<ul>", ...more, "</ul>"] : []), "</li>",
    ].join("\n");
  };

  const waiver = (w: SheetWaiver): string => {
    const silences = w.silences.length > 0 ? `<ul>${w.silences.map((s) => `<li>${prose(s)}</li>`).join("")}</ul>` : "<ul><li>Silences nothing now.</li></ul>";
    return `<li><p><code class="rule">${text(w.rule)}</code>${w.until !== undefined ? ` until ${text(w.until)}` : ""}, because “${name(w.reason)}” ${place(w.place)}</p>${silences}</li>`;
  };

  const sectionOf = (s: SheetSection): string =>
    section(s.id, s.title, [
      ...s.drawings.map((d) => `<figure data-drawing="${attribute(d.id)}">${d.svg}<figcaption>${text(d.title)}</figcaption></figure>`),
      ...(s.values.length > 0 ? [valuesTable(s)] : []), ...s.tables.map(table), ...s.lists.map(list),
      ...(s.missing.length > 0 ? [`<details class="missing" data-trace="missing:${attribute(s.id)}"><summary>Not worked out: ${s.missing.length}</summary><ul>`, ...s.missing.map((m) => `<li data-value="${attribute(m.id)}">${name(m.label)}: ${prose(m.why)}</li>`), "</ul></details>"] : []),
    ]);

  const valuesTable = (s: SheetSection): string => {
    const spread = s.values.some((v) => v.spread !== "");
    const limit = s.values.some((v) => v.limit);
    const heads = ["Value", "Figure", "Also", ...(spread ? ["Spread"] : []), ...(limit ? ["Limit", "Margin"] : [])];
    return [
      '<div class="wide"><table class="values">', `<caption class="hidden">${text(s.title)}: values</caption>`, `<thead><tr>${heads.map((h) => `<th scope="col">${h}</th>`).join("")}</tr></thead>`,
      ...s.values.map((v) => valueRow(v, spread, limit, heads.length)), "</table></div>",
    ].join("\n");
  };

  const valueRow = (v: ValueRow, spread: boolean, limit: boolean, columns: number): string => {
    const notes = [v.estimate ? '<span class="note">estimate</span>' : "", v.mark ? `<span class="severity" data-severity="${v.mark}">${v.mark}</span>` : ""].filter((t) => t !== "").join(" ");
    const cells = [
      `<th scope="row">${name(v.label)}${notes ? ` ${notes}` : ""}</th>`, `<td class="figure">${text(v.value)}</td>`, `<td class="figure other">${text(v.other)}</td>`,
      ...(spread ? [`<td class="figure">${text(v.spread)}</td>`] : []),
      ...(limit ? [`<td class="figure limit">${v.limit ? `${text(v.limit.text)} <span class="note">${name(v.limit.origin)}</span>` : ""}</td>`, `<td class="figure">${v.limit ? `${text(v.limit.margin)}${v.limit.kept ? "" : ' <span class="severity" data-severity="error">short</span>'}` : ""}</td>`] : []),
    ];
    return [
      `<tbody data-value="${attribute(v.id)}">`, `<tr>${cells.join("")}</tr>`,
      `<tr class="how"><td colspan="${columns}"><details data-trace="${attribute(v.id)}"><summary>how<span class="hidden"> ${text(v.label)} was worked out</span></summary>${trace(v.trace, v.value)}</details></td></tr>`, "</tbody>",
    ].join("\n");
  };

  const trace = (t: Trace, value: string): string =>
    [
      `<p>${prose(t.words)}</p>`, `<p class="formula">${text(t.expression)}</p>`, `<p class="formula">= ${text(t.worked)}</p>`, `<p class="formula">= ${text(value)}</p>`, "<ul>",
      ...t.inputs.map((i) => `<li${i.valueId !== undefined ? ` data-rests-on="${attribute(i.valueId)}"` : ""}><i>${text(i.name)}</i>: ${prose(i.words)}, ${text(i.value)}${i.origin ? `, ${name(i.origin)}` : ""} ${place(i.place)}</li>`),
      ...t.assumptions.map((a) => `<li>Assumed: ${prose(a)}</li>`), ...(t.estimate !== undefined ? [`<li>An estimate: ${prose(t.estimate)}</li>`] : []), "</ul>", `<p class="note">${prose(t.source)}</p>`,
    ].join("");

  const table = (t: SheetTable): string => {
    const placed = t.rows.some((r) => r.place);
    return [
      `<div class="wide"><table>`, `<caption>${name(t.caption)}</caption>`, `<thead><tr>${t.heads.map((h) => `<th scope="col">${name(h)}</th>`).join("")}${placed ? '<th scope="col"><span class="hidden">Line</span></th>' : ""}</tr></thead>`, "<tbody>",
      ...t.rows.map((r) => `<tr>${r.cells.map((c, i) => (i === 0 ? `<th scope="row">${name(c)}</th>` : `<td>${name(c)}</td>`)).join("")}${placed ? `<td>${place(r.place)}</td>` : ""}</tr>`),
      "</tbody>", "</table></div>",
    ].join("\n");
  };

  const list = (l: SheetList): string =>
    [
      `<h3>${name(l.caption)}</h3>`, `<ul${l.ticks ? ' class="ticks"' : ""}>`,
      ...l.items.map((i) => `<li>${l.ticks ? `<span class="box" role="img" aria-label="${i.done !== undefined ? "done" : "to do"}">${i.done !== undefined ? "✓" : ""}</span> ` : ""}${prose(i.text)}${i.done ? `, ${text(i.done)}` : ""} ${place(i.place)}</li>`), "</ul>",
    ].join("\n");

  return { finding, waiver, section: sectionOf };
}

/** Text in which nothing is markup and nothing hides. */
function text(raw: string): string {
  return visible(raw).replace(/[&<>"']/g, (c) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" })[c] as string);
}

/** Text that a person chose, kept from turning the direction of what stands beside it. */
function name(raw: string): string {
  return /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]/.test(raw) ? `<bdi>${text(raw)}</bdi>` : text(raw);
}

/** A sentence in which `words between backticks` are code. */
function prose(raw: string): string {
  return raw.split(/(`[^`]+`)/).map((piece) => (piece.length > 2 && piece.startsWith("`") && piece.endsWith("`") ? code(piece.slice(1, -1)) : name(piece))).join("");
}

function code(raw: string): string {
  return `<code>${name(raw)}</code>`;
}

function attribute(raw: string): string {
  return text(raw);
}
