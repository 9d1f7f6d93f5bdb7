// A stated compression ratio that the volumes do not come to.
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { formatAgainst } from "../quantity/display.ts";
import { ALLOWED_DISAGREEMENT, digitSlack } from "../sheet/formulas/bottom-end.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf, written } from "./wording.ts";

const VOLUMES = ["combustion.chamber", "combustion.piston-dish", "combustion.piston-dome", "combustion.gasket-volume"] as const;
const HEIGHTS = ["combustion.gasket-thickness", "combustion.deck"] as const;

export const RULE: BuildRule = {
  id: "stated-figure-disagrees",
  scope: "build",
  on: ["engine"],
  severity: "warning",
  page: {
    summary: "An engine's stated compression ratio is not what its volumes come to.",
    why: "A chamber measured without its plug, a gasket given free instead of crushed, or a dish taken for a dome: the ratio is where it shows, before fuel and spark are chosen by it.",
    limit: "0.5 per cent, which is common practice, plus what the digits written can explain: half a unit in the last place of the stated ratio and of every volume and height in it. Looked at for the engine as its maker states it only.",
    source: "(swept + clearance volume) / clearance volume; the allowance is common practice, no source",
    remedy: "Look the volumes up again, or measure them. If the maker rounds generously, say so in a waiver.",
    bad: `
engine dunlin-18 {
  source: "workshop manual, section 6A"
  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
  stated-compression: 10.4:1
  combustion {
    chamber: 44.6 cc
    piston-dish: 3.0 cc
    gasket-bore: 84.0 mm
    gasket-thickness: 0.80 mm crushed
    deck: 0.15 mm below
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual, section 6A"
  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
  stated-compression: 9.4:1
  combustion {
    chamber: 44.6 cc
    piston-dish: 3.0 cc
    gasket-bore: 84.0 mm
    gasket-thickness: 0.80 mm crushed
    deck: 0.15 mm below
  }
}
`,
  },
  check({ build, sheet, report }) {
    const apart = sheet.byId.get("compression.disagreement")?.interval?.nominal;
    const computed = sheet.byId.get("compression.static")?.interval?.nominal;
    const clearance = sheet.byId.get("clearance-volume")?.interval?.nominal;
    const stated = effective(build.slots.get("stated-compression"));
    const quantity = quantityOf(stated)?.quantity;
    if (apart === undefined || computed === undefined || !clearance || !stated || !quantity) return;
    // A change of the clearance volume moves the ratio by its share less one part in the ratio; the whole share is the safe side.
    const slack = (digitSlack(build, "stated-compression") ?? 0) + clearanceSlack(build) / clearance;
    if (Math.abs(apart) <= ALLOWED_DISAGREEMENT + slack) return;
    const shown = formatAgainst(computed, quantity.interval.nominal, "ratio", undefined, quantity.decimals);
    report({
      message: `The volumes come to a compression ratio of ${shown.value}:1, and ${written(stated)} is stated. Look chamber, dish, gasket and deck up again.`,
      at: stated.location, path: "stated-compression",
    });
  },
};

/** What half a unit in the last place of every volume and height adds up to, m³. */
function clearanceSlack(build: EffectiveBuild): number {
  const halfOf = (path: string) => quantityOf(effective(build.slots.get(path)))?.quantity.halfDigit ?? 0;
  const bore = quantityOf(effective(build.slots.get("bore")))?.quantity.interval.nominal ?? 0;
  const face = (Math.PI / 4) * bore * bore;
  return VOLUMES.reduce((sum, path) => sum + halfOf(path), 0) + HEIGHTS.reduce((sum, path) => sum + halfOf(path) * face, 0);
}
