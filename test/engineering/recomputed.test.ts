// Recomputes formulas with mathjs, unit-aware, on random inputs from fixed seeds: a slip of dimension or of a factor of ten shows here.

import fc from "fast-check";
import { all, create } from "mathjs";
import type { Unit } from "mathjs";
import { describe, expect, it } from "vitest";
import * as eng from "../../server/engineering/index.ts";

const math = create(all!, {});

/** A quantity drawn in a shop's unit; the engineering function gets its SI value, mathjs the unit itself. */
interface Drawn {
  readonly from: number;
  readonly to: number;
  readonly unit: string;
  readonly si: string;
}

const mm = (from: number, to: number): Drawn => ({ from, to, unit: "mm", si: "m" });
const pure = (from: number, to: number): Drawn => ({ from, to, unit: "", si: "" });

interface Recomputation {
  readonly name: string;
  readonly inputs: Readonly<Record<string, Drawn>>;
  readonly expression: string;
  readonly ours: (given: Readonly<Record<string, number>>) => number;
}

const recomputations: readonly Recomputation[] = [
  {
    name: "engine displacement",
    inputs: { B: mm(50, 120), S: mm(40, 120), n: pure(1, 1) },
    expression: "(pi/4 * B^2 * S * 6) to m^3",
    ours: ({ B, S }) => eng.engineDisplacement({ bore: B!, stroke: S!, cylinders: 6 }),
  },
  {
    name: "compression ratio from the parts",
    inputs: {
      B: mm(60, 110), S: mm(50, 110), g: mm(111, 115), t: mm(0.5, 2), k: mm(-0.3, 1),
      V: { from: 30, to: 90, unit: "cm^3", si: "m^3" }, D: { from: -5, to: 15, unit: "cm^3", si: "m^3" },
    },
    expression: "1 + (pi/4*B^2*S) / (V + pi/4*g^2*t + pi/4*B^2*k + D)",
    ours: ({ B, S, g, t, k, V, D }) => eng.compressionRatio({
      sweptVolume: eng.cylinderDisplacement({ bore: B!, stroke: S! }),
      clearanceVolume: eng.clearanceVolume({ bore: B!, chamberVolume: V!, gasketBore: g!, gasketThickness: t!, deckClearance: k!, pistonVolume: D! }),
    }),
  },
  {
    name: "mean piston speed",
    inputs: { S: mm(40, 120), N: { from: 500, to: 12000, unit: "1/minute", si: "1/minute" } },
    expression: "(2 * S * N) to m/s",
    ours: ({ S, N }) => eng.meanPistonSpeed({ stroke: S!, rpm: N! }),
  },
  {
    name: "piston acceleration at top dead centre",
    inputs: { S: mm(40, 110), L: mm(111, 220), N: { from: 500, to: 12000, unit: "1/minute", si: "1/minute" } },
    expression: "(S/2 * (2*pi*N)^2 * (1 + S/(2*L))) to m/s^2",
    ours: ({ S, L, N }) => eng.peakPistonAcceleration({ stroke: S!, rodLength: L!, rpm: N! }),
  },
  {
    name: "spring rate",
    inputs: { d: mm(2, 6), D: mm(18, 40), n: pure(3, 8), G: { from: 70, to: 85, unit: "GPa", si: "Pa" } },
    expression: "(G * d^4 / (8 * D^3 * n)) to N/m",
    ours: ({ d, D, n, G }) => eng.springRate({ wire: d!, meanDiameter: D!, activeCoils: n!, shearModulus: G! }),
  },
  {
    name: "spring shear stress with the Wahl factor",
    inputs: { d: mm(2, 6), D: mm(18, 40), F: { from: 50, to: 2000, unit: "N", si: "N" } },
    expression: "(((4*D/d - 1)/(4*D/d - 4) + 0.615*d/D) * 8*F*D/(pi*d^3)) to Pa",
    ours: ({ d, D, F }) => eng.springShearStress({
      load: F!, wire: d!, meanDiameter: D!, factor: eng.wahlFactor({ index: eng.springIndex({ wire: d!, meanDiameter: D! }) }),
    }),
  },
  {
    name: "surge frequency from stiffness and mass, half the root of k over m",
    inputs: { d: mm(2, 6), D: mm(18, 40), n: pure(3, 8), G: { from: 70, to: 85, unit: "GPa", si: "Pa" }, r: { from: 7700, to: 8000, unit: "kg/m^3", si: "kg/m^3" } },
    expression: "(sqrt((G*d^4/(8*D^3*n)) / (pi*d^2/4 * pi*D*n * r)) / 2) to Hz",
    ours: ({ d, D, n, G, r }) => eng.surgeFrequency({ wire: d!, meanDiameter: D!, activeCoils: n!, shearModulus: G!, density: r! }),
  },
  {
    name: "metric stress area as the mean of pitch and minor diameter",
    inputs: { d: mm(5, 20), P: mm(0.8, 1.5) },
    // d2 and d3 from the height of the 60° triangle, H = P·√3/2: d2 = d − 3/4·H, d3 = d − 17/12·H (ISO 68-1, ISO 724).
    expression: "(pi/4 * ((d - 3/4*P*sqrt(3)/2 + d - 17/12*P*sqrt(3)/2)/2)^2) to m^2",
    ours: ({ d, P }) => eng.stressArea({ form: "metric", diameter: d!, pitch: P! }),
  },
  {
    name: "clamp load by the long form",
    inputs: { T: { from: 5, to: 200, unit: "N m", si: "N m" }, P: mm(0.8, 2), e: mm(5, 15), b: mm(7, 20), u: pure(0.05, 0.25), v: pure(0.05, 0.25) },
    expression: "(T / (P/(2*pi) + 0.577*e*u + b/2*v)) to N",
    ours: ({ T, P, e, b, u, v }) => eng.loadFromTorque({ torque: T!, pitch: P!, pitchDiameter: e!, bearingDiameter: b!, threadFriction: u!, headFriction: v! }),
  },
  {
    name: "bolt stiffness of shank and thread in series",
    inputs: { d: mm(6, 14), P: mm(1, 1.5), s: mm(10, 80), t: mm(5, 40), E: { from: 190, to: 215, unit: "GPa", si: "Pa" } },
    expression: "(1 / (s/(E*pi/4*d^2) + t/(E*pi/4*(d - 0.9382*P)^2))) to N/m",
    ours: ({ d, P, s, t, E }) => eng.boltStiffness({
      modulus: E!,
      sections: [{ length: s!, area: eng.boreArea({ bore: d! }) }, { length: t!, area: eng.stressArea({ form: "metric", diameter: d!, pitch: P! }) }],
    }),
  },
  {
    name: "power from torque, with horsepower on the way",
    inputs: { T: { from: 20, to: 800, unit: "N m", si: "N m" }, N: { from: 500, to: 12000, unit: "1/minute", si: "1/minute" } },
    expression: "(T * 2*pi*N) to W",
    ours: ({ T, N }) => eng.powerFromTorque({ torque: T!, rpm: N! }),
  },
  {
    name: "mean effective pressure as work of two turns over displacement",
    inputs: { T: { from: 20, to: 800, unit: "N m", si: "N m" }, V: { from: 200, to: 8000, unit: "cm^3", si: "m^3" } },
    expression: "(T * 4*pi / V) to Pa",
    ours: ({ T, V }) => eng.brakeMeanEffectivePressure({ torque: T!, displacement: V! }),
  },
  {
    name: "dry air density from the molar gas constant",
    inputs: { p: { from: 60, to: 105, unit: "kPa", si: "Pa" }, T: { from: 250, to: 320, unit: "K", si: "K" } },
    // 28.96442 kg/kmol and 8314.32 J/(kmol·K) are the constants of the standard atmosphere.
    expression: "(p * 28.96442 g/mol / (8.31432 J/(mol K) * T)) to kg/m^3",
    ours: ({ p, T }) => eng.dryAirDensity({ pressure: p!, temperature: T! }),
  },
  {
    name: "compressor outlet temperature",
    inputs: { T: { from: 270, to: 320, unit: "K", si: "K" }, r: pure(1.05, 3), h: pure(0.45, 0.85) },
    expression: "T * (1 + (r^(0.4/1.4) - 1)/h)",
    ours: ({ T, r, h }) => eng.compressorOutletTemperature({ inletTemperature: T!, ratio: r!, efficiency: h! }),
  },
  {
    name: "fuel pump flow",
    inputs: {
      P: { from: 50, to: 500, unit: "kW", si: "W" }, c: { from: 240, to: 420, unit: "g/(kW hour)", si: "kg/J" },
      r: { from: 700, to: 800, unit: "kg/m^3", si: "kg/m^3" }, w: pure(0, 0.3),
    },
    expression: "(P * c / r * (1 + w)) to m^3/s",
    ours: ({ P, c, r, w }) => eng.requiredPumpFlow({ power: P!, specificConsumption: c!, density: r!, margin: w! }),
  },
  {
    name: "road speed",
    inputs: { N: { from: 500, to: 9000, unit: "1/minute", si: "1/minute" }, C: mm(1500, 2300), g: pure(0.7, 4), f: pure(2.5, 5) },
    expression: "(N * C / (g * f)) to m/s",
    ours: ({ N, C, g, f }) => eng.roadSpeed({ rpm: N!, circumference: C!, gear: g!, finalDrive: f! }),
  },
];

/** The stress-area constant 0.9382 and the gas constant 287.05287 are printed rounded: the free recomputation differs by that much. */
const roundedConstants: Readonly<Record<string, number>> = {
  "metric stress area as the mean of pitch and minor diameter": 5e-6,
  "dry air density from the molar gas constant": 1e-7,
};

function asSi(value: number, { unit, si }: Drawn): number {
  return unit === si ? value : math.unit(value, unit).toNumber(si);
}

describe("formulas recomputed by mathjs with units", () => {
  it.each(recomputations.map((one) => [one.name, one] as const))("%s", (name, { inputs, expression, ours }) => {
    const compiled = math.compile(expression);
    const names = Object.keys(inputs);
    const draws = names.map((key) => fc.double({ min: inputs[key]!.from, max: inputs[key]!.to, noNaN: true }));
    fc.assert(
      fc.property(fc.tuple(...draws), (values) => {
        const scope: Record<string, number | Unit> = {};
        const given: Record<string, number> = {};
        names.forEach((key, index) => {
          const drawn = inputs[key]!;
          const value = values[index]!;
          scope[key] = drawn.unit === "" ? value : math.unit(value, drawn.unit);
          given[key] = asSi(value, drawn);
        });
        const theirs: number | Unit = compiled.evaluate(scope);
        const expected = typeof theirs === "number" ? theirs : theirs.toNumber(theirs.formatUnits());
        const actual = ours(given);
        expect(Math.abs(actual - expected)).toBeLessThanOrEqual((roundedConstants[name] ?? 1e-9) * Math.abs(expected));
      }),
      { seed: 20_270_314, numRuns: 60 },
    );
  });
});

describe("the slider-crank agrees with its own derivatives", () => {
  const crank = fc.record({
    stroke: fc.double({ min: 0.04, max: 0.12, noNaN: true }),
    ratio: fc.double({ min: 1.3, max: 2.5, noNaN: true }),
    crankDeg: fc.double({ min: -360, max: 360, noNaN: true }),
    rpm: fc.double({ min: 600, max: 12000, noNaN: true }),
  });
  // math.derivative works on the written expression, so this is symbolic, not a difference quotient.
  const travel = "a + l - (a*cos(t) + sqrt(l^2 - a^2*sin(t)^2))";
  const speed = math.derivative(travel, "t");
  const acceleration = math.derivative(speed, "t");

  it("position, speed and acceleration are each other's symbolic derivatives", () => {
    fc.assert(
      fc.property(crank, ({ stroke, ratio, crankDeg, rpm }) => {
        const rodLength = stroke * ratio;
        const scope = { a: stroke / 2, l: rodLength, t: (crankDeg * Math.PI) / 180 };
        const omega = (rpm * Math.PI) / 30;
        const near = (actual: number, expected: number, scale: number) =>
          expect(Math.abs(actual - expected)).toBeLessThanOrEqual(1e-9 * scale);
        near(eng.pistonTravel({ stroke, rodLength, crankDeg }), math.evaluate(travel, scope) as number, stroke);
        near(eng.pistonSpeed({ stroke, rodLength, crankDeg, rpm }), omega * (speed.evaluate(scope) as number), stroke * omega);
        near(eng.pistonAcceleration({ stroke, rodLength, crankDeg, rpm }), omega ** 2 * (acceleration.evaluate(scope) as number), stroke * omega ** 2);
      }),
      { seed: 20_270_315, numRuns: 80 },
    );
  });
});
