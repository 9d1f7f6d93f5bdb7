// End play of the crankshaft, as measured, outside what is asked for.
import { reportFit } from "./fit-band.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "thrust-endplay",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The end play of the crankshaft that was measured is outside what is asked for.",
    why: "Without play the thrust bearing runs dry and picks up; with too much the crank hammers it at every clutch.",
    limit: "The range that the maker of the engine or the part asks for. Without one nothing is judged.",
    source: "the maker's own figure",
    remedy: "Measure again, warm hands off the gauge. Then put it right before more is built on it.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bottom-end { thrust-endplay: 0.06 .. 0.20 mm }
}

build wren-hill-2 on dunlin-18 {
  measured thrust-endplay on 2027-03-14 { reading: 0.32 mm }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bottom-end { thrust-endplay: 0.06 .. 0.20 mm }
}

build wren-hill-2 on dunlin-18 {
  measured thrust-endplay on 2027-03-14 { reading: 0.12 mm }
}
`,
  },
  check(context) {
    reportFit(context, {
      valueId: "thrust.endplay", path: "bottom-end.thrust-endplay", what: "end play of the crankshaft",
      tooLittle: "Fit a thinner thrust washer, or have it faced.", tooMuch: "Fit a thicker thrust washer.",
    });
  },
};
