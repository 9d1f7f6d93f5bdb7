import { describe, expect, it } from "vitest";
import {
  chamberVolumeForRatio, clearanceVolume, compressionRatio, compressionSlack, cylinderDisplacement, disagreement, displacementSlack,
  dynamicCompressionRatio, engineDisplacement, isComputed, peakPistonSpeedAngleDeg, pistonAcceleration, pistonTravel,
  squishClearance,
} from "../../server/engineering/index.ts";

const dunlin = {
  bore: 0.083, stroke: 0.082, rodLength: 0.1385, chamberVolume: 44.6e-6, gasketBore: 0.084, gasketThickness: 0.0008,
  deckClearance: 0.00015, pistonVolume: 3.0e-6,
};

describe("the bottom end", () => {
  it("gives a printed card its own displacement within what rounding explains", () => {
    const computed = engineDisplacement({ bore: dunlin.bore, stroke: dunlin.stroke, cylinders: 4 });
    const slack = displacementSlack({ bore: 83, boreSlack: 0.005, stroke: 82, strokeSlack: 0.005, stated: 1775, statedSlack: 0.5 });
    expect(Math.abs(disagreement({ computed, stated: 1775e-6 }))).toBeLessThan(slack);
  });

  it("holds a figure written with more digits tighter", () => {
    const coarse = displacementSlack({ bore: 83, boreSlack: 0.5, stroke: 82, strokeSlack: 0.5, stated: 1.8, statedSlack: 0.05 });
    const fine = displacementSlack({ bore: 83, boreSlack: 0.005, stroke: 82, strokeSlack: 0.005, stated: 1775, statedSlack: 0.5 });
    expect(fine).toBeLessThan(coarse / 10);
  });

  it("bounds what rounding of the volumes can do to the ratio", () => {
    const ratio = (sweptVolume: number, clearance: number) => compressionRatio({ sweptVolume, clearanceVolume: clearance });
    const slack = compressionSlack({ sweptVolume: 440e-6, sweptSlack: 1e-6, clearanceVolume: 52e-6, clearanceSlack: 0.5e-6, stated: 9.4, statedSlack: 0 });
    const worst = ratio(441e-6, 51.5e-6) / ratio(440e-6, 52e-6) - 1;
    expect(Math.abs(worst - slack)).toBeLessThan(0.02 * slack);
  });

  it("raises compression when the head is skimmed, the gasket thins or the piston gains a dome", () => {
    const ratio = (change: Partial<typeof dunlin>) => compressionRatio({
      sweptVolume: cylinderDisplacement(dunlin), clearanceVolume: clearanceVolume({ ...dunlin, ...change }),
    });
    const stock = ratio({});
    expect(ratio({ chamberVolume: 42e-6 })).toBeGreaterThan(stock);
    expect(ratio({ gasketThickness: 0.0005 })).toBeGreaterThan(stock);
    expect(ratio({ pistonVolume: -3e-6 })).toBeGreaterThan(stock);
    expect(ratio({ deckClearance: -0.0001 })).toBeGreaterThan(stock);
  });

  it("finds the chamber that gives back the ratio it was asked for", () => {
    const chamberVolume = chamberVolumeForRatio({ ...dunlin, ratio: 11 });
    const ratio = compressionRatio({ sweptVolume: cylinderDisplacement(dunlin), clearanceVolume: clearanceVolume({ ...dunlin, chamberVolume }) });
    expect(ratio).toBeCloseTo(11, 12);
  });

  it("makes the dynamic ratio meet the static one when the intake closes at bottom dead centre", () => {
    const clearance = clearanceVolume(dunlin);
    const fixed = compressionRatio({ sweptVolume: cylinderDisplacement(dunlin), clearanceVolume: clearance });
    const at = (closesAbdcDeg: number) => dynamicCompressionRatio({ ...dunlin, clearanceVolume: clearance, closesAbdcDeg });
    expect(at(0)).toBeCloseTo(fixed, 12);
    expect(at(70)).toBeLessThan(at(50));
  });

  it("puts the greatest piston speed where the acceleration is nothing", () => {
    const crankDeg = peakPistonSpeedAngleDeg(dunlin);
    expect(pistonAcceleration({ ...dunlin, crankDeg, rpm: 7000 })).toBeCloseTo(0, 6);
    expect(crankDeg).toBeGreaterThan(60);
    expect(crankDeg).toBeLessThan(90);
  });

  it.each([
    ["a zero bore", cylinderDisplacement({ bore: 0, stroke: 0.08 })],
    ["a negative stroke", cylinderDisplacement({ bore: 0.08, stroke: -0.08 })],
    ["a rod shorter than half the stroke", pistonTravel({ stroke: 0.1, rodLength: 0.05, crankDeg: 90 })],
    ["half a cylinder", engineDisplacement({ bore: 0.08, stroke: 0.08, cylinders: 1.5 })],
    ["a dome that fills the chamber", clearanceVolume({ ...dunlin, pistonVolume: -60e-6 })],
    ["a missing reading", squishClearance({ deckClearance: NaN, gasketThickness: 0.001 })],
    ["a ratio no chamber can give", chamberVolumeForRatio({ ...dunlin, ratio: 500 })],
  ])("does not compute %s", (_what, value) => {
    expect(isComputed(value)).toBe(false);
  });
});
