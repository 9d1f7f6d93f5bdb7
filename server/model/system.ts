// The system of units that a build is written in. Knows units, not what they measure.
import { UNITS } from "../quantity/units.ts";
import { type EffectiveBuild, effective } from "./effective.ts";

export type System = "metric" | "inch";

/** The system to show first: the shop's wish, else the one in which most of the build's figures are written. */
export function systemOf(build: EffectiveBuild): System {
  const wish = build.shop?.figures.find((f) => f.key.key === "units")?.value;
  if (wish?.is === "word" && (wish.word === "metric" || wish.word === "inch")) return wish.word;
  let inch = 0;
  let metric = 0;
  for (const slot of build.slots.values()) {
    const value = effective(slot)?.fact.value;
    const unit = value?.is === "quantity" ? value.quantity.unit : undefined;
    if (unit === undefined) continue;
    if (UNITS[unit].system === "inch") inch++;
    if (UNITS[unit].system === "metric") metric++;
  }
  return inch > metric ? "inch" : "metric";
}
