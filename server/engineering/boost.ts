// Superchargers, turbochargers, coolers and belts; it refuses to know fuel or power made.
//
// Pressures are Pa absolute unless a name says gauge; temperatures K. Source of the compressor relations: thermodynamics
// and internal-combustion-engine textbooks. The blower model is good to 15 or 20 % at best.

import { toDegrees, toRadians } from "./angle.ts";
import { areFinite, areNotNegative, arePositive } from "./domain.ts";

/** Manifold pressure, Pa absolute: local barometer + gauge. */
export function absolutePressure({ barometer, gauge }: { readonly barometer: number; readonly gauge: number }): number {
  const absolute = barometer + gauge;
  return arePositive(barometer, absolute) ? absolute : NaN;
}

/** Manifold vacuum, Pa below the local barometer. */
export function manifoldVacuum({ barometer, absolute }: { readonly barometer: number; readonly absolute: number }): number {
  return arePositive(barometer, absolute) ? barometer - absolute : NaN;
}

/** Pressure ratio across the compressor: (barometer + boost + cooler drop)/(barometer − inlet drop). Boost is gauge over the LOCAL barometer. */
export function pressureRatio(
  { barometer, boostGauge, inletDrop = 0, coolerDrop = 0 }: {
    readonly barometer: number;
    readonly boostGauge: number;
    readonly inletDrop?: number;
    readonly coolerDrop?: number;
  },
): number {
  if (!areNotNegative(inletDrop, coolerDrop) || !arePositive(barometer, barometer - inletDrop)) return NaN;
  const out = barometer + boostGauge + coolerDrop;
  return out > 0 ? out / (barometer - inletDrop) : NaN;
}

/** Temperature after the compressor, K: T1·(1 + (PR^((γ−1)/γ) − 1)/η), γ = 1.4. */
export function compressorOutletTemperature(
  { inletTemperature, ratio, efficiency, gamma = 1.4 }: {
    readonly inletTemperature: number;
    readonly ratio: number;
    readonly efficiency: number;
    readonly gamma?: number;
  },
): number {
  return arePositive(inletTemperature, efficiency) && ratio >= 1 && gamma > 1
    ? inletTemperature * (1 + (ratio ** ((gamma - 1) / gamma) - 1) / efficiency)
    : NaN;
}

/** Temperature after a charge cooler, K: T2 − ε·(T2 − Tc), coolant being the air or water that cools it. */
export function cooledTemperature({ hot, coolant, effectiveness }: { readonly hot: number; readonly coolant: number; readonly effectiveness: number }): number {
  return arePositive(hot, coolant) && areNotNegative(effectiveness) && effectiveness <= 1 ? hot - effectiveness * (hot - coolant) : NaN;
}

/** Cooler effectiveness, a share, from three temperatures (K). */
export function coolerEffectiveness({ hot, cooled, coolant }: { readonly hot: number; readonly cooled: number; readonly coolant: number }): number {
  return arePositive(hot, cooled, coolant) && hot > coolant ? (hot - cooled) / (hot - coolant) : NaN;
}

/** Charge density over inlet density: PR·T1/T3. */
export function densityRatio({ ratio, inletTemperature, chargeTemperature }: { readonly ratio: number; readonly inletTemperature: number; readonly chargeTemperature: number }): number {
  return arePositive(ratio, inletTemperature, chargeTemperature) ? (ratio * inletTemperature) / chargeTemperature : NaN;
}

/** Shaft power of a compressor, W: ṁ·cp·T1·(PR^(2/7) − 1)/η, cp 1005 J/(kg·K); bearings and gears come on top. */
export function compressorPower(
  { massFlow, inletTemperature, ratio, efficiency, heatCapacity = 1005 }: {
    readonly massFlow: number;
    readonly inletTemperature: number;
    readonly ratio: number;
    readonly efficiency: number;
    readonly heatCapacity?: number;
  },
): number {
  return arePositive(inletTemperature, efficiency, heatCapacity) && areNotNegative(massFlow) && ratio >= 1
    ? (massFlow * heatCapacity * inletTemperature * (ratio ** (2 / 7) - 1)) / efficiency
    : NaN;
}

/** Blower speed, rpm: crank rpm·(crank pulley/blower pulley)·step-up. Pitch diameters (or tooth counts), no slip; poly-V belts slip up to 3 %. */
export function blowerRpm({ rpm, crankPulley, blowerPulley, stepUp = 1 }: { readonly rpm: number; readonly crankPulley: number; readonly blowerPulley: number; readonly stepUp?: number }): number {
  return areNotNegative(rpm) && arePositive(crankPulley, blowerPulley, stepUp) ? ((rpm * crankPulley) / blowerPulley) * stepUp : NaN;
}

/** Overdrive, a share (0.18 for 18 %): blower turns per crank turn − 1. Negative when underdriven. */
export function blowerOverdrive({ driveRatio }: { readonly driveRatio: number }): number {
  return arePositive(driveRatio) ? driveRatio - 1 : NaN;
}

/** Volume a displacement blower delivers at its inlet, m³/s: V·rpm/60·ηv. */
export function blowerDelivery({ displacementPerTurn, rpm, volumetricEfficiency }: { readonly displacementPerTurn: number; readonly rpm: number; readonly volumetricEfficiency: number }): number {
  return arePositive(displacementPerTurn, volumetricEfficiency) && areNotNegative(rpm) ? ((displacementPerTurn * rpm) / 60) * volumetricEfficiency : NaN;
}

/**
 * Pressure ratio a displacement blower settles at: PR = r·T3/T1, where r is its delivery over what the engine swallows and T3
 * the charge temperature at that ratio. Solved by bisection between 1 and 10, which holds for the ratios such blowers make.
 * ESTIMATE, 15 to 20 %. NaN below r = 1, where there is no boost to speak of.
 */
export function blowerPressureRatio(
  { flowRatio, inletTemperature, efficiency, effectiveness = 0, coolantTemperature = inletTemperature }: {
    readonly flowRatio: number;
    readonly inletTemperature: number;
    readonly efficiency: number;
    readonly effectiveness?: number;
    readonly coolantTemperature?: number;
  },
): number {
  if (!(flowRatio >= 1) || !arePositive(inletTemperature, efficiency, coolantTemperature)) return NaN;
  const excess = (ratio: number): number => {
    const hot = compressorOutletTemperature({ inletTemperature, ratio, efficiency });
    return ratio - (flowRatio * cooledTemperature({ hot, coolant: coolantTemperature, effectiveness })) / inletTemperature;
  };
  let low = 1;
  let high = 10;
  if (!(excess(low) <= 0) || !(excess(high) > 0)) return NaN;
  for (let step = 0; step < 80; step += 1) {
    const middle = (low + high) / 2;
    if (excess(middle) > 0) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

/** Wrap of an open belt on the smaller pulley, degrees: 180 − 2·asin((D − d)/(2C)). */
export function beltWrapDeg({ largePulley, smallPulley, centres }: { readonly largePulley: number; readonly smallPulley: number; readonly centres: number }): number {
  return arePositive(largePulley, smallPulley, centres) && largePulley >= smallPulley && centres > (largePulley + smallPulley) / 2
    ? 180 - 2 * toDegrees(Math.asin((largePulley - smallPulley) / (2 * centres)))
    : NaN;
}

/** Open belt length, m: 2C + π/2·(D + d) + (D − d)²/(4C), the handbooks' series. */
export function beltLength({ largePulley, smallPulley, centres }: { readonly largePulley: number; readonly smallPulley: number; readonly centres: number }): number {
  return arePositive(largePulley, smallPulley, centres) && centres > (largePulley + smallPulley) / 2
    ? 2 * centres + (Math.PI / 2) * (largePulley + smallPulley) + (largePulley - smallPulley) ** 2 / (4 * centres)
    : NaN;
}

/** Greatest ratio of tight to slack tension before a belt slips: e^(μ·φ). Grooves raise μ by 1/sin of the half angle. */
export function beltTensionRatio({ friction, wrapDeg }: { readonly friction: number; readonly wrapDeg: number }): number {
  return areNotNegative(friction, wrapDeg) ? Math.exp(friction * toRadians(wrapDeg)) : NaN;
}

/** The pressure the trade's rule takes for one atmosphere: 14.7 psi, in Pa. */
const tradeAtmosphere = 14.7 * 6894.757293168361;

/**
 * "Effective" compression under boost by the trade's rule, CR·(boost/14.7 psi + 1). RULE OF THUMB with no physics in it: it
 * ignores charge temperature, chamber, spark and fuel, and condemns many production engines. Never a pass or a fail.
 */
export function tradeEffectiveCompression({ ratio, boostGauge }: { readonly ratio: number; readonly boostGauge: number }): number {
  return ratio > 1 && areFinite(boostGauge) ? ratio * (boostGauge / tradeAtmosphere + 1) : NaN;
}

/** Compression ratio with the same end pressure after a loss-free, uncooled precompression: CR·PR^(1/γ). Ideal gas. */
export function isentropicEffectiveCompression({ ratio, pressureRatio: boostRatio, gamma = 1.4 }: { readonly ratio: number; readonly pressureRatio: number; readonly gamma?: number }): number {
  return ratio > 1 && gamma > 1 && arePositive(boostRatio) ? ratio * boostRatio ** (1 / gamma) : NaN;
}
