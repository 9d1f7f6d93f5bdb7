// End gap of a ring, as measured, below what is wanted.
import { effective } from "../model/effective.ts";
import { compareWithLimit, formatAgainst, unitFor } from "../quantity/display.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { measuredReadings, placeWords } from "../sheet/measured.ts";
import { amount } from "./amount.ts";
import type { BuildRule } from "./rule.ts";
import { giver, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "ring-gap-tight",
  aliases: ["ring-gap-top", "ring-gap-second"],
  scope: "build",
  on: ["build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "A piston ring's end gap, as measured in its own bore, is less than is wanted.",
    why: "A ring grows as it heats. When its ends meet it has nowhere to go but into the bore, and takes the piston's land with it.",
    limit: "The low end of what the ring's maker, or else the engine's, asks for: below it is an error. Without one, the trade's factor for the stated use times the bore, which is common practice and warns only.",
    source: "the maker's figure; else a published table of gap factors by use, common practice",
    remedy: "File the ring a little at a time, square, and measure again in its own bore.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bore: 83.00 mm
  bottom-end { rings { top-gap: 0.30 .. 0.45 mm } }
}

build wren-hill-2 on dunlin-18 {
  measured ring-gap on 2027-03-14 {
    | cylinder (mm) |    1 |    2 |    3 |    4 |
    | top           | 0.34 | 0.22 | 0.36 | 0.35 |
  }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bore: 83.00 mm
  bottom-end { rings { top-gap: 0.30 .. 0.45 mm } }
}

build wren-hill-2 on dunlin-18 {
  measured ring-gap on 2027-03-14 {
    | cylinder (mm) |    1 |    2 |    3 |    4 |
    | top           | 0.34 | 0.32 | 0.36 | 0.35 |
  }
}
`,
  },
  check({ build, sheet, report }) {
    const readings = measuredReadings(build);
    for (const ring of ["top", "second"] as const) {
      const path = `bottom-end.rings.${ring}-gap`;
      const wanted = sheet.byId.get(`ring-gap.${ring}.required`);
      const own = effective(build.slots.get(path));
      const low = wanted?.interval?.low;
      if (!wanted || low === undefined) continue;
      const mine = readings.filter((r) => r.path === path);
      const newest = mine[mine.length - 1]?.date;
      const tight = mine.filter((r) => r.date === newest && compareWithLimit(r.interval.high, low) < 0).sort((a, b) => a.interval.nominal - b.interval.nominal);
      const [worst, ...others] = tight;
      if (!worst) continue;
      const quantity = own?.fact.value.is === "quantity" ? own.fact.value.quantity : undefined;
      const unit = quantity?.unit ?? unitFor("length", "metric", low);
      const shown = formatAgainst(worst.interval.nominal, low, "length", unit);
      const limit = own && own.role === "asked" ? `the ${written(own)} that ${giver(own)} asks for` : `the ${shown.limit}${unit ? ` ${spellingOfUnit(unit)}` : ""} of common practice for this bore and use`;
      report({
        message: `The ${ring} ring at ${placeWords(worst.place) || "the place measured"} has a gap of ${shown.value}${unit ? ` ${spellingOfUnit(unit)}` : ""}, less than ${limit}${others.length > 0 ? `; ${others.length} more ${others.length === 1 ? "is" : "are"} tight too` : ""}. File it open before it goes in.`,
        at: worst.location, path, ...amount("less", worst.interval.nominal, "length", unit), severity: own && own.role === "asked" ? "error" : "warning",
        related: [...(own ? [{ message: "It is asked for here.", at: own.location }] : []), ...others.map((r) => ({ message: `Tight too: ${placeWords(r.place)}.`, at: r.location }))],
      });
    }
  },
};
