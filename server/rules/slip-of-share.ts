// A figure that is far from the share of another figure that it ever holds: a ring's gap against its bore, a seat load against the open one.
// Offers readings of either; judges nothing.
import type { FigureFact, RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, type Origin, type Provided, type Slot, effective, wordsFor } from "../model/effective.ts";
import { intervalOf } from "../model/value.ts";
import { formatValue, unitFor } from "../quantity/display.ts";
import { type Slip, likelySlips } from "../quantity/slips.ts";
import type { KindId } from "../quantity/kinds.ts";
import type { Quantity } from "../quantity/quantity.ts";
import type { UsualShare } from "../schema/types.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import { isOutsideUsual, isSlip } from "./slip.ts";
import { written } from "./wording.ts";

export interface ShareSlip {
  readonly provided: Provided;
  readonly quantity: Quantity;
  readonly path: string;
  readonly slips: readonly Slip[];
  /** Readings of the other figure that would fit as well; empty where it was worked out. */
  readonly otherSlips: readonly Slip[];
  /** In the base of the kind. */
  readonly low: number;
  readonly high: number;
  /** "the bore of 83.00 mm". */
  readonly beside: string;
  readonly of?: Provided;
}

interface Base {
  readonly size: number;
  readonly text: string;
  /** Of a computed value. */
  readonly kind?: KindId;
  readonly of?: Provided;
  readonly quantity?: Quantity;
}

/** Of a build, its own figures and those of its parts and cards at one place: what lies within the engine is the engine's finding. */
export function shareSlips(build: EffectiveBuild, sheet: Sheet, slot: Slot): readonly ShareSlip[] {
  return (slot.key.usualPer ?? []).flatMap((share) => {
    const found = slipsBeside(build, sheet, slot, share);
    if (share.path !== "{other}" || found.length === 0) return found;
    // Each of two figures that are held against one another says the same of the other: the intake's speaks for both.
    const intake = slot.path.includes(".exhaust.") ? build.slots.get(otherSide(slot.path) ?? "") : undefined;
    return intake && slipsBeside(build, sheet, intake, share).length > 0 ? [] : found.slice(0, 1);
  });
}

/** The same of a build's records. */
export function recordShareSlips(build: EffectiveBuild, sheet: Sheet): readonly ShareSlip[] {
  const origin: Origin = { sort: build.subject.sort, declaration: build.subject, words: wordsFor(build.subject) };
  return build.subject.records.flatMap(figuresOf).flatMap((fact) =>
    (fact.key.usualPer ?? []).flatMap((share) => {
      const base = baseOf(build, sheet, fact.path, share.path);
      return (base && slipBeside(build, { role: "chosen", origin, fact, location: { tree: build.subject.tree, span: fact.span } }, fact.path, share, base)) ?? [];
    }),
  );
}

function slipsBeside(build: EffectiveBuild, sheet: Sheet, slot: Slot, share: UsualShare): readonly ShareSlip[] {
  const base = baseOf(build, sheet, slot.path, share.path);
  return base ? slot.chain.slice(slot.from).flatMap((provided) => slipBeside(build, provided, slot.path, share, base) ?? []) : [];
}

function slipBeside(build: EffectiveBuild, provided: Provided, path: string, share: UsualShare, base: Base): ShareSlip | undefined {
  const value = provided.fact.value;
  if (value.is !== "quantity" || isOutsideUsual(provided.fact) || isSlip(build, path)) return undefined;
  if (build.subject.sort === "build" && provided.origin.sort === "engine" && (!base.of || base.of.origin.sort === "engine")) return undefined;
  if (base.of && !sameReference(provided, base.of)) return undefined;
  // A flow by weight and one by volume are no shares of each other without the density.
  if (base.kind !== undefined && base.kind !== value.quantity.kind && base.kind.endsWith("-flow")) return undefined;
  const size = share.power === 3 ? base.size ** 3 : base.size;
  const low = share.low * size;
  const high = share.high * size;
  const slips = likelySlips(value.quantity, { low, nominal: low > 0 ? Math.sqrt(low * high) : high / 2, high });
  if (slips.length === 0) return undefined;
  const otherSlips = share.power === undefined ? readingsOfOther(base, share, value.quantity.interval.nominal) : [];
  return { provided, quantity: value.quantity, path, slips, otherSlips, low, high, beside: share.path === "{other}" ? `${base.text} on the other side` : `${share.words} of ${base.text}`, ...(base.of && { of: base.of }) };
}

/** Readings of the other figure beside which this one would be usual, and which are usual themselves. */
function readingsOfOther({ quantity, of }: Base, share: UsualShare, size: number): readonly Slip[] {
  if (!quantity || !of || !(size > 0)) return [];
  const usual = of.fact.key.usual ?? { low: 0, high: Number.MAX_VALUE };
  const low = Math.max(usual.low, size / share.high);
  const high = Math.min(usual.high, share.low > 0 ? size / share.low : usual.high);
  return low < high ? likelySlips(quantity, { low, nominal: (low + high) / 2, high }) : [];
}

function figuresOf(record: RecordFact): readonly FigureFact[] {
  return [...record.figures, ...record.records.flatMap(figuresOf)];
}

function baseOf(build: EffectiveBuild, sheet: Sheet, path: string, template: string): Base | undefined {
  const other = template === "{other}" ? otherSide(path) : template.startsWith(".") ? path.replace(/\.[^.]+$/, template) : template.replace("{spring-rate}", rateOf(path));
  if (other === undefined) return undefined;
  const given = effective(build.slots.get(other));
  if (given) {
    const value = given.fact.value;
    // The other figure may be the one that slipped: it has its finding then, and is no measure for others. An oversize is what is added, no size.
    if (value.is !== "quantity" || value.qualifiers["oversize"] !== undefined || isOutsideUsual(given.fact) || isSlip(build, other)) return undefined;
    const size = intervalOf(value)?.nominal;
    return size !== undefined && size > 0 ? { size, text: written(given), of: given, quantity: value.quantity } : undefined;
  }
  const computed = sheet.byId.get(other);
  const size = computed?.interval?.nominal;
  if (!computed || size === undefined || !(size > 0) || computed.provided.some((p) => isOutsideUsual(p.fact))) return undefined;
  const { kind } = computed.formula;
  return { size, kind, text: kind === undefined ? "this engine" : formatValue(size, kind, unitFor(kind, "metric", size)) };
}

function otherSide(path: string): string | undefined {
  if (path.includes(".intake.")) return path.replace(".intake.", ".exhaust.");
  return path.includes(".exhaust.") ? path.replace(".exhaust.", ".intake.") : undefined;
}

/** Id of the computed rate of the spring whose figure lies at a path; of a pair alike on both sides, the intake's serves. */
function rateOf(path: string): string {
  const steps = path.split(".").slice(2, -1);
  const coil = steps.find((step) => step === "inner" || step === "outer");
  const side = steps.find((step) => step === "intake" || step === "exhaust") ?? (coil ? "intake" : undefined);
  return ["spring.rate", side, coil].filter((step) => step !== undefined).join(".");
}

/** Gauge and absolute, at lobe and at valve: figures of two references are no shares of each other. */
function sameReference(a: Provided, b: Provided): boolean {
  const words = (p: Provided): Readonly<Record<string, string>> => (p.fact.value.is === "quantity" ? p.fact.value.qualifiers : {});
  return ["pressure-reference", "lift-at"].every((set) => words(a)[set] === undefined || words(b)[set] === undefined || words(a)[set] === words(b)[set]);
}
