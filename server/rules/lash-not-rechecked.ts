// Lash that was not looked at again once new valve gear had run.
import type { RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, type FittedPart } from "../model/effective.ts";
import { dateOf } from "../sheet/pull.ts";
import { lashOf } from "./lash.ts";
import { saysYes, ticksOf } from "./order.ts";
import { fullLoadRuns, headOf, recordWords, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { called } from "./wording.ts";

export const RULE: BuildRule = {
  id: "lash-not-rechecked",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "New valve gear has run and was then loaded fully or measured on rollers, and the lash was not checked in between.",
    why: "New lobes, followers and seats bed in during the first hour: lash closes, and a valve left tight burns under the first full load.",
    limit: "Engines with lash to set, in which the build fits a camshaft, followers, rockers, valves or a head. Between the first run and the first pull, or the first run at nine tenths of full load, there must be a `measured lash` on or after the day of that first run, a run with `lash-rechecked: yes`, or `done recheck-lash`. Where a day is not written down nothing is said.",
    source: "common practice, no source",
    remedy: "Check the lash in the state that is asked for and write it down, or say when it was done.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { lash: 0.20 ± 0.02 mm cold }
}

part follower fresh-18 for dunlin-18 { source: "box label" }

build wren-hill-2 on dunlin-18 {
  fit fresh-18
  measured lash cold on 2027-03-14 { | valve (mm) | 1 | 2 | 3 | 4 |
    | intake | 0.20 | 0.20 | 0.20 | 0.20 | }
  run first-start on 2027-03-20 { time: 20 min }
  pull on 2027-04-02 { at: wheels; correction: none
    | rpm | torque (N·m) |
    | 5000 | 140 | }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { lash: 0.20 ± 0.02 mm cold }
}

part follower fresh-18 for dunlin-18 { source: "box label" }

build wren-hill-2 on dunlin-18 {
  fit fresh-18
  run first-start on 2027-03-20 { time: 20 min }
  measured lash cold on 2027-03-27 { | valve (mm) | 1 | 2 | 3 | 4 |
    | intake | 0.20 | 0.20 | 0.20 | 0.20 | }
  pull on 2027-04-02 { at: wheels; correction: none
    | rpm | torque (N·m) |
    | 5000 | 140 | }
}
`,
  },
  check({ build, report }) {
    const missed = lashNotRechecked(build);
    if (!missed) return;
    const { part, first, since, loaded } = missed;
    report({
      message: `${called(part.declaration)} first ran on ${since}, and the lash was not checked again before ${recordWords(loaded)}. New valve gear beds in and lash closes: check it, and write it down.`,
      at: headOf(build, loaded), path: "valve-gear.lash", related: [{ message: "It first ran here.", at: headOf(build, first) }],
    });
  },
};

/** New valve gear that first ran and was then loaded, with nothing that says its lash was looked at in between. */
export function lashNotRechecked(build: EffectiveBuild): { readonly part: FittedPart; readonly first: RecordFact; readonly since: string; readonly loaded: RecordFact } | undefined {
  const part = beddingIn(build);
  if (!part || lashOf(build).length === 0) return undefined;
  const first = byDay(recordsOf(build, "run"))[0];
  const since = first && dateOf(first);
  if (!first || since === undefined || recordsOf(build, "run").some((run) => dateOf(run) === undefined)) return undefined;
  const loaded = byDay([...recordsOf(build, "pull"), ...fullLoadRuns(build)]).find((record) => record !== first && (dateOf(record) ?? "") >= since);
  const until = loaded && dateOf(loaded);
  if (!loaded || until === undefined) return undefined;
  const within = (day: string | undefined) => day === undefined || (day >= since && day <= until);
  if (build.measured.some((m) => m.what.text === "lash" && within(m.date?.text))) return undefined;
  if (recordsOf(build, "run").some((run) => saysYes(run, "lash-rechecked") && within(dateOf(run)))) return undefined;
  return ticksOf(build, "recheck-lash").some((done) => within(done.date)) ? undefined : { part, first, since, loaded };
}

const BEDS_IN: ReadonlySet<string> = new Set(["camshaft", "follower", "rocker", "valve", "head"]);

function beddingIn(build: EffectiveBuild): FittedPart | undefined {
  return build.parts.find((p) => BEDS_IN.has(p.kindId));
}

function byDay(records: readonly RecordFact[]): readonly RecordFact[] {
  return records.filter((r) => dateOf(r) !== undefined).sort((a, b) => ((dateOf(a) ?? "") < (dateOf(b) ?? "") ? -1 : 1));
}
