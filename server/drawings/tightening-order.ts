// The order in which a joint's fasteners are tightened: on a plan of the joint where the places of the bolts are known, else as a row of
// numbers. Knows no torque but the words it is written in.
import type { EffectiveBuild } from "../model/effective.ts";
import { effective, valueAt } from "../model/effective.ts";
import type { Drawing, DrawingSource } from "./drawing.ts";
import { type Attributes, type Svg, along, digits, down, element, escaped, frame, label, scaledFrame } from "./svg.ts";

interface Order {
  readonly name: string;
  /** Numbers of the bolts, first tightened first. */
  readonly bolts: readonly number[];
  /** The stages as they are written. */
  readonly stages?: string;
  readonly numbering?: string;
}

/** One bolt's place, m. */
interface Place {
  readonly bolt: number;
  readonly x: number;
  readonly y: number;
}

/** Longest order that is still drawn; a longer one is read as a list. */
const MOST = 60;

/** One drawing for each fastener whose order is written. */
export function tighteningOrders({ build }: DrawingSource): readonly Drawing[] {
  return build.fasteners.flatMap((name, i) => {
    const order = orderOf(build, name);
    if (!order || order.bolts.length === 0 || order.bolts.length > MOST) return [];
    const id = `tightening-order-${i + 1}`;
    const places = placesOf(build, name);
    const all = order.bolts.every((bolt) => places.some((p) => p.bolt === bolt));
    return [places.length > 0 && all ? plan(id, order, places) : row(id, order)];
  });
}

function orderOf(build: EffectiveBuild, name: string): Order | undefined {
  const sequence = valueAt(build, `fastener.${name}.sequence`);
  if (sequence?.is !== "order") return undefined;
  const stages = writtenAt(build, `fastener.${name}.tighten`) ?? writtenAt(build, `fastener.${name}.torque`);
  const numbering = valueAt(build, `fastener.${name}.numbering`);
  return { name, bolts: sequence.order, ...(stages !== undefined && { stages }), ...(numbering?.is === "text" && { numbering: numbering.text }) };
}

function writtenAt(build: EffectiveBuild, path: string): string | undefined {
  const given = effective(build.slots.get(path));
  return given && given.location.tree.text.slice(given.location.span.start, given.location.span.end).replace(/\s+/g, " ").trim();
}

function placesOf(build: EffectiveBuild, name: string): readonly Place[] {
  const table = build.tables.get(`fastener.${name}.positions`)?.fact?.table;
  if (!table) return [];
  const column = (key: string) => table.heads.findIndex((h) => h.key?.key === key);
  const [bolt, x, y] = [column("bolt"), column("x"), column("y")];
  return table.rows.flatMap(({ cells }): Place[] => {
    const [n, along, across] = [bolt, x, y].map((i) => cells[i]?.quantity?.interval.nominal);
    return n === undefined || along === undefined || across === undefined ? [] : [{ bolt: n, x: along, y: across }];
  });
}

function titleOf({ name, stages }: Order): string {
  return `Order of tightening, ${name}${stages !== undefined ? `: ${stages}` : ""}`;
}

function alternativeOf({ bolts, numbering }: Order): string {
  const figure = numbering !== undefined ? ` as numbered in ${numbering}` : "";
  return `Tighten in this order, by the numbers of the bolts${figure}: ${bolts.join(", ")}.`;
}

/** Units of the plan across its longer side. */
const PLAN_WIDTH = 360;
const MARGIN = 26;
const RADIUS = 13;

/** Bolts where they sit, each with its turn inside and its own number beside. */
function plan(id: string, order: Order, places: readonly Place[]): Drawing {
  const [xs, ys] = [places.map((p) => p.x), places.map((p) => p.y)];
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const unit = (PLAN_WIDTH - 2 * MARGIN) / Math.max(right - left, high - low, 1e-6);
  const height = (high - low) * unit + 2 * MARGIN;
  const width = (right - left) * unit + 2 * MARGIN;
  // Across counts away from the reader, as on a plan.
  const at = (p: Place): readonly [number, number] => [MARGIN + (p.x - left) * unit, height - MARGIN - (p.y - low) * unit];
  const turns = order.bolts.flatMap((bolt, i) => {
    const place = places.find((p) => p.bolt === bolt);
    return place ? [{ bolt, turn: i + 1, at: at(place) }] : [];
  });
  const title = `${titleOf(order)}; plan, to scale`;
  const alternative = alternativeOf(order);
  const path = turns.map(({ at: [x, y] }, i) => `${i === 0 ? "M" : "L"}${digits(x)} ${digits(y)}`).join("");
  const same = turns.every(({ bolt, turn }) => bolt === turn);
  const body: Svg[] = [
    element("rect", { class: "thin", x: 1, y: 1, width: width - 2, height: height - 2, rx: 8, fill: "none", stroke: "currentColor" }),
    element("path", { class: "faint", d: path, fill: "none", stroke: "currentColor", "stroke-dasharray": "2 4" }),
    ...turns.flatMap(({ bolt, turn, at: [x, y] }) => [
      element("circle", { class: "open", cx: x, cy: y, r: RADIUS, stroke: "currentColor", "data-part": `bolt ${bolt}` }),
      written(String(turn), x, y + 4.6, { class: "strong", "text-anchor": "middle" }),
      ...(same ? [] : [written(`bolt ${bolt}`, x, y + RADIUS + 11, { class: "note", "text-anchor": "middle", "font-size": 10 })]),
    ]),
  ];
  return { id, section: "fasteners", title, alternative, svg: scaledFrame({ id, title, alternative, width, height }, body) };
}

function written(raw: string, x: number, y: number, attributes: Attributes): Svg {
  return element("text", { x, y, ...attributes }, [escaped(raw)]);
}

const PER_ROW = 10;
const ROW = 4.1;

/** The turns from left to right, each over the number of its bolt. */
function row(id: string, order: Order): Drawing {
  const title = titleOf(order);
  const alternative = alternativeOf(order);
  const rows = Math.ceil(order.bolts.length / PER_ROW);
  const slot = 100 / Math.min(PER_ROW, order.bolts.length);
  const body = order.bolts.flatMap((bolt, i): readonly Svg[] => {
    const x = ((i % PER_ROW) + 0.5) * slot;
    const y = 1.5 + Math.floor(i / PER_ROW) * ROW;
    return [
      label(`${i + 1}.`, [x, y - 0.3], { class: "note", "text-anchor": "middle" }),
      element("circle", { class: "open", cx: along(x), cy: down(y + 1.1), r: down(1), stroke: "currentColor", "data-part": `turn ${i + 1}` }),
      label(String(bolt), [x, y + 1.45], { class: "strong", "text-anchor": "middle" }),
    ];
  });
  const foot = 1.5 + rows * ROW;
  const words = label("turn, and in the ring the number of the bolt", [0, foot], { class: "note" });
  return { id, section: "fasteners", title, alternative, svg: frame({ id, title, alternative, height: foot + 0.4 }, [...body, words]) };
}
