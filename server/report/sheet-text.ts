// The sheet as plain text for a terminal or a printer. Knows no markup.
import type { Place } from "./place.ts";
import { lineWords } from "./place.ts";
import type { SheetFinding, SheetModel, SheetSection, SheetTable, ValueRow } from "./sheet-model.ts";
import { shortened, visible } from "../../grammar/visible.ts";
import { waiverTerms } from "./waiver-report.ts";
import { listed } from "./wording.ts";

/** Wider cells are cut here, since a terminal cannot fold a table; the other forms of the sheet have them whole. */
const WIDEST = 60;

export function sheetText(model: SheetModel): string {
  const title = shortened(visible(model.title), 200);
  const out = [title, "=".repeat(Math.min(80, [...title].length)), ...model.verdict.map(visible), ""];
  const labels = Math.max(...model.facts.map((f) => f.label.length));
  for (const f of model.facts) out.push(`${f.label.padEnd(labels)}  ${shortened(visible(f.text), 200)}`);
  if (model.findings.length > 0) out.push(...heading("Put right first"), ...model.findings.flatMap(findingLines));
  if (model.waivers.length > 0) {
    out.push(...heading("Waived"));
    for (const w of model.waivers) {
      out.push(`${w.rule}${visible(waiverTerms(w))}, because "${visible(w.reason)}"${atPlace(w.place)}`);
      out.push(...(w.silences.length > 0 ? w.silences.map((s) => `  silences: ${visible(s)}`) : ["  silences nothing now"]));
    }
  }
  if (model.notChecked.length > 0) {
    out.push(...heading("Not checked"));
    for (const u of model.notChecked) out.push(`${visible(u.what)}${u.missing.length > 0 ? `: needs ${listed(u.missing.map(visible))}` : ""}`);
  }
  out.push(...heading("The engine"), visible(model.engine));
  for (const section of model.sections) out.push(...sectionLines(section));
  out.push(...heading("Cautions"), model.deference, ...model.cautions.map((c) => `${c.title}: ${c.words}`));
  return `${out.join("\n")}\n`;
}

function heading(text: string): string[] {
  return ["", text, "-".repeat(text.length)];
}

function atPlaces(places: readonly Place[]): string {
  return places.length > 0 ? ` (${places.map((p) => visible(lineWords(p))).join(", ")})` : "";
}

function atPlace(place: Place | undefined): string {
  return place ? ` (${visible(lineWords(place))})` : "";
}

function findingLines(f: SheetFinding): string[] {
  return [
    `${f.severity}: ${visible(f.message)} [${f.rule}]${atPlace(f.place)}`, ...f.related.map((r) => `  see: ${visible(r.message)}${atPlaces(r.places)}`), ...f.fixes.map((t) => `  fix: ${visible(t)}`),
  ];
}

function sectionLines(section: SheetSection): string[] {
  const out = heading(section.title);
  if (section.values.length > 0) {
    const spread = section.values.some((v) => v.spread !== "");
    const limit = section.values.some((v) => v.limit);
    const heads = ["", "Value", "", ...(spread ? ["Spread"] : []), ...(limit ? ["Limit", "Margin"] : []), ""];
    out.push(...grid(heads, section.values.flatMap((v) => [valueCells(v, spread, limit), ...measuredCells(v)])));
  }
  for (const table of section.tables) out.push("", visible(table.caption), ...tableLines(table));
  for (const list of section.lists) {
    out.push("", visible(list.caption));
    for (const item of list.items) out.push(`${list.ticks ? (item.done !== undefined ? "[x] " : "[ ] ") : "- "}${visible(item.text)}${item.done ? `, ${visible(item.done)}` : ""}${item.note !== undefined ? `, ${visible(item.note)}` : ""}${atPlace(item.place)}`);
  }
  if (section.missing.length > 0) out.push("", "Not worked out", ...section.missing.map((m) => `  ${visible(m.label)}: ${visible(m.why)}`));
  return out;
}

function valueCells(v: ValueRow, spread: boolean, limit: boolean): string[] {
  const notes = [v.estimate ? "estimate" : "", v.mark ?? ""].filter((t) => t !== "").join(", ");
  return [visible(v.label), v.value, v.other === "" ? "" : `(${v.other})`, ...(spread ? [v.spread] : []), ...(limit ? [v.limit ? `${v.limit.text}, ${visible(v.limit.origin)}` : "", v.limit?.margin ?? ""] : []), notes];
}

/** Beside a value as specified, what was measured stands below it, indented; what was only measured has no line above. */
function measuredCells({ measured }: ValueRow): string[][] {
  return measured ? [[`  ${visible(measured.label)}`, measured.value, measured.other === "" ? "" : `(${measured.other})`]] : [];
}

function tableLines(table: SheetTable): string[] {
  return grid(table.heads.map(visible), table.rows.map((r) => [...r.cells.map(visible), r.place ? visible(lineWords(r.place)) : ""]));
}

function grid(heads: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const all = [heads, ...rows].map((row) => row.map((cell) => shortened(cell, WIDEST)));
  const widths: number[] = [];
  for (const row of all) row.forEach((cell, i) => (widths[i] = Math.max(widths[i] ?? 0, [...cell].length)));
  return all.map((row) => row.map((cell, i) => cell + " ".repeat((widths[i] ?? 0) - [...cell].length)).join("  ").trimEnd());
}
