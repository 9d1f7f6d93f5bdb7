// The places that a formula is worked out for, by kind: sides, fasteners, pulls, the speeds of a pull, gears. Knows no formula.
import { type EffectiveBuild, valueAt } from "../model/effective.ts";
import type { Each } from "./formula.ts";
import { lastPull, pullsOf } from "./pull.ts";
import { recordedRuns } from "./recorded.ts";

/** The words that stand for `{each}` in this build, in the order of the sheet. */
export function placesOf(each: Each, build: EffectiveBuild): readonly string[] {
  switch (each) {
    case "side": return ["intake", "exhaust"];
    case "fastener": return build.fasteners;
    case "pull": return pullsOf(build).map((pull) => pull.name);
    case "log": return recordedRuns(build).map((run) => run.name);
    case "pull-speed": return [...new Set(lastPull(build)?.rows.map((row) => row.name) ?? [])];
    case "cylinder": return firingOrder(build).map(String);
    case "gear": return gearRatios(build).map((_, i) => String(i + 1));
  }
}

/** Cylinders in the order they fire; none where the order is not said or is not one of this engine's cylinders, each once. */
export function firingOrder(build: EffectiveBuild): readonly number[] {
  const said = valueAt(build, "firing-order");
  const cylinders = valueAt(build, "cylinders");
  if (said?.is !== "order" || cylinders?.is !== "quantity") return [];
  const whole = [...said.order].sort((a, b) => a - b).every((n, i) => n === i + 1) && said.order.length === cylinders.quantity.interval.nominal;
  return whole ? said.order : [];
}

/** Ratios of the gears, first gear first. */
export function gearRatios(build: EffectiveBuild): readonly number[] {
  const ratios = valueAt(build, "gearbox.ratios");
  return ratios?.is === "stages" ? ratios.stages.map((stage) => stage.quantity.interval.nominal) : ratios?.is === "quantity" ? [ratios.quantity.interval.nominal] : [];
}
