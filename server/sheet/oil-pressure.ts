// The least pressure of hot oil at a speed: the maker's curve, a figure for all speeds, else the rule of thumb; and who says so. Judges nothing.
import { ruleOfThumbOilPressure } from "../engineering/fits.ts";
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import { type Interval, exactly } from "../quantity/interval.ts";
import type { LookedUp } from "./formula.ts";

export interface WantedOilPressure extends LookedUp {
  readonly interval: Interval;
  /** False for the rule of thumb. */
  readonly owned: boolean;
}

/** The curve of the engine's maker: rpm and Pa gauge, slowest first. */
export function oilPressureCurve(build: EffectiveBuild): readonly { readonly rpm: number; readonly pressure: number }[] {
  const table = build.tables.get("fluids.oil-pressure")?.fact?.table;
  if (!table) return [];
  const column = (key: string) => table.heads.findIndex((head) => head.key?.key === key);
  const [rpmAt, pressureAt] = [column("rpm"), column("pressure")];
  return table.rows.flatMap(({ cells }) => {
    const rpm = cells[rpmAt]?.quantity?.interval.nominal;
    const pressure = cells[pressureAt]?.quantity?.interval.low;
    return rpm === undefined || pressure === undefined ? [] : [{ rpm, pressure }];
  }).sort((a, b) => a.rpm - b.rpm);
}

/** Between two points of a curve along a straight line; above its last point that point's own. Nothing below its first: idling is another matter. */
export function wantedOilPressure(build: EffectiveBuild, rpm: number): WantedOilPressure | undefined {
  const curve = oilPressureCurve(build);
  const [first, last] = [curve[0], curve.at(-1)];
  if (first && last) {
    if (rpm < first.rpm) return undefined;
    const above = curve.findIndex((p) => p.rpm >= rpm);
    const [a, b] = [curve[above - 1], curve[above]];
    const pressure = !b ? last.pressure : !a || b.rpm === a.rpm ? b.pressure : a.pressure + ((b.pressure - a.pressure) * (rpm - a.rpm)) / (b.rpm - a.rpm);
    return { interval: exactly(pressure), words: "the maker's curve", source: "the engine's own oil pressure curve", owned: true };
  }
  const limit = effective(build.slots.get("limits.oil-pressure"));
  if (limit?.fact.value.is === "quantity")
    return { interval: exactly(limit.fact.value.quantity.interval.low), words: "the least oil pressure stated", source: "the engine's own limit", provided: [limit satisfies Provided], owned: true };
  return {
    interval: exactly(ruleOfThumbOilPressure({ rpm })), words: "10 psi for each 1000 rpm", source: "common practice, no source", owned: false, estimate: true,
    assumption: "the maker's oil pressure is not stated: the old rule of 10 psi for each 1000 rpm is taken, which many engines stay below by design",
  };
}

/** True where somebody read oil pressure, or stated what it must be. */
export function watchesOilPressure(build: EffectiveBuild): boolean {
  const { records } = build.subject;
  return build.tables.has("fluids.oil-pressure") || build.slots.has("limits.oil-pressure") || build.measured.some((m) => m.what.text === "oil-pressure")
    || records.some((r) => r.figures.some((f) => f.key.key === "oil-pressure") || r.table?.heads.some((head) => head.key?.key === "oil-pressure"));
}
