// A chosen figure that reads like a slip against what is asked for: the point misplaced, or the unit exchanged. Offers readings; judges nothing.
import type { FigureFact, Location } from "../model/declaration.ts";
import { type EffectiveBuild, type Provided, asked, chosen } from "../model/effective.ts";
import { keptBy, keptFor } from "../model/reads.ts";
import { type FinalTorque, askedTorque, chosenTorque } from "../model/tightening.ts";
import type { QuantityValue } from "../model/value.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { type Slip, likelySlips } from "../quantity/slips.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { type Band, bandOf, standing } from "./band.ts";
import type { Fix } from "./finding.ts";
import { quantityOf } from "./wording.ts";

/** How far from one asked figure without a tolerance a reading may still be taken for it. Common practice, no source: builders move little. */
const NEAR = 0.2;

export interface AskedSlip {
  readonly path: string;
  readonly asked: Provided;
  /** What is asked for, alone where it is one of several stages. */
  readonly wanted: { readonly at: Location; readonly quantity: Quantity };
  readonly chosen: Provided;
  /** The figure alone, where it is one of several stages. */
  readonly at: Location;
  /** Times the middle of what is asked for. */
  readonly off: number;
  readonly quantity: Quantity;
  readonly slips: readonly Slip[];
  /** A length 25.4 times away counts as a misplaced point: that is how it looks on the page. */
  readonly is: "point" | "unit";
}

/** Chosen figures of a build that lie outside what is asked for and would lie inside with the point moved or another unit. */
export const slipsOf: (build: EffectiveBuild) => readonly AskedSlip[] = keptFor((build) => [
  ...[...build.slots.values()].flatMap((slot) => (asked(slot) && chosen(slot) ? (slipsInSlots(build)(slot.path) ?? []) : [])),
  ...build.fasteners.flatMap((fastener) => slipsOfTorque(build)(fastener) ?? []),
]);

const slipsInSlots = keptFor((build: EffectiveBuild) => keptBy((path: string): AskedSlip | undefined => {
  if (path.endsWith(".torque") && path.startsWith("fastener.")) return undefined;
  const slot = build.slots.get(path);
  const source = asked(slot);
  const own = chosen(slot);
  const wanted = quantityOf(source);
  const given = quantityOf(own);
  return source && own && wanted && given && slipOf(path, source, own, wanted, given, source.location, own.location);
}));

const slipsOfTorque = keptFor((build: EffectiveBuild) => keptBy((fastener: string): AskedSlip | undefined => {
  for (const { wanted, given } of torquePairs(build, fastener)) {
    const slip = slipOf(given.path, wanted.provided, given.provided, wanted.value, given.value, wanted.at, given.at);
    if (slip) return slip;
  }
  return undefined;
}));

/**
 * Torques of a fastener that the builder chose, each beside the one it stands for: stage by stage where both tighten in as many, else the final
 * one by the final one. Where only one of the two turns an angle after it, nothing is compared: that is another method, and no other figure.
 */
export function torquePairs(build: EffectiveBuild, fastener: string): readonly { readonly wanted: FinalTorque; readonly given: FinalTorque }[] {
  const [wanted, given] = [askedTorque(build, fastener), chosenTorque(build, fastener)];
  if (!wanted || !given || wanted.turned !== given.turned) return [];
  const [want, have] = [wanted.provided.fact.value, given.provided.fact.value];
  if (want.is !== "stages" || have.is !== "stages") return [{ wanted, given }];
  if (want.stages.length !== have.stages.length) return wanted.turned ? [] : [{ wanted, given }];
  return have.stages.flatMap((stage, i) => {
    const other = want.stages[i];
    if (!other || other.quantity.kind !== stage.quantity.kind) return [];
    const place = (of: FinalTorque, value: QuantityValue): FinalTorque => ({ ...of, value, stage: i, at: { tree: of.at.tree, span: value.quantity.span } });
    return [{ wanted: place(wanted, other), given: place(given, stage) }];
  });
}

function slipOf(path: string, source: Provided, own: Provided, wanted: QuantityValue, given: QuantityValue, wantedAt: Location, at: Location): AskedSlip | undefined {
  if (wanted.quantity.kind !== given.quantity.kind || given.qualifiers["oversize"] !== undefined || !sameWords(wanted.qualifiers, given.qualifiers)) return undefined;
  // A source that slipped itself has its own finding, and says nothing of what is chosen here.
  if (isOutsideUsual(source.fact)) return undefined;
  const { quantity } = given;
  const band = nearby(bandOf(wanted.quantity));
  if (standing(quantity, band) === 0) return undefined;
  const all = likelySlips(quantity, { low: band.low, nominal: wanted.quantity.interval.nominal, high: band.high });
  // The same digits in the source's own unit explain more than a moved point does; a power of ten between two units is a moved point.
  const units = all.filter((s) => s.unit !== undefined && !isPowerOfTen(s.factor) && (s.unit === wanted.quantity.unit || quantity.kind === "length"));
  const points = all.filter((s) => s.unit === undefined);
  const slips = units.length > 0 ? units.map((s) => spelt(s, wanted.quantity)) : points;
  if (slips.length === 0) return undefined;
  const middle = wanted.quantity.interval.nominal;
  return { path, asked: source, wanted: { at: wantedAt, quantity: wanted.quantity }, chosen: own, at, off: middle === 0 ? Infinity : quantity.interval.nominal / middle, quantity, slips, is: units.length > 0 && quantity.kind !== "length" ? "unit" : "point" };
}

/** The source's unit as the source spells it. */
function spelt(slip: Slip, { unit, unitText }: Quantity): Slip {
  const usual = slip.unit === undefined ? undefined : spellingOfUnit(slip.unit);
  if (usual === undefined || slip.unit !== unit || unitText === undefined || unitText === usual) return slip;
  return { ...slip, text: slip.text.replace(usual, unitText), edits: slip.edits.map((e) => ({ ...e, text: e.text.replace(usual, unitText) })) };
}

/** True where a figure lies wholly outside what its key ever holds. */
export function isOutsideUsual(fact: FigureFact): boolean {
  const { usual } = fact.key;
  if (!usual || fact.value.is !== "quantity" || fact.value.qualifiers["oversize"] !== undefined) return false;
  const { interval } = fact.value.quantity;
  return interval.low > usual.high || interval.high < usual.low;
}

/** True where the figure at a path is taken for a slip, so that no other rule judges what it says. */
export function isSlip(build: EffectiveBuild, path: string): boolean {
  if (slipsInSlots(build)(path)) return true;
  const [block, fastener] = path.split(".");
  return block === "fastener" && fastener !== undefined && slipsOfTorque(build)(fastener)?.path === path;
}

export function slipFixes(slips: readonly Slip[], at: Location): Fix[] {
  return slips.map((slip) => ({ title: `Change to ${slip.text}`, safe: false, edits: slip.edits.map((e) => ({ tree: at.tree, span: e.span, text: e.text })) }));
}

function nearby(band: Band): Band {
  if (band.stated) return band;
  const by = NEAR * Math.max(Math.abs(band.low), Math.abs(band.high));
  return { low: band.low - by, high: band.high + by, stated: false };
}

function sameWords(a: Readonly<Record<string, string>>, b: Readonly<Record<string, string>>): boolean {
  return Object.keys(a).every((set) => b[set] === undefined || a[set] === b[set] || a[set] === "unstated" || b[set] === "unstated");
}

function isPowerOfTen(factor: number): boolean {
  const power = Math.log10(factor);
  return Math.abs(power - Math.round(power)) < 1e-9;
}
