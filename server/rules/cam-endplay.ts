// End play of a camshaft, as measured, outside what is asked for.
import { reportFit } from "./fit-band.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "cam-endplay",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The end play of a camshaft that was measured is outside what is asked for.",
    why: "Without play the thrust face picks up as the head warms; with too much the shaft walks, and lobes and skew gears wear at their edges.",
    limit: "The range that the maker of the engine asks for. Without one nothing is judged.",
    source: "the maker's own figure",
    remedy: "Measure again with the shaft pushed hard each way. Then put it right before the gear goes on.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bottom-end { cam-endplay: 0.06 .. 0.18 mm }
}

build wren-hill-2 on dunlin-18 {
  measured cam-endplay on 2027-03-14 { reading: 0.30 mm }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bottom-end { cam-endplay: 0.06 .. 0.18 mm }
}

build wren-hill-2 on dunlin-18 {
  measured cam-endplay on 2027-03-14 { reading: 0.10 mm }
}
`,
  },
  check(context) {
    reportFit(context, {
      valueId: "cam.endplay", path: "bottom-end.cam-endplay", what: "end play of the camshaft",
      tooLittle: "Have the thrust face eased, and look for a burr first.", tooMuch: "Fit another thrust plate, or have the face built up.",
    });
  },
};
