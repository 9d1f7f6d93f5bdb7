// SVG as text: elements, attributes, and the frame that every drawing stands in. Knows no engine.
//
// A drawing fills whatever width it is given: places along it are per cent of that width, places down it are multiples of the size of its
// letters (em). So letters stay as large as the text around them on a phone and on paper, and nothing is squeezed. Colour comes from the
// text (currentColor) and from classes; nothing rests on colour alone. No style attributes, for pages that forbid them.
import { visible } from "../../grammar/visible.ts";

/** A finished piece of SVG. */
export type Svg = string;

export type Attributes = Readonly<Record<string, string | number | undefined>>;

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

/** Text in which nothing is markup and nothing hides. */
export function escaped(raw: string): string {
  return visible(raw).replace(/[&<>"']/g, (c) => ENTITIES[c] ?? c);
}

/** A number as it stands in the file: at most three decimals, so that the last bits of a computation never show. */
export function digits(x: number): string {
  const text = x.toFixed(3).replace(/(?:\.|(?<!0))0+$/, "");
  return text === "-0" ? "0" : text;
}

/** A place or size along the drawing, from 0 at its left edge to 100 at its right. */
export function along(percent: number): string {
  return `${digits(percent)}%`;
}

/** A place or size down the drawing, in letters' heights. */
export function down(em: number): string {
  return `${digits(em)}em`;
}

export function element(tag: string, attributes: Attributes, children: readonly Svg[] = []): Svg {
  const written = Object.entries(attributes).map(([name, value]) => (value === undefined ? "" : ` ${name}="${typeof value === "number" ? digits(value) : escaped(value)}"`)).join("");
  return children.length === 0 ? `<${tag}${written}/>` : `<${tag}${written}>${children.join("")}</${tag}>`;
}

export interface FrameOptions {
  readonly id: string;
  readonly title: string;
  readonly alternative: string;
  /** In letters' heights. */
  readonly height: number;
}

/** The drawing's outermost element, with its name and its words for those who cannot see it. */
export function frame({ id, title, alternative, height }: FrameOptions, body: readonly Svg[]): Svg {
  return element("svg", { ...ROOT, "aria-labelledby": `drawing-${id}-title drawing-${id}-words`, width: "100%", height: down(height) }, named(id, title, alternative, body));
}

/** A frame for pictures that must keep their proportions: `width` and `height` are its own units, and it is scaled as a whole. */
export function scaledFrame({ id, title, alternative, width, height }: FrameOptions & { readonly width: number }, body: readonly Svg[]): Svg {
  return element("svg", { ...ROOT, class: "drawing scaled", "aria-labelledby": `drawing-${id}-title drawing-${id}-words`, viewBox: `0 0 ${digits(width)} ${digits(height)}`, width: "100%" }, named(id, title, alternative, body));
}

const ROOT = { xmlns: "http://www.w3.org/2000/svg", class: "drawing", role: "img", fill: "currentColor", overflow: "visible" } as const;

// Sections have ids of the same words: a drawing's own are told apart by what stands before them.
function named(id: string, title: string, alternative: string, body: readonly Svg[]): readonly Svg[] {
  return [element("title", { id: `drawing-${id}-title` }, [escaped(title)]), element("desc", { id: `drawing-${id}-words` }, [escaped(alternative)]), ...body];
}

export type Stroke = "ink" | "thin" | "faint";

/** A straight line between two places. */
export function line([x1, y1]: Point, [x2, y2]: Point, stroke: Stroke, more: Attributes = {}): Svg {
  return element("line", { class: stroke, x1: along(x1), y1: down(y1), x2: along(x2), y2: down(y2), stroke: "currentColor", ...more });
}

/** Per cent along, letters' heights down. */
export type Point = readonly [number, number];

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export function box({ left, right, top, bottom }: Box, attributes: Attributes): Svg {
  return element("rect", { x: along(left), y: down(top), width: along(right - left), height: down(bottom - top), ...attributes });
}

/** Text at a place. `dx` and `dy` move it by letters' heights, to stand beside a mark. */
export function label(raw: string, [x, y]: Point, attributes: Attributes & { readonly dx?: string; readonly dy?: string } = {}): Svg {
  return element("text", { x: along(x), y: down(y), ...attributes }, [escaped(trueMinus(raw))]);
}

/** A figure with a true minus sign, as it is set in print. */
export function trueMinus(raw: string): string {
  return raw.replace(/(^|\s)-(?=[\d.])/g, "$1\u2212");
}

/** Side of the square inside which the paths of a `panel` are drawn. */
export const PANEL = 1000;

/** A part of the drawing in which paths are drawn from 0 to PANEL both ways and stretched to fit, their lines kept thin. */
export function panel({ left, right, top, bottom }: Box, paths: readonly Svg[]): Svg {
  return element("svg", { x: along(left), y: down(top), width: along(right - left), height: down(bottom - top), viewBox: `0 0 ${PANEL} ${PANEL}`, preserveAspectRatio: "none", overflow: "visible" }, paths);
}

export function path(d: string, stroke: Stroke, more: Attributes = {}): Svg {
  return element("path", { class: stroke, d, fill: "none", stroke: "currentColor", "vector-effect": "non-scaling-stroke", ...more });
}

/** Slanting lines to fill an area with, to be named as `url(#id-hatch)`. */
export function hatch(id: string, turn = 45, gap = 5): Svg {
  return element("defs", {}, [
    element("pattern", { id: `${id}-hatch`, width: gap, height: gap, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${turn})` }, [
      element("line", { x1: 0, y1: 0, x2: 0, y2: gap, stroke: "currentColor", "stroke-width": 1 }),
    ]),
  ]);
}

export type Mark = "dot" | "ring" | "up" | "down" | "cross";

const SHAPES: Readonly<Record<Exclude<Mark, "dot" | "ring">, string>> = { up: "M0 -4.5L4.5 3.5H-4.5Z", down: "M0 4.5L4.5 -3.5H-4.5Z", cross: "M-3.5 -3.5L3.5 3.5M3.5 -3.5L-3.5 3.5" };

/** A mark centred on a place. */
export function mark(shape: Mark, [x, y]: Point, attributes: Attributes = {}): Svg {
  if (shape === "dot") return element("circle", { cx: along(x), cy: down(y), r: down(0.27), ...attributes });
  if (shape === "ring") return element("circle", { class: "open", cx: along(x), cy: down(y), r: down(0.27), stroke: "currentColor", ...attributes });
  const drawn = element("path", { d: SHAPES[shape], ...(shape === "cross" && { stroke: "currentColor", fill: "none" }) });
  return element("svg", { x: along(x), y: down(y), width: down(0.75), height: down(0.75), viewBox: "0 0 10 10", overflow: "visible", ...attributes }, [drawn]);
}
