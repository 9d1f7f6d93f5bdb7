// What a figure amounts to once its qualifiers are heeded: cam degrees as crank degrees, a retard against an advance, a piston above the
// block. Formulas receive nothing else. Knows the words, not what any formula does with the number.
import type { Provided, Slot } from "../model/effective.ts";
import { type FigureValue, intervalOf } from "../model/value.ts";
import { type Interval, exactly, mapInterval } from "../quantity/interval.ts";

export interface Meaning {
  /**
   * Base unit of the key's kind. Angles of the crank; a gear's set is positive when retarded; a deck is positive below the block face; an
   * opening is counted before its dead centre and a closing after it; a clearance is the difference of two diameters.
   */
  readonly interval: Interval;
  /** Set when a word that decides was left unstated, and the wider reading was taken. */
  readonly assumption?: string;
}

/** The meaning of one link of a slot's chain, or nothing where there is no number. */
export function meaningOf(slot: Slot, provided: Provided): Meaning | undefined {
  return meaningOfFigure(provided.fact.value, slot.key.key, provided.fact.path, () => standardBefore(slot, provided));
}

/** The meaning of a figure by itself. `standard` gives the size that an oversize is added to. */
export function meaningOfFigure(value: FigureValue, key: string, path: string, standard: () => Interval | undefined): Meaning | undefined {
  const written = intervalOf(value);
  if (!written) return undefined;
  if (value.is !== "quantity") return { interval: written };
  const assumptions: string[] = [];
  let interval = bounded(written);
  if (interval !== written) assumptions.push(`${key} is given as a limit, and the limit itself is used`);
  const words = value.qualifiers;
  if (words["degrees-of"] === "cam") interval = mapInterval(interval, (x) => 2 * x);
  if (words["degrees-of"] === "unstated") {
    interval = spanOf(interval, mapInterval(interval, (x) => 2 * x));
    assumptions.push(`${key} does not say whether its degrees are of the crank or the cam: taken as crank, at most as cam`);
  }
  if (words["gear-direction"] === "advanced") interval = mapInterval(interval, (x) => -x);
  if (words["gear-direction"] === "unstated") {
    interval = { low: -Math.max(Math.abs(interval.low), Math.abs(interval.high)), nominal: 0, high: Math.max(Math.abs(interval.low), Math.abs(interval.high)) };
    assumptions.push(`${key} does not say whether it is advanced or retarded: both are allowed for`);
  }
  if (words["deck"] === "above") interval = mapInterval(interval, (x) => -x);
  if (words["deck"] === "unstated") {
    interval = spanOf(interval, mapInterval(interval, (x) => -x));
    assumptions.push(`${key} does not say below or above: taken as below, at most as above`);
  }
  if (words["gasket-state"] === "free") assumptions.push(`${key} is that of a gasket not yet clamped, which gets thinner`);
  if (words["gasket-state"] === "unstated") assumptions.push(`${key} does not say whether the gasket is crushed: taken as crushed`);
  if (words["clearance-across"] === "radial") interval = mapInterval(interval, (x) => 2 * x);
  const event = words["event"];
  if (event === "unstated") assumptions.push(`${key} does not say from which dead centre it is counted: the usual one is taken`);
  else if (event !== undefined) {
    const counted = countEvent(interval, event, path);
    if (!counted) return undefined;
    interval = counted;
  }
  if (words["oversize"] !== undefined) {
    const before = standard();
    if (!before) return undefined;
    const sign = words["oversize"] === "under" ? -1 : 1;
    const added = mapInterval(interval, (x) => sign * Math.abs(x));
    interval = { low: before.low + added.low, nominal: before.nominal + added.nominal, high: before.high + added.high };
  }
  return { interval, ...(assumptions.length > 0 && { assumption: assumptions.join("; ") }) };
}

/** A bound has an open end: nothing can be computed from infinity, so the bound stands for itself. */
function bounded(interval: Interval): Interval {
  return Number.isFinite(interval.low) && Number.isFinite(interval.high) ? interval : exactly(interval.nominal);
}

function spanOf(a: Interval, b: Interval): Interval {
  return { low: Math.min(a.low, b.low), nominal: a.nominal, high: Math.max(a.high, b.high) };
}

/** The size that an oversize is added to: what the slot held before. */
function standardBefore(slot: Slot, provided: Provided): Interval | undefined {
  const at = slot.chain.indexOf(provided);
  for (let i = at - 1; i >= 0; i--) {
    const link = slot.chain[i];
    const meaning = link && meaningOf(slot, link);
    if (meaning) return meaning.interval;
  }
  return undefined;
}

/**
 * An event counted the way its formula wants it. Openings count before, closings after; the intake opens at top and closes at bottom, the
 * exhaust the other way round. A figure counted from the other dead centre is 180 degrees away. Other angles (ignition) count before.
 */
function countEvent(interval: Interval, event: string, path: string): Interval | undefined {
  const after = event.startsWith("a");
  const fromTop = event.endsWith("tdc");
  if (!path.endsWith(".opens") && !path.endsWith(".closes")) return mapInterval(interval, (x) => (after ? -x : x));
  const opens = path.endsWith(".opens");
  const intake = path.includes(".intake.");
  const wantsTop = opens === intake;
  // Degrees after the dead centre that is written, then after the one that is wanted; bottom lies half a turn after top for the intake, before it for the exhaust.
  const turn = fromTop === wantsTop ? 0 : (fromTop ? -180 : 180) * (intake ? 1 : -1);
  return mapInterval(interval, (x) => {
    const fromWanted = (after ? x : -x) + turn;
    return opens ? -fromWanted : fromWanted;
  });
}
