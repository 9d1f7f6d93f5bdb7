// Valve gear: springs coil by coil and side by side, the room that is left at full lift, and the speed at which valves leave their cam.
// A dual spring is two coils, each with its own solid height; its loads add up. Knows no physics of its own.
import * as spring from "../../engineering/valve-spring.ts";
import { type EffectiveBuild, effective, wordAt } from "../../model/effective.ts";
import { exactly } from "../../quantity/interval.ts";
import { type Formula, type Input, asking, at, blockHas, either, figure, formula, optional, slotHas, table, value, where } from "../formula.ts";
import { rockerRatio } from "./breathing.ts";

const TEXTBOOK = "a machine-design textbook, chapter on mechanical springs";

/** Where a coil is described: the whole spring, or one of a pair. */
type Coil = "coil" | "outer" | "inner";

const BASE = "valve-gear.valve-spring";

/** Blocks that may describe a coil for a side. The seat's height may be said once for both coils of a pair. */
function places(coil: Coil): readonly string[] {
  return coil === "coil" ? [`${BASE}.{each}`, BASE] : [`${BASE}.{each}.${coil}`, `${BASE}.${coil}`];
}

function coilFigure(coil: Coil, key: string): Input<number> {
  const [first = "", ...rest] = places(coil).map((base) => `${base}.${key}`);
  return figure(first, ...rest);
}

function seatHeight(coil: Coil): Input<number> {
  return coil === "coil" ? coilFigure(coil, "seat-height") : either(coilFigure(coil, "seat-height"), coilFigure("coil", "seat-height"));
}

function coilWord(build: EffectiveBuild, coil: Coil, each: string, key: string): string | undefined {
  for (const base of places(coil)) {
    const word = wordAt(build, at(`${base}.${key}`, each));
    if (word !== undefined) return word;
  }
  return undefined;
}

function describes(build: EffectiveBuild, coil: Coil, each: string): boolean {
  return places(coil).some((base) => blockHas(build, at(base, each)));
}

const hasOuter = (build: EffectiveBuild, each: string): boolean => describes(build, "outer", each);
const hasInner = (build: EffectiveBuild, each: string): boolean => describes(build, "inner", each);
/** True where the keys straight in the spring's block speak of a coil or of the whole: always, unless an outer coil is described and no load or height of the whole is. */
const hasWhole = (build: EffectiveBuild, each: string): boolean =>
  !hasOuter(build, each) || ["seat-load", "open-load", "rate"].some((key) => places("coil").some((base) => slotHas(build, at(`${base}.${key}`, each))));

const GRADES: Readonly<Record<string, spring.WireGrade>> = {
  "music-wire": "music wire", "oil-tempered": "oil-tempered", "chrome-vanadium": "chrome-vanadium", "chrome-silicon": "chrome-silicon",
};

/** Shear modulus of a coil's wire: stated, by its grade, or the one most valve springs share. */
function modulus(coil: Coil): Input<number> {
  return either(coilFigure(coil, "shear-modulus"), table("stress", [], (build, each) => {
    const word = coilWord(build, coil, each, "wire-material");
    const grade = word === undefined ? undefined : GRADES[word];
    const given = places(coil).map((base) => effective(build.slots.get(at(`${base}.wire-material`, each)))).find((p) => p !== undefined);
    if (grade) return { interval: exactly(spring.shearModulus[grade].value), words: "shear modulus", source: spring.shearModulus[grade].source, ...(given && { provided: [given] }) };
    return {
      interval: exactly(spring.usualShearModulus.value), words: "shear modulus", source: spring.usualShearModulus.source,
      assumption: "the wire's material is not stated: shear modulus taken as 77.2 GPa, that of oil-tempered, chrome-vanadium and chrome-silicon wire",
    };
  }));
}

const cylindrical = (build: EffectiveBuild, coil: Coil, each: string): boolean => (coilWord(build, coil, each, "form") ?? "cylindrical") === "cylindrical";

const COIL_NAMES: Readonly<Record<Coil, string>> = { coil: "spring", outer: "outer spring", inner: "inner spring" };

function coilFormulas(coil: Coil): readonly Formula[] {
  const name = COIL_NAMES[coil];
  const applies = coil === "coil" ? hasWhole : coil === "outer" ? hasOuter : hasInner;
  const geometric = (build: EffectiveBuild, each: string): boolean => applies(build, each) && cylindrical(build, coil, each);
  return [
    formula({
      id: `spring.rate.{each}.${coil}.geometry`, each: "side", section: "valve-gear", label: `{each} ${name}, rate from its coils`, kind: "spring-rate", unit: "newton-per-millimetre", quiet: true,
      words: "Load gained for each unit it is pressed down, from wire and coils. Holds for a cylindrical spring of round wire.",
      expression: "{modulus} · {wire}⁴ / (8 · {mean}³ · {coils})", source: TEXTBOOK,
      inputs: { modulus: modulus(coil), wire: coilFigure(coil, "wire"), mean: meanDiameter(coil), coils: coilFigure(coil, "active-coils") },
      applies: geometric,
      compute: ({ modulus: g, wire, mean, coils }) => spring.springRate({ wire, meanDiameter: mean, activeCoils: coils, shearModulus: g }),
    }),
    formula({
      id: `spring.rate.{each}.${coil}.two-loads`, each: "side", section: "valve-gear", label: `{each} ${name}, rate from two loads`, kind: "spring-rate", unit: "newton-per-millimetre", quiet: true,
      words: "Load gained between two heights at which it was measured: the only way for beehive and progressive springs, and good between those heights only.",
      expression: "({openLoad} − {seatLoad}) / ({seatHeight} − {openHeight})", source: "by definition",
      inputs: { openLoad: coilFigure(coil, "open-load"), seatLoad: coilFigure(coil, "seat-load"), seatHeight: seatHeight(coil), openHeight: coilFigure(coil, "open-height") },
      applies,
      compute: ({ openLoad, seatLoad, seatHeight: h1, openHeight }) => spring.rateFromTwoLoads({ load1: seatLoad, height1: h1, load2: openLoad, height2: openHeight }),
    }),
    formula({
      id: `spring.rate.{each}.${coil}`, each: "side", section: "valve-gear", label: `{each} ${name}, rate`, kind: "spring-rate", unit: "newton-per-millimetre", quiet: true,
      words: "Load gained for each unit it is pressed down: from two measured loads, else as stated, else from wire and coils.",
      expression: "{rate}", source: TEXTBOOK,
      inputs: { rate: either(value(`spring.rate.{each}.${coil}.two-loads`), coilFigure(coil, "rate"), value(`spring.rate.{each}.${coil}.geometry`)) },
      applies,
      compute: ({ rate }) => rate,
    }),
    formula({
      id: `spring.seat-load.{each}.${coil}`, each: "side", section: "valve-gear", label: `{each} ${name}, load on the seat`, kind: "force", unit: "newton", quiet: true,
      words: "Load with the valve shut: as measured, else rate times how far it is pressed from its free length.",
      expression: "{load}", source: TEXTBOOK,
      inputs: { load: either(coilFigure(coil, "seat-load"), value(`spring.seat-load.{each}.${coil}.from-length`)) },
      applies,
      compute: ({ load }) => load,
    }),
    formula({
      id: `spring.seat-load.{each}.${coil}.from-length`, each: "side", section: "valve-gear", label: `{each} ${name}, load on the seat from its free length`, kind: "force", unit: "newton", quiet: true,
      words: "Rate times how far the spring is pressed from its free length when the valve is shut.",
      expression: "{rate} · ({free} − {seat})", source: TEXTBOOK,
      inputs: { rate: value(`spring.rate.{each}.${coil}`), free: coilFigure(coil, "free-length"), seat: seatHeight(coil) },
      applies: geometric,
      compute: ({ rate, free, seat }) => spring.springLoad({ rate, freeHeight: free, height: seat }),
    }),
    formula({
      id: `spring.solid-height.{each}.${coil}`, each: "side", section: "valve-gear", label: `{each} ${name}, solid height`, kind: "length", unit: "millimetre", quiet: true,
      words: "Height with the coils touching: as stated, else all coils times the wire, ends taken as ground.",
      expression: "{solid}", source: TEXTBOOK,
      // A solid height said once for a pair is that of whichever coil binds first, so it holds for both.
      inputs: { solid: either(coilFigure(coil, "solid-height"), value(`spring.solid-height.{each}.${coil}.from-coils`), coilFigure("coil", "solid-height")) },
      applies,
      compute: ({ solid }) => solid,
    }),
    formula({
      id: `spring.solid-height.{each}.${coil}.from-coils`, each: "side", section: "valve-gear", label: `{each} ${name}, solid height from its coils`, kind: "length", unit: "millimetre", quiet: true,
      words: "All coils, closed ends included, times the wire.", estimate: "ends taken as ground; the real spring is measured in a vice",
      expression: "{total} · {wire}", source: TEXTBOOK,
      inputs: { total: coilFigure(coil, "total-coils"), wire: coilFigure(coil, "wire") },
      applies: (build, each) => applies(build, each) && places(coil).some((base) => slotHas(build, at(`${base}.total-coils`, each))),
      compute: ({ total, wire }) => spring.solidHeight({ wire, totalCoils: total, ends: "squared and ground" }),
    }),
    formula({
      id: `coil-bind-margin.{each}.${coil}`, each: "side", section: "valve-gear", label: `{each} ${name}, room before coil bind`, kind: "length", unit: "millimetre", quiet: coil === "coil",
      words: "What is left between this spring's coils at full lift with no lash. Below zero the coils are solid before the valve is open.",
      expression: "{seat} − {lift} − {solid}", source: "sum of the parts",
      inputs: { seat: seatHeight(coil), lift: value("lift.{each}.gross"), solid: value(`spring.solid-height.{each}.${coil}`) },
      applies: coil === "coil" ? (build, each) => !hasOuter(build, each) : applies,
      compute: ({ seat, lift, solid }) => spring.coilBindMargin({ installedHeight: seat, lift, solidHeight: solid }),
    }),
    formula({
      id: `spring.open-load.{each}.${coil}`, each: "side", section: "valve-gear", label: `{each} ${name}, load at full lift`, kind: "force", unit: "newton", quiet: true,
      words: "Load of this coil with the valve as far open as the lobe pushes it.",
      expression: "{seat} + {rate} · {lift}", source: TEXTBOOK,
      inputs: { seat: value(`spring.seat-load.{each}.${coil}`), rate: value(`spring.rate.{each}.${coil}`), lift: value("lift.{each}.gross") },
      applies,
      compute: ({ seat, rate, lift }) => spring.openLoad({ seatLoad: seat, rate, lift }),
    }),
    formula({
      id: `spring.stress.{each}.${coil}`, each: "side", section: "valve-gear", label: `{each} ${name}, stress in the wire at full lift`, kind: "stress", unit: "megapascal", quiet: true,
      words: "Shear stress in the wire with the valve open, curvature counted in.",
      expression: "K · 8 · {load} · {mean} / (π · {wire}³), K = (4c − 1)/(4c − 4) + 0.615/c, c = {mean}/{wire}", source: TEXTBOOK,
      inputs: { load: value(`spring.open-load.{each}.${coil}`), mean: meanDiameter(coil), wire: coilFigure(coil, "wire") },
      applies: coil === "coil" ? (build, each) => geometric(build, each) && !hasOuter(build, each) : geometric,
      compute: ({ load, mean, wire }) => spring.springShearStress({ load, wire, meanDiameter: mean, factor: spring.wahlFactor({ index: spring.springIndex({ wire, meanDiameter: mean }) }) }),
    }),
    formula({
      id: `spring.surge-frequency.{each}.${coil}`, each: "side", section: "valve-gear", label: `{each} ${name}, surge frequency`, kind: "frequency", unit: "hertz", quiet: true,
      words: "First frequency at which the coils themselves swing between their seats.",
      expression: "{wire} / (2π · {mean}² · {coils}) · √({modulus} / (2 · 7850 kg/m³))", source: TEXTBOOK,
      inputs: { wire: coilFigure(coil, "wire"), mean: meanDiameter(coil), coils: coilFigure(coil, "active-coils"), modulus: modulus(coil) },
      applies: coil === "coil" ? (build, each) => geometric(build, each) && !hasOuter(build, each) : geometric,
      compute: ({ wire, mean, coils, modulus: g }) => spring.surgeFrequency({ wire, meanDiameter: mean, activeCoils: coils, shearModulus: g }),
    }),
  ];
}

/** Mean diameter: stated, or outside diameter less one wire. */
function meanDiameter(coil: Coil): Input<number> {
  return either(coilFigure(coil, "mean-diameter"), value(`spring.mean-diameter.{each}.${coil}`));
}

function meanFormula(coil: Coil): Formula {
  return formula({
    id: `spring.mean-diameter.{each}.${coil}`, each: "side", section: "valve-gear", label: `{each} ${COIL_NAMES[coil]}, mean diameter`, kind: "length", unit: "millimetre", quiet: true,
    words: "From middle of wire to middle of wire.", expression: "{outside} − {wire}", source: "by definition",
    inputs: { outside: coilFigure(coil, "outer-diameter"), wire: coilFigure(coil, "wire") },
    applies: (build, each) => places(coil).some((base) => slotHas(build, at(`${base}.outer-diameter`, each))),
    compute: ({ outside, wire }) => (outside > wire ? outside - wire : undefined),
  });
}

/** What a side's springs come to together: the whole as stated, else outer and inner added. */
function summed(what: "rate" | "seat-load" | "open-load", label: string, words: string, kind: "spring-rate" | "force"): readonly Formula[] {
  const unit = kind === "force" ? "newton" : "newton-per-millimetre";
  return [
    formula({
      id: `spring.${what}.{each}.pair`, each: "side", section: "valve-gear", label: `{each} springs, ${label}, both coils`, kind, unit, quiet: true,
      words: "Outer and inner spring together.", expression: "{outer} + {inner}", source: "springs side by side add up",
      inputs: { outer: either(value(`spring.${what}.{each}.outer`), value(`spring.${what}.{each}.coil`)), inner: value(`spring.${what}.{each}.inner`) },
      applies: hasInner,
      compute: ({ outer, inner }) => outer + inner,
    }),
    formula({
      id: `spring.${what}.{each}`, each: "side", section: "valve-gear", label: `{each} springs, ${label}`, kind, unit, words, expression: "{spring}", source: TEXTBOOK,
      inputs: { spring: either(value(`spring.${what}.{each}.pair`), value(`spring.${what}.{each}.coil`), value(`spring.${what}.{each}.outer`)) },
      compute: ({ spring: one }) => one,
    }),
  ];
}

/** The worse of the two sides, for conditions that name no side. */
function worse(id: string, label: string, words: string, kind: Formula["kind"], unit: NonNullable<Formula["unit"]>, which: "least" | "greatest"): Formula {
  return formula({
    id, section: "valve-gear", label, kind, unit, quiet: true, words, expression: `the ${which === "least" ? "smaller" : "greater"} of {intake} and {exhaust}`, source: "by comparison",
    inputs: { intake: value(`${id}.intake`), exhaust: value(`${id}.exhaust`) },
    compute: ({ intake, exhaust }) => (which === "least" ? Math.min(intake, exhaust) : Math.max(intake, exhaust)),
  });
}

const COILS: readonly Coil[] = ["coil", "outer", "inner"];

export const VALVE_GEAR: readonly Formula[] = [
  ...COILS.map(meanFormula),
  ...COILS.flatMap(coilFormulas),
  ...summed("rate", "rate", "Load gained for each unit that the valve opens.", "spring-rate"),
  ...summed("seat-load", "load on the seat", "What presses the valve on its seat when it is shut.", "force"),
  ...summed("open-load", "load at full lift", "What presses the valve train together at full lift, no lash taken off: it must hold the valve to the cam, and the lobe must bear it.", "force"),
  worse("spring.rate", "Spring rate, softer side", "Rate of the springs of the side where it is lower.", "spring-rate", "newton-per-millimetre", "least"),
  worse("spring.seat-load", "Seat load, lighter side", "Seat load of the side where it is lower.", "force", "newton", "least"),
  worse("spring.open-load", "Load at full lift, heavier side", "Load at full lift of the side where it is higher: the one that wears the lobe.", "force", "newton", "greatest"),
  formula({
    id: "coil-bind-margin.{each}", each: "side", section: "valve-gear", label: "{each} room before coil bind, no lash", kind: "length", unit: "millimetre",
    words: "What is left between the coils at full lift with no lash, of the coil that has least. Below zero the spring is solid before the valve is open.",
    expression: "the smallest of {single}, {outer}, {inner}", source: "sum of the parts",
    inputs: coilsOf("coil-bind-margin.{each}"),
    compute: least,
  }),
  formula({
    id: "coil-bind-margin.{each}.at-lash", each: "side", section: "valve-gear", label: "{each} room before coil bind, at set lash", kind: "length", unit: "millimetre",
    words: "The same with the lash as it is set, which keeps the valve from opening quite so far.",
    expression: "{margin} + {gross} − {net}", source: "sum of the parts",
    inputs: { margin: value("coil-bind-margin.{each}"), gross: value("lift.{each}.gross"), net: value("lift.{each}.net") },
    compute: ({ margin, gross, net }) => margin + gross - net,
  }),
  worse("coil-bind-margin", "Room before coil bind, worse side", "Least room between the coils of any spring at full lift with no lash.", "length", "millimetre", "least"),
  formula({
    id: "retainer-guide-margin.{each}", each: "side", section: "valve-gear", label: "{each} room between retainer and guide", kind: "length", unit: "millimetre",
    words: "What is left between retainer and guide or seal at full lift with no lash.",
    expression: "{gap} − {lift}", source: "sum of the parts",
    inputs: { gap: figure("valve-gear.{each}.retainer-to-guide", "valve-gear.retainer-to-guide"), lift: value("lift.{each}.gross") },
    compute: ({ gap, lift }) => spring.retainerGuideMargin({ closedGap: gap, lift }),
  }),
  worse("retainer-guide-margin", "Room between retainer and guide, worse side", "Least room between any retainer and its guide or seal at full lift.", "length", "millimetre", "least"),
  formula({
    id: "spring.stress.{each}", each: "side", section: "valve-gear", label: "{each} springs, stress in the wire at full lift", kind: "stress", unit: "megapascal",
    words: "Shear stress in the wire of the harder worked coil with the valve open, curvature counted in.",
    expression: "the greatest of {single}, {outer}, {inner}", source: TEXTBOOK,
    inputs: coilsOf("spring.stress.{each}"),
    compute: ({ single, outer, inner }) => furthest([single, outer, inner], Math.max),
  }),
  worse("spring.stress", "Stress in the spring wire, worse side", "Greatest stress in the wire of any valve spring.", "stress", "megapascal", "greatest"),
  formula({
    id: "spring.surge-frequency.{each}", each: "side", section: "valve-gear", label: "{each} springs, surge frequency", kind: "frequency", unit: "hertz",
    words: "Lowest frequency at which a spring's own coils swing. A damper or an inner spring calms what this warns of.",
    expression: "the lowest of {single}, {outer}, {inner}", source: TEXTBOOK,
    inputs: coilsOf("spring.surge-frequency.{each}"),
    compute: least,
  }),
  worse("spring.surge-frequency", "Surge frequency, lower side", "Lowest surge frequency of any valve spring.", "frequency", "hertz", "least"),
  formula({
    id: "valve-gear.{each}.mass-at-valve", each: "side", section: "valve-gear", label: "{each} mass felt at the valve", kind: "mass", unit: "gram", quiet: true,
    words: "What the spring has to turn round: valve, retainer, a third of the springs, rocker, and the follower by the square of the ratio.",
    expression: "{valve} + {retainer} + {spring} / 3 + {rocker} + {follower} / {ratio}²", source: "kinetic energy of a rigid train",
    inputs: {
      valve: figure("valve-gear.{each}.valve-mass", "valve-gear.valve-mass"), retainer: figure("valve-gear.{each}.retainer-mass", "valve-gear.retainer-mass"), spring: springMass(),
      rocker: optional(figure("valve-gear.{each}.rocker-mass", "valve-gear.rocker-mass")), follower: optional(figure("valve-gear.{each}.follower-mass", "valve-gear.follower-mass")), ratio: rockerRatio(),
    },
    compute: ({ valve: head, retainer, spring: coils, rocker, follower, ratio }) => {
      const mass = spring.massAtValve({ valve: head, retainer, spring: coils, camSide: follower ?? 0, rockerRatio: ratio });
      return mass + (rocker ?? 0);
    },
  }),
  formula({
    id: "valve-float.speed.{each}", each: "side", section: "valve-gear", label: "{each} valves leave the cam at about", kind: "rotation", unit: "revolution-per-minute",
    words: "Crank speed at which the springs can only just hold the valves to the cam: as the maker states it, else by the measured lobe, else by a cosine lobe. Real trains usually let go 10 to 25 % earlier.",
    expression: "{speed}", source: "a rigid train",
    inputs: { speed: asking(either(figure("valve-gear.float-speed"), value("valve-float.speed.{each}.on-lobe"), value("valve-float.speed.{each}.on-cosine")), value("valve-float.speed.{each}.on-cosine")) },
    compute: ({ speed }) => speed,
  }),
  formula({
    id: "valve-float.speed.{each}.on-cosine", each: "side", section: "valve-gear", label: "{each} valves leave a cosine lobe at about", kind: "rotation", unit: "revolution-per-minute", quiet: true,
    words: "Crank speed at which the springs can only just turn the valves round at full lift. Real trains usually let go 10 to 25 % earlier.",
    expression: "30/π · √({load} / ({mass} · ({lift}/2) · (2π / {duration})²))", source: "a cosine lobe and a rigid train",
    estimate: "a cosine lobe stands in for the real one; no surge, no friction, a rigid train",
    inputs: {
      load: value("spring.open-load.{each}"), mass: value("valve-gear.{each}.mass-at-valve"), lift: value("lift.{each}.gross"),
      duration: either(figure("camshaft.{each}.advertised-duration"), value("duration.{each}")),
    },
    compute: ({ load, mass, lift, duration }) => spring.floatSpeedOnCosineLobe({ openLoad: load, mass, lift, durationDeg: duration }),
  }),
  formula({
    id: "valve-float.speed", section: "valve-gear", label: "Valves leave the cam at about", kind: "rotation", unit: "revolution-per-minute", quiet: true,
    words: "The lower of the two sides.", expression: "the smaller of {intake} and {exhaust}", source: "by comparison",
    inputs: { intake: value("valve-float.speed.intake"), exhaust: value("valve-float.speed.exhaust") },
    compute: ({ intake, exhaust }) => Math.min(intake, exhaust),
  }),
];

/**
 * The coils that a comparison looks at. Every coil that is described must be known: of a pair with one unknown, the known one is not the worst.
 */
function coilsOf(id: string) {
  return { single: where(value(`${id}.coil`), (build, each) => !hasOuter(build, each)), outer: where(value(`${id}.outer`), hasOuter), inner: where(value(`${id}.inner`), hasInner) };
}

function least({ single, outer, inner }: { readonly single: number | undefined; readonly outer: number | undefined; readonly inner: number | undefined }): number | undefined {
  return furthest([single, outer, inner], Math.min);
}

function furthest(values: readonly (number | undefined)[], pick: (...values: number[]) => number): number | undefined {
  const there = values.filter((v) => v !== undefined);
  return there.length > 0 ? pick(...there) : undefined;
}

/** Weight of a side's springs together: weighed, or by their coils. */
function springMass(): Input<number> {
  return figure(`${BASE}.{each}.mass`, `${BASE}.mass`);
}
