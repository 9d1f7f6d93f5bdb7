// Coolant or oil hotter than the limit that somebody set, as a run, a pull or a recording saw it.
import type { Location, RecordFact } from "../model/declaration.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { Judged } from "../recording/question.ts";
import { compareWithLimit, formatAgainst } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { figureOf, pullsOf, recordQuantity, rowsOf } from "../sheet/pull.ts";
import { amount, amountOf } from "./amount.ts";
import { limitOf } from "./limit.ts";
import { moreWords, passedIn, recordingWords, stretchWords } from "./recorded.ts";
import { recordWords, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { readingText } from "./wording.ts";
import { capital } from "../quantity/spoken.ts";

const FLUIDS: readonly { readonly key: string; readonly limit: string; readonly what: Judged; readonly words: string }[] = [
  { key: "coolant", limit: "coolant-temperature", what: "coolant", words: "coolant" },
  { key: "oil-temperature", limit: "oil-temperature", what: "oilTemperature", words: "oil" },
];

export const RULE: BuildRule = {
  id: "temperature-over-limit",
  scope: "build",
  on: ["build"],
  severity: "warning",
  breaksEngines: true,
  page: {
    summary: "Coolant or oil was hotter than the limit that was set for it.",
    why: "Hot coolant boils off the walls it should cool and lifts gaskets; hot oil is too thin to carry a bearing, and is spent.",
    limit: "The `limits { coolant-temperature: …; oil-temperature: … }` of a part, a card, the engine, the build or the shop. Without a limit nothing is judged. In a recording what counts lasts 0.3 s or its `dwell`.",
    source: "the figure of whoever set the limit",
    remedy: "Let it cool, then look at level, thermostat, fan, flow and timing before it is loaded again. Never open a hot cooling system.",
    cautions: ["hot"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
  limits { coolant-temperature: 105 °C }
}

build birkrigg-1 on dunlin-20 {
  run hill-climb on 2027-06-12 { time: 4 min; coolant: 112 °C }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
  limits { coolant-temperature: 105 °C }
}

build birkrigg-1 on dunlin-20 {
  run hill-climb on 2027-06-12 { time: 4 min; coolant: 98 °C }
}
`,
  },
  check({ build, report }) {
    for (const { key, limit: path, what, words } of FLUIDS) {
      const limit = limitOf(build, path, "greatest", "temperature");
      if (!limit) continue;
      const related = limit.at ? [{ message: "The limit stands here.", at: limit.at }] : [];
      for (const seen of seenIn(build, key)) {
        if (compareWithLimit(seen.quantity.interval.nominal, limit.value) <= 0) continue;
        report({ message: `${capital(seen.words)} saw ${words} at ${readingText(seen.at, seen.quantity)}, hotter than ${limit.words}. Let it cool and find the cause.`, at: seen.at, path: `limits.${path}`, ...amountOf("more", seen.quantity), related });
      }
      for (const { recording, stretches, column, at } of passedIn(build, what, [key])) {
        const unit = column?.unit ?? "degree-celsius";
        const shown = formatAgainst(stretches.worst.worst, stretches.worst.limit, "temperature", unit);
        report({
          message: `${capital(recordingWords(recording))} saw ${words} at ${shown.value} ${spellingOfUnit(unit)} ${stretchWords(stretches.worst)}, hotter than ${limit.words}${moreWords(stretches)}. Let it cool and find the cause.`,
          at, path: `limits.${path}`, ...amount("more", stretches.worst.worst, "temperature", unit), related,
        });
      }
    }
  },
};

interface Seen {
  readonly words: string;
  readonly quantity: Quantity;
  readonly at: Location;
}

/** The hottest of each run, told by itself or in its table, and of each pull. */
function seenIn(build: EffectiveBuild, key: string): readonly Seen[] {
  const { tree } = build.subject;
  const hottest = (record: RecordFact, words: string): Seen[] => {
    const own = recordQuantity(record, key)?.quantity;
    const span = figureOf(record, key)?.span;
    const cells = rowsOf(record).flatMap((row) => row.cells.get(key) ?? []);
    const all = [...(own && span ? [{ quantity: own, span }] : []), ...cells.flatMap((c) => (c.quantity ? [{ quantity: c.quantity, span: c.span }] : []))];
    const top = all.reduce<(typeof all)[number] | undefined>((a, b) => (a && a.quantity.interval.nominal >= b.quantity.interval.nominal ? a : b), undefined);
    return top ? [{ words, quantity: top.quantity, at: { tree, span: top.span } }] : [];
  };
  return [...recordsOf(build, "run").flatMap((run) => hottest(run, recordWords(run))), ...pullsOf(build).flatMap((pull) => hottest(pull.record, pull.words))];
}
