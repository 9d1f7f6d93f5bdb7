// A stated displacement that bore, stroke and cylinders do not come to.
import { effective } from "../model/effective.ts";
import { formatValue, unitFor } from "../quantity/display.ts";
import { ALLOWED_DISAGREEMENT, disagreementSlack } from "../sheet/formulas/bottom-end.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "stated-displacement-disagrees",
  scope: "build",
  on: ["engine"],
  severity: "warning",
  page: {
    summary: "An engine's stated displacement is not what its bore, stroke and cylinders come to.",
    why: "One of the four was copied wrong, and everything from compression to piston speed rests on them.",
    limit: "0.5 per cent, which is common practice, plus what the digits can explain: half a unit in the last place of the bore counted twice, of the stroke once, of the stated displacement once. Looked at for the engine as its maker states it only, never after a rebore or with another crank.",
    source: "π/4 · bore² · stroke · cylinders; the allowance is common practice, no source",
    remedy: "Look all four up again.",
    bad: `
engine dunlin-18 {
  source: "workshop manual, section 6A"
  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
  stated-displacement: 1795 cc
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual, section 6A"
  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
  stated-displacement: 1775 cc
}
`,
  },
  check({ build, sheet, report }) {
    const apart = sheet.byId.get("displacement.disagreement")?.interval?.nominal;
    const computed = sheet.byId.get("displacement.total")?.interval?.nominal;
    const [bore, stroke, stated] = ["bore", "stroke", "stated-displacement"].map((p) => effective(build.slots.get(p)));
    if (apart === undefined || computed === undefined || !bore || !stroke || !stated) return;
    if (Math.abs(apart) <= ALLOWED_DISAGREEMENT + (disagreementSlack(build) ?? 0)) return;
    const like = quantityOf(stated)?.quantity;
    const come = formatValue(computed, "volume", like?.unit ?? unitFor("volume", "metric", computed));
    report({
      message: `Bore ${written(bore)} and stroke ${written(stroke)} come to ${come}, and ${written(stated)} is stated, ${percent(apart)} apart. Look all of them up again.`,
      at: stated.location, path: "stated-displacement",
      related: [{ message: "The bore stands here.", at: bore.location }, { message: "The stroke stands here.", at: stroke.location }],
    });
  },
};

function percent(share: number): string {
  return `${(Math.abs(share) * 100).toFixed(1)} %`;
}
