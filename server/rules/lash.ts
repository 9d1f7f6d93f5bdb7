// The lash of each side as the rules judge it: asked for, chosen, and last measured valve by valve. Judges nothing itself.
import type { Location, MeasuredFact, Side } from "../model/declaration.ts";
import { type EffectiveBuild, type Provided, asked, chosen } from "../model/effective.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { hydraulics } from "../sheet/formulas/breathing.ts";
import { disturbanceOf } from "./order.ts";
import { quantityOf } from "./wording.ts";

export const SIDES: readonly Side[] = ["intake", "exhaust"];

export interface LashReading {
  /** "intake a, cylinder 3", or "intake". */
  readonly place: string;
  readonly quantity: Quantity;
  readonly at: Location;
}

export interface LashOfSide {
  readonly side: Side;
  readonly path: string;
  readonly asked: Provided;
  readonly askedQuantity: Quantity;
  /** cold, hot, or undefined where it is not stated. */
  readonly askedState?: string;
  readonly chosen?: { readonly provided: Provided; readonly quantity: Quantity; readonly state?: string };
  readonly measured?: { readonly readings: readonly LashReading[]; readonly state?: string; readonly date?: string; readonly at: Location };
}

/** What is known of the lash of each side that a source asks a figure for; nothing for hydraulic gear, which takes up its own. */
export function lashOf(build: EffectiveBuild): readonly LashOfSide[] {
  if (hydraulics(build)) return [];
  const newest = latestLash(build.measured);
  // Lash that was lost since it was read says nothing of the valves as they stand.
  const latest = newest && disturbanceOf(build, newest) ? undefined : newest;
  return SIDES.flatMap((side) => {
    const path = `valve-gear.${side}.lash`;
    const slot = build.slots.get(path);
    const source = asked(slot);
    const quantity = quantityOf(source);
    if (!source || !quantity) return [];
    const own = chosen(slot);
    const ownQuantity = quantityOf(own);
    const readings = latest && readingsOf(latest, side, build);
    const state = latest?.qualifiers.find((q) => q.text === "cold" || q.text === "hot")?.text ?? latest?.figures.map((f) => (f.value.is === "quantity" ? stateOf(f.value.qualifiers) : undefined)).find((s) => s !== undefined);
    const askedState = stateOf(quantity.qualifiers);
    const chosenState = ownQuantity && stateOf(ownQuantity.qualifiers);
    return [{
      side, path, asked: source, askedQuantity: quantity.quantity, ...(askedState && { askedState }),
      ...(own && ownQuantity && { chosen: { provided: own, quantity: ownQuantity.quantity, ...(chosenState && { state: chosenState }) } }),
      ...(latest && readings && readings.length > 0 && {
        measured: { readings, ...(state && { state }), ...(latest.date && { date: latest.date.text }), at: { tree: build.subject.tree, span: latest.what.span } },
      }),
    }];
  });
}

/** Readings below (-1) or above (1) are sorted worst first by `off`. */
export function worstFirst(readings: readonly LashReading[], off: (reading: LashReading) => number): readonly LashReading[] {
  return [...readings].sort((a, b) => off(b) - off(a));
}

/** True where both say cold or hot and do not say the same. */
export function statesDiffer(a: string | undefined, b: string | undefined): boolean {
  return a !== undefined && b !== undefined && a !== b;
}

function stateOf(qualifiers: Readonly<Record<string, string>>): string | undefined {
  const word = qualifiers["thermal"];
  return word === "unstated" ? undefined : word;
}

/** The last lash measured, by its date; readings taken before the work say nothing of what is fitted now. */
function latestLash(measured: readonly MeasuredFact[]): MeasuredFact | undefined {
  let latest: MeasuredFact | undefined;
  for (const m of measured) {
    if (m.what.text !== "lash" || m.qualifiers.some((q) => q.text === "before")) continue;
    if (!latest || (m.date?.text ?? "") >= (latest.date?.text ?? "")) latest = m;
  }
  return latest;
}

function readingsOf(measured: MeasuredFact, side: Side, build: EffectiveBuild): LashReading[] {
  const tree = build.subject.tree;
  const cells = measured.readings
    .filter((r) => r.row === side || r.row.startsWith(`${side} `))
    .map((r) => ({ place: `${r.row}, cylinder ${r.head}`, quantity: r.quantity, at: { tree, span: r.span } }));
  const figures = measured.figures.flatMap((f) => (f.key.key === side && f.value.is === "quantity" ? [{ place: `the ${side} side`, quantity: f.value.quantity, at: { tree, span: f.span } }] : []));
  return [...cells, ...figures];
}
