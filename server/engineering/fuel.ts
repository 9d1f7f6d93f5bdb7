// Fuels, mixtures, injectors and pumps; it refuses to know the engine's air or its tune.
//
// Ratios of air to fuel are by mass. Mass flows kg/s, volume flows m³/s, specific consumption kg/J, pressures Pa.
// Source of the composition formula: an internal-combustion-engine textbook, chapter on thermochemistry.

import { areFinite, areNotNegative, arePositive } from "./domain.ts";
import type { Provenance, SourcedFigure } from "./provenance.ts";

/** Stoichiometric air/fuel ratio of CHyOz: 34.56·(4 + y − 2z)/(12.011 + 1.008y + 15.999z). Ratios are atoms per carbon atom. */
export function stoichiometricRatio({ hydrogenPerCarbon, oxygenPerCarbon }: { readonly hydrogenPerCarbon: number; readonly oxygenPerCarbon: number }): number {
  if (!areNotNegative(hydrogenPerCarbon, oxygenPerCarbon)) return NaN;
  const air = 4 + hydrogenPerCarbon - 2 * oxygenPerCarbon;
  return air > 0 ? (34.56 * air) / (12.011 + 1.008 * hydrogenPerCarbon + 15.999 * oxygenPerCarbon) : NaN;
}

export type Fuel = "petrol" | "E10" | "E85" | "ethanol" | "methanol" | "LPG" | "propane" | "butane";

export interface FuelFigures {
  /** Stoichiometric air/fuel ratio as commonly tabulated. */
  readonly stoichiometric: number;
  /** Liquid density near 15 °C, kg/m³. */
  readonly density: number;
  readonly provenance: Provenance;
  readonly source: string;
}

/** Tabulated fuels. Densities from memory throughout; petrol's own spans 720 to 775. */
export const fuels: Readonly<Record<Fuel, FuelFigures>> = {
  petrol: { stoichiometric: 14.7, density: 745, provenance: "public data", source: "US Department of Energy fuel property table (textbooks say 14.6)" },
  E10: { stoichiometric: 14.1, density: 749.4, provenance: "public data", source: "mass balance of 10 % ethanol by volume; tables print 14.13" },
  E85: { stoichiometric: 9.8, density: 782.4, provenance: "public data", source: "mass balance of 85 % ethanol by volume; tables print 9.7; pumps sell 51 to 83 % by season" },
  ethanol: { stoichiometric: 9.0, density: 789, provenance: "public data", source: "US Department of Energy fuel property table" },
  methanol: { stoichiometric: 6.47, density: 792, provenance: "textbook", source: "from its formula CH4O; public tables print 6.4" },
  LPG: { stoichiometric: 15.5, density: 540, provenance: "from memory", source: "between propane and butane" },
  propane: { stoichiometric: 15.67, density: 508, provenance: "textbook", source: "from its formula C3H8" },
  butane: { stoichiometric: 15.46, density: 584, provenance: "textbook", source: "from its formula C4H10" },
};

export const fuelNames: readonly Fuel[] = Object.keys(fuels) as Fuel[];

/** Stoichiometric ratio of a blend of two fuels by volume share of the first: the mean of the two weighed by mass. */
export function blendStoichiometricRatio({ volumeShare, first, second }: BlendParts): number {
  const share = massShare({ volumeShare, first, second });
  return share * first.stoichiometric + (1 - share) * second.stoichiometric;
}

interface BlendParts {
  readonly volumeShare: number;
  readonly first: { readonly stoichiometric: number; readonly density: number };
  readonly second: { readonly stoichiometric: number; readonly density: number };
}

function massShare({ volumeShare, first, second }: BlendParts): number {
  if (!areNotNegative(volumeShare) || volumeShare > 1) return NaN;
  if (!arePositive(first.density, second.density, first.stoichiometric, second.stoichiometric)) return NaN;
  const mass = volumeShare * first.density;
  return mass / (mass + (1 - volumeShare) * second.density);
}

/** Density of a blend, kg/m³, volumes taken as adding up. */
export function blendDensity({ volumeShare, first, second }: { readonly volumeShare: number; readonly first: number; readonly second: number }): number {
  return areNotNegative(volumeShare) && volumeShare <= 1 && arePositive(first, second) ? volumeShare * first + (1 - volumeShare) * second : NaN;
}

/** Lambda: ratio / stoichiometric ratio of the fuel the ratio was read for. A petrol-scale gauge shows petrol's ratio whatever is in the tank. */
export function lambdaFromRatio({ airFuelRatio, stoichiometric }: { readonly airFuelRatio: number; readonly stoichiometric: number }): number {
  return arePositive(airFuelRatio, stoichiometric) ? airFuelRatio / stoichiometric : NaN;
}

/** Air/fuel ratio at a lambda. */
export function ratioFromLambda({ lambda, stoichiometric }: { readonly lambda: number; readonly stoichiometric: number }): number {
  return arePositive(lambda, stoichiometric) ? lambda * stoichiometric : NaN;
}

/** Fuel for one cylinder's cycle, kg: air / (lambda·stoichiometric). */
export function fuelPerCycle({ airMass, lambda, stoichiometric }: { readonly airMass: number; readonly lambda: number; readonly stoichiometric: number }): number {
  return areNotNegative(airMass) && arePositive(lambda, stoichiometric) ? airMass / (lambda * stoichiometric) : NaN;
}

/** kg/J in a pound per horsepower-hour. */
const poundPerHorsepowerHour = 0.45359237 / (745.6998715822702 * 3600);

/** Specific consumption at full load, kg/J, low to high. Common practice, ranges from memory; the result of using them is ±15 %. */
export const usualSpecificConsumption: Readonly<Record<"natural" | "boosted" | "methanol", { readonly low: number; readonly high: number; readonly source: string; readonly provenance: Provenance }>> = {
  natural: { low: 0.45 * poundPerHorsepowerHour, high: 0.5 * poundPerHorsepowerHour, provenance: "common practice", source: "0.45 to 0.50 lb/(hp·h)" },
  boosted: { low: 0.6 * poundPerHorsepowerHour, high: 0.65 * poundPerHorsepowerHour, provenance: "common practice", source: "0.60 to 0.65 lb/(hp·h)" },
  methanol: { low: 1.0 * poundPerHorsepowerHour, high: 1.1 * poundPerHorsepowerHour, provenance: "common practice", source: "1.0 to 1.1 lb/(hp·h)" },
};

/** Specific consumption, kg/J, from fuel flow (kg/s) and power (W). */
export function specificConsumption({ fuelFlow, power }: { readonly fuelFlow: number; readonly power: number }): number {
  return arePositive(fuelFlow, power) ? fuelFlow / power : NaN;
}

/** Power, W, that an air flow (kg/s) can make: air/(ratio·specific consumption). ESTIMATE: as good as the consumption assumed. */
export function powerFromAirflow({ airFlow, airFuelRatio, specificConsumption: consumption }: { readonly airFlow: number; readonly airFuelRatio: number; readonly specificConsumption: number }): number {
  return areNotNegative(airFlow) && arePositive(airFuelRatio, consumption) ? airFlow / (airFuelRatio * consumption) : NaN;
}

/** Flow each injector must have, kg/s: P·consumption/(count·duty). */
export function requiredInjectorFlow({ power, specificConsumption: consumption, injectors, duty }: { readonly power: number; readonly specificConsumption: number; readonly injectors: number; readonly duty: number }): number {
  return areNotNegative(power) && arePositive(consumption, injectors, duty) && duty <= 1 ? (power * consumption) / (injectors * duty) : NaN;
}

/** Flow at another pressure difference, unit as given: q·√(Δp/Δp rated). Δp is rail less manifold, never the rail gauge alone. Orifice law, 2 to 3 %. */
export function injectorFlowAtPressure({ ratedFlow, ratedDifference, difference }: { readonly ratedFlow: number; readonly ratedDifference: number; readonly difference: number }): number {
  return areNotNegative(ratedFlow, difference) && arePositive(ratedDifference) ? ratedFlow * Math.sqrt(difference / ratedDifference) : NaN;
}

/** Pressure difference across an injector, Pa: rail gauge − manifold gauge when the regulator vents to air, the rail gauge itself when it is referenced to the manifold. */
export function injectorPressureDifference({ railGauge, manifoldGauge, reference }: { readonly railGauge: number; readonly manifoldGauge: number; readonly reference: "atmosphere" | "manifold" }): number {
  if (!areNotNegative(railGauge) || !areFinite(manifoldGauge)) return NaN;
  return reference === "manifold" ? railGauge : Math.max(0, railGauge - manifoldGauge);
}

/**
 * Injector duty, a share: (fuel per cycle/flow + dead time) over the time a cycle lasts, 120/rpm seconds for one squirt in
 * two turns. kg, kg/s, s. Above 1 it cannot be had.
 */
export function injectorDuty({ fuelPerCycle: fuel, flow, deadTime = 0, rpm }: { readonly fuelPerCycle: number; readonly flow: number; readonly deadTime?: number; readonly rpm: number }): number {
  return areNotNegative(fuel, deadTime) && arePositive(flow, rpm) ? (fuel / flow + deadTime) / (120 / rpm) : NaN;
}

/** Fuel per cylinder and cycle, kg, that a power needs: P·consumption·120/(rpm·cylinders). */
export function fuelPerCycleForPower({ power, specificConsumption: consumption, rpm, cylinders }: { readonly power: number; readonly specificConsumption: number; readonly rpm: number; readonly cylinders: number }): number {
  return areNotNegative(power) && arePositive(consumption, rpm, cylinders) ? (power * consumption * 120) / (rpm * cylinders) : NaN;
}

/** Pump flow wanted, m³/s: P·consumption/density·(1 + margin), at the pump's flow for the actual rail pressure and voltage. */
export function requiredPumpFlow({ power, specificConsumption: consumption, density, margin }: { readonly power: number; readonly specificConsumption: number; readonly density: number; readonly margin: number }): number {
  return areNotNegative(power, margin) && arePositive(consumption, density) ? ((power * consumption) / density) * (1 + margin) : NaN;
}

/** Margin on a fuel pump's flow, a share. */
export const usualPumpMargin: SourcedFigure = { value: 0.2, provenance: "common practice", source: "15 to 30 % over the computed flow" };

/** Injector duty not to pass, a share. */
export const usualInjectorDutyLimit: SourcedFigure = { value: 0.85, provenance: "common practice", source: "80 to 90 %; no source" };

/** How much more volume of one fuel than another the same air needs: (AFR2/AFR1)·(ρ2/ρ1), fuel 1 in place of fuel 2. */
export function fuelVolumeFactor({ stoichiometric, density, insteadOfStoichiometric, insteadOfDensity }: { readonly stoichiometric: number; readonly density: number; readonly insteadOfStoichiometric: number; readonly insteadOfDensity: number }): number {
  return arePositive(stoichiometric, density, insteadOfStoichiometric, insteadOfDensity)
    ? (insteadOfStoichiometric / stoichiometric) * (insteadOfDensity / density)
    : NaN;
}
