// A valve event that does not add up with its duration, and would with its point moved. Offers readings; judges no card wrong.
import type { Declaration, FigureFact } from "../model/declaration.ts";
import type { QuantityValue } from "../model/value.ts";
import { type Slip, likelySlips } from "../quantity/slips.ts";
import type { Quantity } from "../quantity/quantity.ts";

export interface EventSlip {
  readonly fact: FigureFact;
  readonly quantity: Quantity;
  readonly slips: readonly Slip[];
  readonly duration: FigureFact;
  readonly opens: FigureFact;
  readonly closes: FigureFact;
  /** What opening and closing give, in crank degrees. */
  readonly sum: number;
}

/** Cards print whole degrees and round each by itself: events are taken to agree within these crank degrees. Common practice, no source. */
const ROUNDED = 3;

/** Of the figures of one declaration: opening, closing and duration are printed on one card, at one lift. */
export function eventSlips(declaration: Declaration): readonly EventSlip[] {
  const figures = new Map(declaration.figures.map((f) => [f.path, f]));
  return ["intake", "exhaust"].flatMap((side): EventSlip[] => {
    const [duration, opens, closes] = ["duration", "opens", "closes"].map((key) => figures.get(`camshaft.${side}.${key}`));
    const [long, first, last] = [duration, opens, closes].map((f) => (f?.value.is === "quantity" ? f.value : undefined));
    if (!duration || !opens || !closes || !long || !first || !last || ![long, first, last].every(inCrankDegrees)) return [];
    const before = side === "intake" ? "btdc" : "bbdc";
    const after = side === "intake" ? "abdc" : "atdc";
    const opening = signed(first, before, before.replace("b", "a"));
    const closing = signed(last, after, after.replace("a", "b"));
    if (opening === undefined || closing === undefined) return [];
    const wanted = long.quantity.interval.nominal;
    const sum = opening + 180 + closing;
    if (Math.abs(sum - wanted) <= ROUNDED) return [];
    const found = [{ fact: opens, value: first, other: closing, sign: Math.sign(opening) }, { fact: closes, value: last, other: opening, sign: Math.sign(closing) }];
    return found.flatMap(({ fact, value, other, sign }): EventSlip[] => {
      const needed = (wanted - 180 - other) * sign;
      if (!(needed > 0)) return [];
      const slips = likelySlips(value.quantity, { low: needed - ROUNDED / 2, nominal: needed, high: needed + ROUNDED / 2 });
      return slips.length > 0 ? [{ fact, quantity: value.quantity, slips, duration, opens, closes, sum }] : [];
    }).slice(0, 1);
  });
}

function inCrankDegrees(value: QuantityValue): boolean {
  return value.qualifiers["degrees-of"] !== "cam" && value.quantity.shape === "single";
}

/** An event as degrees that lengthen the duration; undefined where its dead centre is not the one it belongs to. */
function signed(value: QuantityValue, adds: string, takes: string): number | undefined {
  const degrees = value.quantity.interval.nominal;
  const event = value.qualifiers["event"];
  return event === adds ? degrees : event === takes ? -degrees : undefined;
}
