// Readings taken before a step that must come before them.
import type { MeasuredFact } from "../model/declaration.ts";
import { calledMeasurement } from "../schema/measurements.ts";
import { type WorkPlan, type WorkStep, needsBefore, plansOf } from "../sheet/work.ts";
import { disturbanceOf, newestSets } from "./order.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "measured-before-step",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Something was measured before a step that must come first.",
    why: "Lash set before the cam is degreed is lost when the gear is moved again, and a centreline found before the engine was turned through shows the slack of the drive as well.",
    limit: "The newest readings of the thing, taken while the plan was under way, against the days of what comes before the step that measures it. What may be taken in a trial assembly is left out, and what the later step itself disturbs is told as stale.",
    source: "the plan itself; for the usual steps common practice, no source",
    remedy: "Measure again, and write the new readings down.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured belt-slack on 2027-03-13 { reading: 7 mm }
  plan {
    step pulleys-lined "Pulleys in line"
    step belt-checked "Slack of the belt" after pulleys-lined { measure: belt-slack }
    step belt-on "Belt on" before pulleys-lined
    done belt-on on 2027-03-12
    done pulleys-lined on 2027-03-14
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured belt-slack on 2027-03-14 { reading: 7 mm }
  plan {
    step pulleys-lined "Pulleys in line"
    step belt-checked "Slack of the belt" after pulleys-lined { measure: belt-slack }
    done pulleys-lined on 2027-03-13
  }
}
`,
  },
  check({ build, report }) {
    for (const fact of newestSets(build)) {
      const taken = fact.date?.text ?? "";
      for (const plan of plansOf(build)) {
        if (plan.since === undefined || taken < plan.since || (plan.until !== undefined && taken >= plan.until)) continue;
        const step = measuring(plan, fact);
        const need = step && needsBefore(plan, step).find((n) => n.done !== undefined && n.done.date > taken && !n.disturbs.includes(fact.what.text));
        if (!step || !need?.done || disturbanceOf(build, fact)) continue;
        const what = calledMeasurement(fact.what.text);
        report({
          message: `The ${what} was measured on ${taken}, and \`${need.name}\`, which comes before \`${step.name}\`, was done on ${need.done.date}. Measure it again, or correct the day.`,
          at: { tree: build.subject.tree, span: fact.what.span }, related: [{ message: `\`${need.name}\` was done here.`, at: need.done.at }],
        });
        break;
      }
    }
  },
};

/** The first step that takes the measurement; none where a trial assembly may have taken it. */
function measuring(plan: WorkPlan, fact: MeasuredFact): WorkStep | undefined {
  const what = fact.what.text;
  if (plan.steps.some((step) => step.ends.includes(what))) return undefined;
  return plan.steps.find((step) => step.measures.includes(what) && step.name !== "baseline");
}
