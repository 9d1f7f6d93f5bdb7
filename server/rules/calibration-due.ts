// A torque wrench that was last calibrated long ago, on a build whose bolts are still to be tightened.
import { finalTorque } from "../model/tightening.ts";
import { figureOf } from "../sheet/pull.ts";
import { wrenchFor } from "../sheet/wrench.ts";
import type { BuildRule } from "./rule.ts";
import { torqueText } from "./wording.ts";

const text = (day: string) => `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  fastener cam-cap { thread: M8x1.25; class: 8.8; torque: 12 N·m oiled }
}

shop {
  wrench small { range: 4 .. 25 N·m; calibrated: ${day} }
}
`;

export const RULE: BuildRule = {
  id: "calibration-due",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "A wrench that this build is tightened with was last calibrated more than a year ago.",
    why: "A wrench drifts with use and with being dropped, and shows nothing of it. Every clamp load on the sheet counts on its error.",
    limit: "Twelve months since `calibrated`. Looked at for the torques that the build itself gives, until it has run: what is tight was tightened.",
    source: "ISO 6789: twelve months or 5,000 uses, where whoever owns the wrench has set no interval of his own",
    remedy: "Have it calibrated, or check it against one that was. Then write the new day.",
    bad: text("2026-03-14"),
    good: text("2026-06-01"),
  },
  check({ build, asOf, report }) {
    if (build.subject.records.some((record) => record.word === "run" || record.word === "pull")) return;
    const told = new Set<string>();
    for (const name of build.fasteners) {
      const final = finalTorque(build, name);
      const torque = final?.value.quantity.interval.nominal;
      if (!final || torque === undefined || !(torque > 0) || final.provided.role !== "chosen") continue;
      const wrench = wrenchFor(build, torque);
      const day = wrench && figureOf(wrench.record, "calibrated");
      if (!wrench || !day || day.value.is !== "date" || told.has(wrench.name) || yearAfter(day.value.text) >= asOf) continue;
      told.add(wrench.name);
      report({
        message: `Wrench \`${wrench.name}\`, the one for ${torqueText(final)} on \`${name}\`, was last calibrated on ${day.value.text}, more than a year ago. Have it checked before it is trusted.`,
        at: final.at, path: final.path, related: [{ message: "Its day stands here.", at: { tree: wrench.shop.tree, span: day.span } }],
      });
    }
  },
};

/** The same day a year on; of a leap day, the day that would follow. */
function yearAfter(date: string): string {
  return `${String(Number(date.slice(0, 4)) + 1).padStart(4, "0")}${date.slice(4)}`;
}
