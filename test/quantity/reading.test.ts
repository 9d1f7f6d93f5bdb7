import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Part } from "../../grammar/tree.ts";
import { KINDS } from "../../server/quantity/kinds.ts";
import type { KindId } from "../../server/quantity/kinds.ts";
import { readValue } from "../../server/quantity/value.ts";
import { nearestUnits, slipDistance } from "../../server/quantity/spelling.ts";
import { mended, partsOf, problems, quantity, read } from "./reading.ts";

/** [low, nominal, high] in the base of the kind, to twelve figures. */
function spread(text: string, kind: KindId): number[] {
  const { low, nominal, high } = quantity(text, kind).interval;
  return [low, nominal, high].map((x) => Number(x.toPrecision(12)));
}

describe("figures as the trade writes them", () => {
  it.each([
    ["83.00 mm", "length", [0.083, 0.083, 0.083]],
    ["25 N·m oiled", "torque", [25, 25, 25]],
    ["3/8 in", "length", [0.009525, 0.009525, 0.009525]],
    ["1-1/4 in", "length", [0.03175, 0.03175, 0.03175]],
    ["1 1/2 turn", "angle", [540, 540, 540]],
    [".007 in", "length", [0.0001778, 0.0001778, 0.0001778]],
    ["90 °C", "temperature", [363.15, 363.15, 363.15]],
    ["-10 °C", "temperature", [263.15, 263.15, 263.15]],
    ["50 °F", "temperature-difference", [27.7777777778, 27.7777777778, 27.7777777778]],
    ["9.4:1", "ratio", [9.4, 9.4, 9.4]],
    ["1.50", "ratio", [1.5, 1.5, 1.5]],
    ["85 %", "fraction", [0.85, 0.85, 0.85]],
    ["0.85", "fraction", [0.85, 0.85, 0.85]],
    ["4", "count", [4, 4, 4]],
    ["5.2", "number", [5.2, 5.2, 5.2]],
    ["14.7:1", "mixture", [14.7, 14.7, 14.7]],
    ["0.86 lambda", "mixture", [0.86, 0.86, 0.86]],
    ["98 RON", "octane", [98, 98, 98]],
    ["6500 rpm", "rotation", [6500, 6500, 6500]],
  ] as [string, KindId, number[]][])("%s, a %s", (text, kind, expected) => {
    expect(spread(text, kind)).toEqual(expected);
  });

  it.each([
    ["1800 .. 2400 rpm", "rotation", [1800, 2100, 2400], "range"],
    ["0.20 ± 0.02 mm", "length", [0.00018, 0.0002, 0.00022], "tolerance"],
    ["0.20 mm ± 0.02", "length", [0.00018, 0.0002, 0.00022], "tolerance"],
    ["83.00 +0.02 -0.01 mm", "length", [0.08299, 0.083, 0.08302], "tolerance"],
    ["± 8 deg", "angle", [-8, 0, 8], "tolerance"],
    ["20 N·m ± 10 %", "torque", [18, 20, 22], "tolerance"],
    ["90 ± 5 °C", "temperature", [358.15, 363.15, 368.15], "tolerance"],
    [">= 1.5 mm", "length", [0.0015, 0.0015, Infinity], "at-least"],
    ["< 0.05 mm", "length", [-Infinity, 0.00005, 0.00005], "at-most"],
    ["(10 .. 12) mm", "length", [0.01, 0.011, 0.012], "range"],
    ["10 mm .. 1/2 in", "length", [0.01, 0.01135, 0.0127], "range"],
    ["0.20 goes 0.22 mm stops", "length", [0.0002, 0.00021, 0.00022], "range"],
    ["0.20 goes 0.22 stops mm", "length", [0.0002, 0.00021, 0.00022], "range"],
    ["0.20 mm goes", "length", [0.0002, 0.0002, Infinity], "at-least"],
    ["0.22 mm stops", "length", [-Infinity, 0.00022, 0.00022], "at-most"],
  ] as [string, KindId, number[], string][])("%s, a %s, has its spread", (text, kind, expected, shape) => {
    expect(spread(text, kind)).toEqual(expected);
    expect(quantity(text, kind).shape).toBe(shape);
  });

  it.each([
    ["2 * 0.40 mm", "length", 0.0008],
    ["12 mm + 1/2 in", "length", 0.0247],
    ["12 + 3 mm", "length", 0.015],
    ["(2 + 3) * 2 mm", "length", 0.01],
    ["10 mm * 5 mm", "area", 0.00005],
    ["10 N * 20 mm", "torque", 0.2],
    ["80 mm / 2", "length", 0.04],
    ["-(2 + 3 mm)", "length", -0.005],
    ["2 mm / 1 mm", "ratio", 2],
    ["0.5 N·m - 2 in-lb", "torque", 0.274030341945],
  ] as [string, KindId, number][])("%s comes to a %s", (text, kind, expected) => {
    expect(Number(quantity(text, kind).interval.nominal.toPrecision(12))).toBe(expected);
  });

  it("takes the unit of the list or of the column for a figure without one, and never for a count", () => {
    const inheritedUnit = { text: "mm", span: { start: 900, end: 902 } };
    expect(quantity("0.20", "length", { inheritedUnit }).interval.nominal).toBeCloseTo(0.0002, 12);
    expect(quantity("0.008 in", "length", { inheritedUnit }).unit).toBe("inch");
    expect(quantity("4", "count", { inheritedUnit }).interval.nominal).toBe(4);
    expect(read("0.20", "angle", { inheritedUnit }).problems[0]?.code).toBe("wrong-dimension");
  });

  it("reads whichever of several kinds the unit is of", () => {
    expect(quantity("440 cc/min", "volume-flow", { or: ["mass-flow"] }).kind).toBe("volume-flow");
    expect(quantity("42 lb/h", "volume-flow", { or: ["mass-flow"] }).kind).toBe("mass-flow");
    expect(problems("42 mm", "volume-flow", { or: ["mass-flow"] })).toEqual(["wrong-dimension: 42 mm is a length, and a flow by volume or a flow by weight is wanted here, such as 42 cc/min."]);
  });
});

describe("digits as written", () => {
  it("give half a unit in the last place as slack, in the base of the kind", () => {
    expect(quantity("83.00 mm", "length").halfDigit).toBeCloseTo(0.000005, 12);
    expect(quantity("3.27 in", "length").halfDigit).toBeCloseTo(0.000127, 12);
    expect(quantity("1.8 L", "volume").halfDigit).toBeCloseTo(0.00005, 12);
    expect(quantity("3/8 in", "length").halfDigit).toBe(0);
    expect(quantity("25 °C", "temperature").halfDigit).toBe(0.5);
  });

  it("count a bare whole multiplier as exact", () => {
    expect(quantity("2 * 0.40 mm", "length").halfDigit).toBeCloseTo(0.00001, 12);
  });

  it("add up in a sum, and in a product in proportion", () => {
    expect(quantity("10.0 mm + 5.0 mm", "length").halfDigit).toBeCloseTo(0.0001, 12);
    expect(quantity("10.0 mm * 5.0 mm", "area").halfDigit).toBeCloseTo(0.00000075, 12);
    expect(quantity("80.0 mm / 2", "length").halfDigit).toBeCloseTo(0.000025, 12);
  });

  it("keep decimals, digits and places for fixes; an expression gives none", () => {
    const q = quantity("0.200 .. 0.25 mm", "length");
    expect(q.decimals).toBe(3);
    expect(q.digits).toEqual(["0.200", "0.25"]);
    expect(q.figures.length).toBe(2);
    expect(q.unitSpans.length).toBe(1);
    expect(quantity("2 * 0.40 mm", "length").figures).toEqual([]);
  });

  it("remember that a sign was written", () => {
    expect(quantity("+0.50 mm over", "length").signed).toBe(true);
    expect(quantity("0.50 mm over", "length").signed).toBe(false);
  });
});

describe("words round a figure", () => {
  const words = (text: string, kind: KindId) => read(text, kind).qualifiers.map((q) => q.text);

  it.each([
    ["0.20 mm cold", "length", ["cold"]],
    ["3 deg crank retarded", "angle", ["crank", "retarded"]],
    ["1.00 mm at valve", "length", ["at valve"]],
    ["1/2 turn past zero", "angle", ["past zero"]],
    ["+0.50 mm over", "length", ["over"]],
    ["0.20 mm (cold)", "length", ["cold"]],
    ["92 hp at wheels", "power", ["at wheels"]],
    ["10 deg btdc at 850 rpm", "angle", ["btdc"]],
  ] as [string, KindId, string[]][])("%s", (text, kind, expected) => {
    expect(words(text, kind)).toEqual(expected);
    expect(problems(text, kind)).toEqual([]);
  });

  it("attach a figure that follows them", () => {
    const value = read("1800 .. 2400 rpm for 20 min", "rotation");
    expect(value.clauses.map((c) => [c.word.text, c.quantity?.kind, c.quantity?.interval.nominal])).toEqual([["for", "time", 1200]]);
    const timing = read("10 deg btdc at 850 rpm", "angle");
    expect(timing.clauses.map((c) => [c.word.text, c.quantity?.kind, c.quantity?.interval.nominal])).toEqual([["at", "rotation", 850]]);
  });

  it("attach a date", () => {
    expect(read("0.20 mm cold on 2027-03-14", "length").clauses[0]?.date?.text).toBe("2027-03-14");
  });

  it("ask a clause for the unit its word implies", () => {
    expect(problems("1800 rpm for 20", "rotation")).toEqual(["unit-missing: 20 has no unit. A time is written like 20 min."]);
  });

  it("are no problem alone where the key takes them", () => {
    expect(read("unstated", "length", { qualifiers: ["unstated"] })).toMatchObject({ problems: [], qualifiers: [{ text: "unstated" }] });
    expect(problems("big", "length")).toEqual(["not-a-figure: big is no figure, and a length is wanted here. A length is written like 83.00 mm."]);
  });
});

describe("printed pairs", () => {
  it.each([
    [".008 in (0.20 mm)", "length"], ["0.20 mm (.008 in)", "length"], ["98 N·m (72 ft-lb)", "torque"], ["98 N·m (72 ft-lb) (10.0 kgf·m)", "torque"],
    ["20 .. 25 N·m (15 .. 18 ft-lb)", "torque"], ["1/2 in (12.7 mm)", "length"], ["90 °C (194 °F)", "temperature"], ["1.2 bar (17 psi)", "pressure"],
  ] as [string, KindId][])("%s agrees within the digits of both", (text, kind) => {
    expect(problems(text, kind)).toEqual([]);
  });

  it.each([
    [".008 in (0.25 mm)", "length", ".008 in is 0.203 mm, not 0.25 mm."],
    ["0.25 mm (.008 in)", "length", "0.25 mm is 0.0098 in, not .008 in."],
    ["98 N·m (82 ft-lb)", "torque", "98 N·m is 72.3 ft-lb, not 82 ft-lb."],
    ["20 .. 25 N·m (15 .. 25 ft-lb)", "torque", "20 .. 25 N·m is 14.8 .. 18.4 ft-lb, not 15 .. 25 ft-lb."],
    ["3/8 in (9.50 mm)", "length", "3/8 in is 9.525 mm, not 9.50 mm."],
  ] as [string, KindId, string][])("%s disagrees", (text, kind, message) => {
    expect(problems(text, kind)).toEqual([`printed-pair-disagrees: ${message} One of the two was copied wrong: look at the source again.`]);
  });

  it("disagree just past the slack of both and not just within", () => {
    // 100 N·m ± 0.5 is 73.76 ± 0.37 ft-lb; 74 and 73 have ± 0.5 of their own.
    expect(problems("100 N·m (74 ft-lb)", "torque")).toEqual([]);
    expect(problems("100 N·m (73 ft-lb)", "torque")).toEqual([]);
    expect(problems("100 N·m (72 ft-lb)", "torque").length).toBe(1);
    expect(problems("100 N·m (75 ft-lb)", "torque").length).toBe(1);
  });

  it("need a unit in the brackets too", () => {
    expect(problems(".008 in (0.20)", "length")).toEqual(["unit-missing: (0.20) has no unit. A length is written like 83.00 mm."]);
  });
});

describe("what cannot be read", () => {
  it.each([
    ["25", "torque", "unit-missing: 25 has no unit. A torque is written like 25 N·m.", ["25 N·m", "25 ft-lb", "25 in-lb"]],
    ["1800 .. 2400", "rotation", "unit-missing: 1800 .. 2400 has no unit. A speed of rotation is written like 6500 rpm.", ["1800 .. 2400 rpm"]],
    ["35 lb", "torque", "wrong-dimension: 35 lb is a mass, and a torque is wanted here, such as 35 ft-lb.", ["35 ft-lb", "35 in-lb"]],
    ["2.5 kg", "torque", "wrong-dimension: 2.5 kg is a mass, and a torque is wanted here, such as 2.5 kgf·m.", ["2.5 kgf·m", "2.5 kgf·cm"]],
    ["240 lb", "force", "wrong-dimension: 240 lb is a mass, and a force is wanted here, such as 240 lbf.", ["240 lbf"]],
    ["90 deg", "temperature", "wrong-dimension: 90 deg is an angle, and a temperature is wanted here, such as 90 °C.", ["90 °C", "90 °F"]],
    ["2.5 kg", "pressure", "wrong-dimension: 2.5 kg is a mass, and a pressure is wanted here, such as 2.5 kgf/cm².", ["2.5 kgf/cm²"]],
    ["4 mm", "count", "wrong-dimension: 4 mm is a length, and a whole number is wanted here, such as 4.", []],
    ["50 %", "ratio", "wrong-dimension: 50% is a fraction, and a ratio is wanted here, such as 9.4:1.", []],
    ["98 RON", "mixture", "wrong-dimension: 98 RON is an octane number, and a mixture is wanted here, such as 98 afr.", ["98 afr", "98 lambda"]],
    ["10 mm * 5 mm", "length", "wrong-dimension: 10 mm * 5 mm does not come to a length. A length is written like 83.00 mm.", []],
    ["10 mm - 2 N", "length", "wrong-dimension: 2 N cannot be taken from 10 mm: they measure different things. Write both in units of the same sort.", []],
    ["0.8 lambda .. 12 afr", "mixture", "wrong-dimension: 0.8 lambda and 12 afr are on different scales. Write both on the same one.", []],
    ["25 Nmm", "torque", 'unknown-unit: "Nmm" is no unit known here. Was N·m meant?', ["25 N·m"]],
    ["25Nmm", "torque", 'unknown-unit: "Nmm" is no unit known here. Was N·m meant?', ["25N·m"]],
    ["40 ft/lb", "torque", 'unknown-unit: "ft/lb" is no unit known here. Was ft-lb meant?', ["40 ft-lb"]],
    ["8 mil", "length", 'unknown-unit: "mil" is no unit known here. Was thou meant?', ["8 thou"]],
    ["6500 rpmval", "rotation", 'unknown-unit: "rpmval" is no unit known here. Was rpm meant?', ["6500 rpm"]],
    ["83 mn", "length", 'unknown-unit: "mn" is no unit known here. Was mm or in meant?', ["83 mm", "83 in"]],
    ["22 .. 20 mm", "length", "empty-range: 22 .. 20 mm holds nothing, as its first figure is the larger. Write the smaller one first.", ["20 .. 22 mm"]],
    ["0.22 goes 0.20 mm stops", "length", "empty-range: 0.22 .. 0.20 mm holds nothing, as its first figure is the larger. Write the smaller one first.", undefined],
    ["20-25", "torque", "dashed-range: 20-25 reads as an order or a thread, not as a range. Write 20 .. 25.", ["20 .. 25"]],
    ["0.20 - 0.25 mm", "length", "dashed-range: 0.20 - 0.25 mm is a subtraction, and comes to less than nothing. If a range is meant, write 0.20 .. 0.25 mm.", ["0.20 .. 0.25 mm"]],
    ["4.5", "count", "not-a-figure: 4.5 is no whole number, and only whole ones are wanted here, such as 4.", []],
    ["9.4:1", "length", "not-a-figure: 9.4:1 is a ratio, and a length is wanted here. A length is written like 83.00 mm.", []],
    ["1e3 mm", "length", "not-a-figure: 1e3 is not read as a power of ten. Write 1000.", ["1000 mm"]],
    ["20 ..", "length", "hole: 20 .. is half a range. Write the other figure, or >= 20 if there is none.", [">= 20"]],
    ["…", "length", "hole: Not filled in yet.", []],
    ["1 mm / 0", "length", "impossible-expression: This divides by zero. Write the figure that is meant.", []],
    ["1/0 in", "length", "impossible-expression: This divides by zero. Write the figure that is meant.", []],
    ["10:0", "ratio", "impossible-expression: This divides by zero. Write the figure that is meant.", []],
    ["10 °C + 5 °C", "temperature", "impossible-expression: Temperatures in °C cannot be reckoned with, as their zero is no true zero. Write the result.", []],
    ["-300 °C", "temperature", "impossible-expression: -300 °C is colder than anything can be: nothing is below -273.15 °C.", []],
    [`${"9".repeat(400)} mm`, "length", "impossible-expression: This figure is too large to be of anything. Write the one that is meant.", []],
  ] as [string, KindId, string, string[] | undefined][])("%s for a %s", (text, kind, message, fixes) => {
    const value = read(text, kind);
    expect(value.problems.map((p) => `${p.code}: ${p.message}`)).toEqual([message]);
    expect(value.quantity).toBeUndefined();
    if (fixes) expect(mended(text, kind)).toEqual(fixes);
  });

  it("a figure that only its column's unit makes too large", () => {
    const inheritedUnit = { text: "km", span: { start: 900, end: 902 } };
    expect(problems("9".repeat(308), "distance", { inheritedUnit })).toEqual(["impossible-expression: This figure is too large to be of anything. Write the one that is meant."]);
  });

  it("mends to a text that reads, whatever the suggestion", () => {
    for (const [text, kind] of [["25", "torque"], ["35 lb", "torque"], ["2.5 kg", "pressure"], ["8 mil", "length"], ["22 .. 20 mm", "length"], ["40 ft/lb", "torque"], ["25Nmm", "torque"], ["1e3 mm", "length"]] as [string, KindId][]) {
      const all = mended(text, kind);
      expect(all.length).toBeGreaterThan(0);
      for (const fixed of all) expect(problems(fixed, kind), fixed).toEqual([]);
    }
  });

  it("two figures, and offers the range between", () => {
    expect(problems("20 mm 30 mm", "length")).toEqual(["not-a-figure: 30 mm is a second figure after 20 mm, and one is wanted here. Write a range with .. between them, or remove one."]);
    expect(mended("20 mm 30 mm", "length")).toEqual(["20 mm .. 30 mm"]);
  });

  it("puts the unit first that lands in the usual span", () => {
    const usual = { low: 0.00005, nominal: 0.0003, high: 0.0006 };
    expect(mended("0.20", "length", { usual })[0]).toBe("0.20 mm");
    expect(mended(".008", "length", { usual })[0]).toBe(".008 in");
    expect(mended("8", "length", { usual })[0]).toBe("8 thou");
  });

  it("leaves notation to the grammar, which has reported it: a comma reads on, thousands do not", () => {
    expect(quantity("0,20 mm", "length").interval.nominal).toBeCloseTo(0.0002, 12);
    expect(read("1,775 cc", "volume")).toEqual({ qualifiers: [], clauses: [], strings: [], others: [], problems: [] });
    expect(quantity("10-12 N·m", "torque").interval).toEqual({ low: 10, nominal: 11, high: 12 });
  });

  it("takes no word of the key for a misspelt unit", () => {
    expect(problems("4 cam", "angle", { qualifiers: ["cam", "crank"] })).toEqual(["unit-missing: 4 has no unit. An angle is written like 109 deg."]);
    expect(problems("4 cam", "angle")).toEqual(["unit-missing: 4 has no unit. An angle is written like 109 deg."]);
    expect(problems("8 xyz", "pressure", { qualifiers: ["gauge"] })).toEqual(['unknown-unit: "xyz" is no unit known here. A pressure is written in bar, psi or kPa.']);
  });

  it("is not fooled by words that every object knows", () => {
    for (const word of ["constructor", "toString", "hasOwnProperty", "valueOf"]) expect(read(`5 ${word}`, "length").problems[0]?.code).toBe("unit-missing");
  });
});

describe("misspelt units", () => {
  it("are told by one slip of the hand: a letter more, less, other or swapped", () => {
    expect(slipDistance("thou", "htou")).toBe(1);
    expect(slipDistance("thou", "thu")).toBe(1);
    expect(slipDistance("thou", "thoug")).toBe(1);
    expect(slipDistance("thou", "thiu")).toBe(1);
    expect(slipDistance("", "abc")).toBe(3);
  });

  it("offer nothing where nothing is near", () => {
    expect(nearestUnits("sausage", KINDS.torque.units)).toEqual([]);
  });
});

describe("any value at all", () => {
  const span = { start: 0, end: 1 };
  const figures = fc.record({
    form: fc.constantFrom("number", "fraction", "ratio", "dashed", "comma"),
    value: fc.oneof(fc.double(), fc.constantFrom(0, -0, NaN, Infinity, 1e308, 5e-324)),
    unit: fc.option(fc.constantFrom("mm", "in", "°C", "N·m", "%", "rpm", "afr", "lambda", "kg", "nonsense"), { nil: undefined }),
    digits: fc.constantFrom("1", "0.20", "1/2", "9.4:1", "1-3-4-2", "10-12", "0,20", ""),
  }).map(({ form, value, unit, digits }) => ({ kind: "figure", form, digits: { text: digits, span }, value, halfDigit: 0.5, span, ...(unit && { unit: { text: unit, span } }) }) as Part);
  const { part } = fc.letrec<{ part: Part }>((tie) => ({
    part: fc.oneof(
      { maxDepth: 5, depthSize: "small" },
      figures,
      fc.constantFrom("cold", "at", "valve", "goes", "stops", "past", "mm", "for", "over").map((text) => ({ kind: "word", text, span }) as Part),
      fc.constantFrom<Part>({ kind: "hole", span }, { kind: "mark", text: "10W-40", span }, { kind: "mark", text: "25Nmm", span }, { kind: "string", text: "x", closed: true, span }, { kind: "date", text: "2027-01-01", span }, { kind: "thread", text: "M8", span }),
      fc.record({ op: fc.constantFrom("+", "-", "*", "/"), left: tie("part"), right: tie("part") }).map((b) => ({ kind: "binary", ...b, span }) as Part),
      fc.record({ low: fc.option(tie("part"), { nil: undefined }), high: fc.option(tie("part"), { nil: undefined }) }).map(({ low, high }) => ({ kind: "range", ...(low && { low }), ...(high && { high }), span }) as Part),
      fc.record({ centre: fc.option(tie("part"), { nil: undefined }), plus: tie("part"), minus: tie("part") }).map(({ centre, plus, minus }) => ({ kind: "tolerance", ...(centre && { centre }), plus, minus, span }) as Part),
      fc.record({ op: fc.constantFrom("<=", ">"), operand: tie("part") }).map((c) => ({ kind: "compare", ...c, span }) as Part),
      fc.record({ sign: fc.constantFrom("+", "-"), operand: tie("part") }).map((c) => ({ kind: "signed", ...c, span }) as Part),
      fc.array(tie("part"), { maxLength: 3 }).map((inner) => ({ kind: "group", inner, span }) as Part),
    ),
  }));
  const kinds = Object.keys(KINDS) as KindId[];

  it("reads without throwing, and never yields NaN or a range upside down", () => {
    fc.assert(
      fc.property(fc.array(part, { maxLength: 4 }), fc.constantFrom(...kinds), (parts, kind) => {
        const { quantity: q } = readValue(parts, kind);
        if (!q) return;
        const { low, nominal, high } = q.interval;
        expect([low, nominal, high, q.halfDigit].some(Number.isNaN)).toBe(false);
        expect(Number.isFinite(nominal)).toBe(true);
        expect(low <= nominal && nominal <= high).toBe(true);
        expect(Number.isFinite(low) || q.shape === "at-most").toBe(true);
        expect(Number.isFinite(high) || q.shape === "at-least").toBe(true);
      }),
      { seed: 5, numRuns: 4000 },
    );
  });

  it("gives a reason whenever it gives no quantity for a figure the grammar found nothing wrong with", () => {
    const wellWritten = figures.filter((f) => f.kind === "figure" && f.form !== "comma" && f.form !== "dashed");
    fc.assert(
      fc.property(wellWritten, fc.constantFrom(...kinds), (figure, kind) => {
        const value = readValue([figure], kind);
        expect(value.quantity !== undefined || value.problems.length > 0).toBe(true);
      }),
      { seed: 6, numRuns: 2000 },
    );
  });

  it("means the same whatever the spacing", () => {
    expect(partsOf("20mm").length).toBe(1);
    expect(quantity("20mm", "length").interval).toEqual(quantity("20 mm", "length").interval);
    expect(quantity("8°", "angle").interval).toEqual(quantity("8 deg", "angle").interval);
  });
});
