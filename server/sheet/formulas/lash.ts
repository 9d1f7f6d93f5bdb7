// Lash: what was asked for, what was chosen, what is set by preload, and the shim or turn that would put it right. Knows no physics of its own.
import * as setting from "../../engineering/lash-setting.ts";
import { type EffectiveBuild, effective, threadAt, wordAt } from "../../model/effective.ts";
import { exactly } from "../../quantity/interval.ts";
import { type Formula, type Input, either, figure, figureBy, formula, reading, slotHas, table, value } from "../formula.ts";
import { hydraulics, lashNow, rockerRatio } from "./breathing.ts";

const hydraulic = (build: EffectiveBuild): boolean => hydraulics(build) !== undefined;
const solid = (build: EffectiveBuild): boolean => !hydraulic(build);

export const LASH: readonly Formula[] = [
  formula({
    id: "lash.{each}.asked", each: "side", section: "lash", label: "{each} lash asked for", kind: "length", unit: "millimetre",
    words: "The lash that the last source asks for: the camshaft's own card, where it has one.",
    expression: "{lash}", source: "as written",
    inputs: { lash: figureBy("asked", "valve-gear.{each}.lash") },
    applies: solid,
    compute: ({ lash }) => lash,
  }),
  formula({
    id: "lash.{each}.chosen", each: "side", section: "lash", label: "{each} lash chosen", kind: "length", unit: "millimetre",
    words: "The lash that this build decides on.",
    expression: "{lash}", source: "as written",
    inputs: { lash: figureBy("chosen", "valve-gear.{each}.lash") },
    applies: (build) => solid(build) && build.subject.sort === "build",
    compute: ({ lash }) => lash,
  }),
  formula({
    id: "lash.{each}.target", each: "side", section: "lash", label: "{each} lash to set", kind: "length", unit: "millimetre", quiet: true,
    words: "The lash to set: as chosen, else as asked for.",
    expression: "{lash}", source: "as written",
    inputs: { lash: lashNow() },
    applies: solid,
    compute: ({ lash }) => lash,
  }),
  formula({
    id: "lifter.{each}.preload", each: "side", section: "lash", label: "{each} lifter preload", kind: "length", unit: "millimetre",
    words: "How far the hydraulic lifter's plunger is pushed down with the valve shut.",
    expression: "{preload}", source: "as written, or from turns of the adjuster",
    inputs: {
      // What the builder set counts over what the lifter's maker asks for, in whichever of the two ways it is said.
      preload: either(reading("valve-gear.{each}.preload"), figureBy("chosen", "valve-gear.{each}.preload", "valve-gear.preload"), value("lifter.{each}.preload-from-turns"), figure("valve-gear.{each}.preload", "valve-gear.preload")),
    },
    applies: hydraulic,
    compute: ({ preload }) => preload,
  }),
  formula({
    id: "lifter.{each}.preload-from-turns", each: "side", section: "lash", label: "{each} lifter preload from turns", kind: "length", unit: "millimetre", quiet: true,
    words: "Turns of a stud rocker's nut past zero lash: the valve end stands still, so the pushrod end moves further than the nut.",
    expression: "{turns} / 360 · {pitch} · (1 + 1 / {ratio})", source: "lever geometry of a rocker on a stud",
    inputs: { turns: figure("valve-gear.{each}.preload-turns", "valve-gear.preload-turns"), pitch: adjusterPitch(), ratio: rockerRatio() },
    applies: hydraulic,
    compute: ({ turns, pitch, ratio }) => setting.preloadFromTurns({ turns: turns / 360, pitch, rockerRatio: ratio }),
  }),
  formula({
    id: "lifter.preload", section: "lash", label: "Lifter preload, smaller side", kind: "length", unit: "millimetre", quiet: true,
    words: "Preload of the side that has less.", expression: "the smaller of {intake} and {exhaust}", source: "by comparison",
    inputs: { intake: value("lifter.intake.preload"), exhaust: value("lifter.exhaust.preload") },
    applies: hydraulic,
    compute: ({ intake, exhaust }) => Math.min(intake, exhaust),
  }),
  formula({
    id: "lifter.{each}.preload-after-changes", each: "side", section: "lash", label: "{each} lifter preload once the head sits lower", kind: "length", unit: "millimetre",
    words: "Preload with the old pushrods kept after the block or head was cut: a head that comes down pushes every lifter down by as much.",
    expression: "{preload} + {skim} + {blockSkim}", source: "sum of the parts, for rockers on a fixed shaft or pedestal",
    estimate: "rockers on a fixed shaft or pedestal; on studs the preload is set afresh by turns",
    inputs: {
      preload: value("lifter.{each}.preload"),
      skim: either(figure("combustion.skim"), absent("combustion.skim")), blockSkim: either(figure("combustion.block-skim"), absent("combustion.block-skim")),
    },
    applies: (build, each) =>
      hydraulic(build) && wordAt(build, "valve-gear.adjuster") === "hydraulic" && !slotHas(build, `valve-gear.${each}.preload-turns`) && (slotHas(build, "combustion.skim") || slotHas(build, "combustion.block-skim")),
    compute: ({ preload, skim, blockSkim }) => setting.preloadAfterChanges({ preload, headLowered: skim + blockSkim }),
  }),
];

/** Travel of the adjuster in one turn: stated, or the pitch of its thread. */
function adjusterPitch(): Input<number> {
  return either(figure("valve-gear.adjuster-pitch"), table("length", ["valve-gear.adjuster-thread"], (build) => {
    const given = effective(build.slots.get("valve-gear.adjuster-thread"));
    const thread = threadAt(build, "valve-gear.adjuster-thread");
    return given && thread ? { interval: exactly(thread.pitch), words: "pitch of the adjuster's thread", source: thread.text, provided: [given] } : undefined;
  }));
}

function absent(path: string): Input<number> {
  return table("length", [path], (build) => (slotHas(build, path) ? undefined : { interval: exactly(0), words: path.slice(path.lastIndexOf(".") + 1), source: "none stated" }));
}
