// A reading that looks like a slip: ten, a hundred or 25.4 times away from the figure it is a reading of, or from the others of its set.
// Offers readings; judges nothing.
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, effective } from "../model/effective.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { type Slip, likelySlips } from "../quantity/slips.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import { measurementOf } from "../schema/measurements.ts";
import { meaningOf } from "../sheet/meaning.ts";
import { measuredReadings, placeWords } from "../sheet/measured.ts";

export interface ReadingSlip {
  readonly at: Location;
  readonly quantity: Quantity;
  readonly path: string;
  readonly place: string;
  readonly slips: readonly Slip[];
  /** What it is far from: the figure it reads, or the rest of its set. In the base of its kind. */
  readonly expected: number;
  readonly against: "figure" | "set";
}

/**
 * Within six times of what is expected a reading is a reading, however odd: a worn bearing or a wrong part goes as far. A slip is offered
 * only where it would land near what is expected. Common practice, no source.
 */
const BELIEVABLE = 6;
const NEAR = 2.5;
/**
 * Gaps, plays and tests of a running engine may truly be next to nothing or far too large, and saying so is what they are measured for: only
 * sizes, weights and loads cannot be ten times out.
 */
const MAY_BE_ANYTHING = /clearance|endplay|gap|^lash$|^preload|^squish$|^piston-valve$|^valve-to-valve$|^deck$|^retainer-to-guide$|^belt-slack$|^oil-pump$|^stretch$|^cranking$|^leak-down$|^vacuum$|pressure|^flatness$|runout|^valve-recess$/;

export function readingSlips(build: EffectiveBuild, sheet: Sheet): readonly ReadingSlip[] {
  const targets = new Map(measuredReadings(build).map((r) => [r.location.span.start, r]));
  const found: ReadingSlip[] = [];
  for (const fact of build.measured) {
    if (MAY_BE_ANYTHING.test(fact.what.text)) continue;
    const usual = measurementOf(fact.what.text)?.usual;
    const all = [
      ...fact.readings.map((r) => ({ quantity: r.quantity, span: r.span, set: r.row.split(/\s+/)[0] ?? "" })),
      ...fact.figures.flatMap((f) => (f.value.is === "quantity" ? [{ quantity: f.value.quantity, span: f.span, set: "" }] : [])),
    ];
    for (const one of all) {
      const target = targets.get(one.span.start);
      if (!target || one.quantity.kind === "angle") continue;
      const others = all.filter((o) => o !== one && o.set === one.set && o.quantity.kind === one.quantity.kind).map((o) => o.quantity.interval.nominal).sort((a, b) => a - b);
      const specified = target.path !== undefined ? specifiedAt(build, target.path) : undefined;
      const computed = target.valueId !== undefined ? sheet.byId.get(target.valueId)?.interval?.nominal : undefined;
      const candidates: readonly { readonly expected: number | undefined; readonly against: "figure" | "set" }[] = [
        { expected: specified ?? computed, against: "figure" }, { expected: others.length >= 2 ? others[others.length >> 1] : undefined, against: "set" },
      ];
      for (const { expected, against } of candidates) {
        if (expected === undefined || !(expected > 0)) continue;
        const { low, high } = one.quantity.interval;
        // Outside anything that is ever measured there it has its finding already.
        if (usual && (high < usual.low || low > usual.high)) continue;
        if (high >= expected / BELIEVABLE && low <= expected * BELIEVABLE) continue;
        const slips = likelySlips(one.quantity, { low: expected / NEAR, nominal: expected, high: expected * NEAR });
        if (slips.length === 0) continue;
        found.push({ at: { tree: build.subject.tree, span: one.span }, quantity: one.quantity, path: target.path ?? target.valueId ?? "", place: placeWords(target.place), slips, expected, against });
        break;
      }
    }
  }
  return found;
}

function specifiedAt(build: EffectiveBuild, path: string): number | undefined {
  const slot = build.slots.get(path);
  const given = effective(slot);
  // An oversize is added to the standard size before a reading is held against it.
  const interval = slot && given && meaningOf(slot, given)?.interval;
  return interval && Number.isFinite(interval.nominal) ? interval.nominal : undefined;
}
