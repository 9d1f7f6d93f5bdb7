// How near piston and valve come, against what must be left.
import { leastPistonValveGap } from "../engineering/piston-valve.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { compareWithLimit, formatAgainst, unitFor } from "../quantity/display.ts";
import { amount } from "./amount.ts";
import { SIDES } from "./lash.ts";
import { judged } from "./judged.ts";
import { limitOf } from "./limit.ts";
import { measuredGap } from "./piston-valve.ts";
import type { BuildRule } from "./rule.ts";
import { readingText } from "./wording.ts";

export const RULE: BuildRule = {
  id: "piston-valve-clearance",
  scope: "build",
  on: ["build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "Piston and valve come nearer to each other than they may.",
    why: "Rods stretch, belts give and valves float: the gap on the bench is not the gap at speed.",
    limit: "What a part, the engine or the shop sets as `limits`; else 0.080 in (2.0 mm) at the intake and 0.100 in (2.5 mm) at the exhaust with steel rods, which is common practice and warns only. The measured gap is judged; where none was measured, the computed one.",
    source: "common practice, no source, where nobody sets a limit",
    remedy: "Cut deeper pockets, move the gear, or fit a shaft with less lift. Measure again.",
    cautions: ["timing-drive"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured piston-valve on 2027-03-15 { intake: 1.2 mm; exhaust: 2.9 mm; method: clay }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured piston-valve on 2027-03-15 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }
}
`,
  },
  check({ build, sheet, report }) {
    for (const side of SIDES) {
      const gap = measuredGap(build, side);
      const computed = gap ? undefined : judged(sheet.byId.get(`piston-valve.${side}.clearance`), "least")?.interval;
      const nominal = gap?.quantity.interval.nominal ?? computed?.nominal;
      const limit = limitOf(build, `piston-valve-${side}`, "least", "length", leastPistonValveGap[side], gap?.quantity.unit);
      if (nominal === undefined || !limit || compareWithLimit(nominal, limit.value) >= 0) continue;
      const unit = gap?.quantity.unit ?? unitFor("length", "metric", nominal);
      const shown = formatAgainst(nominal, limit.value, "length", unit);
      const sure = (gap && compareWithLimit(nominal, 0) <= 0) || (limit.owned && compareWithLimit(gap?.quantity.interval.high ?? computed?.high ?? nominal, limit.value) < 0);
      report({
        message: `Piston and ${side} valve come within ${gap ? readingText(gap.at, gap.quantity) : `${shown.value}${unit ? ` ${spellingOfUnit(unit)}` : ""}`} of each other${gap ? "" : " by the figures"}, and ${limit.words} must be left. Make room before the engine is turned.`,
        at: gap?.at ?? { tree: build.subject.tree, span: build.subject.name?.span ?? build.subject.wordSpan }, path: `piston-valve.${side}.clearance`, ...amount("less", nominal, "length", unit),
        severity: sure ? "error" : "warning", ...(limit.at && { related: [{ message: "The limit stands here.", at: limit.at }] }),
      });
    }
  },
};
