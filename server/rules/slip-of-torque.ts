// A torque that its thread and class cannot want: the clamp load that would follow is far past proof, or next to nothing, and a moved point
// would put it right. Offers readings; judges nothing.
import { type EffectiveBuild, threadAt } from "../model/effective.ts";
import { type FinalTorque, finalTorque } from "../model/tightening.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { type Slip, likelySlips } from "../quantity/slips.ts";
import { faultOfThread } from "./impossible-fastener.ts";
import { isSlip } from "./slip.ts";
import type { Sheet } from "../sheet/evaluate.ts";

export interface TorqueSlip {
  readonly fastener: string;
  readonly torque: FinalTorque;
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
    const final = finalTorque(build, fastener);
    const share = sheet.byId.get(`${fastener}.proof-fraction`)?.interval?.nominal;
    // An angle after the torque makes the clamp load; the torque before it only takes up the slack.
    if (!final || final.turned || share === undefined || !(share > 0)) return [];
    if (build.subject.sort === "build" && final.provided.origin.sort === "engine") return [];
    // Against what a source asks for it has its finding already; and a thread that cannot be carries no load to go by.
    if (isSlip(build, final.path)) return [];
    const thread = threadAt(build, `fastener.${fastener}.thread`);
    if (thread && faultOfThread(thread) !== undefined) return [];
    if (share >= BELIEVED.low && share <= BELIEVED.high) return [];
    const { quantity } = final.value;
    const per = quantity.interval.nominal / share;
    const slips = likelySlips(quantity, { low: LIKELY.low * per, nominal: 0.6 * per, high: LIKELY.high * per });
    return slips.length > 0 ? [{ fastener, torque: final, quantity, slips, share }] : [];
  });
}
