// A bolt that its maker takes to yield, tightened another way or tightened again.
import { chosen, wordAt } from "../model/effective.ts";
import { askedTorque, chosenTorque } from "../model/tightening.ts";
import type { BuildRule } from "./rule.ts";
import { giver, torqueText, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "yield-bolt",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A bolt that its maker takes to yield by an angle is tightened by a torque alone, or is to be tightened again.",
    why: "An angle stretches every bolt alike; a torque leaves it to friction, and half the bolts of the set stay far short of what the gasket needs. A second pull on a bolt that has yielded stretches it further, until it necks and breaks.",
    limit: "Where the source says `method: to-yield` and ends its stages with an angle: the build's own tightening must end with one, and must not have a `recheck-after`.",
    source: "the source's own method; VDI 2230 on tightening past yield",
    remedy: "Tighten by the stages that are asked for, with new bolts; or fit bolts or studs meant for a torque and write them as a part, with their maker's figure.",
    cautions: ["yield-bolts", "tightening"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener head-bolt { thread: M11x1.5; class: 10.9; method: to-yield; tighten: 30 N·m oiled, then 55 N·m, then 90 deg }
}

build wren-hill-2 on dunlin-18 {
  fastener head-bolt { torque: 80 N·m oiled }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener head-bolt { thread: M11x1.5; class: 10.9; method: to-yield; tighten: 30 N·m oiled, then 55 N·m, then 90 deg }
}

build wren-hill-2 on dunlin-18 {
  fastener head-bolt { tighten: 30 N·m oiled, then 55 N·m, then 90 deg }
}
`,
  },
  check({ build, report }) {
    for (const name of build.fasteners) {
      if (wordAt(build, `fastener.${name}.method`) !== "to-yield") continue;
      const [wanted, own] = [askedTorque(build, name), chosenTorque(build, name)];
      if (wanted?.turned && own && !own.turned)
        report({
          message: `${giver(wanted.provided)} takes \`${name}\` to yield by an angle (${written(wanted.provided)}), and this build tightens it to ${torqueText(own)} alone. Tighten it by the stages that are asked for.`,
          at: own.at, path: own.path, related: [{ message: "It is asked for here.", at: wanted.provided.location }],
        });
      const again = chosen(build.slots.get(`fastener.${name}.recheck-after`));
      if (again)
        report({ message: `\`${name}\` has been taken to yield and must not be tightened again after ${written(again)}: a second pull stretches it further. Take \`recheck-after\` out, or fit new bolts then.`, at: again.location, path: again.fact.path });
    }
  },
};
