// Clearance of the piston in its bore, as measured, outside what is asked for.
import { reportFit } from "./fit-band.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "piston-wall-clearance",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The clearance of the piston in its bore that was measured is outside what is asked for.",
    why: "Too little and the piston picks up as it warms; too much and it rocks, slaps and spoils its rings.",
    limit: "The range that the maker of the engine or the part asks for. Without one nothing is judged.",
    source: "the maker's own figure",
    remedy: "Measure again, warm hands off the gauge. Then put it right before more is built on it.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bottom-end { piston-wall-clearance: 0.03 .. 0.06 mm }
}

build wren-hill-2 on dunlin-18 {
  measured piston-wall-clearance on 2027-03-14 {
    | cylinder (mm) |    1 |    2 |    3 |    4 |
    | clearance     | 0.04 | 0.05 | 0.01 | 0.04 |
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bottom-end { piston-wall-clearance: 0.03 .. 0.06 mm }
}

build wren-hill-2 on dunlin-18 {
  measured piston-wall-clearance on 2027-03-14 {
    | cylinder (mm) |    1 |    2 |    3 |    4 |
    | clearance     | 0.04 | 0.05 | 0.04 | 0.04 |
  }
}
`,
  },
  check(context) {
    reportFit(context, {
      valueId: "piston-wall.clearance", path: "bottom-end.piston-wall-clearance", what: "clearance of the piston in its bore",
      tooLittle: "Do not run it: have the bore honed to the piston.", tooMuch: "Fit the next size of piston, or bore to it.",
    });
  },
};
