// Lash that closes up from one set of readings to the next, on one valve or on all.
import { compareWithLimit } from "../quantity/display.ts";
import { doneBy, plansOf } from "../sheet/work.ts";
import { dateOf } from "../sheet/pull.ts";
import { type TrendRow, lashLastSet, lashSets, trendOf } from "../sheet/trend.ts";
import { lashOf } from "./lash.ts";
import { recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { inUnitOf, readingAt } from "./wording.ts";

/** m: less than this two feelers, two hands and two days make between them. Common practice, no source. */
const BEYOND_FEELERS = 0.03e-3;

export const RULE: BuildRule = {
  id: "lash-closing",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The lash of a valve has closed up since it was set, and stands under what was chosen.",
    why: "Lash that closes on one valve means that the valve is going into its seat or its stem is stretching; it burns when nothing is left. Lash that closes on all of a side is a seat that the fuel no longer spares.",
    limit: "The newest set of readings against the first since the lash was last set, in the same state. A fall of 0.03 mm or more, to below what was chosen or asked for. Where the engine was run in between, every valve beds in: only what a valve lost beyond the middle one of its side counts.",
    source: "common practice, no source",
    remedy: "Set it, and look again soon. Where one valve goes on closing, do a leak-down test before it is driven hard again.",
    bad: `
engine fellside-385 {
  source: "workshop manual"
  cylinders: 1
  valve-gear { intake { lash: 0.08 ± 0.03 mm cold }; exhaust { lash: 0.20 ± 0.05 mm cold } }
}

build moorside-2 on fellside-385 {
  measured lash cold on 2026-09-01 { intake: 0.08 mm; exhaust: 0.20 mm }
  measured lash cold on 2027-03-01 { intake: 0.08 mm; exhaust: 0.16 mm }
}
`,
    good: `
engine fellside-385 {
  source: "workshop manual"
  cylinders: 1
  valve-gear { intake { lash: 0.08 ± 0.03 mm cold }; exhaust { lash: 0.20 ± 0.05 mm cold } }
}

build moorside-2 on fellside-385 {
  measured lash cold on 2026-09-01 { intake: 0.08 mm; exhaust: 0.20 mm }
  measured lash cold on 2027-03-01 { intake: 0.08 mm; exhaust: 0.19 mm }
}
`,
  },
  check({ build, report }) {
    const sides = lashOf(build);
    if (sides.length === 0) return;
    const set = lashLastSet(build);
    const sets = lashSets(build).filter((m) => set === undefined || (m.date?.text ?? "") >= set);
    const [first, last] = [sets[0], sets.at(-1)];
    if (!first?.date || !last?.date || first.date.text === last.date.text) return;
    const { rows } = trendOf(build, sets);
    const bedded = ranIn(build, first.date.text, last.date.text);
    for (const { side, askedQuantity, chosen, path } of sides) {
      const wanted = (chosen?.quantity ?? askedQuantity).interval.nominal;
      const moved = rows.filter((row) => row.side === side && row.change !== undefined);
      const middle = bedded ? median(moved.map((row) => -(row.change ?? 0))) : 0;
      const closed = moved.filter((row) => {
        const now = row.cells.findLast((c) => c !== undefined)?.quantity.interval.nominal ?? wanted;
        return compareWithLimit(-(row.change ?? 0) - Math.max(0, middle), BEYOND_FEELERS) >= 0 && compareWithLimit(now, wanted) < 0;
      }).sort((a, b) => (a.change ?? 0) - (b.change ?? 0));
      const [worst] = closed;
      const [before, now] = worst ? endsOf(worst) : [];
      if (!worst || !before || !now) continue;
      const more = closed.length - 1;
      const day = (at: number) => sets[at]?.date?.text ?? "";
      report({
        message: `The lash of ${worst.place} closed by ${inUnitOf(now.quantity, Math.abs(worst.change ?? 0), "length")}: ${readingAt(build, before.at)} on ${day(worst.cells.indexOf(before))}, ${readingAt(build, now.at)} on ${day(worst.cells.indexOf(now))}${more > 0 ? `; ${more} more ${side} ${more === 1 ? "valve" : "valves"} closed as well` : ""}. Set it, and look again soon: a valve that goes on closing burns.`,
        at: now.at, path, related: [{ message: "It was set so.", at: before.at }],
      });
    }
  },
};

function endsOf(row: TrendRow): readonly [TrendRow["cells"][number], TrendRow["cells"][number]] {
  return [row.cells.find((c) => c !== undefined), row.cells.findLast((c) => c !== undefined)];
}

/** Whether the engine first ran, or was run in, between two days. */
function ranIn(build: Parameters<typeof plansOf>[0], from: string, to: string): boolean {
  const runs = recordsOf(build, "run").flatMap((r) => dateOf(r) ?? []).sort();
  const days = [...plansOf(build).flatMap((plan) => ["first-start", "running-in"].flatMap((name) => {
    const step = plan.byName.get(name);
    return (step && doneBy(step)?.date) ?? [];
  })), ...runs.slice(0, 1)];
  return days.some((day) => day >= from && day <= to);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  return sorted.length === 0 ? 0 : sorted.length % 2 === 1 ? (sorted[half] ?? 0) : ((sorted[half - 1] ?? 0) + (sorted[half] ?? 0)) / 2;
}
