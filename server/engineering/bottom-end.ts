// Crank, rod, piston and the volumes above it, in SI; it refuses to know valves, fuel or which engine it is.
//
// Source of the slider-crank and volume relations: an internal-combustion-engine textbook, chapter on geometrical
// properties of reciprocating engines. Signs: piston travel is positive from top dead centre (TDC) downward; deck
// clearance is positive when the piston stops below the deck; piston volume is positive for a dish, negative for a dome.

import { angularSpeed, cosDeg, sinDeg, toDegrees } from "./angle.ts";
import { areFinite, areNotNegative, arePositive } from "./domain.ts";

/** Area of a circular bore. π/4·B²; m in, m² out. */
export function boreArea({ bore }: { readonly bore: number }): number {
  return arePositive(bore) ? (Math.PI / 4) * bore * bore : NaN;
}

/** Swept volume of one cylinder. π/4·B²·S; m in, m³ out. */
export function cylinderDisplacement({ bore, stroke }: { readonly bore: number; readonly stroke: number }): number {
  return arePositive(bore, stroke) ? boreArea({ bore }) * stroke : NaN;
}

/** Swept volume of the engine. π/4·B²·S·n; m in, m³ out; `cylinders` is a whole number of at least 1. */
export function engineDisplacement(
  { bore, stroke, cylinders }: { readonly bore: number; readonly stroke: number; readonly cylinders: number },
): number {
  return Number.isInteger(cylinders) && cylinders > 0 ? cylinderDisplacement({ bore, stroke }) * cylinders : NaN;
}

/** How far a computed figure stands from a stated one: computed / stated − 1, a pure ratio. */
export function disagreement({ computed, stated }: { readonly computed: number; readonly stated: number }): number {
  return arePositive(stated) && areFinite(computed) ? computed / stated - 1 : NaN;
}

/**
 * The relative disagreement that rounding alone can explain between a stated displacement and bore² × stroke.
 * Each slack is half a unit in the last place as written, in the same unit as its figure. The bore counts twice
 * (it is squared), the stroke once, the stated figure once; first-order error propagation.
 */
export function displacementSlack(
  { bore, boreSlack, stroke, strokeSlack, stated, statedSlack }: {
    readonly bore: number;
    readonly boreSlack: number;
    readonly stroke: number;
    readonly strokeSlack: number;
    readonly stated: number;
    readonly statedSlack: number;
  },
): number {
  return arePositive(bore, stroke, stated) && areNotNegative(boreSlack, strokeSlack, statedSlack)
    ? (2 * boreSlack) / bore + strokeSlack / stroke + statedSlack / stated
    : NaN;
}

/**
 * The relative disagreement that rounding alone can explain between a stated compression ratio and the volumes: from
 * CR = 1 + Vd/Vc, (CR − 1)/CR·(δVd/Vd + δVc/Vc), plus the stated figure's own half unit. m³ in, a pure ratio out.
 */
export function compressionSlack(
  { sweptVolume, sweptSlack, clearanceVolume: clearance, clearanceSlack, stated, statedSlack }: {
    readonly sweptVolume: number;
    readonly sweptSlack: number;
    readonly clearanceVolume: number;
    readonly clearanceSlack: number;
    readonly stated: number;
    readonly statedSlack: number;
  },
): number {
  if (!arePositive(sweptVolume, clearance, stated) || !areNotNegative(sweptSlack, clearanceSlack, statedSlack)) return NaN;
  const ratio = 1 + sweptVolume / clearance;
  return ((ratio - 1) / ratio) * (sweptSlack / sweptVolume + clearanceSlack / clearance) + statedSlack / stated;
}

/** Rod length over stroke, the trade's rod ratio. (Textbooks often quote rod over crank radius: twice this.) */
export function rodRatio({ rodLength, stroke }: { readonly rodLength: number; readonly stroke: number }): number {
  return arePositive(rodLength, stroke) ? rodLength / stroke : NaN;
}

/** Greatest angle between rod and bore, in degrees: asin((S/2)/L). */
export function greatestRodAngleDeg({ rodLength, stroke }: { readonly rodLength: number; readonly stroke: number }): number {
  return turns({ stroke, rodLength }) ? toDegrees(Math.asin(stroke / 2 / rodLength)) : NaN;
}

/** A crank can only turn when its rod is longer than half the stroke. */
function turns({ stroke, rodLength }: { readonly stroke: number; readonly rodLength: number }): boolean {
  return arePositive(stroke, rodLength) && rodLength > stroke / 2;
}

/**
 * Piston travel from TDC at a crank angle. x = a + l − (a·cos θ + √(l² − a²·sin² θ)), a = S/2.
 * m and degrees after TDC in (any angle), m out. No pin offset.
 */
export function pistonTravel(
  { stroke, rodLength, crankDeg }: { readonly stroke: number; readonly rodLength: number; readonly crankDeg: number },
): number {
  if (!turns({ stroke, rodLength }) || !areFinite(crankDeg)) return NaN;
  const radius = stroke / 2;
  const side = radius * sinDeg(crankDeg);
  return radius + rodLength - (radius * cosDeg(crankDeg) + Math.sqrt(rodLength * rodLength - side * side));
}

/** Piston speed at a crank angle, positive downward, m/s. v = a·ω·sin θ·(1 + cos θ / √((l/a)² − sin² θ)). */
export function pistonSpeed(
  { stroke, rodLength, crankDeg, rpm }: {
    readonly stroke: number;
    readonly rodLength: number;
    readonly crankDeg: number;
    readonly rpm: number;
  },
): number {
  if (!turns({ stroke, rodLength }) || !areFinite(crankDeg) || !areNotNegative(rpm)) return NaN;
  const radius = stroke / 2;
  const sine = sinDeg(crankDeg);
  const lengthRatio = rodLength / radius;
  return radius * angularSpeed(rpm) * sine * (1 + cosDeg(crankDeg) / Math.sqrt(lengthRatio * lengthRatio - sine * sine));
}

/** The exact second derivative of piston travel, m/s², positive toward the crank (as it is at TDC). */
export function pistonAcceleration(
  { stroke, rodLength, crankDeg, rpm }: {
    readonly stroke: number;
    readonly rodLength: number;
    readonly crankDeg: number;
    readonly rpm: number;
  },
): number {
  if (!turns({ stroke, rodLength }) || !areFinite(crankDeg) || !areNotNegative(rpm)) return NaN;
  const radius = stroke / 2;
  const omega = angularSpeed(rpm);
  const sine = sinDeg(crankDeg);
  const cosine = cosDeg(crankDeg);
  const lengthRatio = rodLength / radius;
  const q = lengthRatio * lengthRatio - sine * sine;
  const twice = cosine * cosine - sine * sine;
  return radius * omega * omega * (cosine + (twice * q + (sine * cosine) ** 2) / q ** 1.5);
}

/** The textbooks' two-term approximation, r·ω²·(cos θ + (r/l)·cos 2θ), kept to show how near it comes. m/s². */
export function pistonAccelerationTwoTerm(
  { stroke, rodLength, crankDeg, rpm }: {
    readonly stroke: number;
    readonly rodLength: number;
    readonly crankDeg: number;
    readonly rpm: number;
  },
): number {
  if (!turns({ stroke, rodLength }) || !areFinite(crankDeg) || !areNotNegative(rpm)) return NaN;
  const radius = stroke / 2;
  return radius * angularSpeed(rpm) ** 2 * (cosDeg(crankDeg) + (radius / rodLength) * cosDeg(2 * crankDeg));
}

/** Mean piston speed, m/s: 2·S·N with the crank at `rpm`. */
export function meanPistonSpeed({ stroke, rpm }: { readonly stroke: number; readonly rpm: number }): number {
  return arePositive(stroke) && areNotNegative(rpm) ? (stroke * rpm) / 30 : NaN;
}

/** Crank speed, rpm, at which the mean piston speed (m/s) is reached. */
export function rpmAtMeanPistonSpeed({ stroke, speed }: { readonly stroke: number; readonly speed: number }): number {
  return arePositive(stroke) && areNotNegative(speed) ? (30 * speed) / stroke : NaN;
}

/**
 * Crank degrees after TDC of the greatest piston speed: the zero of the acceleration, found by bisection between
 * TDC (where it is positive) and 90° (where it is negative for every rod that can turn).
 */
export function peakPistonSpeedAngleDeg({ stroke, rodLength }: { readonly stroke: number; readonly rodLength: number }): number {
  if (!turns({ stroke, rodLength })) return NaN;
  let low = 0;
  let high = 90;
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (pistonAcceleration({ stroke, rodLength, crankDeg: middle, rpm: 1000 }) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Greatest piston speed on the stroke, m/s, from the slider-crank. */
export function peakPistonSpeed(
  { stroke, rodLength, rpm }: { readonly stroke: number; readonly rodLength: number; readonly rpm: number },
): number {
  return pistonSpeed({ stroke, rodLength, crankDeg: peakPistonSpeedAngleDeg({ stroke, rodLength }), rpm });
}

/** Greatest piston acceleration, m/s², which is at TDC: (S/2)·ω²·(1 + S/(2L)), exact. */
export function peakPistonAcceleration(
  { stroke, rodLength, rpm }: { readonly stroke: number; readonly rodLength: number; readonly rpm: number },
): number {
  return pistonAcceleration({ stroke, rodLength, crankDeg: 0, rpm });
}

/**
 * Greatest rod tension, N: reciprocating mass × acceleration at TDC between exhaust and intake, where no gas load
 * opposes it. Mass in kg is piston, pin, rings, locks and the small-end share of the rod (weighed, or about a third).
 */
export function peakRodTension(
  { reciprocatingMass, stroke, rodLength, rpm }: {
    readonly reciprocatingMass: number;
    readonly stroke: number;
    readonly rodLength: number;
    readonly rpm: number;
  },
): number {
  return arePositive(reciprocatingMass) ? reciprocatingMass * peakPistonAcceleration({ stroke, rodLength, rpm }) : NaN;
}

/** Deck clearance, m, from the stack: deck height − (S/2 + rod + compression height). Positive: piston below the deck. */
export function deckClearance(
  { deckHeight, stroke, rodLength, compressionHeight }: {
    readonly deckHeight: number;
    readonly stroke: number;
    readonly rodLength: number;
    readonly compressionHeight: number;
  },
): number {
  return arePositive(deckHeight, stroke, rodLength, compressionHeight)
    ? deckHeight - (stroke / 2 + rodLength + compressionHeight)
    : NaN;
}

/** Squish (quench) clearance, m: deck clearance plus the crushed gasket. Flat piston land against a flat head land. */
export function squishClearance(
  { deckClearance: deck, gasketThickness }: { readonly deckClearance: number; readonly gasketThickness: number },
): number {
  return areFinite(deck) && areNotNegative(gasketThickness) ? deck + gasketThickness : NaN;
}

/** Volume of the crushed gasket's hole, m³, taken as round: π/4·Bg²·t. */
export function gasketVolume(
  { gasketBore, gasketThickness }: { readonly gasketBore: number; readonly gasketThickness: number },
): number {
  return arePositive(gasketBore) && areNotNegative(gasketThickness) ? boreArea({ bore: gasketBore }) * gasketThickness : NaN;
}

/** Volume between piston crown edge and deck, m³, negative when the piston stands proud. */
export function deckVolume({ bore, deckClearance: deck }: { readonly bore: number; readonly deckClearance: number }): number {
  return arePositive(bore) && areFinite(deck) ? boreArea({ bore }) * deck : NaN;
}

/** Ring of volume above the top ring, m³: π/4·(B² − D²)·h, an optional term of the clearance volume. */
export function topLandVolume(
  { bore, landDiameter, ringDepth }: { readonly bore: number; readonly landDiameter: number; readonly ringDepth: number },
): number {
  return arePositive(bore, landDiameter, ringDepth) && landDiameter <= bore
    ? (Math.PI / 4) * (bore * bore - landDiameter * landDiameter) * ringDepth
    : NaN;
}

export interface ClearanceParts {
  readonly bore: number;
  readonly chamberVolume: number;
  readonly gasketBore: number;
  readonly gasketThickness: number;
  readonly deckClearance: number;
  /** Dish positive, dome negative. */
  readonly pistonVolume: number;
  /** Top land and the like; left out when not given. */
  readonly creviceVolume?: number;
}

/** Volume above the piston at TDC, m³: chamber + gasket + deck + piston (+ crevices). */
export function clearanceVolume(parts: ClearanceParts): number {
  const { bore, chamberVolume, pistonVolume, creviceVolume = 0 } = parts;
  if (!arePositive(chamberVolume) || !areFinite(pistonVolume) || !areNotNegative(creviceVolume)) return NaN;
  const total = chamberVolume + gasketVolume(parts) + deckVolume({ bore, deckClearance: parts.deckClearance }) + pistonVolume + creviceVolume;
  return total > 0 ? total : NaN;
}

/** Compression ratio: (swept + clearance) / clearance. m³ in. */
export function compressionRatio(
  { sweptVolume, clearanceVolume: clearance }: { readonly sweptVolume: number; readonly clearanceVolume: number },
): number {
  return arePositive(sweptVolume, clearance) ? (sweptVolume + clearance) / clearance : NaN;
}

/** Chamber volume, m³, that gives a wanted ratio with the other volumes as they are. NaN when none can. */
export function chamberVolumeForRatio(
  { ratio, bore, stroke, gasketBore, gasketThickness, deckClearance: deck, pistonVolume, creviceVolume = 0 }: {
    readonly ratio: number;
    readonly stroke: number;
  } & Omit<ClearanceParts, "chamberVolume">,
): number {
  if (!(ratio > 1) || !areFinite(pistonVolume)) return NaN;
  const chamber = cylinderDisplacement({ bore, stroke }) / (ratio - 1) -
    gasketVolume({ gasketBore, gasketThickness }) - deckVolume({ bore, deckClearance: deck }) - pistonVolume - creviceVolume;
  return chamber > 0 ? chamber : NaN;
}

/** Chamber volume, m³, taken away by skimming a head whose chamber opens with `area` (m²) by `depth` (m). */
export function skimmedVolume({ area, depth }: { readonly area: number; readonly depth: number }): number {
  return arePositive(area) && areNotNegative(depth) ? area * depth : NaN;
}

/** Volume in the cylinder at a crank angle, m³: clearance + bore area × travel. */
export function cylinderVolume(
  { bore, stroke, rodLength, clearanceVolume: clearance, crankDeg }: {
    readonly bore: number;
    readonly stroke: number;
    readonly rodLength: number;
    readonly clearanceVolume: number;
    readonly crankDeg: number;
  },
): number {
  return arePositive(clearance) ? clearance + boreArea({ bore }) * pistonTravel({ stroke, rodLength, crankDeg }) : NaN;
}

/** Stroke left, m, when the intake closes `closesAbdcDeg` after bottom dead centre. */
export function strokeLeftAtClosing(
  { stroke, rodLength, closesAbdcDeg }: { readonly stroke: number; readonly rodLength: number; readonly closesAbdcDeg: number },
): number {
  return areFinite(closesAbdcDeg) && Math.abs(closesAbdcDeg) <= 180
    ? pistonTravel({ stroke, rodLength, crankDeg: 180 - closesAbdcDeg })
    : NaN;
}

/**
 * Dynamic compression ratio: (bore area × stroke left at intake closing + clearance) / clearance.
 * A geometric figure of the trade with no standard behind it: it means nothing without the lift at which the closing
 * angle was read, and figures at different reference lifts cannot be compared.
 */
export function dynamicCompressionRatio(
  { bore, stroke, rodLength, clearanceVolume: clearance, closesAbdcDeg }: {
    readonly bore: number;
    readonly stroke: number;
    readonly rodLength: number;
    readonly clearanceVolume: number;
    readonly closesAbdcDeg: number;
  },
): number {
  return compressionRatio({
    sweptVolume: boreArea({ bore }) * strokeLeftAtClosing({ stroke, rodLength, closesAbdcDeg }),
    clearanceVolume: clearance,
  });
}
