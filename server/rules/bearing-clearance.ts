// Oil clearance of a bearing, as measured, outside what is asked for.
import { reportFit } from "./fit-band.ts";
import type { BuildRule } from "./rule.ts";

const BEARINGS = { main: "main bearing", rod: "big end", cam: "camshaft bearing" } as const;

export const RULE: BuildRule = {
  id: "bearing-clearance",
  scope: "build",
  on: ["build"],
  severity: "error",
  breaksEngines: true,
  page: {
    summary: "A bearing's oil clearance, measured or from measured sizes, is outside what is asked for.",
    why: "Too tight and the oil film cannot form: the bearing seizes. Too loose and the oil runs out at the sides: pressure falls and the bearing is hammered.",
    limit: "The range that the bearing's maker, or else the engine's, asks for. Without one nothing is judged.",
    source: "the maker's own figure",
    remedy: "Measure again with the cap tightened in stages to its torque. Then another shell size, or the crank or housing to the machine shop.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bottom-end { rod { clearance: 0.03 .. 0.06 mm } }
}

build wren-hill-2 on dunlin-18 {
  measured rod-clearance on 2027-03-14 {
    | cylinder (mm) |    1 |    2 |    3 |    4 |
    | clearance     | 0.04 | 0.05 | 0.09 | 0.04 |
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bottom-end { rod { clearance: 0.03 .. 0.06 mm } }
}

build wren-hill-2 on dunlin-18 {
  measured rod-clearance on 2027-03-14 {
    | cylinder (mm) |    1 |    2 |    3 |    4 |
    | clearance     | 0.04 | 0.05 | 0.06 | 0.04 |
  }
}
`,
  },
  check(context) {
    for (const [id, name] of Object.entries(BEARINGS))
      reportFit(context, {
        valueId: `bearing.${id}.clearance`, path: `bottom-end.${id}.clearance`, what: `oil clearance of the ${name}`,
        tooLittle: "Do not turn it under load: fit a shell of another size, or have the journal polished to size.", tooMuch: "Fit a shell of another size, or have the crank ground.",
      });
  },
};
