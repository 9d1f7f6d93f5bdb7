// Which cautions a build calls for. Knows when, not how they are shown.
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { CAUTIONS } from "../schema/cautions.ts";
import type { SheetModel } from "./sheet-model.ts";

/** Cautions that a build calls for only when it has what they are about. */
const ONLY_WITH: Readonly<Record<string, (build: EffectiveBuild) => boolean>> = {
  boost: (build) => [...build.slots.keys()].some((path) => path.startsWith("boost.") || path.startsWith("blower.") || path.startsWith("turbo.")),
  "burst-speed": (build) => build.parts.some((p) => ["blower", "turbo", "flywheel", "pulley"].includes(p.kindId)),
  dynamometer: (build) => build.subject.records.some((r) => r.word === "pull"),
  "yield-bolts": (build) =>
    build.fasteners.some((name) => {
      const method = effective(build.slots.get(`fastener.${name}.method`))?.fact.value;
      return method?.is === "word" && method.word === "to-yield";
    }),
};

export function cautionsOf(build: EffectiveBuild): SheetModel["cautions"] {
  return CAUTIONS.filter((c) => ONLY_WITH[c.id]?.(build) ?? true);
}
