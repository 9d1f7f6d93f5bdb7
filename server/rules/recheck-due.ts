// Readings that must be taken again after the engine has run, and were not.
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { compareWithLimit, formatValue } from "../quantity/display.ts";
import { calledMeasurement } from "../schema/measurements.ts";
import { dateOf } from "../sheet/pull.ts";
import { type WorkPlan, type WorkStep, isBefore, needsBefore, plansOf } from "../sheet/work.ts";
import { lashNotRechecked } from "./lash-not-rechecked.ts";
import { RUNNING, overdue, passedOver, ranSince, saysYes, ticksOf } from "./order.ts";
import { headOf, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { giver, quantityOf, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "recheck-due",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Something is due to be measured again.",
    why: "What beds in, wears or settles moves after it was set. A lash that was right in spring closes over a season, and the valve that is left tight burns.",
    limit: "A step of the plan that takes readings after running-in or retightening, where anything that waits for it was done. The engine's or the build's `lash-every` against what the runs since the lash was last measured add up to. A step that takes readings and whose own `due` day is past. Where new valve gear was loaded before its lash was looked at again, that is told instead.",
    source: "the plan itself and the engine's maker; after running-in common practice, no source",
    remedy: "Measure, in the state that is asked for, and write it down with its day.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { lash-every: 10000 km; lash: 0.20 ± 0.02 mm cold }
}

build wren-hill-2 on dunlin-18 {
  measured lash cold on 2027-03-14 { intake: 0.20 mm; exhaust: 0.20 mm }
  run road on 2027-05-20 { distance: 11000 km }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { lash-every: 10000 km; lash: 0.20 ± 0.02 mm cold }
}

build wren-hill-2 on dunlin-18 {
  measured lash cold on 2027-03-14 { intake: 0.20 mm; exhaust: 0.20 mm }
  run road on 2027-05-20 { distance: 8000 km }
}
`,
  },
  check({ build, asOf, report }) {
    for (const plan of plansOf(build))
      for (const step of againAfterRunning(plan)) {
        const missed = passedOver(plan, step.name);
        if (!missed || (step.measures.includes("lash") && lashNotRechecked(build))) continue;
        report({ message: `The ${step.measures.map(calledMeasurement).join(" and ")} must be measured again after the engine has run, and was not before ${missed.words.replace(/^there is /, "").replace(/ was done on/, " of")}. Measure it, and write it down.`, at: missed.by.at });
      }
    lashInterval(build, report);
    for (const { step, date, at } of overdue(build, asOf)) {
      if (step.measures.length === 0 || step.name === "oil-change" || step.name === "retorque") continue;
      report({ message: `\`${step.name}\` was due on ${date} and is not done: ${step.title}. Measure, or set another day.`, at });
    }
  },
};

/** Steps that take readings which an earlier step of running disturbs. */
function againAfterRunning(plan: WorkPlan): readonly WorkStep[] {
  return plan.steps.filter((step) => step.measures.length > 0 && needsBefore(plan, step).some((need) => RUNNING.has(need.name) && need.disturbs.some((d) => step.measures.includes(d))));
}

function lashInterval(build: EffectiveBuild, report: Parameters<BuildRule["check"]>[0]["report"]): void {
  const given = effective(build.slots.get("valve-gear.lash-every"));
  const every = quantityOf(given)?.quantity;
  if (!given || !every) return;
  const looked = [
    ...build.measured.filter((m) => m.what.text === "lash" && m.date && !isBefore(m)).flatMap((m) => m.date?.text ?? []),
    ...recordsOf(build, "run").filter((r) => saysYes(r, "lash-rechecked")).flatMap((r) => dateOf(r) ?? []),
    ...ticksOf(build, "set-lash").map((t) => t.date), ...ticksOf(build, "recheck-lash").map((t) => t.date),
  ].sort().at(-1);
  const { distance, time, last } = ranSince(build, looked);
  const kind = every.kind === "time" ? "time" : "distance";
  const ran = kind === "time" ? time : distance;
  if (!last || compareWithLimit(ran, every.interval.high) <= 0) return;
  report({
    message: `${giver(given)} wants the lash looked at every ${written(given)}, and the engine has run ${formatValue(ran, kind, every.unit ?? (kind === "time" ? "hour" : "kilometre"))} ${looked === undefined ? "with no lash written down" : `since ${looked}`}. Measure it, and write it down.`,
    at: headOf(build, last), path: "valve-gear.lash-every", related: [{ message: "It is asked for here.", at: given.location }],
  });
}
