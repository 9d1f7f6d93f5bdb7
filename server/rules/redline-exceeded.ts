// Engine speeds past the redline, as a run, a pull or a recording saw them.
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { figureOf, pullsOf, recordQuantity } from "../sheet/pull.ts";
import { amount } from "./amount.ts";
import { lengthWords, passedIn, recordingWords, stretchWords } from "./recorded.ts";
import { recordWords, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf, readingText, textAt, written } from "./wording.ts";
import { capital } from "../quantity/spoken.ts";

/** A tachometer and a pick-up are no nearer than this. Common practice, no source. */
const SLACK = 0.01;

export const RULE: BuildRule = {
  id: "redline-exceeded",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The engine went past its redline.",
    why: "Valves that float meet pistons, and rod bolts are stretched by the square of the speed. What has been over-revved is measured before it is trusted.",
    limit: "The build's `redline`, else the engine's, and 1 per cent over it for the pick-up. A recording must show it for 0.1 s: one row alone is a spike of the pick-up.",
    source: "the maker's own redline; the 1 per cent and the 0.1 s are common practice, no source",
    remedy: "Find out how it came about: a missed shift, a limiter set too high. Check lash, a compression test and the rod bolts' stretch before the next full load.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

build wren-hill-4 on dunlin-18 {
  run hill-climb on 2027-06-12 { time: 4 min; max-rpm: 7100 rpm }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

build wren-hill-4 on dunlin-18 {
  run hill-climb on 2027-06-12 { time: 4 min; max-rpm: 6500 rpm }
}
`,
  },
  check({ build, report }) {
    const redline = effective(build.slots.get("redline"));
    const limit = quantityOf(redline)?.quantity.interval.high;
    if (!redline || limit === undefined) return;
    const related = [{ message: "The redline stands here.", at: redline.location }];
    const after = `over the redline of ${written(redline)}`;
    for (const seen of seenIn(build)) {
      if (seen.rpm <= limit * (1 + SLACK)) continue;
      report({ message: `${seen.words}, ${after}. Find out how, and check valves and rod bolts before the next full load.`, at: seen.at, path: "redline", ...amount("more", seen.rpm, "rotation", "revolution-per-minute"), related });
    }
    for (const { recording, stretches, at } of passedIn(build, "redline", ["rpm"])) {
      const { worst, total, count, longest } = stretches;
      if (worst.worst <= limit * (1 + SLACK)) continue;
      const { rpm: _said, ...when } = worst;
      report({
        message: `In ${recordingWords(recording)} the engine reached ${Math.round(worst.worst)} rpm ${stretchWords(when)}, ${after}${count > 1 ? `; ${count} times and ${lengthWords(total)} in all, ${lengthWords(longest.duration)} at the longest` : ""}. Find out how, and check valves and rod bolts before the next full load.`,
        at, path: "redline", ...amount("more", worst.worst, "rotation", "revolution-per-minute"), related,
      });
    }
  },
};

/** The highest speed of each run, and of each pull. */
function seenIn(build: EffectiveBuild): readonly { readonly words: string; readonly rpm: number; readonly at: Location }[] {
  const { tree } = build.subject;
  const runs = recordsOf(build, "run").flatMap((run) => {
    const [fact, value] = [figureOf(run, "max-rpm"), recordQuantity(run, "max-rpm")];
    if (!fact || !value) return [];
    const at = { tree, span: fact.span };
    return [{ words: `${capital(recordWords(run))} reached ${textAt(at)}`, rpm: value.quantity.interval.nominal, at }];
  });
  const pulls = pullsOf(build).flatMap((pull) => {
    const top = pull.rows.reduce((a, b) => (a && a.rpm >= b.rpm ? a : b), pull.rows[0]);
    const cell = top?.cells.get("rpm");
    if (!top || !cell?.quantity) return [];
    const at = { tree, span: cell.span };
    return [{ words: `${capital(pull.words)} reached ${readingText(at, cell.quantity)}`, rpm: top.rpm, at }];
  });
  return [...runs, ...pulls];
}
