// Bottom end: displacement, piston motion, squish and compression, joined to what a build says. Knows no physics of its own.
import * as bottomEnd from "../../engineering/bottom-end.ts";
import { type EffectiveBuild, effective } from "../../model/effective.ts";
import { type Formula, asking, either, figure, formula, optional, orAssume, value } from "../formula.ts";
import { meaningOf } from "../meaning.ts";
import { chamberNow, deckNow } from "./cuts.ts";

const TEXTBOOK = "an internal-combustion-engine textbook, geometrical properties of reciprocating engines";

const isEngine = (build: EffectiveBuild): boolean => build.subject.sort === "engine";

export const BOTTOM_END: readonly Formula[] = [
  formula({
    id: "displacement.cylinder", section: "bottom-end", label: "Displacement of one cylinder", kind: "volume", unit: "cubic-centimetre",
    words: "Volume that one piston sweeps between its dead centres.",
    expression: "π/4 · {bore}² · {stroke}", source: TEXTBOOK,
    inputs: { bore: figure("bore"), stroke: figure("stroke") },
    compute: bottomEnd.cylinderDisplacement,
  }),
  formula({
    id: "displacement.total", section: "bottom-end", label: "Displacement", kind: "volume", unit: "cubic-centimetre", tune: true,
    words: "Volume that all pistons sweep: the size the engine is known by.",
    expression: "π/4 · {bore}² · {stroke} · {cylinders}", source: TEXTBOOK,
    inputs: { bore: figure("bore"), stroke: figure("stroke"), cylinders: figure("cylinders") },
    compute: bottomEnd.engineDisplacement,
  }),
  formula({
    id: "displacement.disagreement", section: "bottom-end", label: "Displacement against the stated one", kind: "fraction",
    words: "How far bore, stroke and cylinders stand from the displacement that the source states: a slip of the pen in either shows here.",
    expression: "{computed} / {stated} − 1", source: "by definition",
    inputs: { computed: value("displacement.total"), stated: figure("stated-displacement") },
    applies: isEngine,
    compute: bottomEnd.disagreement,
  }),
  formula({
    id: "rod-ratio", section: "bottom-end", label: "Rod ratio", kind: "ratio",
    words: "Rod length over stroke: the lower, the harder the piston leans on the bore and the sharper it turns at the top.",
    expression: "{rod} / {stroke}", source: "trade convention; textbooks often give rod over crank radius, which is twice this",
    inputs: { rod: figure("rod-length"), stroke: figure("stroke") },
    compute: ({ rod, stroke }) => bottomEnd.rodRatio({ rodLength: rod, stroke }),
  }),
  formula({
    id: "piston-speed.mean", section: "bottom-end", label: "Mean piston speed at the redline", kind: "speed", unit: "metre-per-second",
    words: "Twice the stroke for each turn of the crank: the usual measure of how hard rings, oil film and rods work.",
    expression: "2 · {stroke} · {redline}", source: TEXTBOOK,
    inputs: { stroke: figure("stroke"), redline: figure("redline") },
    compute: ({ stroke, redline }) => bottomEnd.meanPistonSpeed({ stroke, rpm: redline }),
  }),
  formula({
    id: "piston-speed.peak", section: "bottom-end", label: "Greatest piston speed at the redline", kind: "speed", unit: "metre-per-second",
    words: "Fastest that the piston moves on its stroke, somewhat before the crank stands square to the rod.",
    expression: "slider-crank of {stroke} and {rod} at {redline}, where its acceleration passes through zero", source: TEXTBOOK,
    inputs: { stroke: figure("stroke"), rod: figure("rod-length"), redline: figure("redline") },
    compute: ({ stroke, rod, redline }) => bottomEnd.peakPistonSpeed({ stroke, rodLength: rod, rpm: redline }),
  }),
  formula({
    id: "piston-acceleration.peak", section: "bottom-end", label: "Greatest piston acceleration at the redline", kind: "acceleration", unit: "metre-per-second-squared",
    words: "How hard the piston is turned round at top dead centre.",
    expression: "({stroke}/2) · (2π · {redline})² · (1 + {stroke} / (2 · {rod}))", source: TEXTBOOK,
    inputs: { stroke: figure("stroke"), rod: figure("rod-length"), redline: figure("redline") },
    compute: ({ stroke, rod, redline }) => bottomEnd.peakPistonAcceleration({ stroke, rodLength: rod, rpm: redline }),
  }),
  formula({
    id: "reciprocating-mass", section: "bottom-end", label: "Reciprocating mass", kind: "mass", unit: "gram", quiet: true,
    words: "Everything that stops and starts with one piston.",
    expression: "{piston} + {pin} + {rings} + {smallEnd}", source: "by definition",
    inputs: {
      piston: figure("bottom-end.piston-mass", "piston.mass"), pin: figure("bottom-end.pin-mass"), rings: figure("bottom-end.rings-mass"),
      smallEnd: figure("bottom-end.small-end-mass"),
    },
    compute: ({ piston, pin, rings, smallEnd }) => piston + pin + rings + smallEnd,
  }),
  formula({
    id: "rod-tension.peak", section: "bottom-end", label: "Greatest pull on a rod at the redline", kind: "force", unit: "newton",
    words: "What rod and rod bolts must hold at top dead centre between exhaust and intake, where no gas pushes back.",
    expression: "{mass} · {acceleration}", source: `${TEXTBOOK}; force is mass times acceleration`,
    inputs: { mass: either(figure("bottom-end.reciprocating-mass"), value("reciprocating-mass")), acceleration: value("piston-acceleration.peak") },
    compute: ({ mass, acceleration }) => mass * acceleration,
  }),
  formula({
    id: "squish-clearance", section: "bottom-end", label: "Squish clearance", kind: "length", unit: "millimetre",
    words: "Gap between the flat of the piston crown and the head at top dead centre, engine cold and standing still.",
    expression: "{deck} + {gasket}", source: "sum of the parts; deck counts negative where the piston stands proud",
    inputs: { deck: deckNow(), gasket: figure("combustion.gasket-thickness") },
    compute: ({ deck, gasket }) => bottomEnd.squishClearance({ deckClearance: deck, gasketThickness: gasket }),
  }),
  formula({
    id: "gasket-volume", section: "bottom-end", label: "Volume of the gasket's hole", kind: "volume", unit: "cubic-centimetre", quiet: true,
    words: "Volume inside the crushed head gasket, its hole taken as round.",
    expression: "π/4 · {bore}² · {thickness}", source: TEXTBOOK,
    inputs: { bore: figure("combustion.gasket-bore"), thickness: figure("combustion.gasket-thickness") },
    compute: ({ bore, thickness }) => bottomEnd.gasketVolume({ gasketBore: bore, gasketThickness: thickness }),
  }),
  formula({
    id: "clearance-volume", section: "bottom-end", label: "Clearance volume", kind: "volume", unit: "cubic-centimetre",
    words: "Everything left above the piston at top dead centre.",
    expression: "{chamber} + {gasket} + π/4 · {bore}² · {deck} + {dish} − {dome} + {crevice} + {plug}", source: TEXTBOOK,
    inputs: {
      chamber: chamberNow(), gasket: asking(either(figure("combustion.gasket-volume"), value("gasket-volume")), value("gasket-volume")), bore: figure("bore"), deck: deckNow(),
      dish: crown("combustion.piston-dish", "combustion.piston-dome"), dome: optional(figure("combustion.piston-dome")),
      crevice: optional(figure("combustion.crevice-volume")), plug: optional(figure("combustion.plug-volume")),
    },
    compute: ({ chamber, gasket, bore, deck, dish, dome, crevice, plug }) => {
      const total = chamber + gasket + bottomEnd.deckVolume({ bore, deckClearance: deck }) + (dish ?? 0) - (dome ?? 0) + (crevice ?? 0) + (plug ?? 0);
      return chamber > 0 && total > 0 ? total : undefined;
    },
  }),
  formula({
    id: "compression.static", section: "bottom-end", label: "Compression ratio", kind: "ratio", tune: true,
    words: "Whole cylinder over what is left of it at top dead centre.",
    expression: "({swept} + {clearance}) / {clearance}", source: TEXTBOOK,
    inputs: { swept: value("displacement.cylinder"), clearance: value("clearance-volume") },
    compute: ({ swept, clearance }) => bottomEnd.compressionRatio({ sweptVolume: swept, clearanceVolume: clearance }),
  }),
  formula({
    id: "compression.disagreement", section: "bottom-end", label: "Compression ratio against the stated one", kind: "fraction",
    words: "How far the volumes stand from the compression ratio that the source states.",
    expression: "{computed} / {stated} − 1", source: "by definition",
    inputs: { computed: value("compression.static"), stated: figure("stated-compression") },
    applies: isEngine,
    compute: bottomEnd.disagreement,
  }),
  formula({
    id: "compression.dynamic", section: "bottom-end", label: "Dynamic compression ratio", kind: "ratio",
    words: "Compression counted only from where the intake valve shuts, at the lift its events are stated at: compare it only with figures at the same lift.",
    expression: "(π/4 · {bore}² · stroke left {closes} after bottom + {clearance}) / {clearance}",
    source: "slider-crank geometry; a figure of the trade with no standard behind it",
    inputs: {
      bore: figure("bore"), stroke: figure("stroke"), rod: figure("rod-length"), clearance: value("clearance-volume"), closes: value("event.intake.closes"),
      measuredAt: orAssume<number | undefined>(figure("camshaft.intake.measured-at"), undefined, "the lift at which the intake shuts is not stated"),
    },
    compute: ({ bore, stroke, rod, clearance, closes }) => bottomEnd.dynamicCompressionRatio({ bore, stroke, rodLength: rod, clearanceVolume: clearance, closesAbdcDeg: closes }),
  }),
];

/** A flat crown has neither: then its dish is asked for, and 0 cc is an answer. Where a dome is stated no dish need be. */
function crown(dish: string, dome: string) {
  return either(figure(dish), { reads: "table", kind: "volume", needs: [dish], look: (build) => (effective(build.slots.get(dome)) ? { interval: { low: 0, nominal: 0, high: 0 }, words: "piston-dish", source: "a domed piston without a stated dish" } : undefined) });
}

/**
 * The disagreement, as a fraction, that the digits written can explain by themselves on top of what is allowed: half a unit in the last
 * place of the bore counted twice, of the stroke once, of the stated displacement once. Nothing where a figure is missing.
 */
export function disagreementSlack(build: EffectiveBuild): number | undefined {
  const [bore, stroke, stated] = ["bore", "stroke", "stated-displacement"].map((path) => digitsAt(build, path));
  if (!bore || !stroke || !stated) return undefined;
  return bottomEnd.displacementSlack({ bore: bore.nominal, boreSlack: bore.half, stroke: stroke.nominal, strokeSlack: stroke.half, stated: stated.nominal, statedSlack: stated.half });
}

/** The share of a figure's own value that half a unit in its last place comes to. */
export function digitSlack(build: EffectiveBuild, path: string): number | undefined {
  const digits = digitsAt(build, path);
  return digits && digits.nominal !== 0 ? digits.half / Math.abs(digits.nominal) : undefined;
}

/** Disagreement allowed before rounding is counted. Stated displacements are rounded and tolerances ignored. Common practice, no source. */
export const ALLOWED_DISAGREEMENT = 0.005;

function digitsAt(build: EffectiveBuild, path: string): { readonly nominal: number; readonly half: number } | undefined {
  const slot = build.slots.get(path);
  const given = effective(slot);
  if (!slot || !given || given.fact.value.is !== "quantity") return undefined;
  const meaning = meaningOf(slot, given);
  return meaning && { nominal: meaning.interval.nominal, half: given.fact.value.quantity.halfDigit };
}
