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

/** The last measurement of a thing on the engine as it is now; one taken before the work says nothing of it. */
function lastMeasured(build: EffectiveBuild, what: string): MeasuredFact | undefined {
  let last: MeasuredFact | undefined;
  for (const m of build.measured)
    if (m.what.text === what && m.readings.length > 0 && !m.qualifiers.some((q) => q.text === "before") && (!last || (m.date?.text ?? "") >= (last.date?.text ?? ""))) last = m;
  return last;
}

function ofReadings(what: string, words: string, pick: (figures: readonly number[]) => number): Input<number> {
  return table("fraction", [], (build) => {
    const readings = lastMeasured(build, what)?.readings.map((r) => r.quantity.interval.nominal);
    return readings && readings.length > 0 ? { interval: exactly(pick(readings)), words: `${what}, ${words}`, source: "as measured" } : undefined;
  });
}
