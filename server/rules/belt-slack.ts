// Slack of the blower belt, as measured, outside what is asked for.
import { reportFit } from "./fit-band.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "belt-slack",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The slack of the blower belt that was measured is outside what is asked for.",
    why: "A slack belt slips, burns and jumps; a tight one takes the bearings of blower and crank.",
    limit: "The range that the blower's maker asks for. Without one nothing is judged.",
    source: "the maker's own figure",
    remedy: "Move the tensioner and measure again, engine cold, at the middle of the longest run.",
    cautions: ["rotating"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part blower holmrook-60 for dunlin-20 {
  source: "fitting instructions, sheet 1"
  belt-slack: 6 .. 8 mm
}

build birkrigg-1 on dunlin-20 {
  fit holmrook-60
  octane: 98 RON
  fit spark-plug { heat-range: 8 }
  measured belt-slack on 2027-06-26 { reading: 12 mm }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part blower holmrook-60 for dunlin-20 {
  source: "fitting instructions, sheet 1"
  belt-slack: 6 .. 8 mm
}

build birkrigg-1 on dunlin-20 {
  fit holmrook-60
  octane: 98 RON
  fit spark-plug { heat-range: 8 }
  measured belt-slack on 2027-06-26 { reading: 7 mm }
}
`,
  },
  check(context) {
    reportFit(context, {
      valueId: "blower.belt-slack", path: "blower.belt-slack", what: "slack of the blower belt",
      tooLittle: "Slacken the belt and measure again.", tooMuch: "Tighten the belt and measure again.",
    });
  },
};
