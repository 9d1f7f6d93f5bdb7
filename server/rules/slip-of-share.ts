// A figure that is far from the share of another figure that it ever holds: a ring's gap against its bore. Offers readings; judges nothing.
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import { intervalOf } from "../model/value.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { type Slip, likelySlips } from "../quantity/slips.ts";
import { isOutsideUsual } from "./slip.ts";

export interface ShareSlip {
  readonly provided: Provided;
  readonly quantity: Quantity;
  readonly path: string;
  readonly slips: readonly Slip[];
  /** In the base of the kind. */
  readonly low: number;
  readonly high: number;
  readonly words: string;
  readonly of: Provided;
}

/** Of a build, its own figures and those of its parts and cards: the engine's are the engine's finding. */
export function shareSlips(build: EffectiveBuild): readonly ShareSlip[] {
  const found: ShareSlip[] = [];
  for (const slot of build.slots.values()) {
    const per = slot.key.usualPer;
    const base = per && effective(build.slots.get(per.path));
    // The other figure may be the one that slipped: it has its finding then, and is no measure for others.
    // An oversize is told as what is added, which is no size.
    const added = base?.fact.value.is === "quantity" && base.fact.value.qualifiers["oversize"] !== undefined;
    const size = base && !added && !isOutsideUsual(base.fact) ? intervalOf(base.fact.value)?.nominal : undefined;
    if (!per || !base || size === undefined || !(size > 0)) continue;
    for (const provided of slot.chain.slice(slot.from)) {
      if (build.subject.sort === "build" && provided.origin.sort === "engine") continue;
      const value = provided.fact.value;
      if (value.is !== "quantity" || isOutsideUsual(provided.fact)) continue;
      const slips = likelySlips(value.quantity, { low: per.low * size, nominal: Math.sqrt(per.low * per.high) * size, high: per.high * size });
      if (slips.length > 0) found.push({ provided, quantity: value.quantity, path: slot.path, slips, low: per.low * size, high: per.high * size, words: per.words, of: base });
    }
  }
  return found;
}
