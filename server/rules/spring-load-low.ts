// Valve springs that press less than they should, as measured.
import { asked, type EffectiveBuild } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import { measuredReadings, placeWords } from "../sheet/measured.ts";
import { amount } from "./amount.ts";
import { SIDES } from "./lash.ts";
import type { BuildRule } from "./rule.ts";
import { giver, quantityOf, written } from "./wording.ts";

/** Share of a load stated without a tolerance that a spring may have lost. Common practice, no source: workshop books say 10 %. */
const LOST = 0.1;

const LOADS = [{ key: "seat-load", words: "on the seat" }, { key: "open-load", words: "at its open height" }] as const;

export const RULE: BuildRule = {
  id: "spring-load-low",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A valve spring, as measured, presses less than its maker or the engine's asks.",
    why: "A tired spring lets its valve leave the cam early and bounce on its seat.",
    limit: "The low end of the load that the last source asks for at the same height. Where it gives one figure and no tolerance, a tenth below it, which is common practice.",
    source: "the maker's own figure; a tenth is common practice, no source",
    remedy: "Fit new springs, or shim the weak one up to its load if its coils have the room.",
    cautions: ["spring-energy"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { valve-spring { seat-height: 38.0 mm; seat-load: 240 N } }
}

build wren-hill-2 on dunlin-18 {
  measured spring-load on 2027-03-14 {
    | valve (N)  |   1 |   2 |   3 |   4 |
    | intake     | 238 | 241 | 205 | 236 |
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { valve-spring { seat-height: 38.0 mm; seat-load: 240 N } }
}

build wren-hill-2 on dunlin-18 {
  measured spring-load on 2027-03-14 {
    | valve (N)  |   1 |   2 |   3 |   4 |
    | intake     | 238 | 241 | 232 | 236 |
  }
}
`,
  },
  check({ build, report }) {
    for (const { key, words } of LOADS) {
      const low = SIDES.flatMap((side) => weakOf(build, side, key)).sort((a, b) => a.share - b.share);
      const [worst, ...others] = low;
      if (!worst) continue;
      const unit = worst.quantity.unit;
      report({
        message: `The spring at ${worst.place} presses ${formatValue(worst.load, "force", unit, { decimals: worst.quantity.decimals })} ${words}, and ${giver(worst.source)} asks for ${written(worst.source)}${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "is" : "are"} weak too` : ""}. Fit new springs, or shim it up if its coils have the room.`,
        at: worst.at, path: `spring.${key}.${worst.side}`, ...amount("less", worst.load, "force", unit), related: [{ message: "It is asked for here.", at: worst.source.location }, ...others.map((o) => ({ message: `Weak too: ${o.place}.`, at: o.at }))],
      });
    }
  },
};

function weakOf(build: EffectiveBuild, side: string, key: string) {
  const path = `valve-gear.valve-spring.${side}.${key}`;
  const source = [path, `valve-gear.valve-spring.${key}`].map((p) => asked(build.slots.get(p))).find((p) => p !== undefined);
  const quantity = quantityOf(source)?.quantity;
  // Of a pair the load of each coil is asked for apart, and a reading is of both.
  if (!source || !quantity) return [];
  const least = quantity.shape === "single" ? quantity.interval.nominal * (1 - LOST) : quantity.interval.low;
  const latest = new Map(measuredReadings(build).filter((r) => r.path === path).map((r) => [placeWords(r.place), r]));
  return [...latest.values()].filter((r) => r.interval.high < least - 1e-9).map((r) => ({ side, source, quantity, at: r.location, place: placeWords(r.place) || side, load: r.interval.nominal, share: r.interval.nominal / quantity.interval.nominal }));
}
