// The air an engine breathes and the standards that correct for it; it refuses to know engines, fuel or boost.
//
// Pressures are Pa absolute, temperatures K, humidity a share from 0 to 1. Sources: ISO 2533 (standard atmosphere),
// SAE J1349, ISO 1585, DIN 70020, SAE J607. A correction holds for full load and natural breathing; boost-controlled
// engines must not be corrected blindly. Use the barometer at the place, never one reduced to sea level.

import { areFinite, areNotNegative, arePositive } from "./domain.ts";

/** Specific gas constants, J/(kg·K): dry air by ISO 2533; water vapour as tabulated. */
export const dryAirGasConstant = 287.05287;
export const waterVapourGasConstant = 461.523;

const seaLevelPressure = 101325;
const seaLevelTemperature = 288.15;
const lapse = 0.0065;
const zeroCelsius = 273.15;

/** Standard temperature, K, at a geopotential altitude (m) up to 11 000: 288.15 − 0.0065·H. */
export function standardTemperature({ altitude }: { readonly altitude: number }): number {
  return isTroposphere(altitude) ? seaLevelTemperature - lapse * altitude : NaN;
}

function isTroposphere(altitude: number): boolean {
  return areFinite(altitude) && altitude >= -5000 && altitude <= 11000;
}

/** Standard pressure, Pa, at a geopotential altitude (m) up to 11 000: 101325·(T/288.15)^5.25588. */
export function standardPressure({ altitude }: { readonly altitude: number }): number {
  return seaLevelPressure * (standardTemperature({ altitude }) / seaLevelTemperature) ** 5.25588;
}

/** Standard density, kg/m³, at a geopotential altitude (m). */
export function standardDensity({ altitude }: { readonly altitude: number }): number {
  return dryAirDensity({ pressure: standardPressure({ altitude }), temperature: standardTemperature({ altitude }) });
}

/** Dry air density, kg/m³: p/(R·T). */
export function dryAirDensity({ pressure, temperature }: { readonly pressure: number; readonly temperature: number }): number {
  return arePositive(pressure, temperature) ? pressure / (dryAirGasConstant * temperature) : NaN;
}

/** Saturation pressure of water vapour, Pa: 610.94·exp(17.625·t/(t + 243.04)), t in °C. Magnus form of 1996, good to about 0.4 % from −40 to 50 °C. */
export function saturationPressure({ temperature }: { readonly temperature: number }): number {
  const celsius = temperature - zeroCelsius;
  return arePositive(temperature) && celsius > -60 && celsius < 100 ? 610.94 * Math.exp((17.625 * celsius) / (celsius + 243.04)) : NaN;
}

/** Dry part of the barometer, Pa: p − humidity·saturation. */
export function dryPressure({ pressure, temperature, humidity }: { readonly pressure: number; readonly temperature: number; readonly humidity: number }): number {
  if (!arePositive(pressure) || !areNotNegative(humidity) || humidity > 1) return NaN;
  const dry = pressure - humidity * saturationPressure({ temperature });
  return dry > 0 ? dry : NaN;
}

/** Moist air density, kg/m³, as a mixture of ideal gases. */
export function moistAirDensity({ pressure, temperature, humidity }: { readonly pressure: number; readonly temperature: number; readonly humidity: number }): number {
  const dry = dryPressure({ pressure, temperature, humidity });
  return dry / (dryAirGasConstant * temperature) + (pressure - dry) / (waterVapourGasConstant * temperature);
}

/** Air volume an evenly breathing four-stroke draws, m³/s: Vd·rpm/120·VE. */
export function airflowVolume({ displacement, rpm, volumetricEfficiency }: { readonly displacement: number; readonly rpm: number; readonly volumetricEfficiency: number }): number {
  return arePositive(displacement, volumetricEfficiency) && areNotNegative(rpm) ? ((displacement * rpm) / 120) * volumetricEfficiency : NaN;
}

/** Mass flow, kg/s, of a volume flow at a density: of air through an engine, of fuel through a pump. */
export function massFlow({ volumeFlow, density }: { readonly volumeFlow: number; readonly density: number }): number {
  return areNotNegative(volumeFlow) && arePositive(density) ? volumeFlow * density : NaN;
}

/** Volume flow, m³/s, of a mass flow at a density. */
export function volumeFlow({ massFlow: mass, density }: { readonly massFlow: number; readonly density: number }): number {
  return areNotNegative(mass) && arePositive(density) ? mass / density : NaN;
}

/** Volumetric efficiency from a measured air flow, a share; it means nothing without the density it refers to. */
export function volumetricEfficiency({ massFlow: mass, density, displacement, rpm }: { readonly massFlow: number; readonly density: number; readonly displacement: number; readonly rpm: number }): number {
  return arePositive(mass, density, displacement, rpm) ? mass / ((density * displacement * rpm) / 120) : NaN;
}

/** Pascals in an inch of mercury, conventional column (NIST SP 811). */
const inchOfMercury = 13595.1 * 9.80665 * 0.0254;

export type CorrectionStandard = "SAE J1349" | "ISO 1585" | "DIN 70020" | "SAE J607";

export const correctionStandards: readonly CorrectionStandard[] = ["SAE J1349", "ISO 1585", "DIN 70020", "SAE J607"];

/**
 * SAE J1349 (June 1990) factor for spark ignition, from dry pressure and temperature against 99 kPa dry and 25 °C. With no
 * mechanical efficiency given it is the printed 1.180·x − 0.18; a given efficiency η replaces that by x/η − (1/η − 1), which at
 * 85 % is the unrounded form. The standard counts kelvin as °C + 273.
 */
export function saeJ1349Factor({ dryPressure: dry, temperature, mechanicalEfficiency }: { readonly dryPressure: number; readonly temperature: number; readonly mechanicalEfficiency?: number }): number {
  if (!arePositive(dry, temperature)) return NaN;
  const x = (99000 / dry) * Math.sqrt((temperature - zeroCelsius + 273) / 298);
  if (mechanicalEfficiency === undefined) return 1.18 * x - 0.18;
  if (!arePositive(mechanicalEfficiency) || mechanicalEfficiency > 1) return NaN;
  return x / mechanicalEfficiency - (1 / mechanicalEfficiency - 1);
}

/** ISO 1585 factor for spark ignition: (99 kPa/dry)^1.2·(T/298)^0.6. Exponents from memory, reference conditions seen in print. */
export function iso1585Factor({ dryPressure: dry, temperature }: { readonly dryPressure: number; readonly temperature: number }): number {
  return arePositive(dry, temperature) ? (99000 / dry) ** 1.2 * ((temperature - zeroCelsius + 273) / 298) ** 0.6 : NaN;
}

/** DIN 70020 factor: (101.3 kPa/p)·√(T/293), from the whole barometer. */
export function din70020Factor({ pressure, temperature }: { readonly pressure: number; readonly temperature: number }): number {
  return arePositive(pressure, temperature) ? (101300 / pressure) * Math.sqrt((temperature - zeroCelsius + 273) / 293) : NaN;
}

/** The old "standard" correction of SAE J607: (29.92 inHg/dry)·√((459.7 + °F)/519.7). Reads about 4 % above J1349 for the same pull. */
export function saeJ607Factor({ dryPressure: dry, temperature }: { readonly dryPressure: number; readonly temperature: number }): number {
  if (!arePositive(dry, temperature)) return NaN;
  const fahrenheit = temperature * 1.8 - 459.67;
  return (29.92 / (dry / inchOfMercury)) * Math.sqrt((459.7 + fahrenheit) / 519.7);
}

/** The factor of a chosen standard from barometer (Pa), temperature (K) and relative humidity (share). */
export function correctionFactor({ standard, pressure, temperature, humidity }: { readonly standard: CorrectionStandard; readonly pressure: number; readonly temperature: number; readonly humidity: number }): number {
  const dry = dryPressure({ pressure, temperature, humidity });
  switch (standard) {
    case "SAE J1349": return saeJ1349Factor({ dryPressure: dry, temperature });
    case "ISO 1585": return iso1585Factor({ dryPressure: dry, temperature });
    case "SAE J607": return saeJ607Factor({ dryPressure: dry, temperature });
    case "DIN 70020": return din70020Factor({ pressure, temperature });
  }
}

/** True when a factor lies in the span the standards vouch for, 0.93 to 1.07 (ISO 1585; taken for the others, from memory). */
export function isCorrectionVouchedFor(factor: number): boolean {
  return factor >= 0.93 && factor <= 1.07;
}

/** Corrected power or torque: observed × factor, in the unit of the observed figure. */
export function correctedFigure({ observed, factor }: { readonly observed: number; readonly factor: number }): number {
  return areNotNegative(observed) && arePositive(factor) ? observed * factor : NaN;
}

/** Density altitude, m, of dry air: 145442.16 ft·(1 − (17.326·p/(459.67 + t))^0.235), p in inHg, t in °F. US National Weather Service form. */
export function densityAltitude({ pressure, temperature }: { readonly pressure: number; readonly temperature: number }): number {
  if (!arePositive(pressure, temperature)) return NaN;
  return 0.3048 * 145442.16 * (1 - ((17.326 * (pressure / inchOfMercury)) / (temperature * 1.8)) ** 0.235);
}
