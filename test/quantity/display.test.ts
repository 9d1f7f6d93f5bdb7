import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import { TRADE_ROUNDING, compareWithLimit, formatAgainst, formatBand, formatNumber, formatQuantity, formatValue, inOtherSystem, unitFor } from "../../server/quantity/display.ts";
import { KINDS, fromKindBase, kindOf, toKindBase, unitFits, usualKind } from "../../server/quantity/kinds.ts";
import type { KindId } from "../../server/quantity/kinds.ts";
import { UNITS, unitsAgree } from "../../server/quantity/units.ts";
import { problems, quantity } from "./reading.ts";

const IDS = Object.keys(UNITS) as UnitId[];

describe("rounding as the trade does", () => {
  it.each([
    [0.2, "millimetre", "0.20"], [7.874, "thou", "7.9"], [0.0079, "inch", "0.0079"], [3.26772, "inch", "3.268"],
    [13.5582, "newton-metre", "13.6"], [97.6189, "newton-metre", "97.6"], [135.58, "newton-metre", "136"], [1234.4, "newton-metre", "1230"],
    [106.2, "pound-inch", "106"], [72.28, "pound-foot", "72.3"], [110.2, "degree", "110"], [110.3, "degree", "110.5"], [-0.2, "degree", "0"],
    [1775.4, "cubic-centimetre", "1775"], [44.62, "cubic-centimetre", "44.6"], [98.4, "degree-celsius", "98"], [12.84, "air-fuel-ratio", "12.8"],
    [0.8749, "lambda", "0.87"], [6499.6, "revolution-per-minute", "6500"], [92.44, "horsepower", "92.4"], [0.5516, "bar", "0.55"],
  ] as [number, UnitId, string][])("%s %s prints as %s", (value, unit, text) => {
    expect(formatNumber(value, { unit })).toBe(text);
  });

  it("has a rule for every unit", () => {
    expect(IDS.filter((u) => !(u in TRADE_ROUNDING))).toEqual([]);
  });

  it("rounds a half away from zero, as a reader does", () => {
    expect(formatNumber(0.285, { decimals: 2 })).toBe("0.29");
    expect(formatNumber(-0.285, { decimals: 2 })).toBe("-0.29");
    expect(formatNumber(1.005, { decimals: 2 })).toBe("1.01");
  });

  it("prints neither -0 nor NaN", () => {
    expect(formatNumber(-0.001, { decimals: 2 })).toBe("0.00");
    expect(formatNumber(Number.NaN)).toBe("?");
    expect(formatNumber(-Infinity)).toBe("-∞");
  });

  it("is never further off than half its last place", () => {
    fc.assert(
      fc.property(fc.constantFrom(...IDS), fc.double({ min: -1e5, max: 1e5, noNaN: true }), (unit, x) => {
        const rule = TRADE_ROUNDING[unit];
        const text = formatNumber(x, { unit });
        // To so many figures, the last place of a large value stands before the point.
        const figures = "figures" in rule && Math.abs(x) >= 10 ** rule.figures ? 10 ** (Math.floor(Math.log10(Math.abs(Number(text)))) + 1 - rule.figures) : 0;
        const last = "step" in rule ? rule.step : Math.max(figures, 10 ** -(text.split(".")[1]?.length ?? 0));
        expect(Math.abs(Number(text) - x)).toBeLessThanOrEqual(last / 2 + 1e-9 * Math.abs(x));
      }),
      { seed: 11, numRuns: 2000 },
    );
  });
});

describe("a written quantity", () => {
  it.each([
    ["83.00 mm", "length"], [".008 in", "length"], ["3/8 in", "length"], ["1-1/4 in", "length"], ["25 Nm", "torque"], ["40 lb-ft", "torque"], ["0.20 ± 0.02 mm", "length"],
    ["83.00 +0.02 -0.01 mm", "length"], ["9.4:1", "ratio"], ["4", "count"], ["+0.50 mm", "length"], ["-10 °C", "temperature"], ["90 °C", "temperature"], ["8°", "angle"], ["85%", "fraction"], ["± 8 deg", "angle"],
  ] as [string, KindId][])("prints %s as it was written", (text, kind) => {
    expect(formatQuantity(quantity(text, kind))).toBe(text);
  });

  it.each([
    ["1800 .. 2400 rpm", "rotation", "1800 … 2400 rpm"],
    [">= 1.5 mm", "length", "≥ 1.5 mm"],
    ["< 0.05 mm", "length", "≤ 0.05 mm"],
    ["2 * 0.40 mm", "length", "0.80 mm"],
    ["10 mm .. 1/2 in", "length", "0.3937 … 0.5000 in"],
    ["25 N·m ± 5 %", "torque", "25.0 ± 1.3 N·m"],
    ["10 mm * 5 mm", "area", "50.0 mm²"],
    ["5.2", "number", "5.2"],
  ] as [string, KindId, string][])("prints %s of %s as %s", (text, kind, expected) => {
    expect(formatQuantity(quantity(text, kind))).toBe(expected);
  });

  it.each([
    ["0.20 mm", "length", "0.20 mm (7.9 thou)"],
    [".008 in", "length", ".008 in (0.20 mm)"],
    ["83.00 mm", "length", "83.00 mm (3.268 in)"],
    ["58 N·m", "torque", "58 N·m (42.8 ft-lb)"],
    ["12 N·m", "torque", "12 N·m (106 in-lb)"],
    ["106 in-lb", "torque", "106 in-lb (12.0 N·m)"],
    ["0.5 bar", "pressure", "0.5 bar (7.3 psi)"],
    ["1775 cc", "volume", "1775 cc (108.3 cu-in)"],
    ["3.5 L", "capacity", "3.5 L (3.7 qt)"],
    ["100 PS", "power", "100 PS (98.6 hp)"],
    ["240 N", "force", "240 N (54.0 lbf)"],
    ["32 N/mm", "spring-rate", "32 N/mm (183 lbf/in)"],
    ["90 ± 5 °C", "temperature", "90 ± 5 °C (194 ± 9 °F)"],
    ["10 °C", "temperature-difference", "10 °C (18 °F)"],
    ["120 km/h", "road-speed", "120 km/h (75 mph)"],
    ["20 ± 2 N·m", "torque", "20 ± 2 N·m (177 ± 18 in-lb)"],
    ["109 deg", "angle", "109 deg"],
    ["98 RON", "octane", "98 RON"],
    ["12.8 afr", "mixture", "12.8 afr"],
  ] as [string, KindId, string][])("prints %s of %s with the other system beside: %s", (text, kind, expected) => {
    expect(formatQuantity(quantity(text, kind), { both: true })).toBe(expected);
  });

  it("prints in another unit in that unit's rounding", () => {
    expect(formatQuantity(quantity("25 N·m", "torque"), { unit: "pound-foot" })).toBe("18.4 ft-lb");
    expect(formatQuantity(quantity("+0.50 mm", "length"), { unit: "inch" })).toBe("+0.0197 in");
  });

  it("reads back as the same figure when printed", () => {
    for (const [text, kind] of [["83.00 mm", "length"], ["3/8 in", "length"], ["40 lb-ft", "torque"], ["0.20 ± 0.02 mm", "length"], ["9.4:1", "ratio"], ["+0.50 mm", "length"]] as [string, KindId][]) {
      const q = quantity(text, kind);
      expect(quantity(formatQuantity(q), kind).interval).toEqual(q.interval);
    }
  });
});

describe("a band", () => {
  it.each([
    [{ low: 10100, nominal: 10250, high: 10400 }, "force", "kilonewton", "10.1 … 10.4 kN"],
    [{ low: 10101, nominal: 10102, high: 10103 }, "force", "kilonewton", "10.1 kN"],
    [{ low: 9.38, nominal: 9.41, high: 9.44 }, "ratio", undefined, "9.38 … 9.44"],
    [{ low: -Infinity, nominal: 20, high: 20 }, "speed", "metre-per-second", "≤ 20.0 m/s"],
    [{ low: 0.0015, nominal: 0.0015, high: Infinity }, "length", "millimetre", "≥ 1.50 mm"],
  ] as const)("%o of %s in %s prints as %s", (interval, kind, unit, text) => {
    expect(formatBand(interval, kind, unit)).toBe(text);
  });

  it("has the other system beside it on request", () => {
    expect(formatBand({ low: 0.00018, nominal: 0.0002, high: 0.00022 }, "length", "millimetre", { both: true })).toBe("0.18 … 0.22 mm (7.1 … 8.7 thou)");
    expect(formatValue(0.083, "length", "millimetre", { both: true })).toBe("83.00 mm (3.268 in)");
  });
});

describe("the other system", () => {
  it("is always a unit of the same kind, and never the unit itself", () => {
    for (const unit of IDS) {
      for (const size of [1e-6, 0.001, 1, 1000]) {
        const other = inOtherSystem(unit, usualKind(unit), size);
        if (other === undefined) continue;
        expect(unitsAgree(unit, other), unit).toBe(true);
        expect(other).not.toBe(unit);
      }
    }
  });

  it("crosses between metric and inch wherever the unit belongs to one of them", () => {
    // Mercury in millimetres is answered in the inches that gauges are marked in.
    for (const unit of IDS) {
      const other = inOtherSystem(unit, usualKind(unit), 1);
      if (other !== undefined && UNITS[unit].system !== "both") expect(UNITS[other].system, unit).not.toBe(UNITS[unit].system);
    }
  });

  it("is wanting only where both systems say the same or no density is known", () => {
    const wanting = IDS.filter((u) => UNITS[u].system !== "both" && inOtherSystem(u, usualKind(u), 1) === undefined).map(spellingOfUnit);
    expect(wanting).toEqual(["cc/min", "kg/L", "g/cc", "kg/m³", "m/s²", "kg·m²"]);
  });

  it("goes to small units for small figures", () => {
    expect(inOtherSystem("newton-metre", "torque", 12)).toBe("pound-inch");
    expect(inOtherSystem("newton-metre", "torque", 58)).toBe("pound-foot");
    expect(inOtherSystem("millimetre", "length", 0.0002)).toBe("thou");
    expect(inOtherSystem("millimetre", "length", 0.083)).toBe("inch");
    expect(unitFor("torque", "inch", 12)).toBe("pound-inch");
    expect(unitFor("torque", "metric", 12)).toBe("newton-metre");
  });

  it("gives every kind units of its own to print in", () => {
    for (const kind of Object.keys(KINDS) as KindId[]) {
      const { metric, inch, bare } = kindOf(kind);
      if (bare) continue;
      expect(unitFits(kind, metric as UnitId) && unitFits(kind, inch as UnitId), kind).toBe(true);
    }
  });

  it("finds the example of every kind to be one", () => {
    for (const kind of Object.keys(KINDS) as KindId[]) expect(problems(kindOf(kind).example, kind), kind).toEqual([]);
  });
});

describe("a value beside its limit", () => {
  it.each([
    [0.02735, 0.0274, "length", "millimetre", 1, { value: "27.35", limit: "27.4" }],
    [0.02739, 0.0274, "length", "millimetre", 1, { value: "27.39", limit: "27.4" }],
    [0.027396, 0.0274, "length", "millimetre", 1, { value: "27.396", limit: "27.4" }],
    [0.027404, 0.0274, "length", "millimetre", 1, { value: "27.404", limit: "27.4" }],
    [0.0274, 0.0274, "length", "millimetre", 1, { value: "27.40", limit: "27.4" }],
    [19.98, 20, "speed", "metre-per-second", undefined, { value: "19.98", limit: "20.0" }],
    [109.4, 109.5, "angle", "degree", undefined, { value: "109.4", limit: "109.5" }],
    [6499.6, 6500, "rotation", "revolution-per-minute", 0, { value: "6499.6", limit: "6500" }],
    [0.999, 1, "ratio", undefined, undefined, { value: "0.999", limit: "1.00" }],
  ] as const)("%s against %s of %s in %s", (value, limit, kind, unit, decimals, expected) => {
    expect(formatAgainst(value, limit, kind, unit, decimals)).toEqual(expected);
  });

  it("never prints on the other side of it, nor as equal, in any unit", () => {
    const kinds = (Object.keys(KINDS) as KindId[]).filter((k) => !kindOf(k).bare);
    fc.assert(
      fc.property(
        fc.constantFrom(...kinds), fc.nat(), fc.double({ min: 0.01, max: 5000, noNaN: true }), fc.integer({ min: -8, max: 0 }), fc.constantFrom(-1, 1), fc.option(fc.nat({ max: 4 }), { nil: undefined }),
        (kind, which, x, exponent, side, decimals) => {
          const { units } = kindOf(kind);
          const unit = units[which % units.length] as UnitId;
          const limit = toKindBase(x, unit, kind);
          const value = toKindBase(x * (1 + side * 10 ** exponent), unit, kind);
          const shown = formatAgainst(value, limit, kind, unit, decimals);
          const order = compareWithLimit(fromKindBase(value, unit, kind), fromKindBase(limit, unit, kind));
          expect(Math.sign(Number(shown.value) - Number(shown.limit))).toBe(order);
        },
      ),
      { seed: 12, numRuns: 5000 },
    );
  });

  it("takes what conversion alone makes different for equal", () => {
    expect(compareWithLimit(0.1 + 0.2, 0.3)).toBe(0);
    expect(compareWithLimit(0.3 * (1 - 1e-6), 0.3)).toBe(-1);
    expect(formatAgainst(0.1 + 0.2, 0.3, "number", undefined, 1)).toEqual({ value: "0.3", limit: "0.3" });
    expect(compareWithLimit(toKindBase(1, "inch", "length"), toKindBase(25.4, "millimetre", "length"))).toBe(0);
  });

  it("holds for open limits", () => {
    expect(formatAgainst(1, Infinity, "number", undefined)).toEqual({ value: "1", limit: "∞" });
    expect(compareWithLimit(1, Infinity)).toBe(-1);
  });
});
