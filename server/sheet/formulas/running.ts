// The engine that runs: how its cylinders stand against each other, and the oil pressure it wants. Reads readings; judges none. Knows no
// physics of its own.
import { crankingSpread } from "../../engineering/cylinder-tests.ts";
import type { MeasuredFact } from "../../model/declaration.ts";
import { type EffectiveBuild, quantityAt } from "../../model/effective.ts";
import { exactly } from "../../quantity/interval.ts";
import { type Formula, type Input, formula, table } from "../formula.ts";
import { wantedOilPressure, watchesOilPressure } from "../oil-pressure.ts";

const RECORDED = "as recorded";

export const RUNNING: readonly Formula[] = [
  formula({
    id: "cranking.spread", section: "runs-and-pulls", label: "Lowest cylinder against the highest, cranking", kind: "fraction", unit: "percent",
    words: "Cranking pressure of the lowest cylinder as a share of the highest, in the last test.",
    expression: "{share}", source: "by definition",
    inputs: { share: ofReadings("cranking", "lowest over highest", (pressures) => crankingSpread(pressures)) },
    applies: (build) => (lastMeasured(build, "cranking")?.readings.length ?? 0) > 1,
    compute: ({ share }) => share,
  }),
  formula({
    id: "leak-down.worst", section: "runs-and-pulls", label: "Worst leak-down", kind: "fraction", unit: "percent",
    words: "The cylinder that lets most air go, in the last test.",
    expression: "{worst}", source: RECORDED,
    inputs: { worst: ofReadings("leak-down", "most of any cylinder", (shares) => Math.max(...shares)) },
    applies: (build) => lastMeasured(build, "leak-down") !== undefined,
    compute: ({ worst }) => worst,
  }),
  formula({
    id: "baseline.cranking.spread", section: "runs-and-pulls", label: "Lowest cylinder against the highest, before the work", kind: "fraction", unit: "percent",
    words: "Cranking pressure of the lowest cylinder as a share of the highest, in the last test before the engine came apart.",
    expression: "{share}", source: "by definition",
    inputs: { share: ofReadings("cranking", "lowest over highest, before the work", (pressures) => crankingSpread(pressures), true) },
    applies: (build) => (lastMeasured(build, "cranking", true)?.readings.length ?? 0) > 1,
    compute: ({ share }) => share,
  }),
  formula({
    id: "baseline.leak-down.worst", section: "runs-and-pulls", label: "Worst leak-down, before the work", kind: "fraction", unit: "percent",
    words: "The cylinder that let most air go, in the last test before the engine came apart.",
    expression: "{worst}", source: RECORDED,
    inputs: { worst: ofReadings("leak-down", "most of any cylinder, before the work", (shares) => Math.max(...shares), true) },
    applies: (build) => lastMeasured(build, "leak-down", true) !== undefined,
    compute: ({ worst }) => worst,
  }),
  formula({
    id: "baseline.cranking.change", section: "runs-and-pulls", label: "Cranking pressure since before the work, the cylinder that lost most", kind: "fraction", unit: "percent",
    words: "How the cylinder that lost most, or gained least, stands to what it was before the work. Told only where both tests were made alike: hot or cold, throttle and decompressor.",
    expression: "{now} / {before} − 1, the least of any cylinder", source: "by definition",
    inputs: { now: ofCylinder("now"), before: ofCylinder("before") },
    applies: (build) => worstChange(build) !== undefined,
    compute: ({ now, before }) => (before > 0 ? now / before - 1 : undefined),
  }),
  formula({
    id: "oil-pressure.at-redline", section: "runs-and-pulls", label: "Hot oil pressure wanted at the redline", kind: "pressure", unit: "bar",
    words: "Least pressure of hot oil at the redline: the maker's own curve or figure, else the old rule of 10 psi for each 1000 rpm, which modern engines stay below by design.",
    expression: "{wanted}", source: "the engine's maker, else common practice, no source",
    inputs: {
      wanted: table("pressure", ["redline"], (build) => {
        const redline = quantityAt(build, "redline")?.quantity.interval.high;
        return redline === undefined ? undefined : wantedOilPressure(build, redline);
      }),
    },
    applies: watchesOilPressure,
    compute: ({ wanted }) => wanted,
  }),
];

/** The last measurement of a thing on the engine as it is now, or of those taken before the work; neither says anything of the other. */
function lastMeasured(build: EffectiveBuild, what: string, before = false): MeasuredFact | undefined {
  let last: MeasuredFact | undefined;
  for (const m of build.measured)
    if (m.what.text === what && m.readings.length > 0 && m.qualifiers.some((q) => q.text === "before") === before && (!last || (m.date?.text ?? "") >= (last.date?.text ?? ""))) last = m;
  return last;
}

function ofReadings(what: string, words: string, pick: (figures: readonly number[]) => number, before = false): Input<number> {
  return table("fraction", [], (build) => {
    const readings = lastMeasured(build, what, before)?.readings.map((r) => r.quantity.interval.nominal);
    return readings && readings.length > 0 ? { interval: exactly(pick(readings)), words: `${what}, ${words}`, source: "as measured" } : undefined;
  });
}

/** How a test was made: two are compared only where they say the same of themselves. */
function manner(fact: MeasuredFact): string {
  const words = fact.qualifiers.map((q) => q.text).filter((w) => w === "hot" || w === "cold");
  const said = ["throttle", "decompressor"].map((key) => fact.figures.find((f) => f.key.key === key)?.value).map((v) => (v?.is === "word" ? v.word : ""));
  return [...words, ...said].join(" ");
}

/** The cylinder that lost most of its cranking pressure since before the work. */
function worstChange(build: EffectiveBuild): { readonly now: number; readonly before: number; readonly cylinder: string } | undefined {
  const [now, before] = [lastMeasured(build, "cranking"), lastMeasured(build, "cranking", true)];
  if (!now || !before || manner(now) !== manner(before)) return undefined;
  const pairs = now.readings.flatMap((r) => {
    const was = before.readings.find((b) => b.head === r.head)?.quantity.interval.nominal;
    return was !== undefined && was > 0 ? [{ now: r.quantity.interval.nominal, before: was, cylinder: r.head }] : [];
  });
  return pairs.sort((a, b) => a.now / a.before - b.now / b.before)[0];
}

function ofCylinder(which: "now" | "before"): Input<number> {
  return table("pressure", [], (build) => {
    const worst = worstChange(build);
    return worst && { interval: exactly(worst[which]), words: `cranking pressure of cylinder ${worst.cylinder} ${which === "now" ? "now" : "before the work"}`, source: "as measured" };
  });
}
