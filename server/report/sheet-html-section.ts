// A section of the sheet as HTML: drawings, the table of values with the trace of each, the tables and lists of what the files say.
// Columns of figures stand in the same place in every section, so that the eye runs down one line of them.
import { figure, name, prose, text, wholeFigure } from "./markup.ts";
import type { Place } from "./place.ts";
import type { Links } from "./sheet-html-links.ts";
import type { SheetList, SheetSection, SheetTable, ValueRow } from "./sheet-model.ts";

/** What stands under a section's heading. */
export function sectionParts(section: SheetSection, links: Links): readonly string[] {
  return [
    ...section.drawings.map((d) => `<figure data-drawing="${text(d.id)}">${d.svg}<figcaption>${text(d.title)}</figcaption></figure>`),
    ...(section.values.length > 0 ? [valuesTable(section, links)] : []),
    ...section.tables.map((t) => table(t, links)),
    ...section.lists.map((l) => list(l, links)),
    ...(section.missing.length > 0 ? [notWorkedOut(section)] : []),
  ];
}

function notWorkedOut(section: SheetSection): string {
  const items = section.missing.map((m) => `<li data-value="${text(m.id)}">${name(m.label)}: ${prose(m.why)}</li>`);
  return [`<details class="missing" data-trace="missing:${text(section.id)}"><summary>Not worked out: ${section.missing.length}</summary><ul>`, ...items, "</ul></details>"].join("\n");
}

function valuesTable(section: SheetSection, links: Links): string {
  const { values } = section;
  const spread = values.some((v) => v.spread !== "");
  const limit = values.some((v) => v.limit);
  const last = spread && limit ? "Spread, limit and margin" : spread ? "Spread" : limit ? "Limit and margin" : "";
  return [
    '<table class="values">', `<caption class="hidden">${text(section.title)}: values</caption>`,
    `<thead><tr><th scope="col" class="label">Value</th><th scope="col" class="figure">Figure</th><th scope="col" class="other">Also</th>${last === "" ? "<td></td>" : `<th scope="col" class="bounds">${last}</th>`}</tr></thead>`,
    ...values.flatMap((v, i) => [...(v.group && v.group.name !== values[i - 1]?.group?.name ? [groupHead(v.group.name)] : []), valueRow(v, links)]), "</table>",
  ].join("\n");
}

function groupHead(of: string): string {
  return `<tbody class="group" data-key="group:${text(of)}"><tr><th scope="rowgroup" colspan="4">${name(of)}</th></tr></tbody>`;
}

function valueRow(v: ValueRow, links: Links): string {
  const label = v.group ? `<span class="hidden">${name(v.group.name)}: </span>${name(v.group.label)}` : name(v.label);
  const marks = [v.kept ? ' <span class="note">as last worked out</span>' : "", v.estimate ? ' <span class="note">estimate</span>' : "", v.mark ? ` <span class="severity" data-severity="${v.mark}">${v.mark}</span>` : ""].join("");
  const tried = v.before ? ` ${triedNote(v, v.before)}` : "";
  const rests = v.trace.inputs.find((i) => i.place)?.place;
  const bounds = [v.spread === "" ? "" : `<span class="spread">${wholeFigure(v.spread)}</span>`, v.limit ? `<span class="limit">${limit(v.limit)}</span>` : ""].join(" ").trim();
  return [
    `<tbody data-value="${text(v.id)}"${v.kept ? ' class="kept"' : v.before ? ' class="tried"' : ""}>`,
    `<tr><th scope="row" class="label">${label}${marks}${tried}</th><td class="figure">${links.figure(sizeBeside(v), rests)}</td><td class="other">${wholeFigure(v.other)}</td><td class="bounds">${bounds}</td></tr>`,
    ...(v.measured ? [`<tr class="measured"><th scope="row" class="label"><span class="note">${name(v.measured.label)}</span></th><td class="figure">${wholeFigure(v.measured.value)}</td><td class="other">${wholeFigure(v.measured.other)}</td><td class="bounds"></td></tr>`] : []),
    `<tr class="how"><td colspan="4"><details data-trace="${text(v.id)}"><summary><span class="hidden">How ${text(v.label)} was worked out</span></summary>${trace(v, links)}</details></td></tr>`, "</tbody>",
  ].join("\n");
}

/** What a trial makes of a value: what it is as written, and as tried. */
function triedNote({ value, measured, limit: bound }: ValueRow, before: NonNullable<ValueRow["before"]>): string {
  const to = '<span aria-hidden="true">→</span><span class="hidden">to</span>';
  const [what, was, now] = before.value !== undefined ? ["", before.value, value] : before.measured !== undefined ? ["as measured ", before.measured, measured?.value ?? ""] : ["margin ", before.margin ?? "", bound?.margin ?? ""];
  return `<span class="note tried">trial: ${what}${wholeFigure(was === "" ? "none" : was)} ${to} ${wholeFigure(now === "" ? "none" : now)}</span>`;
}

/** "6 deg" beside "Intake opens, degrees before top dead centre": what the label says is not said twice. */
function sizeBeside({ label, value }: ValueRow): string {
  const [, size, words] = /^(-?[\d.]+ deg) ([a-z].*)$/.exec(value) ?? [];
  return size !== undefined && words !== undefined && label.endsWith(words) ? size : value;
}

function limit({ text: bound, origin, margin, kept }: NonNullable<ValueRow["limit"]>): string {
  const left = kept ? (margin === "" ? "kept" : `margin ${figure(margin)}`) : `${margin === "" ? "" : `margin ${figure(margin)} `}<span class="severity" data-severity="error">short</span>`;
  return `${figure(bound)} <span class="note">${name(origin)}</span> <span class="margin">${left}</span>`;
}

function trace({ trace: t, value, measured }: ValueRow, links: Links): string {
  const places = measured ? measured.places.map((m) => `<li>As measured${m.place === "" ? "" : `, ${name(m.place)}`}: ${figure(m.value)} ${links.place(m.at)}</li>`) : [];
  const inputs = t.inputs.map((i) => `<li${i.valueId !== undefined ? ` data-rests-on="${text(i.valueId)}"` : ""}><i>${text(i.name)}</i>: ${prose(i.words)}, ${figure(i.value)}${i.origin ? `, ${name(i.origin)}` : ""} ${links.place(i.place)}</li>`);
  const assumed = t.assumptions.map((a) => `<li>Assumed: ${prose(a)}</li>`);
  const estimate = t.estimate !== undefined ? [`<li>An estimate: ${prose(t.estimate)}</li>`] : [];
  return [
    `<p>${prose(t.words)}</p>`, `<p class="formula">${text(t.expression)}</p>`, `<p class="formula">= ${text(t.worked)}</p>`, ...(value === "" ? [] : [`<p class="formula">= ${text(value)}</p>`]),
    "<ul>", ...places, ...inputs, ...assumed, ...estimate, "</ul>", `<p class="note">Source: ${prose(t.source)}</p>`,
  ].join("");
}

function table(t: SheetTable, links: Links): string {
  const places = t.rows.flatMap((r) => r.place ?? []);
  const [first] = places;
  const sameFile = first !== undefined && places.every((p) => p.uri === first.uri);
  const sameLine = sameFile && places.every((p) => p.range.start.line === first.range.start.line);
  const placed = places.length > 0 && !sameLine;
  // Where the caption names the file, a row need only name its line.
  const at = (place: Place | undefined): string => (sameFile ? links.line(place) : links.place(place));
  const shape = shapeOf(t);
  const caption = `${name(t.caption)}${sameFile ? ` ${links.place(first)}` : ""}`;
  return [
    // Only a table of many columns may need to be scrolled sideways, and then by keyboard too.
    `<div class="wide"${t.heads.length > 3 ? ` role="region" aria-label="${text(t.caption)}" tabindex="0"` : ""}><table class="${shape}">`, `<caption>${caption}</caption>`,
    `<thead><tr>${t.heads.map((h) => `<th scope="col">${name(h)}</th>`).join("")}${placed ? '<th scope="col"><span class="hidden">Place</span></th>' : ""}</tr></thead>`, "<tbody>",
    ...t.rows.map((r) => `<tr>${cellsOf(r.cells, t.heads, shape)}${placed ? `<td class="at">${at(r.place)}</td>` : ""}</tr>`),
    "</tbody>", "</table></div>",
  ].join("\n");
}

function cellsOf(cells: readonly string[], heads: readonly string[], shape: Shape): string {
  const [of = "", said = ""] = cells;
  // Who measured, and with what, is said of the whole grid and not of its first column.
  if (shape === "readings" && isRemark(cells)) return `${cell(of, 0, "")}<td class="said" colspan="${cells.length - 1}">${figure(said)}</td>`;
  return cells.map((c, i) => cell(c, i, heads[i] ?? "")).join("");
}

function isRemark(cells: readonly string[]): boolean {
  return cells.length > 2 && cells.slice(2).every((c) => c === "");
}

function cell(raw: string, index: number, head: string): string {
  // A firing order or a thread is one word: it reads as one or not at all.
  const kind = raw.length <= 24 && !/\s/.test(raw) ? "whole" : "broken";
  return index === 0 ? `<th scope="row" class="${kind}">${name(raw)}</th>` : `<td class="${kind}" data-head="${text(head)}">${figure(raw)}</td>`;
}

type Shape = "pairs" | "readings" | "records";

/** `pairs` are a name and what is said of it, `readings` a grid of short figures, `records` rows with much in them. */
function shapeOf({ heads, rows }: SheetTable): Shape {
  if (heads.length <= 2) return "pairs";
  const cells = rows.filter((r) => !isRemark(r.cells)).flatMap((r) => r.cells.slice(1)).filter((c) => c !== "");
  return cells.filter((c) => c.length <= 10).length * 4 >= cells.length * 3 ? "readings" : "records";
}

function list(l: SheetList, links: Links): string {
  const box = (done: string | undefined): string => (l.ticks ? `<span class="box" role="img" aria-label="${done !== undefined ? "done" : "to do"}">${done !== undefined ? "✓" : ""}</span> ` : "");
  const places = l.items.flatMap((i) => i.place ?? []);
  const [first] = places;
  // Where the heading names the file, an item need only name its line.
  const inHeading = first !== undefined && places.length > 3 && places.every((p) => p.uri === first.uri);
  const at = (place: Place | undefined): string => (inHeading ? links.line(place) : links.place(place));
  return [
    `<h3>${name(l.caption)}${inHeading ? ` <span class="place">${name(first.file)}</span>` : ""}</h3>`, `<ul${l.ticks ? ' class="ticks"' : ""}>`,
    ...l.items.map((i) => `<li>${box(i.done)}${prose(i.text)}${i.done ? `, <span class="whole">${text(i.done)}</span>` : ""}${i.note !== undefined ? ` <span class="note">${name(i.note)}</span>` : ""} ${at(i.place)}</li>`), "</ul>",
  ].join("\n");
}
