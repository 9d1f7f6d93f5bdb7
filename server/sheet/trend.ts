// Several sets of readings of one thing over time, place by place: what stood where on which day, and by how much it moved. Reads readings;
// judges nothing.
import type { Location, MeasuredFact, Side } from "../model/declaration.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { measurementOf } from "../schema/measurements.ts";
import { isBefore, plansOf } from "./work.ts";

export interface TrendCell {
  readonly quantity: Quantity;
  readonly at: Location;
}

export interface TrendRow {
  /** "intake a, cylinder 3", "cylinder 3", "exhaust". */
  readonly place: string;
  readonly side?: Side;
  /** One for each set; undefined where that set has none. */
  readonly cells: readonly (TrendCell | undefined)[];
  /** Of the last two that are given, first to last, in the base unit; absent where fewer than two are. */
  readonly change?: number;
}

export interface Trend {
  /** Oldest first. */
  readonly sets: readonly MeasuredFact[];
  readonly rows: readonly TrendRow[];
}

/** Readings of these sets side by side, in the order given. */
export function trendOf(build: EffectiveBuild, sets: readonly MeasuredFact[]): Trend {
  const rows = new Map<string, { readonly place: string; readonly side?: Side; readonly cells: (TrendCell | undefined)[] }>();
  const onlyRow = new Set(sets.flatMap((s) => s.readings.map((r) => r.row))).size === 1;
  sets.forEach((set, i) => {
    const counts = countsOf(set.what.text);
    const put = (place: string, side: Side | undefined, quantity: Quantity, at: Location) => {
      let row = rows.get(place);
      if (!row) rows.set(place, (row = { place, ...(side && { side }), cells: sets.map(() => undefined) }));
      row.cells[i] = { quantity, at };
    };
    for (const { row, head, quantity, span } of set.readings) {
      const side = sideIn(row);
      const place = [onlyRow && side === undefined ? "" : row, head === "" ? "" : `${counts} ${head}`].filter((t) => t !== "").join(", ");
      put(place, side, quantity, { tree: build.subject.tree, span });
    }
    for (const figure of set.figures) {
      const key = figure.key.key;
      if (figure.value.is !== "quantity" || (key !== "intake" && key !== "exhaust" && key !== "reading")) continue;
      put(key === "reading" ? "" : key, sideIn(key), figure.value.quantity, { tree: build.subject.tree, span: figure.span });
    }
  });
  return {
    sets,
    rows: [...rows.values()].map((row): TrendRow => {
      const given = row.cells.filter((c) => c !== undefined);
      const [first, last] = [given[0], given.at(-1)];
      return { ...row, ...(first && last && first !== last && { change: last.quantity.interval.nominal - first.quantity.interval.nominal }) };
    }),
  };
}

/** Sets of lash that can be held against each other: dated, since before no teardown, all in the state of the newest. Oldest first. */
export function lashSets(build: EffectiveBuild): readonly MeasuredFact[] {
  const sets = dated(build, "lash").filter((m) => !isBefore(m));
  const state = stateOf(sets.at(-1));
  return sets.filter((m) => stateOf(m) === state);
}

/** Dated sets of a measurement, those from before the work among them, oldest first. */
export function dated(build: EffectiveBuild, what: string): readonly MeasuredFact[] {
  return build.measured.filter((m) => m.what.text === what && m.date && (m.readings.length > 0 || m.figures.length > 0)).sort((a, b) => ((a.date?.text ?? "") < (b.date?.text ?? "") ? -1 : (a.date?.text ?? "") > (b.date?.text ?? "") ? 1 : 0));
}

/** The last day on which the lash was set anew or lost: steps that disturb it, running left out. */
export function lashLastSet(build: EffectiveBuild): string | undefined {
  return plansOf(build).flatMap((plan) => plan.steps.filter((s) => s.disturbs.includes("lash") && s.name !== "running-in" && s.name !== "retorque").flatMap((s) => s.ticks.map((t) => t.date))).sort().at(-1);
}

/** Cold or hot, as the head of a set says it or as its own readings do. */
export function stateOf(set: MeasuredFact | undefined): string | undefined {
  const said = set?.qualifiers.find((q) => q.text === "cold" || q.text === "hot")?.text;
  if (said !== undefined) return said;
  const words = [...(set?.readings.flatMap((r) => r.words.map((w) => w.text)) ?? []), ...(set?.figures.flatMap((f) => (f.value.is === "quantity" ? Object.values(f.value.qualifiers) : [])) ?? [])];
  return words.find((w) => w === "cold" || w === "hot");
}

function countsOf(what: string): string {
  const forms: readonly string[] = measurementOf(what)?.forms ?? [];
  return forms.includes("bearing") ? "bearing" : forms.includes("bolt") ? "bolt" : "cylinder";
}

function sideIn(row: string): Side | undefined {
  const word = row.split(/\s+/)[0];
  return word === "intake" || word === "exhaust" ? word : undefined;
}
