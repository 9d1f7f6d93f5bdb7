// Injectors that must stay open longer than they may for the power wanted.
import { usualInjectorDutyLimit } from "../engineering/fuel.ts";
import { effective } from "../model/effective.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { amount } from "./amount.ts";
import { limitOf } from "./limit.ts";
import { moreWords, passedIn, recordingWords, stretchWords } from "./recorded.ts";
import type { BuildRule } from "./rule.ts";
import { written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "injector-duty-high",
  scope: "build",
  on: ["engine", "build"],
  severity: "warning",
  page: {
    summary: "The injectors must stay open longer than they may for the power that is wanted, or were seen to.",
    why: "Near the end of its time an injector no longer closes: the mixture goes lean where the engine is loaded most, and pistons melt.",
    limit: "The `limits { injector-duty: … }` of a part, the engine, the build or the shop; else 85 per cent. The duty is worked out at the redline, dead time counted in, from the fuel that the power wanted takes; flow follows the root of the pressure across the injector. In a recording what counts lasts 0.3 s or its `dwell`.",
    source: "definition of specific consumption and the orifice law; 80 to 90 per cent is common practice, no source",
    remedy: "Fit larger injectors, let the regulator follow the manifold, or want less power. Measure the flow on a rig where it is close.",
    cautions: ["fuel"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part injector holmrook-inj for dunlin-20 {
  source: "flow sheet in the box"
  flow: 230 cc/min
  rated-pressure: 3.0 bar
  count: 4
  dead-time: 0.9 ms
}

build birkrigg-1 on dunlin-20 {
  fuel: petrol
  fit holmrook-inj
  fuel-system { rail-pressure: 3.0 bar gauge; regulator: manifold; power-target: 150 hp at crank; specific-consumption: 320 .. 370 g/kWh; density: 0.745 kg/L }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part injector holmrook-inj for dunlin-20 {
  source: "flow sheet in the box"
  flow: 360 cc/min
  rated-pressure: 3.0 bar
  count: 4
  dead-time: 0.9 ms
}

build birkrigg-1 on dunlin-20 {
  fuel: petrol
  fit holmrook-inj
  fuel-system { rail-pressure: 3.0 bar gauge; regulator: manifold; power-target: 150 hp at crank; specific-consumption: 320 .. 370 g/kWh; density: 0.745 kg/L }
}
`,
  },
  check({ build, sheet, report }) {
    const duty = sheet.byId.get("injector.duty")?.interval?.nominal;
    const power = effective(build.slots.get("fuel-system.power-target"));
    const limit = limitOf(build, "injector-duty", "greatest", "fraction", usualInjectorDutyLimit, "percent");
    for (const { recording, stretches, at } of limit ? passedIn(build, "duty", ["duty"]) : []) {
      const seen = formatAgainst(stretches.worst.worst, stretches.worst.limit, "fraction", "percent", 0);
      report({
        message: `In ${recordingWords(recording)} the injectors were open ${seen.value}% of the time ${stretchWords(stretches.worst)}, more than ${limit?.words}${moreWords(stretches)}. Fit larger ones, or want less power.`,
        at, path: "injector.duty", ...amount("more", stretches.worst.worst, "fraction", "percent"), ...(limit?.at && { related: [{ message: "The limit stands here.", at: limit.at }] }),
      });
    }
    if (duty === undefined || !power || !limit || compareWithLimit(duty, limit.value) <= 0) return;
    const shown = formatAgainst(duty, limit.value, "fraction", "percent", 0);
    report({
      message: `At the ${written(power)} wanted, the injectors must be open ${shown.value}% of the time at the redline, more than ${limit.words}${duty > 1 ? ", and more than there is" : ""}. Fit larger ones, or want less power.`,
      at: power.location, path: "injector.duty", ...amount("more", duty, "fraction", "percent"), ...(limit.at && { related: [{ message: "The limit stands here.", at: limit.at }] }),
    });
  },
};
