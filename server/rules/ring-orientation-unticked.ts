// Pistons that went in with new rings, and no tick that gaps were staggered and marks face up.
import { fitted } from "../model/effective.ts";
import { fitPlace } from "./placed.ts";
import { recordWords, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { plansOf } from "../sheet/work.ts";

export const RULE: BuildRule = {
  id: "ring-orientation-unticked",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "Rings were fitted and the pistons are in, and nothing says that the gaps were staggered and the marks face up.",
    why: "A second ring upside down pumps oil up, and gaps in line let pressure past. Neither can be seen once the piston is in, and both cost the whole job over again.",
    limit: "A plan that ticks the pistons in, or an engine that has run, with rings fitted in this build and no step `ring-gaps-staggered` in the plan. Where the plan has the step and it was passed over, `step-missing` says so.",
    source: "common practice, no source; the ring's maker shows the marks and the clock of the gaps",
    remedy: "If it was done, add the step to the plan and tick it off with its day. If nobody remembers, look before the sump goes on.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

part ring holmrook-83 "Holmrook 83 mm rings" for dunlin-18 { source: "leaflet in the box" }

build wren-hill-2 on dunlin-18 {
  fit holmrook-83
  plan {
    step rings-gapped
    step pistons-in after rings-gapped
    done rings-gapped on 2027-03-12
    done pistons-in on 2027-03-13
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

part ring holmrook-83 "Holmrook 83 mm rings" for dunlin-18 { source: "leaflet in the box" }

build wren-hill-2 on dunlin-18 {
  fit holmrook-83
  plan {
    step rings-gapped
    step ring-gaps-staggered after rings-gapped
    step pistons-in after ring-gaps-staggered
    done rings-gapped on 2027-03-12
    done ring-gaps-staggered on 2027-03-13
    done pistons-in on 2027-03-13
  }
}
`,
  },
  check({ build, report }) {
    if (fitted(build, "ring").length === 0) return;
    const plans = plansOf(build);
    // A builder who keeps no plan ticks nothing off.
    if (plans.length === 0 || plans.some((plan) => plan.byName.has("ring-gaps-staggered"))) return;
    const ticked = plans.flatMap((plan) => plan.byName.get("pistons-in")?.ticks ?? [])[0];
    const [run] = recordsOf(build, "run");
    if (!ticked && !run) return;
    const words = ticked ? `The pistons went in on ${ticked.date}` : `The engine has run, in ${run ? recordWords(run) : ""},`;
    report({
      message: `${words} with new rings, and nothing says that their gaps were staggered and their marks face up. Add the step \`ring-gaps-staggered\` to the plan and tick it off.`,
      at: ticked?.at ?? fitPlace(build, ["ring"]), path: "ring.orientation",
    });
  },
};
