// Oil that should have been changed: after running-in, by its maker's distance, by a day of the plan.
import { effective } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import { compareWithLimit } from "../quantity/display.ts";
import { dateOf } from "../sheet/pull.ts";
import { plansOf } from "../sheet/work.ts";
import { overdue, passedOver, ranSince, saysYes, ticksOf } from "./order.ts";
import { headOf, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { giver, quantityOf, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "oil-change-due",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The oil and filter are due to be changed.",
    why: "What new lobes, rings and shells shed in their first hour goes round with the oil until it is drained. Cut the filter open: what lies in it is the first news of a bearing.",
    limit: "After running-in, where the plan has the step `oil-change`, anything of it or any record that waits for it was done, and no change is written down. By distance, the engine's or the build's `oil-change` against what the runs since the last change add up to. By day, the step's own `due`.",
    source: "the engine's maker; after running-in common practice, no source",
    remedy: "Change oil and filter, and say so: oil-changed: yes in the run before it, or done oil-change with its day.",
    cautions: ["hot", "waste"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fluids { oil-change: 5000 km }
}

build wren-hill-2 on dunlin-18 {
  run road on 2026-09-20 { distance: 3000 km; oil-changed: yes }
  run road on 2027-04-20 { distance: 5200 km }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fluids { oil-change: 5000 km }
}

build wren-hill-2 on dunlin-18 {
  run road on 2026-09-20 { distance: 3000 km; oil-changed: yes }
  run road on 2027-04-20 { distance: 4200 km }
}
`,
  },
  check({ build, asOf, report }) {
    for (const plan of plansOf(build)) {
      const missed = passedOver(plan, "oil-change");
      if (missed) report({ message: `The oil was not changed after running-in, and ${missed.words}. Change oil and filter hot, cut the filter open, and tick it off.`, at: missed.by.at });
    }
    const given = effective(build.slots.get("fluids.oil-change"));
    const every = quantityOf(given)?.quantity;
    if (given && every) {
      const changed = [...recordsOf(build, "run").filter((r) => saysYes(r, "oil-changed")).flatMap((r) => dateOf(r) ?? []), ...ticksOf(build, "oil-change").map((t) => t.date)].sort().at(-1);
      const { distance, last } = ranSince(build, changed);
      if (last && compareWithLimit(distance, every.interval.high) > 0)
        report({
          message: `${giver(given)} asks for new oil every ${written(given)}, and the engine has run ${formatValue(distance, "distance", every.unit ?? "kilometre")} ${changed === undefined ? "with no change written down" : `since ${changed}`}. Change oil and filter, and write it down.`,
          at: headOf(build, last), path: "fluids.oil-change", related: [{ message: "It is asked for here.", at: given.location }],
        });
    }
    for (const { step, date, at } of overdue(build, asOf)) if (step.name === "oil-change") report({ message: `The oil change was due on ${date} and is not ticked off. Change it, or set another day.`, at });
  },
};
