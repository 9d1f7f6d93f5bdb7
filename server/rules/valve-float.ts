// A redline past the speed at which the springs can no longer hold the valves to the cam.
import { effective, fitted } from "../model/effective.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { amount } from "./amount.ts";
import { judged } from "./judged.ts";
import { SIDES } from "./lash.ts";
import { fitPlace } from "./placed.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf } from "./wording.ts";

export const RULE: BuildRule = {
  id: "valve-float",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The redline lies past the speed at which the springs can hold the valves to the cam.",
    why: "A valve that floats lands where the cam is not: it bounces, and may meet the piston.",
    limit: "The float speed as the maker states it, else as the measured lobe gives it, else as a cosine lobe does. It is an estimate on a rigid train; real trains usually let go 10 to 25 per cent earlier, so that a redline just below it is no comfort.",
    source: "springs against the inertia of a rigid valve train; the margin is common practice, no source",
    remedy: "Lower the redline, lighten the valves, or fit stronger springs if the lobes can bear them.",
    cautions: ["spring-energy"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
  valve-gear { float-speed: 6900 rpm }
}

build wren-hill-2 on dunlin-18 {
  redline: 7300 rpm
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
  valve-gear { float-speed: 7600 rpm }
}

build wren-hill-2 on dunlin-18 {
  redline: 7300 rpm
}
`,
  },
  check({ build, sheet, report }) {
    const redline = effective(build.slots.get("redline"));
    const speed = quantityOf(redline)?.quantity.interval.nominal;
    if (!redline || speed === undefined) return;
    const changed = redline.origin.sort === "build" || ["camshaft", "valve-spring", "rocker", "valve", "retainer", "follower", "lifter"].some((kind) => fitted(build, kind).length > 0);
    if (!changed) return;
    for (const side of SIDES) {
      const found = judged(sheet.byId.get(`valve-float.speed.${side}`), "least");
      if (!found || compareWithLimit(found.interval.nominal, speed) >= 0) continue;
      const shown = formatAgainst(found.interval.nominal, speed, "rotation", "revolution-per-minute");
      report({
        message: `The ${side} valves leave their cam at about ${shown.value} rpm${found.value.estimate ? ", by estimate," : ""} and the redline is ${shown.limit} rpm. Lower it, lighten the valves, or fit stronger springs.`,
        at: redline.origin.sort === "build" ? redline.location : fitPlace(build, ["camshaft", "valve-spring", "rocker"], side), path: `valve-float.speed.${side}`, ...amount("less", found.interval.nominal, "rotation", "revolution-per-minute"),
      });
      return;
    }
  },
};
