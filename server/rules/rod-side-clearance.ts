// Side play of the big end, as measured, outside what is asked for.
import { reportFit } from "./fit-band.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "rod-side-clearance",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The side play of the big end that was measured is outside what is asked for.",
    why: "Too little traps the oil and heats the big end; too much throws it all over the bores.",
    limit: "The range that the maker of the engine or the part asks for. Without one nothing is judged.",
    source: "the maker's own figure",
    remedy: "Measure again, warm hands off the gauge. Then put it right before more is built on it.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bottom-end { rod-side-clearance: 0.10 .. 0.35 mm }
}

build wren-hill-2 on dunlin-18 {
  measured rod-side-clearance on 2027-03-14 {
    | cylinder (mm) |    1 |    2 |    3 |    4 |
    | play          | 0.20 | 0.22 | 0.05 | 0.20 |
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bottom-end { rod-side-clearance: 0.10 .. 0.35 mm }
}

build wren-hill-2 on dunlin-18 {
  measured rod-side-clearance on 2027-03-14 {
    | cylinder (mm) |    1 |    2 |    3 |    4 |
    | play          | 0.20 | 0.22 | 0.21 | 0.20 |
  }
}
`,
  },
  check(context) {
    reportFit(context, {
      valueId: "rod.side-clearance", path: "bottom-end.rod-side-clearance", what: "side play of the big end",
      tooLittle: "Check that the rod is the right way round and its cap its own; then have its side faced.", tooMuch: "Check that the rod is the right one; a worn side means another rod.",
    });
  },
};
