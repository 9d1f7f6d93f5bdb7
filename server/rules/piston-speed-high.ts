// A redline at which the pistons run faster than somebody allows.
import { usualMeanPistonSpeed } from "../engineering/fits.ts";
import { effective } from "../model/effective.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { amount } from "./amount.ts";
import { judged } from "./judged.ts";
import { limitOf } from "./limit.ts";
import { fitPlace } from "./placed.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "piston-speed-high",
  scope: "build",
  on: ["build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "At the redline the mean piston speed is more than the piston's maker, or anybody, allows.",
    why: "Rings, oil film and rod bolts work with the square of it. What breaks first goes through the side of the block.",
    limit: "What the piston's maker, the engine or the shop sets (`max-piston-speed`, `limits { piston-speed }`); else 25 m/s, the upper end of what the trade calls sport, which warns only. Looked at where the build chose the redline, the stroke or the pistons.",
    source: "the maker's own figure; 25 m/s is common practice, no source",
    remedy: "Lower the redline, or fit parts that bear the speed.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  stroke: 82.00 mm
  redline: 6500 rpm
  limits { piston-speed: 19 m/s }
}

build wren-hill-2 on dunlin-18 {
  redline: 7300 rpm
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  stroke: 82.00 mm
  redline: 6500 rpm
  limits { piston-speed: 20 m/s }
}

build wren-hill-2 on dunlin-18 {
  redline: 7300 rpm
}
`,
  },
  check({ build, sheet, report }) {
    const value = sheet.byId.get("piston-speed.mean");
    const found = judged(value, "greatest");
    const { sport } = usualMeanPistonSpeed;
    const limit = limitOf(build, "piston-speed", "greatest", "speed", { value: sport.high, provenance: sport.provenance, source: sport.source });
    if (!value || !found || !limit || compareWithLimit(found.interval.nominal, limit.value) <= 0) return;
    // The engine as its maker made it is his to answer for.
    if (value.provided.every((p) => p.origin.sort === "engine") && (limit.at === undefined || build.engine?.tree === limit.at.tree)) return;
    const redline = effective(build.slots.get("redline"));
    const shown = formatAgainst(found.interval.nominal, limit.value, "speed", limit.quantity?.unit ?? "metre-per-second");
    report({
      message: `At the redline the mean piston speed is ${shown.value} ${limit.quantity?.unitText ?? "m/s"}, more than ${limit.words}. Lower the redline, or fit parts that bear it.`,
      at: redline?.origin.sort === "build" ? redline.location : fitPlace(build, ["piston", "crankshaft"]), path: "piston-speed.mean", ...amount("more", found.interval.nominal, "speed", limit.quantity?.unit ?? "metre-per-second"),
      severity: limit.owned && compareWithLimit(found.interval.low, limit.value) > 0 ? "error" : "warning", ...(limit.at && { related: [{ message: "The limit stands here.", at: limit.at }] }),
    });
  },
};
