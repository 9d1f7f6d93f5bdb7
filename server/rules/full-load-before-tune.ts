// Full load on the road before fuel and spark were set for the engine as it now is.
import { dateOf } from "../sheet/pull.ts";
import { FULL_LOAD, doneOn, fullLoadRuns, headOf, recordWords, recordsOf, tunedFor } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { capital } from "../quantity/spoken.ts";

export const RULE: BuildRule = {
  id: "full-load-before-tune",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The engine was run at full load before it was tuned for the parts that went in.",
    why: "A shaft, a blower or injectors change what fuel and spark the engine wants; at full load the old setting can be lean and early enough to end it in one run.",
    limit: "A run of nine tenths load or more, or the step `full-load` ticked off, on a day before the first `tune`, once a part that asks for a tune went in. Pulls on rollers are how tunes are made and do not count.",
    source: "the usual order of work, common practice, no source",
    remedy: "Tune first. Look at plugs and leak-down before the engine is loaded again.",
    cautions: ["dynamometer"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-20 {
  source: "cam card in the box"
  break-in: 1800 .. 2400 rpm for 20 min
  needs tune after fitting
}

build wren-hill-2 on dunlin-20 {
  interference: no
  fit ridgeway-272
  run first-start on 2027-03-20 { speed: 1800 .. 2400 rpm for 20 min }
  run hill on 2027-04-01 { distance: 4 km; load: 100 % }
  tune { date: 2027-04-05; jets: "main 118" }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-20 {
  source: "cam card in the box"
  break-in: 1800 .. 2400 rpm for 20 min
  needs tune after fitting
}

build wren-hill-2 on dunlin-20 {
  interference: no
  fit ridgeway-272
  run first-start on 2027-03-20 { speed: 1800 .. 2400 rpm for 20 min }
  run hill on 2027-04-01 { distance: 4 km; load: 50 % }
  tune { date: 2027-04-05; jets: "main 118" }
}
`,
  },
  check({ build, report }) {
    const part = tunedFor(build);
    const days = recordsOf(build, "tune").map(dateOf);
    // A tune without a day may have been the first.
    if (!part || days.length === 0 || days.some((day) => day === undefined)) return;
    const first = (days as readonly string[]).reduce((a, b) => (a < b ? a : b));
    for (const run of fullLoadRuns(build)) {
      const day = dateOf(run);
      if (day === undefined || day >= first) continue;
      report({ message: `${capital(recordWords(run))} was at ${FULL_LOAD * 100} % load or more, and the engine was first tuned with ${part.words} on ${first}. Look it over before it is loaded again.`, at: headOf(build, run), path: "run.load" });
    }
    const ticked = doneOn(build, "full-load");
    if (ticked && ticked.date < first) report({ message: `Full load is ticked off on ${ticked.date}, and the engine was first tuned with ${part.words} on ${first}. Look it over before it is loaded again.`, at: ticked.at, path: "plan.full-load" });
  },
};
