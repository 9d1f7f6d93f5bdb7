// An oversize or undersize that no rebore or grind has: ten or 25.4 times too much of the size it is added to. Offers readings; judges nothing.
import { type EffectiveBuild, type Provided } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import { type Slip, likelySlips } from "../quantity/slips.ts";
import { meaningOf } from "../sheet/meaning.ts";
import { quantityOf } from "./wording.ts";

export interface OversizeSlip {
  readonly provided: Provided;
  readonly path: string;
  readonly slips: readonly Slip[];
  /** "the 82.00 mm that it is added to". */
  readonly beside: string;
  /** Share of the standard size. */
  readonly share: number;
}

/** More of a bore or journal is never taken: the last oversize of small singles is a twentieth. Common practice, no source. */
const MOST = 0.05;

export function oversizeSlips(build: EffectiveBuild): readonly OversizeSlip[] {
  return [...build.slots.values()].flatMap((slot) =>
    slot.chain.slice(slot.from).flatMap((provided): OversizeSlip[] => {
      const value = quantityOf(provided);
      if (!value || value.qualifiers["oversize"] === undefined) return [];
      if (build.subject.sort === "build" && provided.origin.sort === "engine") return [];
      const whole = meaningOf(slot, provided)?.interval.nominal;
      const added = Math.abs(value.quantity.interval.nominal);
      if (whole === undefined) return [];
      const standard = value.qualifiers["oversize"] === "under" ? whole + added : whole - added;
      if (!(standard > 0) || added <= MOST * standard) return [];
      const slips = likelySlips(value.quantity, { low: 0, nominal: MOST * standard * 0.2, high: MOST * standard });
      return slips.length > 0 ? [{ provided, path: slot.path, slips, share: added / standard, beside: formatValue(standard, value.quantity.kind, value.quantity.unit) }] : [];
    }),
  );
}
