// What follows from a lobe measured point by point: true durations, lift at top dead centre, the room between pistons and valves and between two
// valves, and how hard a valve is thrown about. Knows no physics of its own.
import { durationAtLashDeg, lobePeak } from "../../engineering/lobe-table.ts";
import * as gap from "../../engineering/piston-valve.ts";
import { lashAtValve } from "../../engineering/valve-lift.ts";
import { floatSpeedOnLobe } from "../../engineering/valve-spring.ts";
import { type EffectiveBuild, wordAt } from "../../model/effective.ts";
import { type Formula, type Input, blockHas, figure, formula, orAssume, slotHas, thing, value } from "../formula.ts";
import { type Lobe, liftAfterNose, lobeOf, motionOf } from "../lobe.ts";
import { deckNow, recessNow } from "./cuts.ts";
import { hydraulics, lashNow, lashTakenAt, rockerRatio } from "./breathing.ts";

const SWEPT = "slider-crank geometry against the measured lobe, read between its points by a monotone cubic";

function lobe(side = "{each}"): Input<Lobe> {
  return thing([`camshaft.${side}.lobe`], (build, each) => {
    const found = lobeOf(build, side === "{each}" ? each : side);
    return found && found.table.length > 0 ? { what: found, figures: [found.at, found.noseAtdc ?? null, found.table], words: "lobe, point by point", text: `${found.count} readings`, location: found.location, ...(found.assumption !== undefined && { assumption: found.assumption }) } : undefined;
  });
}

const hasLobe = (build: EffectiveBuild, each: string): boolean => build.tables.has(`camshaft.${each}.lobe`);
const hasShaft = (build: EffectiveBuild, each: string): boolean => hasLobe(build, each) || blockHas(build, `camshaft.${each}`);
const wasMeasured = (build: EffectiveBuild, id: string): boolean => build.measured.some((m) => m.what.text === id);

/** What the valve does for one unit of what was read. */
const ratioOf = ({ at }: Lobe, ratio: number): number => (at === "valve" ? 1 : ratio);

/** Valve lift with no lash, at crank degrees after overlap top dead centre. The centreline counts after it for the intake, before it for the exhaust. */
function liftAtdc(shape: Lobe, ratio: number, centreline: number, side: string): (deg: number) => number {
  const read = liftAfterNose(shape);
  const nose = side === "intake" ? centreline : -centreline;
  const by = ratioOf(shape, ratio);
  return (deg) => read(deg - nose) * by;
}

const installed = (side = "{each}"): Input<number> => value(`centreline.${side}.installed`);

const GAP_INPUTS = {
  lobe: lobe(), centreline: installed(), ratio: rockerRatio(), stroke: figure("stroke"), rod: figure("rod-length"),
  deck: deckNow(), gasket: figure("combustion.gasket-thickness"), recess: recessNow(),
  angle: figure("valve-gear.{each}.valve-angle", "valve-gear.valve-angle"),
  pocket: orAssume(figure("valve-gear.{each}.pocket-depth", "valve-gear.pocket-depth"), 0, "no depth is given for the valve pocket: taken as a flat crown"),
} as const;

type GapFigures = { readonly [K in keyof typeof GAP_INPUTS]: (typeof GAP_INPUTS)[K] extends Input<infer T> ? T : never };

function leastGap({ lobe: shape, centreline, ratio, stroke, rod, deck, gasket, recess, angle, pocket }: GapFigures, side: string): gap.LeastGap {
  return gap.leastPistonValveGapOver({
    stroke, rodLength: rod, valveAngleDeg: angle, liftAtdc: liftAtdc(shape, ratio, centreline, side), reachDeg: 60,
    closedGap: gap.closedValveGap({ deckClearance: deck, gasketThickness: gasket, valveRecess: recess, pocketDepth: pocket, valveAngleDeg: angle }),
  });
}

const PAIR_INPUTS = {
  intakeLobe: lobe("intake"), exhaustLobe: lobe("exhaust"), intakeCentreline: installed("intake"), exhaustCentreline: installed("exhaust"),
  intakeRatio: ratioFor("intake"), exhaustRatio: ratioFor("exhaust"),
  intakeHead: figure("valve-gear.intake.valve-diameter"), exhaustHead: figure("valve-gear.exhaust.valve-diameter"),
  intakeAngle: figure("valve-gear.intake.valve-angle"), exhaustAngle: figure("valve-gear.exhaust.valve-angle"), centres: figure("valve-gear.valve-centres"),
} as const;

type PairFigures = { readonly [K in keyof typeof PAIR_INPUTS]: (typeof PAIR_INPUTS)[K] extends Input<infer T> ? T : never };

/** The ratio of one side for a value that is of both. */
function ratioFor(side: string): Input<number> {
  const fill = (input: Input<number>): Input<number> => {
    if (input.reads === "either") return { ...input, of: input.of.map(fill) };
    if (input.reads === "figure") return { ...input, paths: input.paths.map((p) => p.replace("{each}", side)) };
    return input.reads === "table" ? { ...input, needs: input.needs.map((p) => p.replace("{each}", side)), look: (build) => input.look(build, side) } : input;
  };
  return fill(rockerRatio());
}

function leastBetween(f: PairFigures): gap.LeastGap {
  return gap.leastValveToValveGap({
    // Only the distance between the two shut heads counts, not where the cylinder's axis passes between them.
    intake: { headDiameter: f.intakeHead, offset: f.centres / 2, angleDeg: f.intakeAngle }, exhaust: { headDiameter: f.exhaustHead, offset: f.centres / 2, angleDeg: f.exhaustAngle },
    intakeLiftAtdc: liftAtdc(f.intakeLobe, f.intakeRatio, f.intakeCentreline, "intake"), exhaustLiftAtdc: liftAtdc(f.exhaustLobe, f.exhaustRatio, f.exhaustCentreline, "exhaust"),
  });
}

const passEachOther = (build: EffectiveBuild): boolean => wordAt(build, "valve-gear.layout") === "dohc" || slotHas(build, "valve-gear.valve-centres") || wasMeasured(build, "valve-to-valve");

const TDC = { positive: "after top dead centre", negative: "before top dead centre" };

export const LOBES: readonly Formula[] = [
  formula({
    id: "lobe.{each}.lift", each: "side", section: "breathing", label: "{each} lobe lift from its table", kind: "length", unit: "millimetre", quiet: true,
    words: "The highest reading of the lobe.", expression: "the highest of {lobe}", source: "as measured",
    inputs: { lobe: lobe(), ratio: rockerRatio() },
    applies: hasLobe,
    compute: ({ lobe: shape, ratio }) => lobePeak(shape.table).lift / (shape.at === "valve" ? ratio : 1),
  }),
  formula({
    id: "lobe.{each}.centreline", each: "side", section: "breathing", label: "{each} centreline from the lobe's table", kind: "angle", unit: "degree", quiet: true,
    words: "Halfway between the two points 0.050 in (1.27 mm) below the nose, of a table that is counted from top dead centre.", expression: "the nose of {lobe}", source: "the way a shaft is degreed",
    inputs: { lobe: lobe() },
    applies: (build, each) => lobeOf(build, each)?.noseAtdc !== undefined,
    compute: ({ lobe: shape }, each) => (shape.noseAtdc === undefined ? undefined : each === "intake" ? shape.noseAtdc : -shape.noseAtdc),
  }),
  formula({
    id: "duration.{each}.at-lash", each: "side", section: "breathing", label: "{each} duration off the seat, at set lash", kind: "angle", unit: "degree",
    words: "How long the valve is truly off its seat once the lash has been taken up: only as good as the readings low on the ramps.",
    expression: "{lobe} between the points where it has lifted {lash} at the valve", source: "the measured lobe, read between its points by a monotone cubic",
    inputs: { lobe: lobe(), ratio: rockerRatio(), lash: lashNow(), lashAt: lashTakenAt() },
    applies: (build, each) => hasLobe(build, each) && !hydraulics(build),
    compute: ({ lobe: shape, ratio, lash, lashAt }) =>
      durationAtLashDeg({ table: shape.table, rockerRatio: ratioOf(shape, ratio), lashAtValve: lashAtValve({ lash, rockerRatio: ratio, lashAt: lashAt === "cam" ? "cam" : "valve" }) }),
  }),
  formula({
    id: "lift.{each}.at-tdc", each: "side", section: "breathing", label: "{each} valve lift at overlap top dead centre, no lash", kind: "length", unit: "millimetre",
    words: "How far the valve stands open with the piston at the top between exhaust and intake: a second way to check a degreed shaft.",
    expression: "{lobe} at {centreline} from its nose · {ratio}", source: "the measured lobe, read between its points by a monotone cubic",
    inputs: { lobe: lobe(), centreline: installed(), ratio: rockerRatio() },
    applies: hasLobe,
    compute: ({ lobe: shape, centreline, ratio }, each) => liftAtdc(shape, ratio, centreline, each)(0),
  }),
  formula({
    id: "piston-valve.{each}.clearance", each: "side", section: "valve-gear", label: "{each} valve to piston, nearest, no lash", kind: "length", unit: "millimetre",
    words: "The least room between valve and piston, along the valve, swept 60 degrees either side of top dead centre. Never permission: rods stretch, belts give, valves float. Clay or checking springs stand above it.",
    expression: "the least of ({deck} + {gasket} + {recess} + travel of {stroke} and {rod}) · cos {angle} + {pocket} − {lobe} · {ratio}, its nose at {centreline}", source: SWEPT,
    estimate: "the pocket's floor is taken as lying like the valve's head; nothing bends, stretches or floats",
    inputs: GAP_INPUTS,
    applies: (build, each) => hasShaft(build, each) || wasMeasured(build, "piston-valve"),
    compute: (figures, each) => leastGap(figures, each).gap,
  }),
  formula({
    id: "piston-valve.{each}.at-degree", each: "side", section: "valve-gear", label: "{each} valve and piston nearest at", kind: "angle", unit: "degree", quiet: true, signs: TDC,
    words: "Where in the turn valve and piston come nearest: the place to look with clay.",
    expression: "where the gap of {lobe} at {centreline} over {stroke}, {rod}, {deck}, {gasket}, {recess}, {pocket}, {angle} and {ratio} is least", source: SWEPT,
    estimate: "as the gap itself",
    inputs: GAP_INPUTS,
    applies: hasLobe,
    compute: (figures, each) => leastGap(figures, each).crankDeg,
  }),
  formula({
    id: "valve-to-valve.clearance", section: "valve-gear", label: "Intake valve to exhaust valve, nearest, no lash", kind: "length", unit: "millimetre",
    words: "The least room between an intake and an exhaust valve that face each other, round top dead centre. Never permission.",
    expression: "the least distance of heads {intakeHead} and {exhaustHead}, {centres} apart at {intakeAngle} and {exhaustAngle}, lifted by {intakeLobe} · {intakeRatio} and {exhaustLobe} · {exhaustRatio} at {intakeCentreline} and {exhaustCentreline}",
    source: "plane geometry of two discs seen edge on",
    estimate: "both stems in one plane, heads drawn without margins or rounded edges",
    inputs: PAIR_INPUTS,
    applies: passEachOther,
    compute: (figures) => leastBetween(figures).gap,
  }),
  formula({
    id: "valve-to-valve.at-degree", section: "valve-gear", label: "Intake and exhaust valve nearest at", kind: "angle", unit: "degree", quiet: true, signs: TDC,
    words: "Where in the turn two valves that face each other come nearest.",
    expression: "where the distance of {intakeHead} and {exhaustHead}, {centres}, {intakeAngle}, {exhaustAngle}, {intakeLobe}, {exhaustLobe}, {intakeRatio}, {exhaustRatio}, {intakeCentreline} and {exhaustCentreline} is least",
    source: "plane geometry of two discs seen edge on", estimate: "as the gap itself",
    inputs: PAIR_INPUTS,
    applies: (build) => hasLobe(build, "intake") && hasLobe(build, "exhaust") && passEachOther(build),
    compute: (figures) => leastBetween(figures).crankDeg,
  }),
  ...([["flank", "Greatest acceleration of the {each} valve at the redline", "How hard the lobe throws the valve open or catches it: what followers and pushrods feel."], ["nose", "Greatest deceleration of the {each} valve at the redline", "How hard the spring must pull the valve back over the nose."]] as const).map(([part, label, words]) =>
    formula({
      id: `valve-acceleration.{each}.${part}`, each: "side", section: "valve-gear", label, kind: "acceleration", unit: "metre-per-second-squared", words,
      expression: `the greatest ${part === "nose" ? "bend downward" : "bend upward"} of {lobe} · {ratio} · (6 · {redline})²`, source: "second derivative of the lobe, smoothed by parabolas over about twenty crank degrees",
      estimate: "a dial's readings, smoothed; a rigid train",
      inputs: { lobe: lobe(), ratio: rockerRatio(), redline: figure("redline") },
      applies: hasLobe,
      compute: ({ lobe: shape, ratio, redline }) => {
        const bends = motionOf(shape).map((p) => (part === "nose" ? -p.accelerationPerDeg2 : p.accelerationPerDeg2));
        const most = Math.max(...bends);
        return most > 0 && Number.isFinite(most) ? most * ratioOf(shape, ratio) * (6 * redline) ** 2 : undefined;
      },
    })),
  formula({
    id: "valve-float.speed.{each}.on-lobe", each: "side", section: "valve-gear", label: "{each} valves leave their own lobe at about", kind: "rotation", unit: "revolution-per-minute", quiet: true,
    words: "Crank speed at which the springs first fail to hold the valves to the lobe as it was measured.",
    expression: "the least, over {lobe} · {ratio}, of √(({seat} + {rate} · lift) / ({mass} · bend)) / 6", source: "a rigid train on the measured lobe, smoothed by parabolas over about twenty crank degrees",
    estimate: "no surge, no friction, a rigid train; real trains usually let go 10 to 25 % earlier",
    inputs: { lobe: lobe(), ratio: rockerRatio(), seat: value("spring.seat-load.{each}"), rate: value("spring.rate.{each}"), mass: value("valve-gear.{each}.mass-at-valve") },
    applies: hasLobe,
    compute: ({ lobe: shape, ratio, seat, rate, mass }) => {
      const by = ratioOf(shape, ratio);
      return floatSpeedOnLobe({ seatLoad: seat, rate, mass, points: motionOf(shape).map((p) => ({ lift: Math.max(0, p.lift) * by, accelerationPerDeg2: p.accelerationPerDeg2 * by })) });
    },
  }),
];
