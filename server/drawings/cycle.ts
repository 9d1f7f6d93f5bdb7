// One working cycle of one cylinder as a straight strip of 720 crank degrees: valves above, piston below, overlap where it happens.
// Computes no event and no gap.
import { curveLinear, line as pathOf } from "d3-shape";
import { pistonTravel } from "../engineering/index.ts";
import type { Side } from "../model/declaration.ts";
import { type EffectiveBuild, quantityAt } from "../model/effective.ts";
import { formatNumber, formatValue } from "../quantity/display.ts";
import { measuredGap } from "../rules/piston-valve.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import { anchorAt, figureIn, gridAcross, scaleOf } from "./axis.ts";
import { allOf } from "../quantity/spoken.ts";
import type { Drawing, DrawingSource } from "./drawing.ts";
import { type LiftCurve, liftCurve, nowOf } from "./lift-curve.ts";
import { PANEL, type Svg, box, frame, hatch, label, line, mark, panel, path } from "./svg.ts";

const ID = "cycle";
const SIDES: readonly Side[] = ["exhaust", "intake"];
/** Letters' heights of the bands of the strip, from its top. */
const VALVES = { top: 5.2, bottom: 13 };
const OPEN = { exhaust: 13.9, intake: 15.5 } as const;
const PISTON = { top: 18, bottom: 24.5 };
const STROKES = [["power", -270], ["exhaust", -90], ["intake", 90], ["compression", 270]] as const;
const DEAD_CENTRES = [["TDC", "firing", -360], ["BDC", "", -180], ["TDC", "overlap", 0], ["BDC", "", 180], ["TDC", "firing", 360]] as const;

/** A crank angle, counted from top dead centre between exhaust and intake, to its place along the strip. */
export function alongCycle(deg: number): number {
  return ((deg + 360) / 720) * 100;
}

interface Gap {
  readonly side: Side;
  /** m */
  readonly gap: number;
  /** Crank degrees from overlap TDC, where it is known. */
  readonly deg?: number;
  readonly measured: boolean;
}

/** The strip; nothing where not both valves' events and lifts and the stroke and rod are known. */
export function cycle({ build, sheet, system }: DrawingSource): Drawing | undefined {
  const curves = SIDES.flatMap((side) => liftCurve(build, sheet, side) ?? []);
  const [stroke, rodLength] = ["stroke", "rod-length"].map((key) => quantityAt(build, key)?.quantity.interval.nominal);
  const [exhaust, intake] = curves;
  if (!exhaust || !intake || stroke === undefined || rodLength === undefined) return undefined;
  const travel = (crankDeg: number) => pistonTravel({ stroke, rodLength, crankDeg });
  if (!Number.isFinite(travel(90))) return undefined;

  const unit = system === "inch" ? "inch" : "millimetre";
  const lifts = scaleOf({ kind: "length", unit, low: 0, high: Math.max(...curves.map((c) => c.peak)) * 1.05, range: [VALVES.bottom, VALVES.top], count: 2, round: false });
  const depths = scaleOf({ kind: "length", unit, low: 0, high: stroke, range: [PISTON.top, PISTON.bottom], count: 2, round: false });
  const overlap = { from: intake.opens, to: exhaust.closes };
  const gaps = SIDES.flatMap((side) => gapOf(build, sheet, side) ?? []);
  const assumed = curves.some((c) => c.assumed);
  const references = [...new Set(curves.map((c) => (c.reference !== undefined ? figureIn(system, "length", c.reference) : "a lift that is not stated")))];
  const title = `One cylinder over 720 crank degrees, its events at ${allOf(references)} of valve lift${assumed ? "; shape of the lobes assumed" : ""}`;
  const alternative = words(curves, overlap, gaps, system);
  const body: Svg[] = [
    hatch(ID),
    ...STROKES.map(([name, deg]) => label(name, [alongCycle(deg), 1], { class: "note", "text-anchor": "middle" })),
    ...DEAD_CENTRES.map(([, , deg]) => line([alongCycle(deg), 1.6], [alongCycle(deg), PISTON.bottom], deg % 360 === 0 ? "thin" : "faint")),
    ...overlapDrawn(overlap),
    ...gridAcross(lifts, unit),
    label("valve lift", [100, (VALVES.top + VALVES.bottom) / 2], { class: "note", "text-anchor": "end", dx: "-0.4em" }),
    panel({ left: 0, right: 100, ...VALVES }, curves.map((c) => path(liftPath(c, lifts.high), "ink", { ...(c.side === "exhaust" && { "stroke-dasharray": "6 3" }), "data-part": `lift ${c.side}` }))),
    ...curves.flatMap((c) => [
      label(c.side, [alongCycle(c.centreline), lifts(c.peak)], { "text-anchor": "middle", dy: "-1.6em", class: "plate strong" }),
      label(formatValue(c.peak, "length", unit), [alongCycle(c.centreline), lifts(c.peak)], { "text-anchor": "middle", dy: "-0.4em", class: "plate strong" }),
    ]),
    line([0, VALVES.bottom], [100, VALVES.bottom], "thin"),
    ...curves.flatMap(openDrawn),
    label(overlapWords(overlap), [50, 2.5], { "text-anchor": "middle", class: "plate" }),
    ...gridAcross(depths, unit),
    label("piston", [100, PISTON.bottom], { class: "note", "text-anchor": "end", dx: "-0.4em", dy: "-0.5em" }),
    panel({ left: 0, right: 100, ...PISTON }, [path(curvePath(strip(-360, 360).map((deg) => [deg, depths(travel(deg))] as const), PISTON), "ink", { "data-part": "piston" })]),
    ...gaps.flatMap((gap) => gapDrawn(gap, (deg) => depths(travel(deg)), system)),
    ...DEAD_CENTRES.flatMap(([name, which, deg]) => [name, which, formatNumber(deg, { decimals: 0 })].map((text, row) => label(text, [alongCycle(deg), PISTON.bottom + 1.4 + row * 1.2], { "text-anchor": anchorAt(alongCycle(deg)), ...(row > 0 && { class: "note" }) }))),
    label("crank degrees from overlap TDC", [50, PISTON.bottom + 5.1], { class: "note", "text-anchor": "middle" }),
  ];
  return { id: ID, section: "breathing", title, alternative, svg: frame({ id: ID, title, alternative, height: PISTON.bottom + 5.5 }, body) };
}

/** Every second degree from one angle to another: enough for the eye, few enough for the file. */
function strip(from: number, to: number): readonly number[] {
  const whole = Array.from({ length: 361 }, (_, i) => -360 + 2 * i).filter((deg) => deg > from && deg < to);
  return [from, ...whole, to];
}

/** From where the valve leaves its seat to where it comes back. */
function liftPath(curve: LiftCurve, highest: number): string {
  const open = strip(-360, 360).filter((deg) => curve.liftAt(deg) > 0);
  const [from = 0, to = 0] = [open[0], open.at(-1)];
  const y = (deg: number) => VALVES.bottom - (curve.liftAt(deg) / highest) * (VALVES.bottom - VALVES.top);
  return curvePath(strip(from - 2, to + 2).map((deg) => [deg, y(deg)] as const), VALVES);
}

/** A line through crank angles and letters' heights, in the units of the panel it stands in. */
function curvePath(points: readonly (readonly [number, number])[], { top, bottom }: { readonly top: number; readonly bottom: number }): string {
  return pathOf().curve(curveLinear).digits(1)(points.map(([deg, y]) => [(alongCycle(deg) / 100) * PANEL, ((y - top) / (bottom - top)) * PANEL])) ?? "";
}

function overlapDrawn({ from, to }: { readonly from: number; readonly to: number }): readonly Svg[] {
  if (from >= to) return [];
  return [box({ left: alongCycle(from), right: alongCycle(to), top: VALVES.top, bottom: OPEN.intake + 0.9 }, { fill: `url(#${ID}-hatch)`, class: "hatched", "data-part": "overlap" })];
}

function overlapWords({ from, to }: { readonly from: number; readonly to: number }): string {
  const size = formatValue(Math.abs(to - from), "angle", "degree");
  return `overlap ${from < to ? "" : "-"}${size}`;
}

/** When a valve is open, as a bar with its events at the ends. */
function openDrawn({ side, opens, closes }: LiftCurve): readonly Svg[] {
  const top = OPEN[side];
  const middle = top + 0.95;
  return [
    box({ left: alongCycle(opens), right: alongCycle(closes), top, bottom: top + 1.3 }, { class: "ink wash", stroke: "currentColor", ...(side === "exhaust" && { "stroke-dasharray": "6 3" }), "data-part": `open ${side}` }),
    label(`${side} open`, [alongCycle((opens + closes) / 2), middle], { "text-anchor": "middle", class: "note" }),
    label(eventWords(opens), [alongCycle(opens), middle], { "text-anchor": "end", dx: "-0.35em" }),
    label(eventWords(closes), [alongCycle(closes), middle], { dx: "0.35em" }),
  ];
}

/** "6 btdc": degrees from the nearest dead centre, as the trade says it. */
export function eventWords(deg: number): string {
  const nearest = Math.round(deg / 180) * 180;
  const off = deg - nearest;
  const centre = nearest % 360 === 0 ? "tdc" : "bdc";
  return off === 0 ? centre : `${formatNumber(Math.abs(off), { unit: "degree" })} ${off < 0 ? "b" : "a"}${centre}`;
}

/** The least gap between piston and valve: computed from lobe and stack where it is, else as measured. */
function gapOf(build: EffectiveBuild, sheet: Sheet, side: Side): Gap | undefined {
  const measured = measuredGap(build, side);
  if (measured) {
    const fact = build.measured.findLast((m) => m.what.text === "piston-valve" && m.figures.some((f) => f.key.key === `${side}-at`));
    const where = fact?.figures.find((f) => f.key.key === `${side}-at`)?.value;
    const word = where?.is === "quantity" ? where.qualifiers["event"] : undefined;
    const deg = where?.is === "quantity" && (word === "btdc" || word === "atdc") ? where.quantity.interval.nominal * (word === "btdc" ? -1 : 1) : undefined;
    return { side, gap: measured.quantity.interval.nominal, ...(deg !== undefined && { deg }), measured: true };
  }
  const computed = sheet.byId.get(`piston-valve.${side}.clearance`)?.interval?.low;
  const deg = nowOf(sheet.byId.get(`piston-valve.${side}.at-degree`));
  return computed === undefined ? undefined : { side, gap: computed, ...(deg !== undefined && { deg }), measured: false };
}

/** Where piston and valve come nearest, marked on the piston's own line. */
function gapDrawn({ side, gap, deg, measured }: Gap, pistonAt: (deg: number) => number, system: "metric" | "inch"): readonly Svg[] {
  const at = deg ?? 0;
  const x = alongCycle(at);
  const before = side === "exhaust";
  const rows = [`${side} to piston`, figureIn(system, "length", gap), measured ? "measured" : "computed", ...(deg !== undefined ? [`at ${eventWords(deg)}`] : [])];
  const top = PISTON.top + 1.9;
  return [
    // Where nobody noted the degree, nothing is marked on the strip.
    ...(deg !== undefined ? [line([x, pistonAt(at)], [x, top + (rows.length - 1) * 1.25], "thin"), mark(before ? "ring" : "dot", [x, pistonAt(at)], { "data-part": `gap ${side}` })] : []),
    ...rows.map((text, i) => label(text, [x, top + i * 1.25], { class: i === 1 ? "plate strong" : "plate", "text-anchor": before ? "end" : "start", dx: before ? "-0.4em" : "0.4em" })),
  ];
}

function words(curves: readonly LiftCurve[], overlap: { readonly from: number; readonly to: number }, gaps: readonly Gap[], system: "metric" | "inch"): string {
  const sides = [...curves].reverse().map((c) => {
    const at = c.reference !== undefined ? `, counted at ${figureIn(system, "length", c.reference)} of valve lift` : "";
    const shape = c.assumed ? "shape assumed: a cosine on each flank through the events" : "shape from the measured lobe";
    return `${c.side === "intake" ? "Intake" : "Exhaust"} opens ${eventWords(c.opens)}, fullest ${formatNumber(Math.abs(c.centreline), { unit: "degree" })} ${c.centreline < 0 ? "btdc" : "atdc"}, closes ${eventWords(c.closes)}${at}; lift ${figureIn(system, "length", c.peak)} with no lash taken off; ${shape}.`;
  });
  const nearest = gaps.map(({ side, gap, deg, measured }) => `${side} ${figureIn(system, "length", gap)}${deg !== undefined ? ` at ${eventWords(deg)}` : ""}, ${measured ? "measured" : "computed"}`);
  const size = formatValue(Math.abs(overlap.to - overlap.from), "angle", "degree");
  const both = overlap.from < overlap.to ? `Overlap ${size}: both valves are past those lifts` : `No overlap at those lifts: the exhaust valve is below its own ${size} before the intake valve is past its own`;
  return [...sides, `${both}, around the top dead centre between exhaust and intake.`, ...(nearest.length > 0 ? [`Least gap between valve and piston: ${allOf(nearest)}.`] : [])].join(" ");
}
