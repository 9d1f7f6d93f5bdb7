// Curves by speed in panels one under the other, and the last pull so drawn: torque, power, and the mixture and boost they were made with; the pull before it laid over it where both were
// read at the same place. As read. Corrects nothing.
import { line as pathOf } from "d3-shape";
import type { UnitId } from "../../grammar/vocabulary.ts";
import { powerFromTorque, torqueFromPower } from "../engineering/index.ts";
import type { RecordFact } from "../model/declaration.ts";
import { formatNumber, formatValue, unitFor } from "../quantity/display.ts";
import type { KindId } from "../quantity/kinds.ts";
import { type Scale, figuresAlong, gridAcross, scaleOf } from "./axis.ts";
import { allOf } from "../quantity/spoken.ts";
import type { Drawing, DrawingSource } from "./drawing.ts";
import { PANEL, type Svg, frame, label, line, mark, panel, path } from "./svg.ts";

const ID = "pull";
/** Foot of the line that names a panel, over it. */
const NAME = 1.25;
const PANEL_HEIGHT = 6;
const GAP = 3.4;

export type What = "torque" | "power" | "mixture" | "boost" | "oil";

export interface PanelSort {
  readonly what: What;
  readonly kind: KindId;
  readonly words: string;
}

const PANELS: readonly PanelSort[] = [
  { what: "torque", kind: "torque", words: "torque" },
  { what: "power", kind: "power", words: "power" },
  { what: "mixture", kind: "mixture", words: "mixture" },
  { what: "boost", kind: "pressure", words: "boost" },
];

export interface Point {
  readonly rpm: number;
  /** In the base of the kind. */
  readonly value: number;
}

/** What one line in each panel shows. */
export interface Lines {
  /** "2027-12-04, at wheels". */
  readonly words: string;
  readonly read: Readonly<Partial<Record<What, readonly Point[]>>>;
  readonly units: Readonly<Partial<Record<What, UnitId>>>;
}

interface Pull extends Lines {
  readonly at: string;
  readonly date: string;
  /** Set where the figures were corrected before they were written down. */
  readonly correction?: string;
}

/** The last pull and one before it; nothing where no pull has a table with at least two speeds. */
export function pull({ build, system }: DrawingSource): Drawing | undefined {
  const pulls = build.subject.records.filter((r) => r.word === "pull").map(pullOf).filter((p) => (p.read.torque?.length ?? 0) > 1);
  const sorted = pulls.map((p, i) => ({ p, i })).sort((a, b) => (a.p.date < b.p.date ? -1 : a.p.date > b.p.date ? 1 : a.i - b.i)).map(({ p }) => p);
  const last = sorted.at(-1);
  if (!last) return undefined;
  const before = sorted.slice(0, -1).findLast((p) => p.at === last.at && p.correction === last.correction);
  const shown = before ? [last, before] : [last];
  const title = before ? `Pull of ${last.words}, laid over that of ${before.words}` : `Pull of ${last.words}`;
  return curvesDrawn({ id: ID, title, shown, sorts: PANELS, system });
}

export interface CurvesOptions {
  readonly id: string;
  readonly title: string;
  /** One or two: the first is drawn solid. */
  readonly shown: readonly Lines[];
  readonly sorts: readonly PanelSort[];
  readonly system: DrawingSource["system"];
}

/** Each reading of two points and more in a panel of its own, against speed. */
export function curvesDrawn({ id, title, shown, sorts, system }: CurvesOptions): Drawing {
  const [last, before] = shown as [Lines, Lines | undefined];
  const panels = sorts.filter(({ what }) => shown.some((p) => (p.read[what]?.length ?? 0) > 1));
  const speeds = shown.flatMap((p) => Object.values(p.read).flatMap((points) => points.map((point) => point.rpm)));
  // Room at the left for the figures of the upright axes.
  const [least, most] = [Math.min(...speeds), Math.max(...speeds)];
  const x = scaleOf({ kind: "rotation", unit: "revolution-per-minute", low: least - 0.1 * (most - least), high: most + 0.03 * (most - least), range: [0, 100], count: 5, round: false });
  const legend = shown.length > 1 ? shown : [];
  const first = legend.length * 1.25 + (legend.length > 0 ? 1.5 : 1.1) + NAME;
  const bottom = first + panels.length * (PANEL_HEIGHT + GAP) - GAP;
  const units = (what: What, kind: KindId, high: number) => last.units[what] ?? before?.units[what] ?? unitFor(kind, system, high);
  const alternative = shown.map((p) => sentences(p, panels, units)).join(" ");
  const body: Svg[] = [
    ...legend.flatMap((p, i) => [mark(i === 0 ? "dot" : "ring", [0.7, 0.6 + i * 1.25]), label(`${p.words}${i === 0 ? ", solid line" : ", broken line"}`, [0.7, 1 + i * 1.25], { dx: "0.6em" })]),
    ...x.ticks.map(({ value }) => line([x(value), first - 0.6], [x(value), bottom], "faint")),
    ...panels.flatMap(({ what, kind, words }, i) => {
      const top = first + i * (PANEL_HEIGHT + GAP);
      return panelDrawn({ words, what, kind, unit: (high) => units(what, kind, high), top, shown, x });
    }),
    ...figuresAlong(x, bottom + 1.3),
    label("rpm", [50, bottom + 2.6], { class: "note", "text-anchor": "middle" }),
  ];
  return { id, section: "runs-and-pulls", title, alternative, svg: frame({ id, title, alternative, height: bottom + 3 }, body) };
}

interface PanelOptions {
  readonly words: string;
  readonly what: What;
  readonly kind: KindId;
  readonly unit: (high: number) => UnitId | undefined;
  readonly top: number;
  readonly shown: readonly Lines[];
  readonly x: Scale;
}

function panelDrawn({ words, what, kind, unit: unitAt, top, shown, x }: PanelOptions): readonly Svg[] {
  const bottom = top + PANEL_HEIGHT;
  // A mixture in another scale is no number on this one.
  const scale = shown.find((p) => (p.read.mixture?.length ?? 0) > 1)?.units.mixture;
  const lines = shown.map((p) => (what === "mixture" && p.units.mixture !== scale ? [] : (p.read[what] ?? [])));
  const values = lines.flatMap((points) => points.map((p) => p.value));
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const unit = unitAt(high);
  // Torque and power stand on their zero; a mixture would be a flat line on its own.
  const floor = what === "mixture" ? low - (high - low || 1) * 0.2 : Math.min(0, low);
  const y = scaleOf({ kind, unit, low: floor, high: high + (high - floor) * 0.15, range: [bottom, top], count: 3, round: false });
  return [
    ...gridAcross(y, unit),
    label(words, [0, top - NAME], { class: "strong" }),
    line([0, bottom], [100, bottom], "thin"),
    ...lines.flatMap((points, i) => {
      if (points.length < 2) return [];
      const at = points.map((p) => [x(p.rpm), y(p.value)] as const);
      const d = pathOf().digits(1)(at.map(([px, py]) => [(px / 100) * PANEL, ((py - top) / PANEL_HEIGHT) * PANEL])) ?? "";
      return [
        panel({ left: 0, right: 100, top, bottom }, [path(d, i === 0 ? "ink" : "thin", { ...(i > 0 && { "stroke-dasharray": "6 3" }), "data-part": `${what} ${i + 1}` })]),
        ...at.map((p) => mark(i === 0 ? "dot" : "ring", p)),
      ];
    }),
    ...(what === "torque" || what === "power" || what === "boost" ? peakDrawn(lines[0] ?? [], kind, unit, x, y) : []),
  ];
}

function peakDrawn(points: readonly Point[], kind: KindId, unit: UnitId | undefined, x: Scale, y: Scale): readonly Svg[] {
  const peak = highest(points);
  if (!peak) return [];
  const at = x(peak.rpm);
  return [label(formatValue(peak.value, kind, unit), [at, y(peak.value)], { class: "plate strong", dy: "-0.65em", "text-anchor": at < 12 ? "start" : at > 88 ? "end" : "middle" })];
}

function highest(points: readonly Point[]): Point | undefined {
  return points.reduce<Point | undefined>((best, p) => (!best || p.value > best.value ? p : best), undefined);
}

function pullOf(record: RecordFact): Pull {
  const word = (key: string) => {
    const value = record.figures.find((f) => f.key.key === key)?.value;
    return value?.is === "word" ? value.word : undefined;
  };
  const at = word("at") ?? "";
  const correction = word("correction");
  const corrected = correction !== undefined && correction !== "none" ? correction : undefined;
  const date = record.date?.text ?? dateIn(record) ?? "";
  const columns = (key: string) => column(record, key);
  const [torque, power, afr, lambda, boost] = ["torque", "power", "afr", "lambda", "boost"].map(columns);
  const mixture = (afr?.points.length ?? 0) > 0 ? afr : lambda;
  const torques = torque && torque.points.length > 0 ? torque.points : (power?.points ?? []).map(({ rpm, value }) => ({ rpm, value: torqueFromPower({ power: value, rpm }) }));
  const powers = power && power.points.length > 0 ? power.points : torques.map(({ rpm, value }) => ({ rpm, value: powerFromTorque({ torque: value, rpm }) }));
  const stated = record.figures.find((f) => f.key.key === "stated-power")?.value;
  const statedUnit = stated?.is === "quantity" ? stated.quantity.unit : undefined;
  const powerUnit = power?.unit ?? statedUnit;
  const words = [date === "" ? "no date" : date, at === "" ? "" : `at ${at}`, corrected === undefined ? "as read" : corrected === "unstated" ? "correction not stated" : `corrected, ${corrected}`].filter((w) => w !== "").join(", ");
  return {
    words, at, date, ...(corrected !== undefined && { correction: corrected }),
    read: { torque: finite(torques), power: finite(powers), mixture: mixture?.points ?? [], boost: boost?.points ?? [] },
    units: { ...(torque?.unit && { torque: torque.unit }), ...(powerUnit && { power: powerUnit }), ...(mixture?.unit && { mixture: mixture.unit }), ...(boost?.unit && { boost: boost.unit }) },
  };
}

function finite(points: readonly Point[]): readonly Point[] {
  return points.filter((p) => Number.isFinite(p.value));
}

function dateIn(record: RecordFact): string | undefined {
  const value = record.figures.find((f) => f.key.key === "date")?.value;
  return value?.is === "date" ? value.text : undefined;
}

/** A column against the speeds of its rows, in rising order of speed. */
function column({ table }: RecordFact, key: string): { readonly points: readonly Point[]; readonly unit?: UnitId } | undefined {
  const index = (of: string) => table?.heads.findIndex((h) => h.key?.key === of) ?? -1;
  const [rpms, own] = [index("rpm"), index(key)];
  if (!table || rpms < 0 || own < 0) return undefined;
  let unit: UnitId | undefined;
  const points = table.rows.flatMap(({ cells }): Point[] => {
    const [speed, value] = [cells[rpms]?.quantity, cells[own]?.quantity];
    if (!speed || !value) return [];
    unit ??= value.unit;
    return [{ rpm: speed.interval.nominal, value: value.interval.nominal }];
  });
  return { points: [...points].sort((a, b) => a.rpm - b.rpm), ...(unit && { unit }) };
}

function sentences(p: Lines, panels: readonly PanelSort[], units: (what: What, kind: KindId, high: number) => UnitId | undefined): string {
  const parts = panels.flatMap(({ what, kind, words }) => {
    const points = p.read[what] ?? [];
    const top = highest(points);
    if (!top || points.length < 2) return [];
    const unit = what === "mixture" ? p.units.mixture : units(what, kind, top.value);
    const all = points.map(({ rpm, value }) => `${formatValue(value, kind, unit)} at ${formatNumber(rpm, { unit: "revolution-per-minute" })}`);
    return [`${words} ${allOf(all)} rpm${what === "mixture" ? "" : `, most ${formatValue(top.value, kind, unit)}`}`];
  });
  return `${p.words}: ${parts.join("; ")}.`;
}
