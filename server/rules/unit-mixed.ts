// A figure that fits what is asked for only in another unit.
import type { BuildRule } from "./rule.ts";
import { slipFixes, slipsOf } from "./slip.ts";
import { giver, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "unit-mixed",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A chosen figure fits what is asked for only if its digits are read in another unit.",
    why: "40 N·m where 40 ft-lb was asked leaves a bolt a quarter slack; the other way round it is stretched.",
    limit: "The figure asked for, in the part's, card's or engine's own words. Figures inside it are never questioned.",
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
    for (const { asked, chosen, slips, is, path } of slipsOf(build)) {
      const [first] = slips;
      if (is !== "unit" || !first) continue;
      report({
        message: `${written(chosen)} is chosen for \`${chosen.fact.key.key}\` and ${giver(asked)} asks for ${written(asked)}; it would fit as ${first.text}. Look which unit the source means.`,
        at: chosen.location, path, fixes: slipFixes(slips, chosen.location), related: [{ message: "It is asked for here.", at: asked.location }],
      });
    }
  },
};
