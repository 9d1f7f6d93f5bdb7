// The valve spring of one side at its heights, to scale: free, installed, open and solid, with what is left before its coils touch.
// Judges nothing.
import { type EffectiveBuild, quantityAt, wordAt } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import type { SheetValue } from "../sheet/evaluate.ts";
import { figureIn } from "./axis.ts";
import type { Drawing, DrawingSource } from "./drawing.ts";
import { type Point, type Svg, box, digits, down, element, along, frame, hatch, label, line, trueMinus } from "./svg.ts";
import { allOf, capital } from "../quantity/spoken.ts";

/** Height of the tallest spring, in letters' heights. */
const TALLEST = 11;
const TOP = 1.2;

interface Coil {
  /** "outer", "inner", or nothing where a side has one coil. */
  readonly name: string;
  /** m, in the order they are drawn. */
  readonly states: readonly State[];
  readonly installed: number;
  readonly open: number;
  readonly solid: number;
  readonly lift: number;
  /** Thickness of the wire, m, where it is stated. */
  readonly wire?: number;
  /** Where it was measured, when the margin comes from readings. */
  readonly place?: string;
}

interface State {
  readonly name: "free" | "installed" | "open" | "solid";
  readonly height: number;
}

/** The springs of one side; nothing where installed and solid height and lift do not all stand behind a value. */
export function springStack(source: DrawingSource, side: "intake" | "exhaust"): Drawing | undefined {
  const coils = [["coil", ""], ["outer", "outer"], ["inner", "inner"]].flatMap(([coil = "", name = ""]) => {
    const value = source.sheet.byId.get(`coil-bind-margin.${side}.${coil}`);
    const found = value && coilOf(value, source, side, coil, name);
    return found ? [found] : [];
  });
  const paired = coils.filter((c) => c.name !== "");
  // Where a pair is described coil by coil, the figures of the whole say nothing that the coils do not.
  const shown = paired.length > 0 ? paired : coils;
  return shown.length > 0 ? draw(source, side, shown) : undefined;
}

function coilOf(specified: SheetValue, { build, sheet }: DrawingSource, side: string, coil: string, name: string): Coil | undefined {
  // What was measured counts, at the place where least is left.
  const places = specified.measured.flatMap((m) => (m.value.interval ? [{ place: m.place, value: m.value, least: m.value.interval.low }] : []));
  const worst = places.sort((a, b) => a.least - b.least)[0];
  const value = worst?.value ?? specified;
  const input = (of: string) => value.inputs.find((i) => i.name === of)?.interval?.nominal;
  const [installed, lift, solid] = [input("seat"), input("lift"), input("solid")];
  if (!value.interval || installed === undefined || lift === undefined || solid === undefined || !(installed > 0) || !(solid > 0)) return undefined;
  const free = freeLength(build, sheet.byId.get(`spring.seat-load.${side}.${coil}`), sheet.byId.get(`spring.rate.${side}.${coil}`), side, coil, installed);
  const wire = springFigure(build, side, coil, "wire");
  const open = installed - lift;
  if (!(open > 0)) return undefined;
  return {
    name, installed, open, solid, lift, ...(wire !== undefined && { wire }), ...(worst && worst.place !== "" && { place: worst.place }),
    states: [...(free !== undefined ? [{ name: "free", height: free } as const] : []), { name: "installed", height: installed }, { name: "open", height: open }, { name: "solid", height: solid }],
  };
}

/** As stated; of a plain cylindrical spring also from its load and rate at the seat. */
function freeLength(build: EffectiveBuild, load: SheetValue | undefined, rate: SheetValue | undefined, side: string, coil: string, installed: number): number | undefined {
  const stated = springFigure(build, side, coil, "free-length");
  if (stated !== undefined) return stated > installed ? stated : undefined;
  const form = placesOf(side, coil).map((base) => wordAt(build, `${base}.form`)).find((word) => word !== undefined) ?? "cylindrical";
  if (form !== "cylindrical" || !load?.interval || !rate?.interval || !(rate.interval.nominal > 0)) return undefined;
  return installed + load.interval.nominal / rate.interval.nominal;
}

function springFigure(build: EffectiveBuild, side: string, coil: string, key: string): number | undefined {
  for (const base of placesOf(side, coil)) {
    const value = quantityAt(build, `${base}.${key}`);
    if (value) return value.quantity.interval.nominal;
  }
  return undefined;
}

function placesOf(side: string, coil: string): readonly string[] {
  const base = "valve-gear.valve-spring";
  return coil === "coil" ? [`${base}.${side}`, base] : [`${base}.${side}.${coil}`, `${base}.${coil}`];
}

const COLUMNS = ["free", "installed", "open", "solid"] as const;

function draw({ system }: DrawingSource, side: string, coils: readonly Coil[]): Drawing {
  const id = `spring-stack-${side}`;
  const shown = (x: number) => figureIn(system, "length", x);
  const tall = (x: number) => formatValue(x, "length", system === "inch" ? "inch" : "millimetre");
  const columns = COLUMNS.filter((name) => coils.some((c) => c.states.some((s) => s.name === name)));
  const highest = Math.max(...coils.flatMap((c) => c.states.map((s) => s.height)));
  const seat = TOP + TALLEST;
  const y = (height: number) => seat - (height / highest) * TALLEST;
  const width = 100 / columns.length;
  // A pair stands side by side in each column.
  const half = coils.length > 1 ? width * 0.15 : width * 0.24;
  const middle = (state: string, i: number) => (columns.indexOf(state as State["name"]) + 0.5) * width + (coils.length > 1 ? (i - (coils.length - 1) / 2) * width * 0.42 : 0);

  const wholePlace = coils.every((c) => c.place !== undefined && c.place === coils[0]?.place) ? coils[0]?.place : undefined;
  const title = [
    `${capital(side)} spring${coils.length > 1 ? "s" : ""} at ${allOf(columns)} height, to scale`, ...(coils.length > 1 ? ["upper figures outer, lower inner"] : []),
    ...(wholePlace !== undefined ? [`as measured, ${wholePlace}`] : []),
  ].join("; ");
  const alternative = coils.map((c) => sentence(c, tall, shown)).join(" ");
  const body: Svg[] = [
    hatch(id),
    ...coils.flatMap((coil, i) => [
      ...coil.states.flatMap((state) => section({ coil, state, centre: middle(state.name, i), half, top: y(state.height), seat, em: TALLEST / highest })),
      // What is left: from the top of the solid spring to where the open one ended.
      ...marginOf(coil, id, { y, left: middle("solid", i) - half, right: middle("solid", i) + half }),
      ...(i === 0 ? [...liftOf(coil, { y, left: middle("installed", i) + half, x: middle("open", i), half }), label(`${shown(coil.lift)} lift`, [middle("open", i) + half, y(coil.installed)], { "text-anchor": "middle", dy: "-0.45em" })] : []),
      label(`${coil.name} ${leftFigure(coil, shown)}`.trim(), [100, Math.min(...coils.map((c) => y(c.open)), ...coils.map((c) => y(c.solid)))], { "text-anchor": "end", dy: down(-0.5 - 1.2 * (coils.length - 1 - i)) }),
    ]),
    line([0, seat], [100, seat], "ink"),
    ...columns.flatMap((state, c) => [
      label(state, [(c + 0.5) * width, seat + 1.2], { "text-anchor": "middle" }),
      ...coils.flatMap((coil, i) => {
        const height = coil.states.find((s) => s.name === state)?.height;
        return height === undefined ? [] : [label(tall(height), [(c + 0.5) * width, seat + 2.45 + i * 1.25], { "text-anchor": "middle", class: "strong" })];
      }),
    ]),
  ];
  return { id, section: "valve-gear", title, alternative, svg: frame({ id, title, alternative, height: seat + 2.9 + (coils.length - 1) * 1.25 }, body) };
}

interface SectionAt {
  readonly coil: Coil;
  readonly state: State;
  readonly centre: number;
  readonly half: number;
  readonly top: number;
  readonly seat: number;
  /** Letters' heights for one metre. */
  readonly em: number;
}

/** A spring cut through: wires as circles to scale where their thickness is known, joined by the coils that pass in front. */
function section({ coil, state, centre, half, top, seat, em }: SectionAt): readonly Svg[] {
  const turns = Math.min(14, Math.max(3, Math.round(coil.solid / (coil.wire ?? coil.solid / 7))));
  const radius = Math.min(coil.wire ?? coil.solid / turns, coil.solid / turns) / 2 * em;
  const pitch = (seat - top - 2 * radius) / (turns - 1);
  const left = Array.from({ length: turns }, (_, k) => [centre - half, top + radius + k * pitch] as const);
  const right = left.slice(0, -1).map(([, y]) => [centre + half, y + pitch / 2] as const);
  return [
    box({ left: centre - half, right: centre + half, top, bottom: seat }, { fill: "none", "data-part": `${state.name} ${coil.name}`.trim() }),
    // The half of each coil that passes in front, and the half behind.
    ...left.flatMap((from, k) => (right[k] ? [line(from, right[k], "thin")] : [])),
    ...right.flatMap((from, k) => (left[k + 1] ? [line(from, left[k + 1] as Point, "thin", { class: "faint" })] : [])),
    ...[...left, ...right].map(([x, y]) => element("circle", { class: "open", cx: along(x), cy: down(y), r: down(radius), stroke: "currentColor" })),
    line([centre - half, top], [centre + half, top], "ink"),
  ];
}

function liftOf(coil: Coil, at: { readonly y: (height: number) => number; readonly left: number; readonly x: number; readonly half: number }): readonly Svg[] {
  const [from, to] = [at.y(coil.installed), at.y(coil.open)];
  return [line([at.left, from], [at.x + at.half, from], "faint", { "stroke-dasharray": "3 3" }), line([at.x, from], [at.x, to], "thin"), ...ends(at.x, from, to)];
}

function marginOf(coil: Coil, id: string, { y, left, right }: { readonly y: (height: number) => number; readonly left: number; readonly right: number }): readonly Svg[] {
  const [open, solid] = [y(coil.open), y(coil.solid)];
  const x = (left + right) / 2;
  return [
    box({ left, right, top: Math.min(open, solid), bottom: Math.max(open, solid) }, { ...(coil.open < coil.solid ? { fill: `url(#${id}-hatch)` } : { class: "wash" }), "data-part": `margin ${coil.name}`.trim() }),
    line([left, open], [right, open], "thin", { "stroke-dasharray": "3 3" }), line([x, open], [x, solid], "thin"), ...ends(x, open, solid),
  ];
}

/** Short slanted strokes at the ends of a dimension, as on a drawing board. */
function ends(x: number, from: number, to: number): readonly Svg[] {
  return [from, to].map((y) => element("svg", { x: along(x), y: down(y), width: down(0.6), height: down(0.6), viewBox: "0 0 10 10", overflow: "visible" }, [element("path", { d: "M-4 4L4 -4", stroke: "currentColor", "stroke-width": digits(1.6) })]));
}

function leftFigure(coil: Coil, shown: (x: number) => string): string {
  const left = coil.open - coil.solid;
  return left < 0 ? `${shown(-left)} too far` : `${shown(left)} left`;
}

function leftWords(coil: Coil, shown: (x: number) => string): string {
  const left = coil.open - coil.solid;
  return left < 0 ? `solid ${trueMinus(shown(-left))} before full lift` : `${shown(left)} left before it is solid`;
}

function sentence(coil: Coil, tall: (x: number) => string, shown: (x: number) => string): string {
  const heights = allOf(coil.states.map((s) => `${s.name} ${tall(s.height)}`));
  return `${coil.name === "" ? "Spring" : `${capital(coil.name)} spring`}${coil.place !== undefined ? `, as measured at ${coil.place}` : ""}: ${heights}; lift ${shown(coil.lift)}, no lash taken off, ${leftWords(coil, shown)}.`;
}
