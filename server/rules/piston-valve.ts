// Whether a build brings piston and valve nearer to each other, and what is known of the gap. Shared by the rules that report it.
import type { Location, Side } from "../model/declaration.ts";
import { type EffectiveBuild, type FittedPart, type Slot, effective, fitted, valueAt } from "../model/effective.ts";
import { compareWithLimit } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { meaningOf } from "../sheet/meaning.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import { quantityOf } from "./wording.ts";
import { spanOfFit } from "./placed.ts";

export interface MeasuredGap {
  readonly quantity: Quantity;
  readonly at: Location;
  readonly place: string;
}

/** The least gap of a side in the last measurement of it. */
export function measuredGap(build: EffectiveBuild, side: Side): MeasuredGap | undefined {
  const { tree } = build.subject;
  let found: MeasuredGap | undefined;
  let date = "";
  for (const m of build.measured) {
    if (m.what.text !== "piston-valve" || m.qualifiers.some((q) => q.text === "before") || (m.date?.text ?? "") < date) continue;
    const gaps: MeasuredGap[] = [
      ...m.readings.filter((r) => r.row === side || r.row.startsWith(`${side} `)).map((r) => ({ quantity: r.quantity, at: { tree, span: r.span }, place: `${r.row}, cylinder ${r.head}` })),
      ...m.figures.flatMap((f) => (f.key.key === side && f.value.is === "quantity" ? [{ quantity: f.value.quantity, at: { tree, span: f.span }, place: side as string }] : [])),
    ];
    const least = gaps.sort((a, b) => a.quantity.interval.nominal - b.quantity.interval.nominal)[0];
    if (!least) continue;
    found = least;
    date = m.date?.text ?? "";
  }
  return found;
}

export interface Nearer {
  /** True where the figures show it; false where the stock shaft's figures are not known, so that it may be so. */
  readonly certain: boolean;
  readonly part: FittedPart;
  /** "lifts its valve further than the stock shaft". */
  readonly words: string;
}

/** Why piston and valve of a side may now meet, when something fitted brings them nearer. */
export function broughtNearer(build: EffectiveBuild, side: Side): Nearer | undefined {
  if (valueAt(build, "interference")?.is === "yes-no" && (valueAt(build, "interference") as { yes: boolean }).yes === false) return undefined;
  for (const part of fitted(build, "cam-gear")) {
    if (part.side !== undefined && part.side !== side) continue;
    const set = effective(build.slots.get(`cam-gear.${side}.set`)) ?? effective(build.slots.get("cam-gear.set"));
    const value = quantityOf(set);
    if (!value || value.quantity.interval.nominal === 0) continue;
    const way = value.qualifiers["gear-direction"];
    // A retarded intake and an advanced exhaust move away from the piston.
    if ((side === "intake" && way === "retarded") || (side === "exhaust" && way === "advanced")) continue;
    return { certain: true, part, words: `moves the ${side} valves nearer to the piston` };
  }
  for (const part of fitted(build, "camshaft")) {
    if (part.side !== undefined && part.side !== side) continue;
    const compared = ["lobe-lift", "valve-lift", "duration"].map((key) => grows(build.slots.get(`camshaft.${side}.${key}`)));
    if (compared.includes("more")) return { certain: true, part, words: `opens the ${side} valves further or for longer than the stock shaft` };
    if (!compared.includes("less")) return { certain: false, part, words: "may open the valves further than the stock shaft" };
  }
  return undefined;
}

export interface Closed {
  /** How much nearer, m; undefined where other crowns went in, of which nobody says how they differ. */
  readonly by?: number;
  readonly words: string;
  readonly at: Location;
  readonly unit?: UnitId;
}

/** What brings the head nearer to the crowns, or the crowns to the valves, with the shaft left alone. */
export function closedBy(build: EffectiveBuild): Closed | undefined {
  const interference = valueAt(build, "interference");
  if (build.subject.sort !== "build" || (interference?.is === "yes-no" && !interference.yes)) return undefined;
  let by = 0;
  const words: string[] = [];
  let first: { readonly at: Location; readonly unit?: UnitId } | undefined;
  const add = (much: number, said: string, at: Location, unit: UnitId | undefined) => {
    if (!(much > 0)) return;
    by += much;
    words.push(said);
    first ??= { at: at.tree === build.subject.tree ? at : { tree: build.subject.tree, span: build.subject.name?.span ?? build.subject.wordSpan }, ...(unit && { unit }) };
  };
  const cut = { "combustion.skim": "the head was skimmed", "combustion.block-skim": "the block was cut" };
  // Where the crown's own height is given anew it says what the cut did to it.
  const deck = change(build, "combustion.deck");
  for (const [path, said] of Object.entries(cut)) {
    const given = effective(build.slots.get(path));
    const value = quantityOf(given);
    if (given && value && given.origin.sort !== "engine" && !(path === "combustion.block-skim" && deck)) add(value.quantity.interval.nominal, said, given.location, value.quantity.unit);
  }
  const gasket = change(build, "combustion.gasket-thickness");
  if (gasket) add(-gasket.by, "the gasket is thinner", gasket.at, gasket.unit);
  if (deck) add(-deck.by, "the crowns stand higher", deck.at, deck.unit);
  if (first) return { by, words: words.join(", "), ...first };
  const piston = fitted(build, "piston")[0];
  return piston && { words: "other pistons went in", at: { tree: build.subject.tree, span: spanOfFit(piston.fit) } };
}

/** How a height differs from the engine's own, once its words are heeded. */
function change(build: EffectiveBuild, path: string): { readonly by: number; readonly at: Location; readonly unit?: UnitId } | undefined {
  const slot = build.slots.get(path);
  const now = effective(slot);
  const stock = slot?.chain.find((p) => p.origin.sort === "engine");
  const meant = slot && now && stock && now !== stock ? [meaningOf(slot, stock), meaningOf(slot, now)] : [];
  const unit = quantityOf(now)?.quantity.unit;
  return now && meant[0] && meant[1] ? { by: meant[1].interval.nominal - meant[0].interval.nominal, at: now.location, ...(unit && { unit }) } : undefined;
}

/** How the fitted shaft's figure stands to the stock one's. Two durations are compared only where they say the same of themselves. */
function grows(slot: Slot | undefined): "more" | "less" | undefined {
  const now = quantityOf(effective(slot));
  const stock = slot && quantityOf(slot.chain.slice(0, slot.from).findLast((p) => p.origin.sort === "engine"));
  if (!now || !stock || Object.keys(now.qualifiers).some((set) => now.qualifiers[set] !== stock.qualifiers[set])) return undefined;
  return compareWithLimit(now.quantity.interval.nominal, stock.quantity.interval.nominal) > 0 ? "more" : "less";
}
