// How near the spring retainers come to their guides or seals at full lift.
import { leastRetainerGuideMargin } from "../engineering/valve-spring.ts";
import { effective, fitted } from "../model/effective.ts";
import { compareWithLimit, formatAgainst, unitFor } from "../quantity/display.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { amount } from "./amount.ts";
import { judged, asMeasured } from "./judged.ts";
import { SIDES } from "./lash.ts";
import { limitOf } from "./limit.ts";
import { fitPlace } from "./placed.ts";
import { quantityOf } from "./wording.ts";
import type { BuildRule } from "./rule.ts";

/** What moves the retainer nearer to the guide, or is itself nearer. */
const MOVED_BY = ["camshaft", "rocker", "retainer", "head", "valve"] as const;

export const RULE: BuildRule = {
  id: "retainer-guide-margin",
  scope: "build",
  on: ["build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "At full lift a spring retainer meets its guide or stem seal, or comes nearer to it than the limit.",
    why: "A retainer that strikes the guide lets go of its keepers, and the valve drops into the cylinder.",
    limit: "The gap with the valve shut, as measured where it was, less the lift at zero lash. No room at all is an error. Else the limit is what a part, the engine or the shop sets as `limits`; last 0.060 in (1.5 mm), which is common practice and warns only. Looked at once a camshaft, rocker, retainer, head or valve is fitted.",
    source: "geometry; the last limit is common practice: 0.050 to 0.060 in, no source",
    remedy: "Shorten the guides, fit lower seals or other retainers, or a shaft with less lift.",
    cautions: ["spring-energy"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { rocker-ratio: 1.50; retainer-to-guide: 11.0 mm } }
}

build wren-hill-2 on dunlin-18 {
  fit camshaft { source: "cam card"; intake { lobe-lift: 7.10 mm } }
  measured piston-valve on 2027-03-15 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { rocker-ratio: 1.50; retainer-to-guide: 12.6 mm } }
}

build wren-hill-2 on dunlin-18 {
  fit camshaft { source: "cam card"; intake { lobe-lift: 7.10 mm } }
  measured piston-valve on 2027-03-15 { intake: 2.3 mm; exhaust: 2.9 mm; method: clay }
}
`,
  },
  check({ build, sheet, report }) {
    if (!MOVED_BY.some((kind) => fitted(build, kind).length > 0)) return;
    for (const side of SIDES) {
      const found = judged(sheet.byId.get(`retainer-guide-margin.${side}`), "least");
      if (!found) continue;
      const { interval } = found;
      const written = quantityOf(effective(build.slots.get(`valve-gear.${side}.retainer-to-guide`)))?.quantity.unit;
      const limit = limitOf(build, "retainer-guide-margin", "least", "length", leastRetainerGuideMargin, written);
      const solid = compareWithLimit(interval.nominal, 0) <= 0;
      if (!limit || (!solid && compareWithLimit(interval.nominal, limit.value) >= 0)) continue;
      const unit = written ?? unitFor("length", "metric", interval.nominal);
      const shown = formatAgainst(interval.nominal, limit.value, "length", unit);
      const at = fitPlace(build, MOVED_BY, side);
      report({
        message: `The ${side} retainer${asMeasured(found)} ${solid ? "meets its guide or seal before full lift" : `has ${shown.value}${unit ? ` ${spellingOfUnit(unit)}` : ""} left before its guide or seal at full lift`}, and ${limit.words} must be left. Make room at the guide, or fit a shaft with less lift.`,
        at, path: `retainer-guide-margin.${side}`, ...amount("less", interval.nominal, "length", unit),
        severity: (solid && compareWithLimit(interval.high, 0) <= 0) || (limit.owned && compareWithLimit(interval.high, limit.value) < 0) ? "error" : "warning",
        related: [...(found.at ? [{ message: "It was measured here.", at: found.at }] : []), ...(limit.at ? [{ message: "The limit stands here.", at: limit.at }] : [])],
      });
    }
  },
};
