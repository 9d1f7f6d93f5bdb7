// A centreline found with the degree wheel that is not where the figures put it.
import { quantityAt } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import { UNSURE_ERROR, WHEEL_ERROR, degreedOf, teethOff } from "./degreed.ts";
import type { BuildRule } from "./rule.ts";
import { textAt } from "./wording.ts";

export const RULE: BuildRule = {
  id: "centreline-disagrees",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A lobe's centreline, as found with the degree wheel, is not where card, gear setting and head put it.",
    why: "Either the cam is not set where you meant it, the wheel's zero was off, or the shaft is not ground as its card says. Each changes piston-to-valve clearance and power.",
    limit: "2 crank degrees, what a wheel, a pointer and a dial make of it, which is common practice; 4 where something that moves the cam is left out of the figures. A difference of whole teeth is reported as that.",
    source: "common practice, no source",
    remedy: "Find true top dead centre with a piston stop again, read the centreline again, then move the gear.",
    cautions: ["timing-drive"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  camshaft { intake { centreline: 109 deg crank } }
}

build wren-hill-2 on dunlin-18 {
  measured centreline on 2027-03-15 { intake: 113 deg crank }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  camshaft { intake { centreline: 109 deg crank } }
}

build wren-hill-2 on dunlin-18 {
  measured centreline on 2027-03-15 { intake: 110 deg crank }
}
`,
  },
  check({ build, sheet, report }) {
    for (const one of degreedOf(sheet)) {
      const teeth = quantityAt(build, "valve-gear.gear-teeth")?.quantity.interval.nominal ?? quantityAt(build, "cam-gear.teeth")?.quantity.interval.nominal ?? quantityAt(build, `cam-gear.${one.side}.teeth`)?.quantity.interval.nominal;
      if (Math.abs(one.later) <= (one.unsure ? UNSURE_ERROR : WHEEL_ERROR) + one.slack + 1e-6 || teethOff(one, teeth) !== undefined) continue;
      report({
        message: `The ${one.side} centreline was found at ${textAt(one.at).replace(/^\w+:\s*/, "")}, and the figures put it at ${formatValue(one.expected, "angle", "degree")}. Find true top dead centre again, then read it again or move the gear.`,
        at: one.at, path: `centreline.${one.side}.installed`,
      });
    }
  },
};
