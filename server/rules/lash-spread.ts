// Valves of one kind that were set further apart from each other than somebody allows.
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { amount } from "./amount.ts";
import { lashOf } from "./lash.ts";
import { limitOf } from "./limit.ts";
import type { BuildRule } from "./rule.ts";
import { readingText } from "./wording.ts";

export const RULE: BuildRule = {
  id: "lash-spread",
  scope: "build",
  on: ["build"],
  severity: "advice",
  page: {
    summary: "The lash of valves of one kind differs from valve to valve by more than the limit.",
    why: "Each lash is right by itself, and the cylinders still breathe unlike each other: the idle is where it is heard.",
    limit: "What a part, the engine or the shop sets as `limits { lash-spread }`. Nobody's figure is known for it otherwise, so that nothing is judged without one.",
    source: "the source's own figure",
    remedy: "Set the two valves that the message names nearer to each other.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.03 mm cold } }
  limits { lash-spread: 0.03 mm }
}

build wren-hill-2 on dunlin-18 {
  measured lash cold on 2027-03-14 {
    | valve (mm) |    1 |    2 |    3 |    4 |
    | intake     | 0.20 | 0.17 | 0.22 | 0.20 |
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.03 mm cold } }
  limits { lash-spread: 0.03 mm }
}

build wren-hill-2 on dunlin-18 {
  measured lash cold on 2027-03-14 {
    | valve (mm) |    1 |    2 |    3 |    4 |
    | intake     | 0.20 | 0.19 | 0.22 | 0.20 |
  }
}
`,
  },
  check({ build, report }) {
    for (const { side, path, measured } of lashOf(build)) {
      const readings = [...(measured?.readings ?? [])].sort((a, b) => a.quantity.interval.nominal - b.quantity.interval.nominal);
      const [least, most] = [readings[0], readings[readings.length - 1]];
      const limit = limitOf(build, "lash-spread", "greatest", "length");
      if (!least || !most || !limit) continue;
      const spread = most.quantity.interval.nominal - least.quantity.interval.nominal;
      if (compareWithLimit(spread, limit.value) <= 0) continue;
      const unit = most.quantity.unit;
      const shown = formatAgainst(spread, limit.value, "length", unit);
      report({
        message: `The ${side} lash runs from ${readingText(least.at, least.quantity)} at ${least.place} to ${readingText(most.at, most.quantity)} at ${most.place}, ${shown.value}${unit ? ` ${spellingOfUnit(unit)}` : ""} apart, more than ${limit.words}. Set them nearer to each other.`,
        at: most.at, path, ...amount("more", spread, "length", unit), related: [{ message: `The least: ${least.place}.`, at: least.at }, ...(limit.at ? [{ message: "The limit stands here.", at: limit.at }] : [])],
      });
    }
  },
};
