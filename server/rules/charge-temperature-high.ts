// A charge that enters the engine hotter than a part's or the engine's maker allows.
import { effective } from "../model/effective.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import { pullsOf } from "../sheet/pull.ts";
import { amount } from "./amount.ts";
import { limitOf } from "./limit.ts";
import { moreWords, passedIn, recordingWords, stretchWords } from "./recorded.ts";
import type { BuildRule } from "./rule.ts";
import { inUnitOf, readingText } from "./wording.ts";

export const RULE: BuildRule = {
  id: "charge-temperature-high",
  scope: "build",
  on: ["engine", "build"],
  severity: "warning",
  page: {
    summary: "The charge enters the engine hotter than a part's or the engine's maker allows, by the sum or as it was read in a pull or a recording.",
    why: "A hot charge knocks: every degree at the inlet is several at the end of compression, and boost is raised to win back what heat took away.",
    limit: "The `limits { charge-temperature: … }` of a part, a card, the engine, the build or the shop. Without one nothing is judged. The sum takes the compressor's efficiency and the cooler's effectiveness as stated; a reading of a pull counts as read; in a recording what lasts 0.3 s or its `dwell` counts.",
    source: "adiabatic relation; the maker's own limit",
    remedy: "Cool the charge, ask for less boost, or fit a compressor that heats it less.",
    cautions: ["boost"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part blower holmrook-60 "Holmrook 0.60 L" for dunlin-20 {
  source: "fitting instructions, sheet 1"
  efficiency: 55 %
  limits { charge-temperature: 75 °C }
}

build birkrigg-1 on dunlin-20 {
  octane: 98 RON
  altitude: 240 m
  air { temperature: 25 °C }
  fit holmrook-60
  fit spark-plug { heat-range: 8 }
  boost { target: 0.60 bar gauge }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part blower holmrook-60 "Holmrook 0.60 L" for dunlin-20 {
  source: "fitting instructions, sheet 1"
  efficiency: 55 %
  limits { charge-temperature: 75 °C }
}

build birkrigg-1 on dunlin-20 {
  octane: 98 RON
  altitude: 240 m
  air { temperature: 25 °C }
  fit holmrook-60
  fit spark-plug { heat-range: 8 }
  boost { target: 0.30 bar gauge }
}
`,
  },
  check({ build, sheet, report }) {
    const limit = limitOf(build, "charge-temperature", "greatest", "temperature");
    if (!limit) return;
    const related = limit.at ? [{ message: "The limit stands here.", at: limit.at }] : [];
    const computed = sheet.byId.get("charge.temperature")?.interval?.nominal;
    const target = effective(build.slots.get("boost.target"));
    if (computed !== undefined && target && compareWithLimit(computed, limit.value) > 0)
      report({ message: `At the boost wanted the charge comes to ${inUnitOf(limit.quantity, computed, "temperature")}, more than ${limit.words}. Cool it, or ask for less boost.`, at: target.location, path: "charge.temperature", ...amount("more", computed, "temperature", limit.quantity?.unit), related });
    for (const { recording, stretches, column, at } of passedIn(build, "charge", ["inlet"])) {
      const unit = column?.unit ?? "degree-celsius";
      const shown = formatAgainst(stretches.worst.worst, stretches.worst.limit, "temperature", unit);
      report({ message: `In ${recordingWords(recording)} the charge was at ${shown.value} ${spellingOfUnit(unit)} ${stretchWords(stretches.worst)}, more than ${limit.words}${moreWords(stretches)}. Let it cool, and cool it better before the next pull.`, at, path: "charge.temperature", ...amount("more", stretches.worst.worst, "temperature", unit), related });
    }
    for (const pull of pullsOf(build)) {
      const hot = pull.rows.flatMap((row) => {
        const cell = row.cells.get("inlet");
        const read = cell?.quantity;
        return cell && read && read.interval.low - read.halfDigit > limit.value ? [{ rpm: row.rpm, cell, read }] : [];
      });
      const worst = hot.reduce((a, b) => (a && a.read.interval.nominal >= b.read.interval.nominal ? a : b), hot[0]);
      if (!worst) continue;
      const at = { tree: build.subject.tree, span: worst.cell.span };
      report({ message: `At ${Math.round(worst.rpm)} rpm the charge was at ${readingText(at, worst.read)}, more than ${limit.words}. Let it cool, and cool it better before the next pull.`, at, path: "charge.temperature", related });
    }
  },
};
