// Old pushrods under a head that sits lower, where a nut or screw hides it.
import { type EffectiveBuild, effective, wordAt } from "../model/effective.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { SIDES } from "./lash.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf } from "./wording.ts";

/** How much a head may come down before the rockers' angle is looked at: 0.010 in. Common practice, no source. */
const MUCH = 0.010 * 0.0254;

export const RULE: BuildRule = {
  id: "pushrod-geometry",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "The head sits lower, the old pushrods were kept, and nut or screw took up the difference.",
    why: "The preload or lash can be set all the same, but each rocker now leans further: its tip wipes the stem off its middle, which wears guides and stems.",
    limit: "Block and head together cut by 0.010 in (0.25 mm) or more since the engine's pushrods were what they are, no others fitted and none measured since, with rockers that a nut or a screw sets. The length that keeps the old angle is the old one less the cut. Where nothing can be set, `preload-out-of-range` says what the cut does.",
    source: "sum of the parts; the amount is common practice, no source",
    remedy: "Look where the rocker marks the stem's tip. Where the mark is off its middle, find the right length with an adjustable pushrod and write it down: measured pushrod-length.",
    bad: `
engine drover-338 {
  source: "shop manual"
  cylinders: 8
  valve-gear { layout: ohv; actuation: pushrod; adjuster: stud-nut; pushrod-length: 7.860 in }
}

build gritstone-1 on drover-338 {
  interference: no
  combustion { block-skim: .012 in }
}
`,
    good: `
engine drover-338 {
  source: "shop manual"
  cylinders: 8
  valve-gear { layout: ohv; actuation: pushrod; adjuster: stud-nut; pushrod-length: 7.860 in }
}

part pushrod coldbeck-785 "Coldbeck pushrod" for drover-338 { source: "box label"; length: 7.850 in }

build gritstone-1 on drover-338 {
  interference: no
  combustion { block-skim: .012 in }
  fit coldbeck-785
}
`,
  },
  check({ build, sheet, report }) {
    const adjuster = wordAt(build, "valve-gear.adjuster");
    if ((adjuster !== "stud-nut" && adjuster !== "screw") || build.measured.some((m) => m.what.text === "pushrod-length")) return;
    const cut = cutOf(build);
    for (const side of SIDES) {
      const wanted = sheet.byId.get(`pushrod-length.${side}.same-angle`)?.interval?.nominal;
      const given = [`valve-gear.${side}.pushrod-length`, "valve-gear.pushrod-length"].map((path) => effective(build.slots.get(path))).find((p) => p !== undefined);
      const old = quantityOf(given)?.quantity;
      if (!cut || !given || !old || wanted === undefined || compareWithLimit(old.interval.nominal - wanted, MUCH) < 0) continue;
      const unit = old.unit ?? "millimetre";
      const shown = formatAgainst(wanted, old.interval.nominal, "length", unit);
      report({
        message: `The head sits lower and the pushrods are the old ones of ${shown.limit} ${spellingOfUnit(unit)}; ${shown.value} ${spellingOfUnit(unit)} keeps the rockers at their old angle. Look where they mark the stem tips.`,
        at: cut, path: `pushrod-length.${side}.same-angle`, related: [{ message: "The old length stands here.", at: given.location }],
      });
      // Both sides sit under one head.
      return;
    }
  },
};

function cutOf(build: EffectiveBuild) {
  return ["combustion.block-skim", "combustion.skim"].map((path) => effective(build.slots.get(path))).find((p) => p?.location.tree === build.subject.tree)?.location;
}
