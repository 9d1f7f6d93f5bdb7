// Lash below what is asked for.
import { amountOf } from "./amount.ts";
import { bandOf, slackOf, standing } from "./band.ts";
import { lashOf, statesDiffer, worstFirst } from "./lash.ts";
import type { BuildRule } from "./rule.ts";
import { isSlip } from "./slip.ts";
import { giver, readingText, written } from "./wording.ts";
import { capital } from "../quantity/spoken.ts";

export const RULE: BuildRule = {
  id: "lash-tight",
  scope: "build",
  on: ["build"],
  severity: "error",
  breaksEngines: true,
  page: {
    summary: "Lash, chosen or measured, is below the low end of what is asked for.",
    why: "A valve that is held open by its own gear cannot close on its seat. It burns, and takes the seat with it.",
    limit: "The low end of the lash that the camshaft's card, or else the engine, asks for, in the same state, cold or hot. Where the source gives one figure and no tolerance, or either side leaves the state unstated, it is a warning. Lash set cold is never held against a figure for hot.",
    source: "the card's or the engine's own figure",
    remedy: "Set the valve again. Worst valve first.",
    cautions: ["timing-drive"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  measured lash cold on 2027-03-14 {
    | valve (mm) |    1 |    2 |    3 |    4 |
    | intake     | 0.20 | 0.16 | 0.20 | 0.20 |
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  measured lash cold on 2027-03-14 {
    | valve (mm) |    1 |    2 |    3 |    4 |
    | intake     | 0.20 | 0.18 | 0.20 | 0.20 |
  }
}
`,
  },
  check({ build, report }) {
    for (const lash of lashOf(build)) {
      const band = bandOf(lash.askedQuantity);
      const asks = `${giver(lash.asked)} asks for ${written(lash.asked)}`;
      const related = [{ message: "It is asked for here.", at: lash.asked.location }];
      const severity = (state: string | undefined) => (band.stated && state !== undefined && lash.askedState !== undefined ? ("error" as const) : ("warning" as const));
      const own = lash.chosen;
      const chosenTight = own && !statesDiffer(own.state, lash.askedState) && standing(own.quantity, band, slackOf(band, own.quantity)) < 0 && !isSlip(build, lash.path);
      if (own && chosenTight)
        report({ message: `The ${lash.side} lash is chosen as ${written(own.provided)} and ${asks}. A valve set tight burns: set it within the band.`, at: own.provided.location, path: lash.path, ...amountOf("less", own.quantity), severity: severity(own.state), related });
      const measured = lash.measured;
      if (!measured || statesDiffer(measured.state, lash.askedState)) continue;
      // Valves set to the chosen figure are tight for the reason already given.
      const tight = measured.readings.filter((r) => standing(r.quantity, band, slackOf(band, r.quantity)) < 0 && !(own && chosenTight && r.quantity.interval.nominal >= own.quantity.interval.nominal));
      const [worst, ...others] = worstFirst(tight, (r) => -r.quantity.interval.nominal);
      if (!worst) continue;
      report({
        message: `${capital(worst.place)} has ${readingText(worst.at, worst.quantity)} of lash and ${asks}${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "is" : "are"} tight too` : ""}. A valve set tight burns: set it again.`,
        at: worst.at, path: lash.path, ...amountOf("less", worst.quantity), severity: severity(measured.state),
        related: [...related, ...others.map((r) => ({ message: `${capital(r.place)} has ${readingText(r.at, r.quantity)}.`, at: r.at }))],
      });
    }
  },
};
