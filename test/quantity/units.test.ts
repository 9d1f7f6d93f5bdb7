import fc from "fast-check";
import Qty from "js-quantities";
import { unit as mathUnit } from "mathjs";
import { describe, expect, it } from "vitest";
import { UNIT_SPELLINGS, spellingOfUnit, unitOfSpelling } from "../../grammar/vocabulary.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import { divideDimensions, isDimensionless, multiplyDimensions, sameDimension } from "../../server/quantity/dimension.ts";
import { KINDS, fromKindBase, kindOf, toKindBase, unitFits, usualKind } from "../../server/quantity/kinds.ts";
import type { KindId } from "../../server/quantity/kinds.ts";
import { UNITS, convert, convertDifference, fromBase, toBase, unitsAgree } from "../../server/quantity/units.ts";
import checks from "./unit-checks.json" with { type: "json" };
import { quantity } from "./reading.ts";

const IDS = Object.keys(UNITS) as UnitId[];
/** Several units that measure the same, drawn at random. */
const agreeing = (count: number): fc.Arbitrary<UnitId[]> =>
  fc.constantFrom(...IDS).chain((first) => fc.array(fc.constantFrom(...IDS.filter((u) => unitsAgree(first, u))), { minLength: count, maxLength: count }));
/** What conversion may lose: the last digits, and beside an offset those that a small temperature has beside 273.15. */
const loss = (x: number, units: readonly UnitId[]): number => 1e-12 * (units.some((u) => UNITS[u].offset !== undefined) ? Math.abs(x) + 600 : Math.abs(x));
const figure = (): fc.Arbitrary<number> => fc.double({ min: -1e6, max: 1e6, noNaN: true });

function near(actual: number | undefined, expected: number, relative: number): void {
  expect(actual).toBeDefined();
  expect(Math.abs((actual as number) - expected)).toBeLessThanOrEqual(relative * Math.abs(expected) + Number.MIN_VALUE);
}

describe("published unit checks", () => {
  // Two of the checks lead to units that nobody writes in a build file; they are reached from their definitions.
  const elsewhere: Record<string, (coherent: number) => number> = { "rad/s": (x) => (x * Math.PI) / 180, "L/s": (x) => x * 1000 };
  const spelt: Record<string, string> = {
    "lbf*ft": "lbf·ft", "lbf*in": "lbf·in", "N*m": "N·m", "kgf*m": "kgf·m", "in^3": "in³", "cm^3": "cm³", "ft^3/min": "cfm", "US fl oz": "fl-oz",
    "lb/(hp*h)": "lb/hp·h", "g/(kW*h)": "g/kWh", "lbf/in": "lbf/in",
  };
  const unitFor = (name: string) => unitOfSpelling(spelt[name] ?? name);

  it("are the 35 of the collection", () => {
    expect(checks.length).toBe(35);
    expect(new Set(checks.map((c) => c.id)).size).toBe(35);
  });

  it.each(checks.map((c) => [c.id, c] as const))("%s", (_, check) => {
    const from = unitFor(check.from.unit);
    expect(from).toBeDefined();
    const reach = elsewhere[check.expected.unit];
    if (reach) return near(reach(toBase(check.from.value, from as UnitId)), check.expected.value, check.tolerance);
    const to = unitFor(check.expected.unit);
    expect(to).toBeDefined();
    near(convert(check.from.value, from as UnitId, to as UnitId), check.expected.value, check.tolerance);
  });
});

describe("factors against independent libraries", () => {
  /** One unit in mathjs's words. Where mathjs has no such unit, its definition in units that it has. */
  const MATHJS: Partial<Record<UnitId, string>> = {
    "newton-metre": "1 N m", "pound-foot": "1 lbf ft", "pound-inch": "1 lbf inch", "kilogram-force-metre": "1 kgf m", "kilogram-force-centimetre": "1 kgf cm",
    inch: "1 inch", thou: "1 mil", foot: "1 ft", millimetre: "1 mm", centimetre: "1 cm", metre: "1 m", micrometre: "1 um", kilometre: "1 km", mile: "1 mi",
    "square-millimetre": "1 mm^2", "square-centimetre": "1 cm^2", "square-inch": "1 sqin", "cubic-centimetre": "1 cc", "cubic-inch": "1 cuin", litre: "1 L",
    psi: "1 psi", bar: "1 bar", pascal: "1 Pa", kilopascal: "1 kPa", megapascal: "1 MPa", gigapascal: "1 GPa", ksi: "1000 psi",
    "kilogram-force-per-square-centimetre": "1 kgf/cm^2", atmosphere: "1 atm", horsepower: "1 hp", "metric-horsepower": "75 kgf m/s", kilowatt: "1 kW", watt: "1 W",
    "pound-force": "1 lbf", newton: "1 N", kilonewton: "1 kN", "kilogram-force": "1 kgf", gram: "1 g", kilogram: "1 kg", pound: "1 lb", ounce: "1 oz",
    "newton-per-millimetre": "1 N/mm", "pound-force-per-inch": "1 lbf/inch", "kilogram-force-per-millimetre": "1 kgf/mm",
    "gram-per-second": "1 g/s", "pound-per-minute": "1 lb/minute", "cubic-centimetre-per-minute": "1 cc/minute", "pound-per-hour": "1 lb/h",
    "litre-per-hour": "1 L/h", "litre-per-minute": "1 L/minute", "gram-per-kilowatt-hour": "1 g/(kW h)", "pound-per-horsepower-hour": "1 lb/(hp h)",
    "kilogram-per-litre": "1 kg/L", "gram-per-cubic-centimetre": "1 g/cc", "kilogram-per-cubic-metre": "1 kg/m^3", "cubic-foot-per-minute": "1 cuft/minute",
    millisecond: "1 ms", second: "1 s", minute: "1 minute", hour: "1 h", "kilometre-per-hour": "1 km/h", "mile-per-hour": "1 mi/h",
    "metre-per-second": "1 m/s", "foot-per-minute": "1 ft/minute", "metre-per-second-squared": "1 m/s^2", "kilogram-square-metre": "1 kg m^2",
    hertz: "1 Hz", volt: "1 V", kelvin: "1 K",
  };
  /** mathjs holds these rounded: mercury as 133.322, the US measures to nine figures. */
  const MATHJS_ROUNDED: Partial<Record<UnitId, readonly [string, number]>> = {
    "millimetre-of-mercury": ["1 mmHg", 5e-6], "inch-of-mercury": ["25.4 mmHg", 5e-6],
    quart: ["1 qt", 1e-8], pint: ["1 pt", 1e-8], "fluid-ounce": ["1 floz", 1e-8], "gallon-per-hour": ["1 gal/h", 1e-8],
  };
  /** js-quantities holds the pound-force to seven figures, which sets the tolerance. */
  const JS_QUANTITIES: Partial<Record<UnitId, string>> = {
    "newton-metre": "N*m", "pound-foot": "lbf*ft", "pound-inch": "lbf*in", inch: "in", thou: "mil", foot: "ft", millimetre: "mm", centimetre: "cm", metre: "m",
    micrometre: "um", kilometre: "km", mile: "mi", "square-inch": "in^2", litre: "L", quart: "qt", pint: "pt", "fluid-ounce": "floz", psi: "psi", bar: "bar", pascal: "Pa",
    kilopascal: "kPa", megapascal: "MPa", gigapascal: "GPa", "inch-of-mercury": "inHg", "millimetre-of-mercury": "mmHg", atmosphere: "atm", horsepower: "hp", kilowatt: "kW",
    watt: "W", "pound-force": "lbf", newton: "N", kilonewton: "kN", gram: "g", kilogram: "kg", pound: "lb", ounce: "oz", hertz: "Hz", volt: "V",
    "kilometre-per-hour": "kph", "mile-per-hour": "mph", "metre-per-second": "m/s", millisecond: "ms", second: "s", minute: "min", hour: "h", percent: "%",
  };
  /** Angles have their own base here, the degree, and the last five are scales of their own: no library has them. */
  const APART: readonly UnitId[] = [
    "revolution-per-minute", "degree", "turn", "degree-celsius", "degree-fahrenheit", "air-fuel-ratio", "lambda", "research-octane", "motor-octane", "anti-knock-index",
  ];

  it("cover every unit", () => {
    expect(IDS.filter((u) => !(u in MATHJS) && !(u in MATHJS_ROUNDED) && !(u in JS_QUANTITIES) && !APART.includes(u))).toEqual([]);
  });

  it.each(Object.entries(MATHJS) as [UnitId, string][])("%s agrees with mathjs", (u, text) => {
    near(UNITS[u].factor, mathUnit(text).toSI().toNumeric(mathUnit(text).toSI().formatUnits()) as number, 1e-9);
  });

  it.each(Object.entries(MATHJS_ROUNDED) as [UnitId, [string, number]][])("%s agrees with mathjs within its rounding", (u, [text, tolerance]) => {
    near(UNITS[u].factor, mathUnit(text).toSI().toNumeric(mathUnit(text).toSI().formatUnits()) as number, tolerance);
  });

  it.each(Object.entries(JS_QUANTITIES) as [UnitId, string][])("%s agrees with js-quantities", (u, text) => {
    near(UNITS[u].factor, new Qty(1, text).toBase().scalar, 5e-7);
  });

  it("angles and speeds of rotation agree with mathjs and js-quantities in radians", () => {
    near((UNITS.degree.factor * Math.PI) / 180, mathUnit("1 deg").toNumber("rad"), 1e-12);
    near((UNITS.turn.factor * Math.PI) / 180, mathUnit("1 cycle").toNumber("rad"), 1e-12);
    near((UNITS["revolution-per-minute"].factor * Math.PI) / 180, new Qty("1 rpm").toBase().scalar, 1e-12);
  });

  it.each([-40, -17.5, 0, 20, 90, 212])("%s degrees agree with both libraries as a temperature", (t) => {
    near(toBase(t, "degree-celsius"), mathUnit(t, "degC").toNumber("K"), 1e-12);
    near(toBase(t, "degree-fahrenheit"), mathUnit(t, "degF").toNumber("K"), 1e-12);
    near(toBase(t, "degree-celsius"), new Qty(`${t} tempC`).to("tempK").scalar, 1e-12);
    near(toBase(t, "degree-fahrenheit"), new Qty(`${t} tempF`).to("tempK").scalar, 1e-9);
  });
});

describe("the unit table", () => {
  it("has a positive factor and a name for every unit, each name once", () => {
    for (const u of IDS) expect(UNITS[u].factor, u).toBeGreaterThan(0);
    expect(new Set(IDS.map((u) => UNITS[u].words)).size).toBe(IDS.length);
  });

  it("gives every unit to some kind, so that none can be written in vain", () => {
    const used = new Set(Object.keys(KINDS).flatMap((k) => kindOf(k as KindId).units));
    expect(IDS.filter((u) => !used.has(u))).toEqual([]);
  });

  it("never gives one spelling to two units", () => {
    const all = Object.values(UNIT_SPELLINGS).flat();
    expect(all.length).toBe(new Set(all).size);
  });

  it.each([
    "N·m", "Nm", "N-m", "ft-lb", "lb-ft", "lbf·ft", "ft lb", "in-lb", "kgf·m", "kg-m", "in", "thou", "ft", "mm", "cm", "m", "µm", "um", "cc", "cm³", "cu-in", "L", "qt", "pt",
    "psi", "bar", "kPa", "MPa", "GPa", "ksi", "inHg", "mmHg", "kgf/cm²", "kg/cm2", "hp", "PS", "kW", "lbf", "N", "kN", "kgf", "g", "kg", "lb", "oz", "N/mm", "lbf/in",
    "rpm", "deg", "°", "turn", "°C", "degC", "°F", "degF", "afr", "lambda", "RON", "MON", "AKI", "g/s", "lb/min", "cc/min", "lb/h", "ms", "s", "min", "h", "km", "mi", "km/h",
    "mph", "m/s", "%",
  ])("reads `20 %s` in that unit, through the grammar", (spelling) => {
    const unit = unitOfSpelling(spelling) as UnitId;
    const q = quantity(`20 ${spelling}`, usualKind(unit));
    expect(q.unit).toBe(unit);
    near(q.interval.nominal, toKindBase(20, unit, usualKind(unit)), 1e-12);
  });

  it.each(IDS.flatMap((u) => UNIT_SPELLINGS[u].map((s) => [s, u] as const)))("reads `%s` as %s", (spelling, unit) => {
    expect(quantity(`1.5 ${spelling}`, usualKind(unit)).unit).toBe(unit);
  });

  it("reads a spelling without case where only one unit folds to it", () => {
    expect(["NM", "PSI", "RPM", "KPA", "Mm", "KW"].map(unitOfSpelling)).toEqual(["newton-metre", "psi", "revolution-per-minute", "kilopascal", "millimetre", "kilowatt"]);
  });
});

describe("conversion", () => {
  it("there and back is the same figure, for every pair of units that agree", () => {
    fc.assert(
      fc.property(agreeing(2), figure(), (units, x) => {
        const [from, to] = units as [UnitId, UnitId];
        const back = convert(convert(x, from, to) as number, to, from) as number;
        expect(Math.abs(back - x)).toBeLessThanOrEqual(loss(x, units) + 1e-300);
      }),
      { seed: 1, numRuns: 3000 },
    );
  });

  it("through a third unit is the same as straight", () => {
    fc.assert(
      fc.property(agreeing(3), fc.double({ min: 0.001, max: 1e6, noNaN: true }), (units, x) => {
        const [a, b, c] = units as [UnitId, UnitId, UnitId];
        const straight = convert(x, a, c) as number;
        const round = convert(convert(x, a, b) as number, b, c) as number;
        expect(Math.abs(straight - round)).toBeLessThanOrEqual(loss(straight, units));
      }),
      { seed: 2, numRuns: 3000 },
    );
  });

  it("keeps order, so that a larger figure stays the larger", () => {
    fc.assert(
      fc.property(agreeing(2), fc.integer({ min: -100000, max: 100000 }), fc.integer({ min: 1, max: 1000 }), (units, x, more) => {
        const [from, to] = units as [UnitId, UnitId];
        expect(convert(x, from, to) as number).toBeLessThan(convert(x + more, from, to) as number);
      }),
      { seed: 3, numRuns: 2000 },
    );
  });

  it("round trips through the base of every kind", () => {
    for (const kind of Object.keys(KINDS) as KindId[]) {
      for (const unit of kindOf(kind).units) near(fromKindBase(toKindBase(37.5, unit, kind), unit, kind), 37.5, 1e-12);
    }
  });

  it.each([
    ["newton-metre", "newton"], ["pound", "pound-force"], ["degree", "percent"], ["revolution-per-minute", "hertz"], ["air-fuel-ratio", "lambda"],
    ["research-octane", "motor-octane"], ["fluid-ounce", "ounce"], ["cubic-centimetre-per-minute", "pound-per-hour"], ["kilogram-force", "kilogram"], ["millimetre", "square-millimetre"],
  ] as [UnitId, UnitId][])("refuses %s as %s", (from, to) => {
    expect(convert(1, from, to)).toBeUndefined();
    expect(convertDifference(1, from, to)).toBeUndefined();
  });

  it("keeps hp, PS and the inch-pound apart from their neighbours", () => {
    near(convert(1, "horsepower", "metric-horsepower"), 1.01386966542, 1e-9);
    near(convert(1, "pound-foot", "pound-inch"), 12, 1e-12);
    near(convert(1, "kilogram-force-metre", "newton-metre"), 9.80665, 1e-15);
  });

  it("has no offset in a difference of temperatures", () => {
    near(convertDifference(10, "degree-celsius", "degree-fahrenheit"), 18, 1e-12);
    near(convert(10, "degree-celsius", "degree-fahrenheit"), 50, 1e-12);
  });

  it("gives formulas rpm, degrees and kelvin", () => {
    expect(toKindBase(6500, "revolution-per-minute", "rotation")).toBe(6500);
    expect(toKindBase(0.5, "turn", "angle")).toBe(180);
    expect(toKindBase(25, "degree-celsius", "temperature")).toBe(298.15);
    near(toKindBase(1, "newton-per-millimetre", "spring-rate"), 1000, 1e-15);
  });
});

describe("dimensions", () => {
  const dim = () => fc.record({ L: fc.integer({ min: -3, max: 3 }), M: fc.integer({ min: -3, max: 3 }), T: fc.integer({ min: -3, max: 3 }), K: fc.integer({ min: -3, max: 3 }), A: fc.integer({ min: -3, max: 3 }), I: fc.integer({ min: -3, max: 3 }) });

  it("multiply in any order, and division undoes it", () => {
    fc.assert(
      fc.property(dim(), dim(), dim(), (a, b, c) => {
        expect(sameDimension(multiplyDimensions(a, b), multiplyDimensions(b, a))).toBe(true);
        expect(sameDimension(multiplyDimensions(multiplyDimensions(a, b), c), multiplyDimensions(a, multiplyDimensions(b, c)))).toBe(true);
        expect(sameDimension(divideDimensions(multiplyDimensions(a, b), b), a)).toBe(true);
        expect(isDimensionless(divideDimensions(a, a))).toBe(true);
      }),
      { seed: 4 },
    );
  });

  it("keep an angle from being a plain number", () => {
    expect(isDimensionless(UNITS.degree.dimension)).toBe(false);
    expect(unitFits("ratio", "degree")).toBe(false);
  });

  it("let each kind take its own units only", () => {
    expect(unitFits("torque", "pound")).toBe(false);
    expect(unitFits("force", "pound")).toBe(false);
    expect(unitFits("pressure", "newton")).toBe(false);
    expect(unitFits("count", "percent")).toBe(false);
    expect(unitFits("fraction", "percent")).toBe(true);
    expect(unitFits("mixture", "lambda")).toBe(true);
    expect(unitFits("octane", "lambda")).toBe(false);
    expect(unitFits("rotation", "hertz")).toBe(false);
  });

  it("name every spelling that is printed as one that is read", () => {
    for (const u of IDS) expect(unitOfSpelling(spellingOfUnit(u))).toBe(u);
    for (const u of IDS) near(fromBase(toBase(3, u), u), 3, 1e-12);
  });
});
