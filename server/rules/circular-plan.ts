// Steps of a plan that wait for each other.
import { plansOf } from "../sheet/work.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "circular-plan",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Steps of a plan wait for each other, so that none of them can ever be begun.",
    why: "An order that leads back to itself is no order: nothing can be told of what comes next, and nothing of what was done too early.",
    limit: "None: it is followed from step to step through `after` and `before`, the usual ones included.",
    source: "by definition",
    remedy: "Take one of the waits out.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  plan {
    step shaft-polished after shaft-measured
    step shaft-measured after shaft-polished
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  plan {
    step shaft-polished
    step shaft-measured after shaft-polished
  }
}
`,
  },
  check({ build, report }) {
    for (const { circle, byName, at } of plansOf(build)) {
      if (circle.length === 0) continue;
      const [first = ""] = circle;
      const round = [...circle, first].map((name) => `\`${name}\``);
      const shown = round.length > MOST ? [...round.slice(0, MOST - 1), "…", round.at(-1) ?? ""] : round;
      report({ message: `These steps wait for each other: ${shown.join(" waits for ")}. Take one of the waits out.`, at: byName.get(first)?.at ?? at });
    }
  },
};

/** More steps than this are not read in one sentence. */
const MOST = 6;
