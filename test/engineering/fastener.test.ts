import { describe, expect, it } from "vitest";
import {
  angleLoad, assemblyPreload, clampLoadBand, coarsePitch, combinedStress, elasticAngleLoad, frictionBands, frictionConditions,
  gradeStrength, isInWrenchRange, loadFromTorque, loadedArea, memberStiffness, nutFactorFromFriction, nutFactors, numberedDiameter,
  pitchDiameter, propertyClassStrength, stressArea, torqueAtBolt, usualBearingDiameter, wrenchSetting,
} from "../../server/engineering/index.ts";

const m10: { form: "metric"; diameter: number; pitch: number } = { form: "metric", diameter: 0.01, pitch: 0.00125 };
const geometry = { pitch: m10.pitch, pitchDiameter: pitchDiameter(m10), bearingDiameter: usualBearingDiameter(m10).diameter };
const exactly = (value: number) => ({ low: value, nominal: value, high: value });

describe("a fastener", () => {
  it("takes the strength of its own diameter's row", () => {
    expect(propertyClassStrength({ propertyClass: "8.8", diameter: 0.016 })?.proof).toBe(580e6);
    expect(propertyClassStrength({ propertyClass: "8.8", diameter: 0.018 })?.proof).toBe(600e6);
    expect(gradeStrength({ grade: "5", diameter: 1.0 * 0.0254 })?.proof).toBeCloseTo(85 * 6894757.293, -2);
    expect(gradeStrength({ grade: "5", diameter: 1.125 * 0.0254 })?.proof).toBeCloseTo(74 * 6894757.293, -2);
  });

  it("has no strength where the standard has no row", () => {
    expect(propertyClassStrength({ propertyClass: "9.8", diameter: 0.02 })).toBeUndefined();
    expect(propertyClassStrength({ propertyClass: "11.0", diameter: 0.01 })).toBeUndefined();
    expect(gradeStrength({ grade: "5", diameter: 0.19 * 0.0254 })).toBeUndefined();
  });

  it("is as strong as its thinnest section", () => {
    const threaded = stressArea(m10);
    expect(loadedArea({ stressArea: threaded })).toBe(threaded);
    expect(loadedArea({ stressArea: threaded, shankDiameter: 0.008 })).toBeCloseTo((Math.PI / 4) * 0.008 ** 2, 15);
    expect(loadedArea({ stressArea: threaded, shankDiameter: 0.01 })).toBe(threaded);
  });

  it("knows the pitch of a size written without one, and says when it does not", () => {
    expect(coarsePitch({ diameter: 0.008 })).toBe(0.00125);
    expect(coarsePitch({ diameter: 0.0085 })).toBeUndefined();
    expect(numberedDiameter(10) / 0.0254).toBeCloseTo(0.19, 12);
  });

  it("clamps in a band: most with the slipperiest thread and the wrench reading low", () => {
    const band = clampLoadBand({ torque: { low: 56, nominal: 58, high: 60 }, wrenchError: 0.04, friction: frictionBands.oiled, ...geometry });
    expect(band.low).toBeLessThan(band.nominal);
    expect(band.nominal).toBeLessThan(band.high);
    expect(band.high).toBeCloseTo(loadFromTorque({ torque: 60 * 1.04, ...geometry, threadFriction: 0.08, headFriction: 0.08 }), 9);
  });

  it("clamps harder oiled than dry at the same torque, and loses its prevailing torque first", () => {
    const load = (condition: keyof typeof frictionBands, prevailingTorque = 0) =>
      clampLoadBand({ torque: exactly(50), wrenchError: 0, friction: frictionBands[condition], prevailingTorque, ...geometry }).nominal;
    expect(load("oiled")).toBeGreaterThan(load("dry") * 1.2);
    expect(load("oiled", 5)).toBeCloseTo(load("oiled") * 0.9, 9);
  });

  it("keeps every friction band in order and widest when nobody said", () => {
    for (const condition of frictionConditions) {
      const { low, nominal, high } = frictionBands[condition];
      expect(low, condition).toBeLessThan(nominal);
      expect(nominal, condition).toBeLessThan(high);
    }
    for (const condition of ["dry", "oiled", "threadlocked"] as const) {
      expect(frictionBands.unstated.low).toBeLessThanOrEqual(frictionBands[condition].low);
      expect(frictionBands.unstated.high).toBeGreaterThanOrEqual(frictionBands[condition].high);
    }
  });

  it("brings the textbook's nut factors inside the friction bands", () => {
    const coarse = { diameter: 0.01, pitch: 0.0015, pitchDiameter: pitchDiameter({ diameter: 0.01, pitch: 0.0015 }), bearingDiameter: usualBearingDiameter({ diameter: 0.01 }).diameter };
    const within = (condition: keyof typeof frictionBands, factor: number) => {
      const { low, high } = frictionBands[condition];
      expect(nutFactorFromFriction({ ...coarse, friction: low })).toBeLessThanOrEqual(factor);
      expect(nutFactorFromFriction({ ...coarse, friction: high })).toBeGreaterThanOrEqual(factor);
    };
    within("dry", nutFactors["nonplated, black finish"]!);
    within("oiled", nutFactors.lubricated!);
    within("zinc-plated", nutFactors["zinc-plated"]!);
    within("anti-seize", nutFactors["with a proprietary anti-seize"]!);
    within("unstated", 0.2);
  });

  it("reaches nine tenths of yield, torsion counted, at its assembly preload", () => {
    const yieldStrength = 940e6;
    const load = assemblyPreload({ thread: m10, yieldStrength, threadFriction: 0.12 });
    expect(combinedStress({ load, thread: m10, threadFriction: 0.12 })).toBeCloseTo(0.9 * yieldStrength, 0);
    expect(assemblyPreload({ thread: m10, yieldStrength, threadFriction: 0.12, torsionFactor: 2 })).toBeLessThan(load);
    expect(assemblyPreload({ thread: m10, yieldStrength, threadFriction: 0.12, shankDiameter: 0.0075 })).toBeLessThan(load);
  });

  it("never shows a turned bolt above the load it yields at", () => {
    const elasticLoad = elasticAngleLoad({ turnDeg: 90, pitch: 0.00125, boltStiffness: 292e6 });
    expect(angleLoad({ snugLoad: 15e3, elasticLoad, yieldLoad: 57e3 })).toEqual({ load: 57e3, beyondYield: true });
    expect(angleLoad({ snugLoad: 5e3, elasticLoad: 10e3, yieldLoad: 57e3 })).toEqual({ load: 15e3, beyondYield: false });
  });

  it("finds members stiffer than the bolt through them", () => {
    const members = memberStiffness({ modulus: 207e9, diameter: 0.01, grip: 0.05 });
    expect(members).toBeGreaterThan(292e6);
    expect(memberStiffness({ modulus: 71e9, diameter: 0.01, grip: 0.05 })).toBeCloseTo((members * 71) / 207, 0);
  });

  it("undoes its own adapter, whichever way the adapter points", () => {
    for (const adapterAngleDeg of [0, 45, 90, 180]) {
      const lengths = { wrenchLength: 0.4, adapterLength: 0.05, adapterAngleDeg };
      expect(torqueAtBolt({ setting: wrenchSetting({ torque: 80, ...lengths }), ...lengths })).toBeCloseTo(80, 9);
    }
    expect(wrenchSetting({ torque: 80, wrenchLength: 0.4, adapterLength: 0.05, adapterAngleDeg: 90 })).toBeCloseTo(80, 9);
    expect(wrenchSetting({ torque: 80, wrenchLength: 0.04, adapterLength: 0.05, adapterAngleDeg: 180 })).toBeNaN();
  });

  it("does not trust a big wrench with a small bolt", () => {
    expect(isInWrenchRange({ torque: 12, maximumTorque: 200 })).toBe(false);
    expect(isInWrenchRange({ torque: 40, maximumTorque: 200 })).toBe(true);
    expect(isInWrenchRange({ torque: 210, maximumTorque: 200 })).toBe(false);
  });

  it("marks the friction diameter of an unknown head as an estimate", () => {
    expect(usualBearingDiameter({ diameter: 0.01 }).estimate).toBe(false);
    const { diameter, estimate } = usualBearingDiameter({ diameter: 0.011 });
    expect(diameter).toBeCloseTo(0.01375, 12);
    expect(estimate).toBe(true);
  });
});
