// A compression ratio past what the piston's maker, the engine or the shop allows on this fuel.
import { effective } from "../model/effective.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { amount } from "./amount.ts";
import { asMeasured, judged } from "./judged.ts";
import { limitOf } from "./limit.ts";
import { fitPlace } from "./placed.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "compression-for-fuel",
  scope: "build",
  on: ["build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "The compression ratio is higher than somebody allows for the fuel and the use.",
    why: "Knock breaks ring lands and burns holes in crowns, and it is not always heard.",
    limit: "What a part, the engine or the shop sets as `limits { compression }`. Which ratio a fuel bears depends on chamber, timing, temperature and boost; no figure of the trade holds for an engine that is not known, so that nothing is judged without a limit. The volumes as measured where they were, the highest cylinder first.",
    source: "the source's own figure",
    remedy: "Fit a thicker gasket or pistons with more dish, or have the chambers opened; or run a fuel that bears it.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
  combustion { chamber: 44.6 cc; piston-dish: 3.0 cc; gasket-bore: 84.0 mm; gasket-thickness: 0.80 mm crushed; deck: 0.15 mm below }
  limits { compression: 10.5:1 }
}

build wren-hill-2 on dunlin-18 {
  fuel: petrol; octane: 95 RON
  measured chamber on 2027-03-01 {
    | cylinder (cc) |    1 |    2 |    3 |    4 |
    | chamber       | 39.6 | 38.0 | 38.2 | 38.4 |
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
  combustion { chamber: 44.6 cc; piston-dish: 3.0 cc; gasket-bore: 84.0 mm; gasket-thickness: 0.80 mm crushed; deck: 0.15 mm below }
  limits { compression: 10.5:1 }
}

build wren-hill-2 on dunlin-18 {
  fuel: petrol; octane: 95 RON
  measured chamber on 2027-03-01 {
    | cylinder (cc) |    1 |    2 |    3 |    4 |
    | chamber       | 44.6 | 44.5 | 44.7 | 44.6 |
  }
}
`,
  },
  check({ build, sheet, report }) {
    const found = judged(sheet.byId.get("compression.static"), "greatest");
    const limit = limitOf(build, "compression", "greatest", "ratio");
    if (!found || !limit || compareWithLimit(found.interval.nominal, limit.value) <= 0) return;
    const fuel = effective(build.slots.get("fuel"));
    const shown = formatAgainst(found.interval.nominal, limit.value, "ratio", undefined, limit.quantity?.decimals);
    report({
      message: `The compression ratio${asMeasured(found)} is ${shown.value}:1, more than ${limit.words}. Fit a thicker gasket, open the chambers, or run a fuel that bears it.`,
      at: found.at ?? (fuel?.origin.sort === "build" ? fuel.location : fitPlace(build, ["piston", "head", "gasket"])), path: "compression.static", ...amount("more", found.interval.nominal, "ratio"),
      severity: limit.owned && compareWithLimit(found.interval.low, limit.value) > 0 ? "error" : "warning", ...(limit.at && { related: [{ message: "The limit stands here.", at: limit.at }] }),
    });
  },
};
