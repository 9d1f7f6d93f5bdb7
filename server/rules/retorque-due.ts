// Bolts that must be tightened once more after the engine has run, and were not.
import { effective } from "../model/effective.ts";
import { compareWithLimit, formatValue } from "../quantity/display.ts";
import { plansOf } from "../sheet/work.ts";
import { overdue, passedOver, ranSince } from "./order.ts";
import { headOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { giver, quantityOf, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "retorque-due",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Bolts that must be tightened once more after so much running were not.",
    why: "A gasket that was made to settle leaves its bolts slack until they are tightened again; then it blows.",
    limit: "The fastener's own `recheck-after` against what the runs since it was last tightened add up to; a step of the plan that tightens it, ticked off, says when that was, and `done retorque` that it was tightened again. Where the plan has the step `retorque` and something makes it needed: anything that waits for it was done. By day, the step's own `due`. Bolts tightened to yield are never meant unless their maker says a distance.",
    source: "the fastener's maker; the engine's manual",
    remedy: "Tighten them again cold, as their maker says, and tick it off: done retorque with its day.",
    cautions: ["tightening", "yield-bolts"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener head-bolt { thread: M11x1.5; class: 10.9; torque: 75 N·m oiled; recheck-after: 500 km }
}

build wren-hill-2 on dunlin-18 {
  run road on 2027-03-20 { distance: 320 km }
  run road on 2027-04-20 { distance: 260 km }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener head-bolt { thread: M11x1.5; class: 10.9; torque: 75 N·m oiled; recheck-after: 500 km }
}

build wren-hill-2 on dunlin-18 {
  run road on 2027-03-20 { distance: 320 km }
  done retorque on 2027-04-02
  run road on 2027-04-20 { distance: 260 km }
}
`,
  },
  check({ build, asOf, report }) {
    const told = new Set<string>();
    for (const name of build.fasteners) {
      const given = effective(build.slots.get(`fastener.${name}.recheck-after`));
      const after = quantityOf(given)?.quantity;
      if (!given || !after) continue;
      const days = (tightening: boolean) => plansOf(build).flatMap((plan) => plan.steps.filter((s) => (tightening ? s.tightens.includes(name) && s.name !== "retorque" : s.name === "retorque")).flatMap((s) => s.ticks.map((t) => t.date))).sort();
      const tightened = days(true).at(-1);
      const again = days(false).at(-1);
      if (again !== undefined && (tightened === undefined || again > tightened)) continue;
      const { distance, last } = ranSince(build, tightened);
      if (!last || compareWithLimit(distance, after.interval.high) <= 0) continue;
      told.add(name);
      report({
        message: `${giver(given)} wants \`${name}\` tightened again after ${written(given)}, and the engine has run ${formatValue(distance, "distance", after.unit ?? "kilometre")}${tightened === undefined ? "" : ` since ${tightened}`}. Tighten it again as its maker says, and tick it off: done retorque.`,
        at: headOf(build, last), path: `fastener.${name}.recheck-after`, related: [{ message: "It is asked for here.", at: given.location }],
      });
    }
    if (told.size > 0) return;
    for (const plan of plansOf(build)) {
      const missed = passedOver(plan, "retorque");
      if (missed) report({ message: `Nothing was tightened again after running-in, and ${missed.words}. Tighten what its maker says may be, cold, and tick it off.`, at: missed.by.at });
    }
    for (const { step, date, at } of overdue(build, asOf)) if (step.name === "retorque") report({ message: `Tightening again was due on ${date} and is not ticked off. Do it, or set another day.`, at });
  },
};
