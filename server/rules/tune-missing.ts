// Full load on an engine whose parts ask for a tune, and no tune in the build.
import { pullsOf } from "../sheet/pull.ts";
import { needsOf } from "./needs.ts";
import { doneOn, fullLoadRuns, headOf, recordWords, recordsOf, tunedFor } from "./record.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "tune-missing",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The engine was run at full load with parts that change what fuel and spark it wants, and no tune is written down.",
    why: "Whoever finds this file, you next year included, cannot tell what the engine was set to when it ran well, or whether it was set at all.",
    limit: "A pull, a run of nine tenths load or more, or the step `full-load` ticked off, with a camshaft, a blower, injectors or the like fitted, and no `tune`. Where a part itself `needs tune`, that is reported instead.",
    source: "the usual order of work, common practice, no source",
    remedy: "Write the tune down: the controller's file, or jets, needle, base timing and advance.",
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-20 {
  source: "cam card in the box"
  break-in: 1800 .. 2400 rpm for 20 min
}

build wren-hill-2 on dunlin-20 {
  interference: no
  fit ridgeway-272
  run first-start on 2027-03-20 { speed: 1800 .. 2400 rpm for 20 min }
  run hill on 2027-04-10 { distance: 4 km; load: 100 % }
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
}

build wren-hill-2 on dunlin-20 {
  interference: no
  fit ridgeway-272
  run first-start on 2027-03-20 { speed: 1800 .. 2400 rpm for 20 min }
  run hill on 2027-04-10 { distance: 4 km; load: 100 % }
  tune { date: 2027-04-05; jets: "main 118" }
}
`,
  },
  check({ build, sheet, report }) {
    const part = tunedFor(build);
    if (!part || recordsOf(build, "tune").length > 0 || needsOf(build, sheet).some(({ need }) => need.what.text === "tune")) return;
    const run = fullLoadRuns(build)[0];
    const pull = pullsOf(build)[0];
    const ticked = doneOn(build, "full-load");
    const [words, at] = pull ? [pull.words, headOf(build, pull.record)] : run ? [recordWords(run), headOf(build, run)] : ticked ? [`the step full-load of ${ticked.date}`, ticked.at] : [];
    if (words === undefined || at === undefined) return;
    report({ message: `${part.words} changes what fuel and spark the engine wants, ${words} was at full load, and no tune is written down. Add a \`tune\` with its day and what was set.`, at, path: "tune" });
  },
};
