// Breathing: when the valves open and shut once gear setting and skimmed head are counted in, and how far they open. Angles are of the
// crank unless a name says cam; a shift is positive when it retards. Knows no physics of its own.
import * as events from "../../engineering/valve-events.ts";
import * as lift from "../../engineering/valve-lift.ts";
import { type EffectiveBuild, type Provided, effective, valueAt, wordAt } from "../../model/effective.ts";
import { type Interval, exactly } from "../../quantity/interval.ts";
import { type Formula, type Input, asking, blockHas, either, figure, formula, optional, orAssume, slotHas, table, value, word } from "../formula.ts";
import { meaningOf } from "../meaning.ts";

const SHAFT = "geometry of a shaft that turns once for two turns of the crank";
const SYMMETRY = "half the duration on each side of the centreline, which holds for symmetric lobes only";

const eachGear = (build: EffectiveBuild): boolean => blockHas(build, "cam-gear.intake") || blockHas(build, "cam-gear.exhaust");
const overhead = (build: EffectiveBuild): boolean => {
  const layout = wordAt(build, "valve-gear.layout");
  return (layout === "sohc" || layout === "dohc") && wordAt(build, "valve-gear.drive") !== "gears";
};
const skimmed = (build: EffectiveBuild): boolean => overhead(build) && (slotHas(build, "combustion.skim") || slotHas(build, "combustion.block-skim"));
const otherGasket = (build: EffectiveBuild): boolean => overhead(build) && gasketChange(build) !== undefined;

/** The lift that a card's angles hold at: shown with every one of them, and its absence is said. */
function statedAt(): Input<number | undefined> {
  return orAssume<number | undefined>(figure("camshaft.{each}.measured-at"), undefined, "the card states no lift at which its angles hold");
}

const SIGNS = { positive: "retarded", negative: "advanced" };

export const BREATHING: readonly Formula[] = [
  formula({
    id: "cam-gear.shift", section: "breathing", label: "Cam gear shift, crank degrees", kind: "angle", unit: "degree", signs: SIGNS,
    words: "How far the gear's setting moves the cam, in degrees of the crank. A retard opens and closes every valve later.",
    expression: "{set}, cam degrees counted twice", source: SHAFT,
    inputs: { set: figure("cam-gear.set") },
    applies: (build) => blockHas(build, "cam-gear") && !eachGear(build),
    compute: ({ set }) => set,
  }),
  formula({
    id: "cam-gear.{each}.shift", each: "side", section: "breathing", label: "Shift of the {each} cam gear, crank degrees", kind: "angle", unit: "degree", signs: SIGNS,
    words: "How far this gear's setting moves its cam, in degrees of the crank. A retard opens and closes its valves later.",
    expression: "{set}, cam degrees counted twice", source: SHAFT,
    inputs: { set: figure("cam-gear.{each}.set") },
    applies: (build, each) => blockHas(build, `cam-gear.${each}`),
    compute: ({ set }) => set,
  }),
  formula({
    id: "cam-gear.marks", section: "breathing", label: "Marks to move the cam gear", kind: "number", signs: SIGNS,
    words: "How many of the gear's own marks that shift is, from its zero.",
    expression: "{shift} / {spacing}", source: SHAFT,
    inputs: { shift: value("cam-gear.shift"), spacing: figure("cam-gear.mark-spacing") },
    applies: (build) => blockHas(build, "cam-gear") && !eachGear(build),
    compute: ({ shift, spacing }) => events.gearMarks({ shiftCrankDeg: shift, markSpacingCrankDeg: spacing }),
  }),
  formula({
    id: "cam-gear.{each}.marks", each: "side", section: "breathing", label: "Marks to move the {each} cam gear", kind: "number", signs: SIGNS,
    words: "How many of the gear's own marks that shift is, from its zero.",
    expression: "{shift} / {spacing}", source: SHAFT,
    inputs: { shift: value("cam-gear.{each}.shift"), spacing: figure("cam-gear.{each}.mark-spacing", "cam-gear.mark-spacing") },
    applies: (build, each) => blockHas(build, `cam-gear.${each}`),
    compute: ({ shift, spacing }) => events.gearMarks({ shiftCrankDeg: shift, markSpacingCrankDeg: spacing }),
  }),
  formula({
    id: "cam-gear.tooth", section: "breathing", label: "One tooth of the cam gear, crank degrees", kind: "angle", unit: "degree",
    words: "What a belt or chain that is one tooth out comes to on the degree wheel.",
    expression: "720 / {teeth}", source: SHAFT,
    inputs: { teeth: figure("valve-gear.gear-teeth") },
    compute: ({ teeth }) => events.toothCrankDeg({ teeth }),
  }),
  formula({
    id: "cam-gear.skim-retard", section: "breathing", label: "Cam retard from skimming", kind: "angle", unit: "degree", signs: SIGNS,
    words: "A head that sits lower shortens the driving run of belt or chain and leaves the cam behind.",
    expression: "2 · ({skim} + {blockSkim}) / ({pitchDiameter} / 2), as an angle",
    source: "belt geometry: the driving run taken as lying along the bore, the tensioner taking up the slack",
    inputs: { skim: optional(figure("combustion.skim")), blockSkim: optional(figure("combustion.block-skim")), pitchDiameter: figure("valve-gear.gear-pitch-diameter") },
    applies: skimmed,
    compute: ({ skim, blockSkim, pitchDiameter }) => events.skimRetardCrankDeg({ lowered: (skim ?? 0) + (blockSkim ?? 0), gearPitchDiameter: pitchDiameter }),
  }),
  formula({
    id: "cam-gear.gasket-retard", section: "breathing", label: "Cam retard from another head gasket", kind: "angle", unit: "degree", signs: SIGNS,
    words: "A thinner gasket lowers the head as a skim does; a thicker one advances the cam.",
    expression: "2 · ({stock} − {gasket}) / ({pitchDiameter} / 2), as an angle",
    source: "belt geometry: the driving run taken as lying along the bore, the tensioner taking up the slack",
    inputs: {
      stock: table("length", ["combustion.gasket-thickness"], stockGasket), gasket: figure("combustion.gasket-thickness"), pitchDiameter: figure("valve-gear.gear-pitch-diameter"),
    },
    applies: otherGasket,
    compute: ({ stock, gasket, pitchDiameter }) => events.skimRetardCrankDeg({ lowered: stock - gasket, gearPitchDiameter: pitchDiameter }),
  }),
  formula({
    id: "cam-timing.{each}.retard", each: "side", section: "breathing", label: "{each} cam against its card, crank degrees", kind: "angle", unit: "degree", signs: SIGNS, quiet: true,
    words: "Everything that moves this cam from where its card puts it: the gear's setting and a head that sits lower.",
    expression: "{gear} + {skim} + {gasket}", source: "sum of the parts",
    inputs: { gear: gearShift(), skim: loweredBy("cam-gear.skim-retard", skimmed, "the cut off head or block"), gasket: loweredBy("cam-gear.gasket-retard", otherGasket, "the other head gasket") },
    compute: ({ gear, skim, gasket }) => (gear ?? 0) + (skim ?? 0) + (gasket ?? 0),
  }),
  formula({
    id: "duration.{each}", each: "side", section: "breathing", label: "{each} duration", kind: "angle", unit: "degree", tune: true,
    words: "How long the valve is open, in crank degrees, between the points where it has the stated lift.",
    expression: "{duration}", source: "as printed, or opening + 180 + closing as printed",
    inputs: { duration: either(figure("camshaft.{each}.duration"), value("duration.{each}.from-events")), at: statedAt() },
    compute: ({ duration }) => duration,
  }),
  formula({
    id: "duration.{each}.from-events", each: "side", section: "breathing", label: "{each} duration from printed angles", kind: "angle", unit: "degree", quiet: true,
    words: "Duration of a card that prints opening and closing.",
    expression: "{opens} + 180 + {closes}", source: "by definition",
    inputs: { opens: figure("camshaft.{each}.opens"), closes: figure("camshaft.{each}.closes") },
    applies: (build, each) => slotHas(build, `camshaft.${each}.opens`) || slotHas(build, `camshaft.${each}.closes`),
    compute: ({ opens, closes }) => events.durationFromEventsDeg({ opensDeg: opens, closesDeg: closes }),
  }),
  formula({
    id: "centreline.{each}.from-events", each: "side", section: "breathing", label: "{each} centreline from printed angles", kind: "angle", unit: "degree", quiet: true,
    words: "Halfway between opening and closing: of a lopsided lobe this is not the point of greatest lift.",
    expression: "({opens} + 180 + {closes}) / 2 − the one nearer top dead centre", source: SYMMETRY,
    inputs: { opens: figure("camshaft.{each}.opens"), closes: figure("camshaft.{each}.closes") },
    applies: (build, each) => slotHas(build, `camshaft.${each}.opens`) || slotHas(build, `camshaft.${each}.closes`),
    compute: ({ opens, closes }, each) =>
      each === "intake" ? events.intakeCentrelineFromEventsDeg({ opensBtdcDeg: opens, closesAbdcDeg: closes }) : events.exhaustCentrelineFromEventsDeg({ opensBbdcDeg: opens, closesAtdcDeg: closes }),
  }),
  formula({
    id: "centreline.{each}.from-separation", each: "side", section: "breathing", label: "{each} centreline from the lobe separation", kind: "angle", unit: "degree", quiet: true,
    words: "Where one shaft's own separation puts this lobe once the other's centreline is known.",
    expression: "{separation} in crank degrees − {other}", source: SHAFT,
    inputs: { separation: figure("camshaft.lobe-separation"), other: otherCentreline() },
    applies: (build) => slotHas(build, "camshaft.lobe-separation"),
    // Two cam degrees are one step of the mean of the two centrelines; the figure arrives in crank degrees.
    compute: ({ separation, other }, each) =>
      each === "intake"
        ? events.intakeCentrelineFromSeparationDeg({ separationCamDeg: events.camDegFromCrankDeg(separation), exhaustCentrelineDeg: other })
        : events.exhaustCentrelineFromSeparationDeg({ separationCamDeg: events.camDegFromCrankDeg(separation), intakeCentrelineDeg: other }),
  }),
  formula({
    id: "centreline.{each}.card", each: "side", section: "breathing", label: "{each} centreline as the card has it", kind: "angle", unit: "degree", quiet: true,
    words: "Centreline before anything was moved: intake counted after top dead centre, exhaust before it.",
    expression: "{centreline}", source: "as printed, or worked out from what is printed",
    inputs: { centreline: either(figure("camshaft.{each}.centreline"), value("centreline.{each}.from-events"), value("centreline.{each}.from-separation"), value("lobe.{each}.centreline")) },
    compute: ({ centreline }) => centreline,
  }),
  formula({
    id: "centreline.{each}.installed", each: "side", section: "breathing", label: "{each} centreline as installed", kind: "angle", unit: "degree", tune: true,
    words: "Where the degree wheel must find the lobe fullest: intake counted after top dead centre, exhaust before it. A retard moves the intake's later and the exhaust's nearer to top.",
    expression: "{card} ± {retard}: plus for the intake, minus for the exhaust", source: SHAFT,
    inputs: { card: value("centreline.{each}.card"), retard: value("cam-timing.{each}.retard") },
    compute: ({ card, retard }, each) =>
      each === "intake" ? events.shiftedIntakeCentrelineDeg({ centrelineDeg: card, retardCrankDeg: retard }) : events.shiftedExhaustCentrelineDeg({ centrelineDeg: card, retardCrankDeg: retard }),
  }),
  formula({
    id: "lobe-separation", section: "breathing", label: "Lobe separation, cam degrees", kind: "angle", unit: "degree",
    words: "Angle between the intake and exhaust lobes, in cam degrees as the trade counts it. On one shaft no gear setting changes it.",
    expression: "({intake} + {exhaust}) / 2", source: SHAFT,
    inputs: { intake: value("centreline.intake.installed"), exhaust: value("centreline.exhaust.installed") },
    compute: ({ intake, exhaust }) => events.lobeSeparationCamDeg({ intakeCentrelineDeg: intake, exhaustCentrelineDeg: exhaust }),
  }),
  formula({
    id: "event.{each}.opens-card", each: "side", section: "breathing", label: "{each} opens, before the cam was moved", kind: "angle", unit: "degree", quiet: true,
    words: "Opening as printed, or half the duration before the centreline.",
    expression: "{duration} / 2 − {centreline}, from the dead centre it is counted from", source: SYMMETRY,
    inputs: { printed: optional(figure("camshaft.{each}.opens")), duration: value("duration.{each}"), centreline: value("centreline.{each}.card") },
    compute: ({ printed, duration, centreline }, each) =>
      printed ?? (each === "intake" ? events.intakeOpensBtdcDeg({ durationDeg: duration, centrelineDeg: centreline }) : events.exhaustOpensBbdcDeg({ durationDeg: duration, centrelineDeg: centreline })),
  }),
  formula({
    id: "event.{each}.closes-card", each: "side", section: "breathing", label: "{each} closes, before the cam was moved", kind: "angle", unit: "degree", quiet: true,
    words: "Closing as printed, or half the duration after the centreline.",
    expression: "{duration} / 2 + {centreline} − 180, from the dead centre it is counted from", source: SYMMETRY,
    inputs: { printed: optional(figure("camshaft.{each}.closes")), duration: value("duration.{each}"), centreline: value("centreline.{each}.card") },
    compute: ({ printed, duration, centreline }, each) =>
      printed ?? (each === "intake" ? events.intakeClosesAbdcDeg({ durationDeg: duration, centrelineDeg: centreline }) : events.exhaustClosesAtdcDeg({ durationDeg: duration, centrelineDeg: centreline })),
  }),
  ...event("intake", "opens", "before top dead centre", "after top dead centre"),
  ...event("intake", "closes", "after bottom dead centre", "before bottom dead centre"),
  ...event("exhaust", "opens", "before bottom dead centre", "after bottom dead centre"),
  ...event("exhaust", "closes", "after top dead centre", "before top dead centre"),
  formula({
    id: "overlap", section: "breathing", label: "Overlap", kind: "angle", unit: "degree",
    words: "How long both valves are open round top dead centre, at the stated lifts; negative when both are shut for a while.",
    expression: "{opens} + {closes}", source: "by definition",
    inputs: { opens: value("event.intake.opens"), closes: value("event.exhaust.closes") },
    compute: ({ opens, closes }) => events.overlapFromEventsDeg({ intakeOpensBtdcDeg: opens, exhaustClosesAtdcDeg: closes }),
  }),
  formula({
    id: "lift.{each}.gross", each: "side", section: "breathing", label: "{each} valve lift, no lash taken off", kind: "length", unit: "millimetre", tune: true,
    words: "How far the lobe would push the valve if there were no lash: the lift that springs and pistons must have room for.",
    expression: "{lift}", source: "lever geometry, the ratio at full lift where it varies",
    inputs: { lift: either(value("lift.{each}.from-lobe"), value("lift.{each}.printed")) },
    compute: ({ lift: one }) => one,
  }),
  formula({
    id: "lift.{each}.from-lobe", each: "side", section: "breathing", label: "{each} valve lift from the lobe", kind: "length", unit: "millimetre", quiet: true,
    words: "Lobe lift times rocker ratio.",
    expression: "{lobe} · {ratio}", source: "lever geometry",
    inputs: { lobe: asking(either(figure("camshaft.{each}.lobe-lift"), value("lobe.{each}.lift")), figure("camshaft.{each}.lobe-lift")), ratio: rockerRatio() },
    compute: ({ lobe, ratio }) => lift.grossValveLift({ lobeLift: lobe, rockerRatio: ratio }),
  }),
  formula({
    id: "lift.{each}.printed", each: "side", section: "breathing", label: "{each} valve lift from the card", kind: "length", unit: "millimetre", quiet: true,
    words: "Valve lift as printed, brought from the card's rocker ratio to this engine's where the card names one.",
    expression: "{printed} · {ratio} / {cardRatio}", source: "lever geometry",
    inputs: { printed: figure("camshaft.{each}.valve-lift"), ratio: optional(rockerRatio()), cardRatio: optional(figure("camshaft.{each}.valve-lift-ratio")) },
    applies: (build, each) => slotHas(build, `camshaft.${each}.valve-lift`),
    compute: ({ printed, ratio, cardRatio }) => (cardRatio === undefined ? printed : ratio === undefined ? undefined : (printed * ratio) / cardRatio),
  }),
  formula({
    id: "lift.{each}.net", each: "side", section: "breathing", label: "{each} valve lift at set lash", kind: "length", unit: "millimetre",
    words: "How far the valve really opens once the lash has been taken up.",
    expression: "{gross} − {lash} at the valve, or − {lash} · {ratio} where lash is taken at the cam", source: "lever geometry",
    inputs: { gross: value("lift.{each}.gross"), lash: lashNow(), ratio: orAssumeAtValve(), lashAt: lashTakenAt() },
    compute: ({ gross, lash, ratio, lashAt }) => {
      const taken = lashAt === "cam" ? lift.lashAtValve({ lash, rockerRatio: ratio ?? NaN, lashAt: "cam" }) : lash;
      return gross >= 0 && taken >= 0 ? Math.max(0, gross - taken) : undefined;
    },
  }),
];

/** Valve lift for one of the lobe's: the rocker's, or one where nothing multiplies. */
export function rockerRatio(): Input<number> {
  return either(figure("valve-gear.{each}.rocker-ratio", "valve-gear.rocker-ratio"), table("ratio", ["valve-gear.{each}.rocker-ratio"], (build) => {
    const slot = build.slots.get("valve-gear.actuation");
    const given = effective(slot);
    const actuation = wordAt(build, "valve-gear.actuation");
    return given && (actuation === "bucket" || actuation === "direct") ? { interval: exactly(1), words: "rocker-ratio", source: `${actuation}: the cam bears straight on the valve`, provided: [given] } : undefined;
  }));
}

/** The lash that the engine is set to: chosen, else asked for; none where hydraulics take it up. */
export function lashNow(): Input<number> {
  return either(table("length", ["valve-gear.{each}.lash"], (build) => {
    const given = hydraulics(build);
    return given && { interval: exactly(0), words: "lash", source: "hydraulics take up all lash", provided: [given] };
  }), figure("valve-gear.{each}.lash"));
}

/** The figure that says that hydraulics take up the lash: the lifters where they are described, else the adjuster. Stud nuts set hydraulic lifters too, by preload. */
export function hydraulics(build: EffectiveBuild): Provided | undefined {
  const said = ["lifter.type", "lifter.intake.type", "valve-gear.adjuster"].find((path) => wordAt(build, path) !== undefined);
  return said !== undefined && wordAt(build, said) === "hydraulic" ? effective(build.slots.get(said)) : undefined;
}

/** Where the feeler goes. Taken as the valve, said so, where the file is silent. */
export function lashTakenAt(): Input<string> {
  return orAssume(word("valve-gear.lash-at"), "valve", "the file does not say where lash is taken: taken at the valve");
}

function orAssumeAtValve(): Input<number | undefined> {
  return optional(rockerRatio());
}

function otherCentreline(): Input<number> {
  return table("angle", ["camshaft.{each}.centreline"], (build, each) => {
    const path = `camshaft.${each === "intake" ? "exhaust" : "intake"}.centreline`;
    const slot = build.slots.get(path);
    const given = effective(slot);
    const meaning = slot && given && meaningOf(slot, given);
    return meaning && { interval: meaning.interval, words: `${each === "intake" ? "exhaust" : "intake"} centreline`, source: "as printed", provided: [given] };
  });
}

/** The side's own gear, else the one gear; a gear that can be moved and whose setting nobody states is taken at its zero, and says so. */
function gearShift(): Input<number | undefined> {
  return optional(either(value("cam-gear.{each}.shift"), value("cam-gear.shift"), table("angle", [], (build, each) => {
    const adjustable = [`cam-gear.${each}.adjustable`, "cam-gear.adjustable"].map((path) => valueAt(build, path)).some((v) => v?.is === "yes-no" && v.yes);
    return adjustable ? { interval: exactly(0), words: "gear setting", source: "not stated", assumption: "the adjustable cam gear's setting is not stated: taken at its zero" } : undefined;
  })));
}

/** A retard from a lower head; where the gear's pitch diameter is not known it is left out, and the value says so. */
function loweredBy(id: string, applies: (build: EffectiveBuild) => boolean, what: string): Input<number | undefined> {
  return optional(either(value(id), table("angle", [], (build) =>
    applies(build) ? { interval: exactly(0), words: what, source: "left out", assumption: `${what} retards the cam by an amount that needs gear-pitch-diameter, and is left out` } : undefined)));
}

/** The thickness of the gasket that the one now fitted took the place of, where the two differ. */
function gasketChange(build: EffectiveBuild): { readonly stock: Interval; readonly provided: NonNullable<ReturnType<typeof effective>> } | undefined {
  const slot = build.slots.get("combustion.gasket-thickness");
  const now = effective(slot);
  const stock = slot?.chain.find((link) => link.origin.sort === "engine");
  if (!slot || !now || !stock || now === stock) return undefined;
  const [was, is] = [meaningOf(slot, stock), meaningOf(slot, now)];
  return was && is && was.interval.nominal !== is.interval.nominal ? { stock: was.interval, provided: stock } : undefined;
}

function stockGasket(build: EffectiveBuild) {
  const change = gasketChange(build);
  return change && { interval: change.stock, words: "gasket-thickness of the engine", source: "as the engine has it", provided: [change.provided] };
}

/** One opening or closing. A retard makes openings come later, so fewer degrees before their dead centre, and closings more after theirs. */
function event(side: "intake" | "exhaust", what: "opens" | "closes", positive: string, negative: string): readonly Formula[] {
  return [
    formula({
      id: `event.${side}.${what}`, section: "breathing", label: `${side === "intake" ? "Intake" : "Exhaust"} ${what}, degrees ${positive}`, kind: "angle", unit: "degree", signs: { positive, negative }, tune: true,
      words: `Where the ${side} valve ${what === "opens" ? "has risen to" : "comes down to"} the stated lift; a lash larger than that lift makes the angle meaningless.`,
      expression: `{card} ${what === "opens" ? "−" : "+"} (${side === "intake" ? "{installed} − {before}" : "{before} − {installed}"})`, source: `${SHAFT}; ${SYMMETRY} where the card prints no angle`,
      // By the centreline and not by the gear, so that a centreline found with the degree wheel moves the events with it.
      inputs: {
        card: value(`event.${side}.${what}-card`), installed: value(`centreline.${side}.installed`), before: value(`centreline.${side}.card`),
        at: orAssume<number | undefined>(figure(`camshaft.${side}.measured-at`), undefined, "the card states no lift at which its angles hold"),
      },
      compute: ({ card, installed, before }) => {
        const later = side === "intake" ? installed - before : before - installed;
        return what === "opens" ? card - later : card + later;
      },
    }),
  ];
}
