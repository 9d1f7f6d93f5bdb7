// The words the text is made of: declaration words, reserved words, unit spellings. Knows how things are spelt, not what they mean.

/** Words that begin a declaration when they stand in column one. */
export const TOP_WORDS = ["engine", "part", "card", "build", "shop", "use"] as const;
export type TopWord = (typeof TOP_WORDS)[number];

/** Statement words: they begin a phrase inside a block, and a line that begins with one is never a continuation. */
export const STATEMENT_WORDS = [
  "fit", "follow", "needs", "check", "waive", "measured", "run", "pull", "log", "tune", "plan", "step", "done",
  "fastener", "photo", "note", "document", "replaces",
] as const;

/** Words that join the parts of a phrase. Never a name; allowed as a key. */
export const RESERVED_WORDS = ["then", "where", "because", "until", "on", "for", "from", "after", "before", "replaces", "with", "at"] as const;

/**
 * Every unit: its id, then every spelling that a builder may write. The first spelling is the one printed.
 * Matching is exact first, then without case where that is unique. Dimension and factor are in server/quantity/units.ts.
 */
export const UNIT_SPELLINGS = {
  "newton-metre": ["N·m", "Nm", "N-m", "N⋅m", "N•m", "N.m", "N m"],
  "pound-foot": ["ft-lb", "lb-ft", "lbf·ft", "ft lb", "lb ft", "ft·lb", "ft-lbs", "ft lbs", "lbs-ft", "lb·ft", "lbf-ft", "ft-lbf", "ft·lbf"],
  "pound-inch": ["in-lb", "lb-in", "in lb", "lbf·in", "lbf-in", "in-lbs", "in lbs", "in·lb", "lb·in", "in-lbf", "in·lbf"],
  "kilogram-force-metre": ["kgf·m", "kg-m", "kgf-m", "kg·m", "kgm", "mkg", "m-kg"],
  "kilogram-force-centimetre": ["kgf·cm", "kgf-cm", "kg-cm", "kg·cm"],
  inch: ["in", "inch", "inches"],
  thou: ["thou"],
  foot: ["ft", "feet"],
  millimetre: ["mm"],
  centimetre: ["cm"],
  metre: ["m"],
  micrometre: ["µm", "um", "μm", "micron", "microns"],
  kilometre: ["km"],
  mile: ["mi", "mile", "miles"],
  "square-millimetre": ["mm²", "mm2"],
  "square-centimetre": ["cm²", "cm2"],
  "square-inch": ["sq-in", "in²", "in2"],
  "cubic-centimetre": ["cc", "cm³", "cm3", "ml", "mL"],
  "cubic-inch": ["cu-in", "in³", "in3", "cu in", "cid", "ci"],
  litre: ["L", "litre", "litres", "liter", "liters"],
  quart: ["qt"],
  pint: ["pt"],
  "fluid-ounce": ["fl-oz", "fl oz"],
  psi: ["psi"],
  bar: ["bar"],
  pascal: ["Pa"],
  kilopascal: ["kPa"],
  megapascal: ["MPa"],
  gigapascal: ["GPa"],
  ksi: ["ksi", "kpsi"],
  "inch-of-mercury": ["inHg"],
  "millimetre-of-mercury": ["mmHg"],
  "kilogram-force-per-square-centimetre": ["kgf/cm²", "kg/cm2", "kgf/cm2", "kg/cm²"],
  atmosphere: ["atm"],
  horsepower: ["hp", "bhp"],
  "metric-horsepower": ["PS"],
  kilowatt: ["kW"],
  watt: ["W"],
  "pound-force": ["lbf"],
  newton: ["N"],
  kilonewton: ["kN"],
  "kilogram-force": ["kgf"],
  gram: ["g"],
  kilogram: ["kg"],
  pound: ["lb", "lbs"],
  ounce: ["oz"],
  "newton-per-millimetre": ["N/mm"],
  "pound-force-per-inch": ["lbf/in", "lb/in"],
  "kilogram-force-per-millimetre": ["kgf/mm", "kg/mm"],
  "revolution-per-minute": ["rpm", "r/min", "1/min"],
  degree: ["deg", "°"],
  turn: ["turn", "turns"],
  "degree-celsius": ["°C", "degC", "deg C"],
  "degree-fahrenheit": ["°F", "degF", "deg F"],
  kelvin: ["K"],
  "air-fuel-ratio": ["afr"],
  lambda: ["lambda", "λ"],
  "research-octane": ["RON"],
  "motor-octane": ["MON"],
  "anti-knock-index": ["AKI"],
  "gram-per-second": ["g/s"],
  "pound-per-minute": ["lb/min"],
  "cubic-centimetre-per-minute": ["cc/min", "ml/min", "mL/min", "cm³/min"],
  "pound-per-hour": ["lb/h", "lb/hr", "lbs/h", "lbs/hr"],
  "litre-per-hour": ["L/h"],
  "litre-per-minute": ["L/min"],
  "gallon-per-hour": ["gph", "gal/h"],
  "gram-per-kilowatt-hour": ["g/kWh"],
  "pound-per-horsepower-hour": ["lb/hp·h", "lb/hph", "lb/(hp·h)"],
  "kilogram-per-litre": ["kg/L"],
  "gram-per-cubic-centimetre": ["g/cc", "g/cm³", "g/cm3"],
  "cubic-foot-per-minute": ["cfm"],
  millisecond: ["ms"],
  second: ["s", "sec"],
  minute: ["min"],
  hour: ["h", "hr", "hrs"],
  "kilometre-per-hour": ["km/h", "kph"],
  "mile-per-hour": ["mph"],
  "metre-per-second": ["m/s"],
  "metre-per-second-squared": ["m/s²", "m/s2"],
  "kilogram-square-metre": ["kg·m²", "kg·m2", "kg-m2"],
  "kilogram-per-cubic-metre": ["kg/m³", "kg/m3"],
  "foot-per-minute": ["ft/min", "fpm"],
  percent: ["%"],
  hertz: ["Hz"],
  volt: ["V"],
} as const satisfies Record<string, readonly [string, ...string[]]>;
export type UnitId = keyof typeof UNIT_SPELLINGS;

const exact = new Map<string, UnitId>();
const folded = new Map<string, UnitId | null>();
for (const [id, spellings] of Object.entries(UNIT_SPELLINGS) as [UnitId, readonly string[]][]) {
  for (const spelling of spellings) {
    exact.set(spelling, id);
    const fold = spelling.toLowerCase();
    folded.set(fold, folded.has(fold) && folded.get(fold) !== id ? null : id);
  }
}

/** Every spelling, longest first, for lexers that want the longest match. */
export const UNIT_SPELLINGS_LONGEST_FIRST: readonly string[] = [...exact.keys()].sort((a, b) => b.length - a.length || (a < b ? -1 : 1));

/** The unit that a spelling means: exactly as listed, else without case where only one unit folds to it. */
export function unitOfSpelling(spelling: string): UnitId | undefined {
  return exact.get(spelling) ?? folded.get(spelling.toLowerCase()) ?? undefined;
}

/** The spelling that is printed for a unit. */
export function spellingOfUnit(unit: UnitId): string {
  return UNIT_SPELLINGS[unit][0];
}
