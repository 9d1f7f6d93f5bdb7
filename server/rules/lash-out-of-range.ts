// Lash above what is asked for.
import { amountOf } from "./amount.ts";
import { bandOf, slackOf, standing } from "./band.ts";
import { lashOf, statesDiffer, worstFirst } from "./lash.ts";
import type { BuildRule } from "./rule.ts";
import { isSlip } from "./slip.ts";
import { giver, readingText, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "lash-out-of-range",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Lash, chosen or measured, is above the high end of what is asked for.",
    why: "A loose valve meets its lobe past the ramp: it clatters, opens late, and lands hard on its seat.",
    limit: "The high end of the lash that the camshaft's card, or else the engine, asks for, in the same state, cold or hot. Below the low end is lash-tight.",
    source: "the card's or the engine's own figure",
    remedy: "Set the valve again. Worst valve first.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { exhaust { lash: 0.35 ± 0.02 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  lash { exhaust: 0.40 mm cold }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { exhaust { lash: 0.35 ± 0.02 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  lash { exhaust: 0.36 mm cold }
}
`,
  },
  check({ build, report }) {
    for (const lash of lashOf(build)) {
      const band = bandOf(lash.askedQuantity);
      const asks = `${giver(lash.asked)} asks for ${written(lash.asked)}`;
      const related = [{ message: "It is asked for here.", at: lash.asked.location }];
      const own = lash.chosen;
      const chosenLoose = own && !statesDiffer(own.state, lash.askedState) && standing(own.quantity, band, slackOf(band, own.quantity)) > 0 && !isSlip(build, lash.path);
      if (own && chosenLoose) report({ message: `The ${lash.side} lash is chosen as ${written(own.provided)} and ${asks}. Set it within the band.`, at: own.provided.location, path: lash.path, ...amountOf("more", own.quantity), related });
      const measured = lash.measured;
      if (!measured || statesDiffer(measured.state, lash.askedState)) continue;
      // Valves set to the chosen figure are loose for the reason already given.
      const loose = measured.readings.filter((r) => standing(r.quantity, band, slackOf(band, r.quantity)) > 0 && !(own && chosenLoose && r.quantity.interval.nominal <= own.quantity.interval.nominal));
      const [worst, ...others] = worstFirst(loose, (r) => r.quantity.interval.nominal);
      if (!worst) continue;
      report({
        message: `${worst.place.charAt(0).toUpperCase() + worst.place.slice(1)} has ${readingText(worst.at, worst.quantity)} of lash and ${asks}${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "is" : "are"} loose too` : ""}. Set it again.`,
        at: worst.at, path: lash.path, ...amountOf("more", worst.quantity), related: [...related, ...others.map((r) => ({ message: `This one is loose too: ${r.place}.`, at: r.at }))],
      });
    }
  },
};
