// Readings of something that was taken apart, turned or renewed since.
import { calledMeasurement } from "../schema/measurements.ts";
import { doneBy, plansOf } from "../sheet/work.ts";
import { disturbanceOf, newestSets } from "./order.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "stale-measurement",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The newest readings of a thing were taken before it was last disturbed.",
    why: "A lash measured before the shaft came out is the lash of an engine that no longer exists. Everything that is worked out or judged from it is wrong without looking so.",
    limit: "The day of the readings against the days of steps that are ticked off and parts that were fitted on a day. What each step disturbs stands in the language reference, under the usual steps; a step of your own says it itself with `disturbs`. Silent while the plan has a step left open that will take the readings again, and on readings marked `before`.",
    source: "the language reference's table of usual steps; common practice, no source",
    remedy: "Measure again and write the new readings down with their day. The old ones may stay above them.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured piston-valve on 2027-03-01 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }
  plan {
    step turned-up "Pockets cut deeper" { disturbs: piston-valve }
    done turned-up on 2027-03-14
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured piston-valve on 2027-03-01 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }
  plan {
    step turned-up "Pockets cut deeper" { disturbs: piston-valve }
    done turned-up on 2027-03-14
  }
  measured piston-valve on 2027-03-15 { intake: 2.5 mm; exhaust: 3.1 mm; method: clay }
}
`,
  },
  check({ build, report }) {
    for (const fact of newestSets(build)) {
      const spoilt = disturbanceOf(build, fact);
      if (!spoilt) continue;
      const what = fact.what.text;
      const plan = spoilt.plan ?? plansOf(build).at(-1);
      const takes = plan?.steps.filter((step) => step.measures.includes(what) && step.name !== "baseline") ?? [];
      // A step that will take the readings again is still to come, and none has taken them since without writing them down.
      if (takes.some((step) => !doneBy(step)) && !takes.some((step) => step.done && step.done.date >= spoilt.date)) continue;
      // What no step takes again is told once the engine runs: until then it may lie on the bench.
      const running = plan?.byName.get("first-start");
      if (takes.length === 0 && running && !doneBy(running)) continue;
      report({
        message: `The ${calledMeasurement(what)} was measured on ${fact.date?.text ?? ""}, and ${spoilt.words} disturbed it on ${spoilt.date}. Measure it again, and write it down with its day.`,
        at: { tree: build.subject.tree, span: fact.what.span }, severity: takes.length > 0 || !running ? "warning" : "advice",
        related: [{ message: "It was disturbed here.", at: spoilt.at }],
      });
    }
  },
};
