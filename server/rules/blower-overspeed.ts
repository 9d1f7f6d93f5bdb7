// A blower turned faster than its maker allows.
import { effective } from "../model/effective.ts";
import { compareWithLimit } from "../quantity/display.ts";
import { amount } from "./amount.ts";
import type { BuildRule } from "./rule.ts";
import { giver, inUnitOf, quantityOf, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "blower-overspeed",
  scope: "build",
  on: ["engine", "build"],
  severity: "error",
  breaksEngines: true,
  page: {
    summary: "At the redline the pulleys turn the blower faster than its maker allows.",
    why: "Rotors and pulleys that are overdriven touch, seize or burst, and what bursts goes through bonnets.",
    limit: "The blower's own `max-speed`. The speed is the redline times the pulleys times the gearing inside, without slip.",
    source: "belt geometry; the blower's maker",
    remedy: "Fit a larger pulley on the blower or a smaller one on the crank, or turn the engine less.",
    cautions: ["burst-speed", "rotating"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part blower holmrook-60 "Holmrook 0.60 L" for dunlin-20 {
  source: "fitting instructions, sheet 1"
  crank-pulley: 140 mm
  blower-pulley: 70 mm
  step-up: 1.0
  max-speed: 14000 rpm
}

build birkrigg-1 on dunlin-20 {
  fit holmrook-60
  fit blower-pulley { diameter: 58 mm }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part blower holmrook-60 "Holmrook 0.60 L" for dunlin-20 {
  source: "fitting instructions, sheet 1"
  crank-pulley: 140 mm
  blower-pulley: 70 mm
  step-up: 1.0
  max-speed: 14000 rpm
}

build birkrigg-1 on dunlin-20 {
  fit holmrook-60
  fit blower-pulley { diameter: 65 mm }
}
`,
  },
  check({ build, sheet, report }) {
    const speed = sheet.byId.get("blower.speed")?.interval?.nominal;
    const allowed = effective(build.slots.get("blower.max-speed"));
    const limit = quantityOf(allowed)?.quantity;
    if (speed === undefined || !allowed || !limit || compareWithLimit(speed, limit.interval.high) <= 0) return;
    const redline = effective(build.slots.get("redline"));
    // The last of the figures that drive it: the one that was changed.
    const drives = ["redline", "blower.crank-pulley", "blower.blower-pulley"].flatMap((path) => effective(build.slots.get(path)) ?? []);
    const at = (drives.findLast((p) => p.location.tree === build.subject.tree) ?? drives.findLast((p) => p.origin.sort === "part") ?? allowed).location;
    report({
      message: `At ${redline ? written(redline) : "the redline"} the blower turns ${inUnitOf(limit, speed, "rotation")}, more than the ${written(allowed)} that ${giver(allowed)} allows. Fit a larger pulley on the blower, or lower the redline.`,
      at, path: "blower.speed", ...amount("more", speed, "rotation"), related: [{ message: "The limit stands here.", at: allowed.location }],
    });
  },
};
