// Road speed in each gear, and where the engine lands after a shift. Knows no physics of its own.
import * as gears from "../../engineering/gearing.ts";
import { type EffectiveBuild, effective } from "../../model/effective.ts";
import { exactly } from "../../quantity/interval.ts";
import { type Formula, type Input, either, figure, formula, optional, slotHas, table, value } from "../formula.ts";
import { gearRatios } from "../places.ts";

const hasGears = (build: EffectiveBuild): boolean => gearRatios(build).length > 0;
const marked = (build: EffectiveBuild): boolean => slotHas(build, "tyre.width") || slotHas(build, "tyre.profile") || slotHas(build, "tyre.rim");

export const GEARING: readonly Formula[] = [
  formula({
    id: "tyre.nominal-diameter", section: "runs-and-pulls", label: "Tyre diameter by its marking", kind: "length", unit: "millimetre", estimate: "a tyre rolls 2 to 4 % less than its marking comes to",
    words: "Rim and two sides of the tyre: what it measures in the air.",
    expression: "{rim} + 2 · {width} · {profile}", source: "ISO 4000-1",
    inputs: { rim: figure("tyre.rim"), width: figure("tyre.width"), profile: figure("tyre.profile") },
    applies: marked,
    compute: ({ rim, width, profile }) => gears.tyreDiameter({ rim, width, aspect: profile }),
  }),
  formula({
    id: "tyre.rolled", section: "runs-and-pulls", label: "Distance rolled in one turn", kind: "length", unit: "metre", quiet: true,
    words: "As stated, or the tyre's diameter times π.",
    expression: "{circumference}, else π · {diameter}", source: "geometry",
    inputs: { circumference: optional(figure("tyre.circumference")), diameter: { ...either(figure("tyre.diameter"), value("tyre.nominal-diameter")), where: (build: EffectiveBuild) => !slotHas(build, "tyre.circumference") } as Input<number | undefined> },
    applies: hasGears,
    compute: ({ circumference, diameter }) => circumference ?? (diameter === undefined ? undefined : gears.rollingCircumference({ diameter })),
  }),
  formula({
    id: "speed.gear.{each}", each: "gear", section: "runs-and-pulls", label: "Road speed at the redline, gear {each}", kind: "road-speed", unit: "kilometre-per-hour",
    words: "How fast the wheels turn at the redline in this gear: no slip, no drag.",
    expression: "{redline} · {rolled} / ({ratio} · {final} · {primary})", source: "gear geometry, no slip",
    inputs: { redline: figure("redline"), rolled: value("tyre.rolled"), ratio: ratioOf(0), final: figure("final-drive.ratio"), primary: optional(figure("gearbox.primary")) },
    compute: ({ redline, rolled, ratio, final, primary }) => gears.roadSpeed({ rpm: redline, circumference: rolled, gear: ratio * (primary ?? 1), finalDrive: final }),
  }),
  formula({
    id: "shift.gear.{each}", each: "gear", section: "runs-and-pulls", label: "Engine speed after shifting into gear {each} at the redline", kind: "rotation", unit: "revolution-per-minute",
    words: "Where the engine lands: it should still pull there.",
    expression: "{redline} · {ratio} / {before}", source: "gear geometry, no slip",
    inputs: { redline: figure("redline"), ratio: ratioOf(0), before: ratioOf(-1) },
    applies: (_, gear) => Number(gear) > 1,
    compute: ({ redline, ratio, before }) => gears.rpmAfterShift({ rpm: redline, fromGear: before, toGear: ratio }),
  }),
];

/** Ratio of this gear, or of one so many below it. */
function ratioOf(away: 0 | -1): Input<number> {
  return table("ratio", ["gearbox.ratios"], (build, gear) => {
    const number = Number(gear) + away;
    const ratio = gearRatios(build)[number - 1];
    const provided = effective(build.slots.get("gearbox.ratios"));
    return ratio === undefined ? undefined : { interval: exactly(ratio), words: `ratio of gear ${number}`, source: "as stated", ...(provided && { provided: [provided] }) };
  });
}
