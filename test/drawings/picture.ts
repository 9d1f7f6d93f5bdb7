/** Reads a drawing back: its marked parts, their places, and whether it is well made. Knows no particular drawing. */
import { expect } from "vitest";
import type { Drawing, DrawingSource } from "../../server/drawings/drawing.ts";
import { sheetOf } from "../sheet/sheet-of.ts";

export function sourceOf(text: string, system: DrawingSource["system"] = "metric", allowProblems = false): DrawingSource {
  const { build, sheet } = sheetOf(text, undefined, allowProblems);
  return { build, sheet, system };
}

export interface Part {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** A place or size, its per cent or em taken off. */
  number(attribute: string): number;
}

/** Every element of a drawing, in order. */
export function partsOf(svg: string): readonly Part[] {
  return [...svg.matchAll(/<([a-zA-Z]+)((?: [\w:-]+="[^"]*")*)\/?>/g)].map(([, tag = "", written = ""]) => {
    const attributes = Object.fromEntries([...written.matchAll(/ ([\w:-]+)="([^"]*)"/g)].map(([, name = "", value = ""]) => [name, value]));
    return { tag, attributes, number: (name) => Number.parseFloat(attributes[name] ?? "NaN") };
  });
}

/** The one element that is marked with these words. */
export function part(drawing: Drawing, name: string): Part {
  const found = partsOf(drawing.svg).filter((p) => p.attributes["data-part"] === name);
  expect(found, `parts called ${name}`).toHaveLength(1);
  return found[0] as Part;
}

export function hasPart(drawing: Drawing, name: string): boolean {
  return partsOf(drawing.svg).some((p) => p.attributes["data-part"] === name);
}

/** What is printed on it, one piece of text after another. */
export function printed(drawing: Drawing): readonly string[] {
  return [...drawing.svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text = ""]) => text);
}

/** Points of a path of straight lines. */
export function pointsOf(path: Part): readonly (readonly [number, number])[] {
  return [...(path.attributes["d"] ?? "").matchAll(/[ML]?(-?[\d.]+),(-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
}

/** A path's height at a place along it, between its points. */
export function heightAt(path: Part, x: number): number {
  const points = pointsOf(path);
  const i = points.findIndex(([px]) => px >= x);
  const [before, after] = [points[i - 1], points[i]];
  if (!before || !after) throw new Error(`the path does not reach ${x}`);
  return before[1] + ((after[1] - before[1]) * (x - before[0])) / (after[0] - before[0]);
}

/** What every drawing must be, whatever it shows. */
export function expectWellMade({ id, title, alternative, svg }: Omit<Drawing, "section">): void {
  expect(id).toMatch(/^[a-z][a-z0-9-]*$/);
  expect(title).not.toBe("");
  expect(alternative).toMatch(/\d/);
  expect(svg).toContain(`role="img"`);
  expect(svg).toContain(`aria-labelledby="drawing-${id}-title drawing-${id}-words"`);
  expect(svg).toMatch(new RegExp(`^<svg [^>]*><title id="drawing-${id}-title">[^<]+</title><desc id="drawing-${id}-words">[^<]+</desc>`));
  // Nothing that acts, nothing from elsewhere, nothing that a strict page refuses.
  expect(svg).not.toMatch(/<(script|style|foreignObject|image|use|a)\b/i);
  expect(svg).not.toMatch(/<[^>]*\s(style|on\w+|href|xlink:href)=/i);
  for (const [, target = ""] of svg.matchAll(/url\(([^)]*)\)/g)) expect(target).toBe(`#${id}-hatch`);
  if (svg.includes("url(#")) expect(svg).toContain(`<pattern id="${id}-hatch"`);
  // No number that a computation failed to give.
  expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
  const open: string[] = [];
  for (const [, closing, tag = "", empty] of svg.matchAll(/<(\/?)([a-zA-Z]+)[^>]*?(\/?)>/g)) {
    if (closing === "/") expect(open.pop()).toBe(tag);
    else if (empty !== "/") open.push(tag);
  }
  expect(open).toEqual([]);
  expect(svg.replace(/&(amp|lt|gt|quot|#39);/g, "")).not.toContain("&");
}
