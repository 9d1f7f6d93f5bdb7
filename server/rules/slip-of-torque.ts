// A torque that its thread and class cannot want: the clamp load that would follow is far past proof, or next to nothing, and a moved point
// would put it right. Offers readings; judges nothing.
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { type Slip, likelySlips } from "../quantity/slips.ts";
import { isSlip } from "./slip.ts";
import type { Sheet } from "../sheet/evaluate.ts";

export interface TorqueSlip {
  readonly fastener: string;
  readonly provided: Provided;
  readonly quantity: Quantity;
  readonly slips: readonly Slip[];
  /** Nominal clamp load over proof load. */
  readonly share: number;
}

/**
 * Shares of proof load between which a torque is believed, however it was lubricated. Common practice, no source: covers and small screws are
 * tightened to a seventh of it, stretched bolts to all of it.
 */
const BELIEVED = { low: 0.085, high: 1.7 };
const LIKELY = { low: 0.14, high: 1.15 };

export function torqueSlips(build: EffectiveBuild, sheet: Sheet): readonly TorqueSlip[] {
  return build.fasteners.flatMap((fastener): TorqueSlip[] => {
    const provided = effective(build.slots.get(`fastener.${fastener}.torque`));
    const value = provided?.fact.value;
    const share = sheet.byId.get(`${fastener}.proof-fraction`)?.interval?.nominal;
    // An angle after the torque makes the clamp load; the torque before it only takes up the slack.
    if (!provided || value?.is !== "quantity" || share === undefined || !(share > 0) || build.slots.has(`fastener.${fastener}.tighten`)) return [];
    if (build.subject.sort === "build" && provided.origin.sort === "engine") return [];
    // Against what a source asks for it has its finding already.
    if (isSlip(build, `fastener.${fastener}.torque`)) return [];
    if (share >= BELIEVED.low && share <= BELIEVED.high) return [];
    const torque = value.quantity.interval.nominal;
    const per = torque / share;
    const slips = likelySlips(value.quantity, { low: LIKELY.low * per, nominal: 0.6 * per, high: LIKELY.high * per });
    return slips.length > 0 ? [{ fastener, provided, quantity: value.quantity, slips, share }] : [];
  });
}
