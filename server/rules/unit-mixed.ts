// A figure that fits what is asked for only in another unit.
import type { BuildRule } from "./rule.ts";
import { slipFixes, slipsOf } from "./slip.ts";
import { giver, inUnitOf, nameOf, textAt } from "./wording.ts";

export const RULE: BuildRule = {
  id: "unit-mixed",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A chosen figure fits what is asked for only if its digits are read in another unit.",
    why: "40 N·m where 40 ft-lb was asked leaves a bolt a quarter slack; the other way round it is stretched.",
    limit: "The figure asked for, in the part's, card's or engine's own words. Figures inside it are never questioned. A torque is held against the torque of the same stage, or the final one against the final one. An error where the figure is more than three times off, as 6 N·m for 6 kgf·m is; a warning where it is nearer.",
    source: "the source's own figure; factors from NIST SP 811",
    remedy: "Take the unit that is offered if the source agrees.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 38 .. 42 ft-lb oiled }
}

build wren-hill-2 on dunlin-18 {
  fastener cam-gear { torque: 40 N·m oiled }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 38 .. 42 ft-lb oiled }
}

build wren-hill-2 on dunlin-18 {
  fastener cam-gear { torque: 54 N·m oiled }
}
`,
  },
  check({ build, report }) {
    for (const { asked, wanted, chosen, quantity, slips, is, path, at, off } of slipsOf(build)) {
      const [first] = slips;
      if (is !== "unit" || !first) continue;
      report({
        message: `${textAt(at)} is written for ${nameOf(chosen, path)}, and ${giver(asked)} asks for ${textAt(wanted.at)}, which is about ${inUnitOf(quantity, wanted.quantity.interval.nominal, quantity.kind)}. Was ${first.text} meant?`,
        at, path, severity: off >= FAR || off <= 1 / FAR ? "error" : "warning", fixes: slipFixes(slips, at), related: [{ message: "It is asked for here.", at: asked.location }],
      });
    }
  },
};

/** So many times off nobody means the figure as it stands: 6 N·m for 6 kgf·m. Feet and newtons (1.36) are closer together than that. */
const FAR = 3;
