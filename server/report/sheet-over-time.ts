// Readings over time on the sheet: lash from set to set, cylinders before the work and since, what proves what. Judges nothing.
import type { MeasuredFact } from "../model/declaration.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import type { KindId } from "../quantity/kinds.ts";
import { type Evidence, evidenceOf } from "../sheet/evidence.ts";
import { type TrendRow, dated, lashSets, stateOf, trendOf } from "../sheet/trend.ts";
import { isBefore } from "../sheet/work.ts";
import type { Atlas } from "./place.ts";
import type { SheetTable } from "./sheet-model.ts";
import { capital } from "./wording.ts";

/** More sets than this do not fit beside each other; the oldest are left to the tables of their own. */
const MOST_SETS = 5;

interface Source {
  readonly build: EffectiveBuild;
  readonly atlas: Atlas;
}

/** Lash valve by valve over the sets that can be held against each other; nothing where there is but one. */
export function lashOverTime(source: Source): SheetTable[] {
  const sets = lashSets(source.build);
  return sets.length < 2 ? [] : [sideBySide(`Lash over time${stateOf(sets.at(-1)) === undefined ? "" : `, ${stateOf(sets.at(-1)) ?? ""}`}`, sets.slice(-MOST_SETS), source, (s) => s.date?.text ?? "")];
}

/** Cranking pressures and leak-down before the last work and since, where there are both. */
export function baselineTables(source: Source): SheetTable[] {
  return (["cranking", "leak-down"] as const).flatMap((what) => {
    const sets = dated(source.build, what);
    const before = sets.findLast(isBefore);
    const since = before && sets.filter((s) => !isBefore(s) && (s.date?.text ?? "") >= (before.date?.text ?? "")).slice(1 - MOST_SETS);
    if (!before || !since || since.length === 0) return [];
    const alike = since.every((s) => stateOf(s) === stateOf(before) && conditions(s) === conditions(before));
    return [sideBySide(`${what === "cranking" ? "Cranking pressures" : "Leak-down"}, before the work and since`, [before, ...since], source, (s) => `${s.date?.text ?? ""}${isBefore(s) ? " before" : ""}`, alike)];
  });
}

/** How a test was made: two made differently cannot be held against each other. */
function conditions(set: MeasuredFact): string {
  return set.figures.filter((f) => ["throttle", "decompressor", "supply"].includes(f.key.key)).map((f) => `${f.key.key} ${f.value.is === "word" ? f.value.word : f.value.is === "quantity" ? f.value.quantity.interval.nominal.toPrecision(3) : ""}`).sort().join("; ");
}

function sideBySide(caption: string, sets: readonly MeasuredFact[], { build, atlas }: Source, head: (set: MeasuredFact) => string, alike = true): SheetTable {
  const { rows } = trendOf(build, sets);
  return {
    caption, heads: ["Of", ...sets.map(head), "Change"],
    rows: rows.map((row) => {
      const last = row.cells.findLast((c) => c !== undefined);
      const place = last && atlas.placeOf(last.at);
      return { cells: [capital(row.place === "" ? "all" : row.place), ...row.cells.map((cell) => cellText(cell)), alike ? changeText(row) : "not tested alike"], ...(place && { place }) };
    }),
  };
}

function cellText(cell: TrendRow["cells"][number]): string {
  if (!cell) return "–";
  const { quantity, at } = cell;
  const text = at.tree.text.slice(at.span.start, at.span.end).replace(/\s+/g, " ").trim();
  return quantity.unitText !== undefined && !text.includes(quantity.unitText) ? `${text} ${quantity.unitText}` : text;
}

function changeText(row: TrendRow): string {
  const like = row.cells.findLast((c) => c !== undefined)?.quantity;
  if (row.change === undefined || !like) return "";
  const kind: KindId = like.kind;
  const size = formatValue(Math.abs(row.change), kind, like.unit, { decimals: like.decimals });
  if (!/[1-9]/.test(size)) return "none";
  return `${row.change < 0 ? "-" : "+"}${size}`;
}

/** What proves what. `open`: private ones are left out. */
export function evidenceTable({ build, atlas }: Source, open: boolean): SheetTable[] {
  const items = evidenceOf(build).filter((e) => !open || !e.private);
  if (items.length === 0) return [];
  return [{
    caption: "Notes, photos and documents", heads: ["About", "What", "File", "Day", "By"],
    rows: items.map((e) => {
      const place = atlas.placeOf(e.at);
      return { cells: [e.about === "" ? "This build" : capital(e.about), [e.text === "" ? capital(e.word) : e.text, e.private ? "(private)" : ""].filter((t) => t !== "").join(" "), e.file ?? "", e.date ?? "", e.by ?? ""], ...(place && { place }) };
    }),
  }];
}

export type { Evidence };
