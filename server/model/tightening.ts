// The final torque of a fastener, whether it was given as `torque:` or as the last torque of `tighten:`. Knows no friction and no load.
import type { Location } from "./declaration.ts";
import { type EffectiveBuild, type Provided, asked, chosen, effective } from "./effective.ts";
import type { QuantityValue } from "./value.ts";

export interface FinalTorque {
  /** The fact it stands in, `torque:` or `tighten:` whole. */
  readonly provided: Provided;
  readonly path: string;
  readonly value: QuantityValue;
  /** The torque alone. */
  readonly at: Location;
  /** Place among the stages, from zero; absent for a plain torque. */
  readonly stage?: number;
  /** True where angles follow it: the torque then only takes up the slack. */
  readonly turned: boolean;
}

/** The final torque that counts: the one said last; of two in one declaration, `torque:`. */
export function finalTorque(build: EffectiveBuild, fastener: string): FinalTorque | undefined {
  return lastSaid(build, fastener, effective);
}

/** The final torque that the last source asks for. */
export function askedTorque(build: EffectiveBuild, fastener: string): FinalTorque | undefined {
  return lastSaid(build, fastener, asked);
}

/** The final torque that the builder chose. */
export function chosenTorque(build: EffectiveBuild, fastener: string): FinalTorque | undefined {
  return lastSaid(build, fastener, chosen);
}

/** The final torque in one given fact. */
export function torqueIn(provided: Provided, path: string): FinalTorque | undefined {
  const { value } = provided.fact;
  if (value.is === "quantity") return value.quantity.kind === "torque" ? { provided, path, value, at: provided.location, turned: false } : undefined;
  if (value.is !== "stages") return undefined;
  const stage = value.stages.findLastIndex((s) => s.quantity.kind === "torque");
  const torque = value.stages[stage];
  return torque && { provided, path, value: torque, at: { tree: provided.location.tree, span: torque.quantity.span }, stage, turned: stage < value.stages.length - 1 };
}

function lastSaid(build: EffectiveBuild, fastener: string, pick: typeof effective): FinalTorque | undefined {
  let best: { readonly torque: FinalTorque; readonly rank: number } | undefined;
  for (const key of ["torque", "tighten"]) {
    const path = `fastener.${fastener}.${key}`;
    const provided = pick(build.slots.get(path));
    const torque = provided && torqueIn(provided, path);
    if (!torque) continue;
    const rank = rankOf(build, torque.provided);
    // Stages say more than their own last figure, but only where an angle follows does it change what is meant.
    if (!best || rank > best.rank || (rank === best.rank && torque.turned)) best = { torque, rank };
  }
  return best?.torque;
}

/** The order in which the layers of a build lie: engine, parts, cards, the builder's own. */
export function rankOf(build: EffectiveBuild, { origin }: Provided): number {
  if (origin.sort === "build") return Infinity;
  const part = build.parts.findLastIndex((p) => p.declaration === origin.declaration);
  if (part >= 0) return 1 + part;
  const card = build.cards.findLastIndex((c) => c.declaration === origin.declaration);
  return card >= 0 ? 1 + build.parts.length + card : 0;
}
