// An engine that was taken apart before anybody wrote down how it stood.
import { doneOn, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";

/** Steps of the plan after which the engine as it was can no longer be tested. */
const APART = ["crank-back", "adjusters-off", "head-off", "shaft-out"] as const;

export const RULE: BuildRule = {
  id: "no-baseline",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "Work on the engine has begun, and neither cranking pressures nor leak-down of the engine as it was are written down.",
    why: "A low cylinder found afterwards may have been low before. Nobody can tell then whether the work did it.",
    limit: "A `measured cranking` or `measured leak-down` with the word `before`, or the step `baseline` ticked off. Asked for once a plan says that the engine is apart.",
    source: "the usual order of work, common practice, no source",
    remedy: "Next time test first. This time, write down what was found when it came apart.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  plan {
    job: head-off
    done head-off on 2027-03-01
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
    job: head-off
    done baseline on 2027-02-28
    done head-off on 2027-03-01
  }
}
`,
  },
  check({ build, report }) {
    if (recordsOf(build, "plan").length === 0 || doneOn(build, "baseline")) return;
    if (build.measured.some((m) => (m.what.text === "cranking" || m.what.text === "leak-down") && m.qualifiers.some((q) => q.text === "before"))) return;
    for (const step of APART) {
      const apart = doneOn(build, step);
      if (!apart) continue;
      report({ message: "The engine came apart before cranking pressures or leak-down were written down. Write down what was found, and test first next time: measured cranking hot before.", at: apart.at });
      return;
    }
  },
};
