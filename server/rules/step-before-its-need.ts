// Steps ticked off on a day before the day of what comes before them.
import { type StepEvent, type WorkPlan, type WorkStep, doneBy, plansOf } from "../sheet/work.ts";
import { behind, daysAfter, doneSteps } from "./order.ts";
import type { BuildRule } from "./rule.ts";
import { capital } from "../quantity/spoken.ts";

export const RULE: BuildRule = {
  id: "step-before-its-need",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A step was done before a step that must come first, or before what sets or cools had its time.",
    why: "With the drive on before the cam stands at its mark, or the engine turned before the lash is set, valves meet pistons. In the right order nothing can touch.",
    limit: "The days of the ticks, and the day of the first run as the first start. Steps of one day are not told apart. Where a step is not ticked off, what it waits for is looked at instead. A `hold-time` of a day or more is counted in whole days.",
    source: "the plan itself; for the usual steps common practice, no source",
    remedy: "Correct the day where it is mistyped. Where it is true, go back to the step that was passed over before the engine is turned again.",
    cautions: ["timing-drive"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  plan {
    step shaft-polished
    step shaft-measured after shaft-polished
    done shaft-measured on 2027-03-13
    done shaft-polished on 2027-03-14
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
    done shaft-polished on 2027-03-13
    done shaft-measured on 2027-03-14
  }
}
`,
  },
  check({ build, report }) {
    for (const plan of plansOf(build)) {
      if (plan.since === undefined) continue;
      let pairs = pairsOf(plan);
      // One wrong day makes many pairs: the step that most of them share is named, and they are done with.
      while (pairs.length > 0) {
        const worst = mostShared(pairs);
        const own = pairs.filter((p) => p.early.step === worst || p.late.step === worst);
        pairs = pairs.filter((p) => !own.includes(p));
        const [pair] = own;
        if (!pair) break;
        const early = own.every((p) => p.early.step === worst);
        const more = new Set(own.map((p) => (early ? p.late.step : p.early.step))).size - 1;
        const rest = more === 0 ? "" : ` The same goes for ${more} more ${more === 1 ? "step" : "steps"}.`;
        const { early: e, late: l, wait } = pair;
        report({
          message: wait !== undefined
            ? `\`${l.step.name}\` of ${l.event.date} must be left until ${wait}, and ${e.words} followed on ${e.event.date}.${rest}`
            : early
              ? `${capital(e.words)} was done on ${e.event.date}, and \`${l.step.name}\`, which comes first, on ${l.event.date}.${rest} Correct the day, or go back to what was passed over.`
              : `\`${l.step.name}\` was done on ${l.event.date}, and ${e.words}, which waits for it, on ${e.event.date} already.${rest} Correct the day, or go back to what was passed over.`,
          at: early ? e.event.at : l.event.at,
          related: [{ message: early ? `\`${l.step.name}\` was done here.` : `This waits for \`${l.step.name}\`.`, at: early ? l.event.at : e.event.at }],
        });
      }
    }
  },
};

interface Side {
  readonly step: WorkStep;
  readonly event: StepEvent;
  readonly words: string;
}

interface Pair {
  readonly early: Side;
  readonly late: Side;
  /** The day until which the late one must be left alone. */
  readonly wait?: string;
}

function pairsOf(plan: WorkPlan): Pair[] {
  return doneSteps(plan).flatMap(({ step, event, words }) => {
    const early: Side = { step, event, words };
    return behind(plan, step).done.flatMap((need): Pair[] => {
      const last = need.done;
      if (!last) return [];
      const late: Side = { step: need, event: last, words: `\`${need.name}\`` };
      if (last.date > event.date) return [{ early, late }];
      const days = Math.floor((need.hold ?? 0) / 86400);
      const until = days > 0 ? daysAfter(last.date, days) : undefined;
      return until !== undefined && until > event.date && doneBy(need) ? [{ early, late, wait: until }] : [];
    });
  });
}

function mostShared(pairs: readonly Pair[]): WorkStep {
  const counts = new Map<WorkStep, number>();
  for (const { early, late } of pairs) for (const { step } of [early, late]) counts.set(step, (counts.get(step) ?? 0) + 1);
  let most: WorkStep = (pairs[0] as Pair).early.step;
  for (const [step, count] of counts) if (count > (counts.get(most) ?? 0)) most = step;
  return most;
}
