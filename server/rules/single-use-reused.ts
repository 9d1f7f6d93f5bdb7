// A bolt used again that its maker wants new, or that has grown too long.
import { asked, chosen, effective, wordAt } from "../model/effective.ts";
import { compareWithLimit } from "../quantity/display.ts";
import { measuredReadings, placeWords } from "../sheet/measured.ts";
import type { BuildRule } from "./rule.ts";
import { giver, quantityOf, readingAt, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "single-use-reused",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Bolts are to be used again that their maker wants new, or that measure too long.",
    why: "A bolt taken to yield is thinner and longer than it was. It may hold once more, or break at its first heat.",
    limit: "The source's own `reuse`; where it has none, a bolt with `method: to-yield` is taken as used up. An error where a measured length passes the source's `max-length`: that bolt has grown, and its maker says how much is too much.",
    source: "the source's own word and length",
    remedy: "Fit new ones.",
    cautions: ["yield-bolts"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener head-bolt { thread: M11x1.5; class: 10.9; method: to-yield; tighten: 30 N·m oiled, then 55 N·m, then 90 deg; reuse: never }
}

build wren-hill-2 on dunlin-18 {
  fastener head-bolt { reuse: once }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener head-bolt { thread: M11x1.5; class: 10.9; method: to-yield; tighten: 30 N·m oiled, then 55 N·m, then 90 deg; reuse: measured; max-length: 141.5 mm }
}

build wren-hill-2 on dunlin-18 {
  fastener head-bolt { reuse: measured }
  measured bolt-length for head-bolt on 2027-03-01 { | bolt (mm) | 1 | 2 |
    | length | 140.6 | 140.8 | }
}
`,
  },
  check({ build, report }) {
    for (const name of build.fasteners) {
      const slot = build.slots.get(`fastener.${name}.reuse`);
      const [source, own] = [asked(slot), chosen(slot)];
      if (own?.fact.value.is === "word") {
        const may = source?.fact.value.is === "word" ? source.fact.value.word : wordAt(build, `fastener.${name}.method`) === "to-yield" ? "never" : "yes";
        if (FREEDOM.indexOf(own.fact.value.word) > FREEDOM.indexOf(may)) {
          const says = source ? `${giver(source)} ${SAYS[may] ?? ""}` : "bolts tightened to yield are used up";
          report({ message: `\`${name}\` is to be used again, and ${says}. Fit new ones.`, at: own.location, path: own.fact.path, related: source ? [{ message: "It is said here.", at: source.location }] : [] });
        }
      }
      const limit = effective(build.slots.get(`fastener.${name}.max-length`));
      const greatest = quantityOf(limit)?.quantity.interval.high;
      if (!limit || greatest === undefined) continue;
      const long = measuredReadings(build).filter((r) => r.path === `fastener.${name}.length` && compareWithLimit(r.interval.low, greatest) > 0);
      const [worst, ...others] = [...long].sort((a, b) => b.interval.nominal - a.interval.nominal);
      if (!worst) continue;
      const place = placeWords(worst.place);
      report({
        message: `${place === "" ? `A bolt of \`${name}\`` : `${place.charAt(0).toUpperCase()}${place.slice(1)} of \`${name}\``} measures ${readingAt(build, worst.location)} and ${giver(limit)} allows ${written(limit)}${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "is" : "are"} too long` : ""}. Fit new ones.`,
        at: worst.location, path: `fastener.${name}.length`, severity: "error", related: [{ message: "The limit stands here.", at: limit.location }],
      });
    }
  },
};

/** From what takes most care to what takes least. */
const FREEDOM = ["never", "once", "measured", "yes"];
const SAYS: Readonly<Record<string, string>> = { never: "wants new ones every time", once: "allows them one more use", measured: "allows that only while they measure within their length" };
