// The units that the outside checks are written in, from their exact definitions (NIST SP 811, appendix B); it refuses to know
// the project's own unit table, so that an error in one cannot hide in the other.

const inch = 0.0254;
const foot = 0.3048;
const pound = 0.45359237;
const poundForce = pound * 9.80665;
const psi = poundForce / inch ** 2;
const horsepower = 550 * foot * poundForce;
const inchOfMercury = 13595.1 * 9.80665 * inch;

/** SI value of one of each unit; degrees, revolutions per minute and pure numbers stay as they are. */
const factors: Readonly<Record<string, number>> = {
  "1": 1, "%": 0.01, "1/K": 1, "1e-6/K": 1e-6, "in/in": 1, "mm/mm": 1, "H/C": 1, "O/C": 1, "1/in": 1 / inch,
  m: 1, mm: 1e-3, in: inch, ft: foot, "mm^2": 1e-6, "cm^2": 1e-4, "in^2": inch ** 2,
  "cm^3": 1e-6, "in^3": inch ** 3, L: 1e-3, "L/rev": 1e-3,
  kg: 1, g: 1e-3, mg: 1e-6, lb: pound, "kg/m^3": 1, "kg/L": 1000, "g/cm^3": 1000, "lb/ft^3": pound / foot ** 3,
  N: 1, kN: 1000, lbf: poundForce, kip: 1000 * poundForce, "N*m": 1, "lbf*ft": poundForce * foot, "lbf*in": poundForce * inch,
  "N/mm": 1000, "kN/mm": 1e6, "lbf/in": poundForce / inch, "Mlbf/in": (1e6 * poundForce) / inch,
  Pa: 1, kPa: 1000, MPa: 1e6, GPa: 1e9, psi, kpsi: 1000 * psi, inHg: inchOfMercury,
  kW: 1000, hp: horsepower, "ft*lbf/min": (foot * poundForce) / 60, "lb/(hp*h)": pound / (horsepower * 3600), "kJ/(kg*K)": 1000,
  "kg/s": 1, "g/s": 1e-3, "lb/min": pound / 60, "lb/h": pound / 3600,
  "L/s": 1e-3, "L/h": 1e-3 / 3600, "ft^3/min": foot ** 3 / 60, "cm^3/min": 1e-6 / 60,
  "m/s": 1, "m/s^2": 1, "km/h": 1 / 3.6, mph: 0.44704, "ft/min": foot / 60, s: 1, min: 60, Hz: 1, rpm: 1, deg: 1, K: 1,
  crank: 1, valve: 1, volume: 1, cylinder: 1, SAE: 1, property: 1, text: 1, list: 1,
};

/** The unit itself, without the words that say of what ("psi gauge", "mm, + below deck"). */
function bare(unit: string): string {
  return /^[^ ,]+/.exec(unit)?.[0] ?? unit;
}

/** The SI value of one unit; throws for a unit the table lacks, so that no check can slip through unconverted. */
export function unitFactor(unit: string): number {
  const factor = factors[bare(unit)];
  if (factor === undefined) throw new Error(`no factor for the unit ${unit}`);
  return factor;
}

/** A figure of a check in SI; temperatures become kelvin. */
export function toSi(value: number, unit: string): number {
  if (bare(unit) === "degC") return value + 273.15;
  if (bare(unit) === "degF") return (value + 459.67) / 1.8;
  return value * unitFactor(unit);
}
