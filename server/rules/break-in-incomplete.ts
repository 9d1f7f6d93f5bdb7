// A camshaft that was run for less time, or slower, than its maker asks for its first minutes.
import type { RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { formatValue } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import { dateOf, recordQuantity } from "../sheet/pull.ts";
import { headOf, recordWords, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { giver, quantityOf, written } from "./wording.ts";

/** How far under the speed asked for a run may be read, for the needle of a rev counter. Common practice, no source. */
const NEEDLE = 0.03;

export const RULE: BuildRule = {
  id: "break-in-incomplete",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The engine went on to other work before the camshaft had the running-in that its maker asks for.",
    why: "A new lobe and its follower bed in under oil that speed throws at them; idling in the first minutes wipes the lobe, and nothing shows until it rattles.",
    limit: "The speed and time of the camshaft's own `break-in`. Runs whose speed stays at or above it count, three per cent given for the needle; a run that states no speed is taken to have kept to it. Looked at once the engine has run otherwise: another run, a pull.",
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
    for (const path of ["camshaft.break-in", "camshaft.intake.break-in", "camshaft.exhaust.break-in"]) {
      const asked = effective(build.slots.get(path));
      const value = quantityOf(asked);
      const minutes = value?.clauses.find((c) => c.word === "for")?.quantity;
      // The stock shaft has long had its own.
      if (!asked || !value || !minutes || asked.origin.sort === "engine") continue;
      const runs = recordsOf(build, "run");
      const first = runs[0];
      if (!first) continue;
      const done = runs.reduce((sum, run) => sum + (isSlow(run, value.quantity) ? 0 : (timeOf(run) ?? 0)), 0);
      const short = done < minutes.interval.low * (1 - 1e-9);
      const unknown = runs.some((run) => !isSlow(run, value.quantity) && timeOf(run) === undefined && recordQuantity(run, "speed") !== undefined);
      if (!short || unknown) continue;
      const slow = runs.find((run) => isSlow(run, value.quantity) && timeOf(run) !== undefined);
      const later = otherWork(build, value.quantity);
      if (!slow && !later) continue;
      const had = done > 0 ? formatValue(done, "time", minutes.unit ?? "minute", {}) : "none";
      const at = later ?? slow ?? first;
      report({
        message: `${giver(asked)} asks for ${written(asked)}, and ${slow && !later ? `${recordWords(slow)} was slower` : `by ${recordWords(at)} the engine had ${had} of it`}. Run what is missing before other work.`,
        at: headOf(build, at), path, related: [{ message: "It is asked for here.", at: asked.location }],
      });
      return;
    }
  },
};

function isSlow(run: RecordFact, asked: Quantity): boolean {
  const speed = recordQuantity(run, "speed")?.quantity.interval;
  return speed !== undefined && speed.low < asked.interval.low * (1 - NEEDLE);
}

/** Seconds a run lasted: `speed: … for 20 min`, or its `time`. */
function timeOf(run: RecordFact): number | undefined {
  return (recordQuantity(run, "speed")?.clauses.find((c) => c.word === "for")?.quantity ?? recordQuantity(run, "time")?.quantity)?.interval.nominal;
}

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
