// The sheet as Markdown for a repository page. Whatever a file says stays text: nothing in it can become markup.
import type { Place } from "./place.ts";
import { lineWords } from "./place.ts";
import type { SheetFinding, SheetModel, SheetSection, SheetTable, ValueRow } from "./sheet-model.ts";
import { visible } from "../../grammar/visible.ts";
import { waiverTerms } from "./waiver-report.ts";
import { listed } from "./wording.ts";

export function sheetMarkdown(model: SheetModel): string {
  const out = [`# ${text(model.title)}`, "", `**${model.verdict.map(prose).join(" ")}**`, "", ...model.facts.map((f) => `- ${f.label}: ${text(f.text)}`)];
  if (model.findings.length > 0) out.push("", "## Put right first", "", ...model.findings.flatMap(findingLines));
  if (model.waivers.length > 0) {
    out.push("", "## Waived", "");
    for (const w of model.waivers) {
      out.push(`- ${text(w.rule)}${text(waiverTerms(w))}, because “${text(w.reason)}”${atPlace(w.place)}`);
      out.push(...(w.silences.length > 0 ? w.silences.map((s) => `  - Silences: ${text(s)}`) : ["  - Silences nothing now."]));
    }
  }
  if (model.notChecked.length > 0) {
    out.push("", "## Not checked", "");
    for (const u of model.notChecked) out.push(`- ${text(u.what)}${u.missing.length > 0 ? `: needs ${listed(u.missing.map(text))}` : ""}`);
  }
  out.push("", "## The engine", "", text(model.engine));
  for (const section of model.sections) out.push(...sectionLines(section));
  out.push("", "## Cautions", "", text(model.deference), "", ...model.cautions.map((c) => `- **${text(c.title)}.** ${text(c.words)}`));
  return `${out.join("\n")}\n`;
}

/** Characters that Markdown or HTML would act on. */
const ACTIVE = /[\\`*_{}[\]()<>#+!|~&$@:=-]/g;

/** Text that stays text. Backslashes keep Markdown from acting; `<`, `>` and `&` are written as entities, which no renderer can turn into tags. */
export function text(raw: string): string {
  return visible(raw).replace(ACTIVE, (c) => {
    switch (c) {
      case "<": return "&lt;";
      case ">": return "&gt;";
      case "&": return "&amp;";
      // Only what begins a link by itself: a scheme's colon, a mail's or a name's at sign.
      case ":": return ":";
      case "@": return "&#64;";
      case "-": case "+": case "=": case "(": case ")": return c;
      default: return `\\${c}`;
    }
  }).replace(/:\/\//g, "&#58;//").replace(/\bwww\./gi, "www&#46;").replace(/^([-+=])/, "\\$1").replace(/^(\d+)([.)])(?=\s|$)/, "$1\\$2");
}

/** A sentence in which plain words between backticks are code. */
export function prose(raw: string): string {
  return raw.split(/(`[\w .:/-]+`)/).map((piece) => (/^`[\w .:/-]+`$/.test(piece) ? piece : text(piece))).join("");
}

function atPlaces(places: readonly Place[]): string {
  return places.length > 0 ? ` (${places.map((p) => text(lineWords(p))).join(", ")})` : "";
}

function atPlace(place: Place | undefined): string {
  return place ? ` (${text(lineWords(place))})` : "";
}

function findingLines(f: SheetFinding): string[] {
  return [
    `- **${f.severity}**: ${prose(f.message)} \`${f.rule}\`${atPlace(f.place)}`, ...f.related.map((r) => `  - ${prose(r.message)}${atPlaces(r.places)}`), ...f.fixes.map((t) => `  - Fix: ${prose(t)}`),
  ];
}

function sectionLines(section: SheetSection): string[] {
  const out = ["", `## ${section.title}`];
  if (section.values.length > 0) {
    const spread = section.values.some((v) => v.spread !== "");
    const limit = section.values.some((v) => v.limit);
    out.push("", ...grid(["Value", "", "", ...(spread ? ["Spread"] : []), ...(limit ? ["Limit", "Margin"] : []), "Notes"], section.values.flatMap((v) => [valueCells(v, spread, limit), ...measuredCells(v, spread, limit)])));
    out.push("", "<details><summary>How these were worked out</summary>", "", ...section.values.flatMap(traceLines), "", "</details>");
  }
  // A page of text cannot hold the drawings: what they show stands in words.
  for (const d of section.drawings) out.push("", `*${text(d.title)}.* ${text(d.alternative)}`);
  for (const table of section.tables) out.push("", `### ${text(table.caption)}`, "", ...tableLines(table));
  for (const list of section.lists) {
    out.push("", `### ${text(list.caption)}`, "");
    for (const item of list.items) out.push(`- ${list.ticks ? (item.done !== undefined ? "[x] " : "[ ] ") : ""}${text(item.text)}${item.done ? `, ${text(item.done)}` : ""}${item.note !== undefined ? `, *${text(item.note)}*` : ""}${atPlace(item.place)}`);
  }
  if (section.missing.length > 0) out.push("", "### Not worked out", "", ...section.missing.map((m) => `- ${text(m.label)}: ${text(m.why)}`));
  return out;
}

function valueCells(v: ValueRow, spread: boolean, limit: boolean): string[] {
  const notes = [v.estimate ? "estimate" : "", v.mark ?? ""].filter((t) => t !== "").join(", ");
  return [text(v.label), text(v.value), text(v.other), ...(spread ? [text(v.spread)] : []), ...(limit ? [v.limit ? `${text(v.limit.text)}, ${text(v.limit.origin)}` : "", text(v.limit?.margin ?? "")] : []), notes];
}

function measuredCells({ measured }: ValueRow, spread: boolean, limit: boolean): string[][] {
  return measured ? [[`*${text(measured.label)}*`, text(measured.value), text(measured.other), ...(spread ? [""] : []), ...(limit ? ["", ""] : []), ""]] : [];
}

function traceLines(v: ValueRow): string[] {
  const { trace } = v;
  return [
    `- ${text(v.label)}: ${text(trace.expression)} = ${text(trace.worked)}${v.value === "" ? "" : ` = ${text(v.value)}`}. ${text(trace.source)}.`,
    ...(v.measured?.places.map((m) => `  - As measured${m.place === "" ? "" : `, ${text(m.place)}`}: ${text(m.value)}${atPlace(m.at)}`) ?? []),
    ...trace.inputs.map((i) => `  - ${text(i.name)}: ${text(i.words)}, ${text(i.value)}${i.origin ? `, ${text(i.origin)}` : ""}${atPlace(i.place)}`),
    ...trace.assumptions.map((a) => `  - Assumed: ${text(a)}`), ...(trace.estimate !== undefined ? [`  - An estimate: ${text(trace.estimate)}`] : []),
  ];
}

function tableLines(table: SheetTable): string[] {
  const placed = table.rows.some((r) => r.place);
  return grid([...table.heads.map(text), ...(placed ? ["Line"] : [])], table.rows.map((r) => [...r.cells.map(text), ...(placed ? [r.place ? text(lineWords(r.place)) : ""] : [])]));
}

export function grid(heads: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(heads), line(heads.map(() => "---")), ...rows.map(line)];
}
