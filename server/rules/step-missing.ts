// Steps that were passed over: not ticked off, while what waits for them is.
import { plansOf } from "../sheet/work.ts";
import { LOOKED_AFTER, behind, doneSteps } from "./order.ts";
import type { BuildRule } from "./rule.ts";
import { allOf } from "./wording.ts";

export const RULE: BuildRule = {
  id: "step-missing",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A step is ticked off, or the engine has run, and a step that comes before it is not ticked off.",
    why: "A step that nobody remembers doing was either done and not written down, or not done: oil that was not primed and marks that were not looked at again both wreck an engine in its first minute.",
    limit: "Looked at once anything of the plan is ticked off. What the build's records show needs no tick: a `measured centreline` that the cam was degreed, a run that the engine was started. Tests before the work, oil changes, retightening and the lash after running-in have findings of their own.",
    source: "the plan itself; for the usual steps common practice, no source",
    remedy: "Tick it off with its day if it was done; do it now if it was not. A usual step that this engine does not have is taken out with steps of your own.",
    cautions: ["timing-drive"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  plan {
    step oil-primed
    step first-start after oil-primed
    done first-start on 2027-03-13
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
    step oil-primed
    step first-start after oil-primed
    done oil-primed on 2027-03-13
  }
}
`,
  },
  check({ build, report }) {
    for (const plan of plansOf(build)) {
      if (plan.since === undefined) continue;
      const told = new Set<string>();
      for (const { step, event, words } of doneSteps(plan)) {
        const open = behind(plan, step).open.filter((need) => !told.has(need.name) && !LOOKED_AFTER.has(need.name)).reverse();
        if (open.length === 0) continue;
        for (const need of open) told.add(need.name);
        const names = open.slice(0, MOST).map((need) => `\`${need.name}\``);
        const rest = open.length - names.length;
        report({
          message: `${step.done ? `${words} is ticked off` : `There is ${words}`}, and ${allOf([...names, ...(rest > 0 ? [`${rest} more`] : [])])}, which ${open.length === 1 ? "comes" : "come"} before it, ${open.length === 1 ? "is" : "are"} not. Tick ${open.length === 1 ? "it" : "them"} off with ${open.length === 1 ? "its day" : "their days"}, or do ${open.length === 1 ? "it" : "them"} now.`,
          at: event.at, related: open.slice(0, MOST).filter((need) => need.at.span.start !== event.at.span.start).map((need) => ({ message: `\`${need.name}\`: ${need.title}.`, at: need.at })),
        });
      }
    }
  },
};

/** More names than this are not read in one sentence. */
const MOST = 4;
