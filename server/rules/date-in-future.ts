// Days on which something is said to have been done that are yet to come.
import type { Location } from "../model/declaration.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import { whole } from "../model/reads.ts";
import { dateOf } from "../sheet/pull.ts";
import { plansOf } from "../sheet/work.ts";
import { headOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";

export const RULE: BuildRule = {
  id: "date-in-future",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Something is written down as measured, run or done on a day that has not come yet.",
    why: "The newest reading counts and the oldest grows stale: a year that was mistyped makes every later reading old before it is taken.",
    limit: "Today, or the day given with `--as-of`. Said of one or two days of a build whose others are past, and of any that lies ten years off: a build of which more is yet to come is looked at as of an earlier day.",
    source: "the calendar",
    remedy: "Correct the day. A day by which something is to be done is written as `due`.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured thrust-endplay on 2027-03-13 { reading: 0.12 mm }
  measured flatness on 2072-03-14 { reading: 0.02 mm }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  measured thrust-endplay on 2027-03-13 { reading: 0.12 mm }
  measured flatness on 2027-03-14 { reading: 0.02 mm }
}
`,
  },
  check({ build, asOf, report }) {
    const days = datesIn(build);
    const past = days.some((d) => d.date <= asOf);
    const ahead = new Set(days.filter((d) => d.date > asOf).map((d) => d.date)).size;
    const far = `${String(Number(asOf.slice(0, 4)) + FAR).padStart(4, "0")}${asOf.slice(4)}`;
    for (const { date, at } of days) {
      if (date <= asOf || ((!past || ahead > MOST) && date <= far)) continue;
      report({ message: `${date} has not come yet: today is ${asOf}. Correct the day.`, at });
    }
  },
};

/** More days than this are not mistyped one by one. */
const MOST = 2;

/** Years from which a day is mistyped whatever else stands in the file. */
const FAR = 10;

/** Every day on which something is said to have happened. */
function datesIn(build: EffectiveBuild): readonly { readonly date: string; readonly at: Location }[] {
  const { tree, records } = build.subject;
  const own = records.filter((r) => r.word === "run" || r.word === "pull" || r.word === "log" || r.word === "tune").flatMap((record) => {
    const date = dateOf(record);
    return date === undefined ? [] : [{ date, at: headOf(build, record) }];
  });
  const ticks = plansOf(build).flatMap((plan) => plan.steps.flatMap((step) => step.ticks.map((t) => ({ date: t.date, at: t.at }))));
  // Steps ticked off in one statement share its day.
  const days = new Map<string, { readonly date: string; readonly at: Location }>();
  for (const tick of ticks) {
    const statement = whole(tree).text.lastIndexOf("done", tick.at.span.start);
    const key = `${statement} ${tick.date}`;
    if (!days.has(key)) days.set(key, tick);
  }
  return [...build.measured.flatMap((m) => (m.date ? [{ date: m.date.text, at: { tree, span: m.date.span } }] : [])), ...own, ...days.values(), ...build.parts.flatMap((p) => (p.fit.date ? [{ date: p.fit.date.text, at: { tree, span: p.fit.date.span } }] : []))];
}
