// A plan that names a step, a measurement, a fastener or a part that there is not.
import { MEASUREMENTS } from "../schema/measurements.ts";
import { nearest } from "../schema/lookup.ts";
import { type NameNotKnown, plansOf, stepNames } from "../sheet/work.ts";
import type { BuildRule } from "./rule.ts";
import { didYouMean } from "./wording.ts";

export const RULE: BuildRule = {
  id: "unknown-step",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A plan names a step, a measurement, a fastener or a part that there is not.",
    why: "What is ticked off under a name that nothing else bears is ticked off nowhere, and the step that was meant stays open.",
    limit: "Steps: those of the plan, and the usual ones. Measurements: those that can be written down. Fasteners and parts: those of this build. Of a plan with hundreds of steps only the first ones are looked at, and it is said so.",
    source: "the definition of the language",
    remedy: "Correct the name, or write the step down in the plan.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  plan {
    job: head-off
    done baselin on 2027-03-01
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
    step face-checked "Face under the straight-edge" after head-off { measure: flatness }
    done baseline, head-off, crank-back on 2027-03-01
    done face-checked on 2027-03-02
  }
}
`,
  },
  check({ build, report }) {
    for (const plan of plansOf(build)) {
      if (plan.leftOut > 0) report({ message: `This plan has ${plan.steps.length + plan.leftOut} steps, and only the first ${plan.steps.length} are looked at. Make several plans of it.`, at: plan.at });
      for (const unknown of plan.notKnown) {
        const near = nearest(unknown.name, namesOf(unknown, build, stepNames(plan)));
        report({
          message: `${SAYS[unknown.of](unknown.name)}${didYouMean(near)}`, at: unknown.at,
          fixes: near.map((name) => ({ title: `Change to ${name}`, safe: false, edits: [{ tree: unknown.at.tree, span: unknown.at.span, text: name }] })),
        });
      }
    }
  },
};

const SAYS: Readonly<Record<NameNotKnown["of"], (name: string) => string>> = {
  step: (name) => `There is no step \`${name}\` in this plan, and it is none of the usual ones.`,
  measurement: (name) => `\`${name}\` is nothing that is known here to measure.`,
  fastener: (name) => `This build has no fastener \`${name}\`.`,
  part: (name) => `This build fits no part \`${name}\`.`,
};

function namesOf(unknown: NameNotKnown, build: Parameters<typeof plansOf>[0], steps: readonly string[]): readonly string[] {
  switch (unknown.of) {
    case "step": return steps;
    case "measurement": return MEASUREMENTS.map((m) => m.id);
    case "fastener": return build.fasteners;
    case "part": return build.parts.flatMap((p) => p.declaration.name?.text ?? p.kindId);
  }
}
