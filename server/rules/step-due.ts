// Steps whose own day is past.
import { overdue } from "./order.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "step-due",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "A step of the plan has a day by which it was to be done, and it is not.",
    why: "A day that is past and a box that is empty mean that something was forgotten, or that the plan no longer says what is meant.",
    limit: "The step's own `due`, against today or the day given with `--as-of`. Steps that take readings, oil changes and retightening have findings of their own.",
    source: "the plan itself",
    remedy: "Do it and tick it off, or set another day.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  plan { step head-to-the-grinder { due: 2027-02-01 } }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  plan {
    step head-to-the-grinder { due: 2027-02-01 }
    done head-to-the-grinder on 2027-01-30
  }
}
`,
  },
  check({ build, asOf, report }) {
    for (const { step, date, at } of overdue(build, asOf)) {
      if (step.measures.length > 0 || step.name === "oil-change" || step.name === "retorque") continue;
      report({ message: `\`${step.name}\` was due on ${date} and is not done. Do it and tick it off, or set another day.`, at });
    }
  },
};
