// A camshaft that was run for less time, or slower, than its maker asks for its first minutes.
import type { RecordFact } from "../model/declaration.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { dateOf, recordQuantity } from "../sheet/pull.ts";
import { NEEDLE, breakInsOf, heldBy, keeps, shortStage } from "../sheet/running-in.ts";
import { headOf, recordWords, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { giver, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "break-in-incomplete",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The engine went on to other work before the camshaft had the running-in that its maker asks for.",
    why: "A new lobe and its follower bed in under oil that speed throws at them; idling in the first minutes wipes the lobe, and nothing shows until it rattles.",
    limit: "The speed and time of the camshaft's own `break-in`. Runs whose speed stays at or above it count, three per cent given for the needle; a run that states no speed, by `speed` or by its table, is taken to have kept to it. Of several stages each is asked for at its speed or faster. Looked at once the engine has run otherwise: another run, a pull.",
    source: "the camshaft's maker",
    remedy: "Run the time that is missing before anything else, at once up to speed after starting. If lobes have idled, look at them first.",
    cautions: ["first-start", "exhaust-gas"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-20 {
  source: "cam card in the box"
  break-in: 1800 .. 2400 rpm for 20 min
}

build wren-hill-2 on dunlin-20 {
  interference: no
  fit ridgeway-272
  run first-start on 2027-03-20 { speed: 1800 .. 2400 rpm for 8 min }
  run road on 2027-03-21 { distance: 60 km; load: 50 % }
  tune { date: 2027-04-05; jets: "main 118" }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part camshaft ridgeway-272 "Ridgeway 272" for dunlin-20 {
  source: "cam card in the box"
  break-in: 1800 .. 2400 rpm for 20 min
}

build wren-hill-2 on dunlin-20 {
  interference: no
  fit ridgeway-272
  run first-start on 2027-03-20 { speed: 1800 .. 2400 rpm for 20 min }
  run road on 2027-03-21 { distance: 60 km; load: 50 % }
  tune { date: 2027-04-05; jets: "main 118" }
}
`,
  },
  check({ build, report }) {
    for (const breakIn of breakInsOf(build)) {
      const { asked, path, stages, untold } = breakIn;
      const runs = recordsOf(build, "run");
      const [first] = runs;
      const short = shortStage(breakIn);
      if (!first || !short || untold) continue;
      const slow = runs.find((run) => heldBy(run).some((h) => h.time !== undefined && !keeps(h, short.asked)));
      const fastest = stages.reduce((most, s) => (s.asked.quantity.interval.high > most.quantity.interval.high ? s.asked : most), short.asked);
      const later = otherWork(build, fastest.quantity);
      if (!slow && !later) continue;
      const unit = short.asked.clauses.find((c) => c.word === "for")?.quantity.unit ?? "minute";
      const shown = (time: number) => formatValue(time, "time", unit);
      const at = later ?? slow ?? first;
      const of = stages.length > 1 ? `at ${formatValue(short.asked.quantity.interval.low, "rotation", short.asked.quantity.unit ?? "revolution-per-minute")} or more` : "of it";
      report({
        message: `${giver(asked)} asks for ${written(asked)}, and ${slow && !later ? `${recordWords(slow)} was slower` : `by ${recordWords(at)} the engine had ${short.had > 0 ? shown(short.had) : "none"} ${of}`}: ${shown(short.needed - short.had)} ${stages.length > 1 ? `${of} ` : ""}are still due. Run them before other work.`,
        at: headOf(build, at), path, related: [{ message: "It is asked for here.", at: asked.location }],
      });
      return;
    }
  },
};

/** The first pull, or run that was no running-in: on the road, under load, or turned beyond the speeds asked for. */
function otherWork(build: EffectiveBuild, asked: Quantity): RecordFact | undefined {
  const others = build.subject.records.filter((record) => {
    if (record.word === "pull") return true;
    if (record.word !== "run") return false;
    const most = recordQuantity(record, "max-rpm")?.quantity.interval.high ?? 0;
    return recordQuantity(record, "distance") !== undefined || most > asked.interval.high * (1 + NEEDLE) * 1.25;
  });
  return others.sort((a, b) => ((dateOf(a) ?? "") < (dateOf(b) ?? "") ? -1 : 1))[0];
}
