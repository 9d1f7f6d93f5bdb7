// A lash asked for in one state and set or measured in the other.
import { lashOf, statesDiffer } from "./lash.ts";
import type { BuildRule } from "./rule.ts";
import { giver, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "lash-state",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Lash is asked for hot and set cold, or the other way round.",
    why: "Head, block and valves grow by different amounts as they warm. A figure for hot set cold can leave a valve without any lash once the engine runs, or with far too much.",
    limit: "The state of the figure asked for. How much lash changes with heat hangs on the engine, so no figure is carried over from one state to the other.",
    source: "the card's or the engine's own figure",
    remedy: "Set and measure in the state that the source names, or ask its maker for the figure in the other.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm hot } }
}

build wren-hill-2 on dunlin-18 {
  lash { intake: 0.20 mm cold }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm hot } }
}

build wren-hill-2 on dunlin-18 {
  lash { intake: 0.20 mm hot }
}
`,
  },
  check({ build, report }) {
    const told = new Set<unknown>();
    for (const lash of lashOf(build)) {
      const related = [{ message: "It is asked for here.", at: lash.asked.location }];
      const { chosen: own, measured } = lash;
      if (own && statesDiffer(own.state, lash.askedState)) {
        report({ message: `The ${lash.side} lash is chosen as ${written(own.provided)} and ${giver(lash.asked)} asks for ${written(lash.asked)}. Set it ${lash.askedState}, or ask for the ${own.state} figure.`, at: own.provided.location, path: lash.path, related });
        continue;
      }
      if (!measured || !statesDiffer(measured.state, lash.askedState) || told.has(measured.at.span)) continue;
      told.add(measured.at.span);
      report({ message: `Lash was measured ${measured.state} and ${giver(lash.asked)} asks for ${written(lash.asked)}. Measure it ${lash.askedState}.`, at: measured.at, path: lash.path, related });
    }
  },
};
