// A centreline found with the degree wheel that is out by a whole tooth of the cam's drive.
import { quantityAt, wordAt } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import { degreedOf, oneShaft, teethOff } from "./degreed.ts";
import type { BuildRule } from "./rule.ts";
import { textAt } from "./wording.ts";

export const RULE: BuildRule = {
  id: "looks-a-tooth-off",
  scope: "build",
  on: ["build"],
  severity: "error",
  breaksEngines: true,
  page: {
    summary: "A cam stands where it would stand with its belt or chain a tooth out.",
    why: "One tooth is more than most engines bear between piston and valve, and the marks looked right to whoever set them.",
    limit: "One tooth is 720 crank degrees divided by the teeth of the camshaft's gear. The centreline found, against where card, gear setting and a lowered head put it: within a quarter of a tooth of one, two or three whole teeth, and no further off than the wheel's own error, taken as 2 degrees.",
    source: "geometry of a shaft that turns once for two turns of the crank; the wheel's error is common practice, no source",
    remedy: "Take the belt or chain off and set it again by its marks, then degree the cam again before the crank is turned further.",
    cautions: ["timing-drive"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { gear-teeth: 46 }
  camshaft { intake { centreline: 109 deg crank } }
}

build wren-hill-2 on dunlin-18 {
  measured centreline on 2027-03-15 { intake: 124.6 deg crank }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { gear-teeth: 46 }
  camshaft { intake { centreline: 109 deg crank } }
}

build wren-hill-2 on dunlin-18 {
  measured centreline on 2027-03-15 { intake: 109.5 deg crank }
}
`,
  },
  check({ build, sheet, report }) {
    const teeth = quantityAt(build, "valve-gear.gear-teeth")?.quantity.interval.nominal ?? quantityAt(build, "cam-gear.teeth")?.quantity.interval.nominal;
    const drive = wordAt(build, "valve-gear.drive") ?? "belt or chain";
    for (const one of degreedOf(sheet)) {
      const own = teeth ?? quantityAt(build, `cam-gear.${one.side}.teeth`)?.quantity.interval.nominal;
      const count = teethOff(one, own);
      if (count === undefined || own === undefined) continue;
      const many = Math.abs(count);
      report({
        message: `The ${one.side} centreline was found at ${textAt(one.at).replace(/^\w+:\s*/, "")}, ${formatValue(Math.abs(one.later), "angle", "degree", { decimals: 1 })} ${one.later > 0 ? "later" : "earlier"} than the ${formatValue(one.expected, "angle", "degree", { decimals: 1 })} that the figures come to. One tooth of ${own} is ${formatValue(720 / own, "angle", "degree", { decimals: 1 })}: the ${drive} looks ${many === 1 ? "a tooth" : `${many} teeth`} ${count > 0 ? "late" : "early"}. Set it again by its marks.`,
        at: one.at, path: `centreline.${one.side}.installed`,
      });
      // One shaft a tooth out shows on both sides.
      if (oneShaft(build)) return;
    }
  },
};
