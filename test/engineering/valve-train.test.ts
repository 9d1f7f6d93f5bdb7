import { describe, expect, it } from "vitest";
import {
  bladePair, camshaftTurn, chooseShim, closedValveGap, coilBindMargin, companionCylinder, cosineLobeLift, durationFromEventsDeg,
  exhaustClosesAtdcDeg, exhaustOpensBbdcDeg, exhaustCentrelineFromEventsDeg, gearMarks, grossValveLift, intakeCentrelineFromEventsDeg, intakeClosesAbdcDeg,
  intakeOpensBtdcDeg, landsOnMark, lashPerShim, lashWithShim, leastGapOverSettings, leastPistonValveGapOver, leastValveToValveGap,
  lobeSeparationCamDeg, massAtValve, netValveLift, pistonValveGap, preloadAfterChanges, preloadFromTurns, pushrodLength, settingOrder,
  shiftedExhaustCentrelineDeg, shiftedIntakeCentrelineDeg, skimRetardCrankDeg, teethInError, turnsForPreload, unifiedPitch,
  valveToValveGap, valvesFreeToSet, wantedShim, wireTensileStrength,
} from "../../server/engineering/index.ts";

describe("valve events", () => {
  it("come back from the events they give", () => {
    const opensDeg = intakeOpensBtdcDeg({ durationDeg: 236, centrelineDeg: 109 });
    const closesDeg = intakeClosesAbdcDeg({ durationDeg: 236, centrelineDeg: 109 });
    expect(durationFromEventsDeg({ opensDeg, closesDeg })).toBe(236);
    expect(intakeCentrelineFromEventsDeg({ opensBtdcDeg: opensDeg, closesAbdcDeg: closesDeg })).toBe(109);
    const opensBbdcDeg = exhaustOpensBbdcDeg({ durationDeg: 232, centrelineDeg: 113 });
    const closesAtdcDeg = exhaustClosesAtdcDeg({ durationDeg: 232, centrelineDeg: 113 });
    expect(exhaustCentrelineFromEventsDeg({ opensBbdcDeg, closesAtdcDeg })).toBe(113);
  });

  it("move apart from TDC on the intake and toward it on the exhaust when retarded", () => {
    expect(shiftedIntakeCentrelineDeg({ centrelineDeg: 109, retardCrankDeg: 3 })).toBe(112);
    expect(shiftedExhaustCentrelineDeg({ centrelineDeg: 113, retardCrankDeg: 3 })).toBe(110);
  });

  it("keep the lobe separation of a single shaft whatever the gear does", () => {
    const shifted = lobeSeparationCamDeg({
      intakeCentrelineDeg: shiftedIntakeCentrelineDeg({ centrelineDeg: 109, retardCrankDeg: 5 }),
      exhaustCentrelineDeg: shiftedExhaustCentrelineDeg({ centrelineDeg: 113, retardCrankDeg: 5 }),
    });
    expect(shifted).toBe(lobeSeparationCamDeg({ intakeCentrelineDeg: 109, exhaustCentrelineDeg: 113 }));
  });

  it("show a 15.6° error on a 46-tooth gear as one tooth", () => {
    const { teeth, remainderCrankDeg } = teethInError({ errorCrankDeg: 15.6, teeth: 46 });
    expect(teeth).toBe(1);
    expect(Math.abs(remainderCrankDeg)).toBeLessThan(0.1);
    expect(teethInError({ errorCrankDeg: -1, teeth: 46 }).teeth).toBe(0);
  });

  it("retard by about one crank degree for 0.60 mm off a head with a 133 mm gear", () => {
    expect(skimRetardCrankDeg({ lowered: 0.0006, gearPitchDiameter: 0.133 })).toBeCloseTo(1.034, 3);
    expect(skimRetardCrankDeg({ lowered: -0.0006, gearPitchDiameter: 0.133 })).toBeLessThan(0);
  });

  it("tell whole marks from the space between them", () => {
    expect(gearMarks({ shiftCrankDeg: 3, markSpacingCrankDeg: 1 })).toBe(3);
    expect(landsOnMark(gearMarks({ shiftCrankDeg: 0.3, markSpacingCrankDeg: 0.1 }))).toBe(true);
    expect(landsOnMark(gearMarks({ shiftCrankDeg: 3, markSpacingCrankDeg: 2 }))).toBe(false);
  });

  it("turn the camshaft against its rotation to retard it", () => {
    expect(camshaftTurn({ shift: "retard", rotation: "clockwise" })).toBe("anticlockwise");
    expect(camshaftTurn({ shift: "advance", rotation: "clockwise" })).toBe("clockwise");
  });
});

describe("lift and springs", () => {
  it("bind the stock spring at zero lash on the bigger lobe", () => {
    const lift = grossValveLift({ lobeLift: 0.0071, rockerRatio: 1.5 });
    expect(lift).toBeCloseTo(0.01065, 12);
    expect(coilBindMargin({ installedHeight: 0.038, lift, solidHeight: 0.0274 })).toBeCloseTo(-0.00005, 12);
  });

  it("never show a negative lift when the lash swallows the lobe", () => {
    expect(netValveLift({ lobeLift: 0.0001, rockerRatio: 1.5, lash: 0.0003, lashAt: "valve" })).toBe(0);
  });

  it("give a strength for wire sizes the constants hold for, and none outside", () => {
    // A machine-design textbook's example gives 324.2 kpsi for 0.037 in music wire; its metric constants, used here, are rounded by 0.2 %.
    const kpsi = wireTensileStrength({ grade: "music wire", wire: 0.037 * 0.0254 }) / 6.894757e6;
    expect(Math.abs(kpsi / 324.2 - 1)).toBeLessThan(0.003);
    expect(wireTensileStrength({ grade: "chrome-silicon", wire: 0.02 })).toBeNaN();
  });

  it("do not count a rocker's inertia without the arm it acts on", () => {
    expect(massAtValve({ valve: 0.09, retainer: 0.02, spring: 0.06, rockerInertia: 1e-5 })).toBeNaN();
    expect(massAtValve({ valve: 0.09, retainer: 0.02, spring: 0.06, rockerInertia: 1e-5, rockerValveArm: 0.05 })).toBeCloseTo(0.134, 12);
  });
});

describe("piston and valve", () => {
  const lobe = (centrelineDeg: number, peakLift = 0.0105, durationDeg = 272) => (crankDeg: number) =>
    cosineLobeLift({ peakLift, durationDeg, fromCentrelineDeg: crankDeg - centrelineDeg });
  const sweep = { stroke: 0.082, rodLength: 0.1385, closedGap: 0.005, valveAngleDeg: 20 };

  it("finds no smaller gap by brute force", () => {
    const { gap } = leastPistonValveGapOver({ ...sweep, liftAtdc: lobe(108) });
    let brute = Infinity;
    for (let crankDeg = -60; crankDeg <= 60; crankDeg += 0.01) {
      brute = Math.min(brute, pistonValveGap({ ...sweep, lift: lobe(108)(crankDeg), crankDeg }));
    }
    expect(gap).toBeLessThanOrEqual(brute);
    expect(brute - gap).toBeLessThan(1e-8);
  });

  it("tightens the intake by an advance and the exhaust by a retard", () => {
    const intake = (centreline: number) => leastPistonValveGapOver({ ...sweep, liftAtdc: lobe(centreline) });
    const exhaust = (centreline: number) => leastPistonValveGapOver({ ...sweep, liftAtdc: lobe(-centreline) });
    expect(intake(104).gap).toBeLessThan(intake(108).gap);
    expect(exhaust(108).gap).toBeLessThan(exhaust(112).gap);
    expect(intake(108).crankDeg).toBeGreaterThan(0);
    expect(exhaust(108).crankDeg).toBeLessThan(0);
  });

  it("finds the worst gear setting of a span", () => {
    const least = leastGapOverSettings({ ...sweep, liftAtdc: lobe(108) }, { retardsDeg: [-4, 0, 4] });
    expect(least.retardDeg).toBe(-4);
    expect(least.gap).toBeCloseTo(leastPistonValveGapOver({ ...sweep, liftAtdc: lobe(104) }).gap, 12);
  });

  it("loses the gap that a skim takes, foreshortened by the valve's lean", () => {
    const stack = { deckClearance: 0.0005, gasketThickness: 0.001, valveRecess: 0.002, pocketDepth: 0.002, valveAngleDeg: 20 };
    const lost = closedValveGap(stack) - closedValveGap({ ...stack, valveRecess: 0.002 - 0.0006 });
    expect(lost).toBeCloseTo(0.0006 * Math.cos((20 * Math.PI) / 180), 12);
  });

  it("does not compute a gap from a lift nobody knows", () => {
    expect(leastPistonValveGapOver({ ...sweep, liftAtdc: () => NaN }).gap).toBeNaN();
  });

  const intake = { headDiameter: 0.031, offset: 0.018, angleDeg: 22 };
  const exhaust = { headDiameter: 0.027, offset: 0.017, angleDeg: 22 };

  it("measures shut upright valves by their rims", () => {
    const upright = (offset: number) => ({ headDiameter: 0.03, offset, angleDeg: 0 });
    expect(valveToValveGap({ intake: upright(0.017), exhaust: upright(0.017), intakeLift: 0, exhaustLift: 0 })).toBeCloseTo(0.004, 12);
    expect(valveToValveGap({ intake: upright(0.014), exhaust: upright(0.014), intakeLift: 0, exhaustLift: 0 })).toBe(0);
  });

  it("brings leaning valves together as both open, most when intake is advanced and exhaust retarded", () => {
    const at = (lift: number) => valveToValveGap({ intake, exhaust, intakeLift: lift, exhaustLift: lift });
    expect(at(0.003)).toBeLessThan(at(0));
    const least = (intakeCentreline: number, exhaustCentreline: number) => leastValveToValveGap({
      intake, exhaust, intakeLiftAtdc: lobe(intakeCentreline, 0.009, 300), exhaustLiftAtdc: lobe(-exhaustCentreline, 0.009, 300),
    }).gap;
    expect(least(106, 108)).toBeLessThan(least(110, 110));
  });
});

describe("setting the lash", () => {
  it("adds to the shim what the lash is over, one for one on a bucket", () => {
    expect(wantedShim({ fittedShim: 0.0025, measuredLash: 0.00028, targetLash: 0.0002 })).toBeCloseTo(0.00258, 12);
  });

  it("multiplies by the ratio when the lash of a finger follower is taken at the cam", () => {
    const perShim = lashPerShim({ lashAt: "cam", shimAt: "valve", rockerRatio: 1.6 });
    const shim = wantedShim({ fittedShim: 0.0025, measuredLash: 0.00028, targetLash: 0.00018, perShim });
    expect(shim - 0.0025).toBeCloseTo(0.00016, 12);
    expect(lashWithShim({ shim, fittedShim: 0.0025, measuredLash: 0.00028, perShim })).toBeCloseTo(0.00018, 12);
  });

  it("says when the nearest shim of the kit still leaves it tight", () => {
    const choice = chooseShim({
      kit: [0.0025, 0.0026], fittedShim: 0.0026, measuredLash: 0.00005, targetLash: 0.00012, lowLash: 0.00011, highLash: 0.00013,
    });
    expect(choice?.inRange).toBe(false);
    expect(choice?.shim).toBe(0.0025);
    const tight = chooseShim({ kit: [0.00255], fittedShim: 0.0026, measuredLash: 0.00005, targetLash: 0.00012, lowLash: 0.00011, highLash: 0.00013 });
    expect(tight).toEqual({ shim: 0.00255, lash: expect.closeTo(0.0001, 12) as number, inRange: false });
  });

  it("prefers the loose shim of two equally near", () => {
    const choice = chooseShim({
      kit: [0.00255, 0.00245], fittedShim: 0.0025, measuredLash: 0.0002, targetLash: 0.0002, lowLash: 0.0001, highLash: 0.0003,
    });
    expect(choice?.shim).toBe(0.00245);
  });

  it("has nothing to offer from an empty kit", () => {
    expect(chooseShim({ kit: [], fittedShim: 0.0025, measuredLash: 0.0002, targetLash: 0.0002, lowLash: 0.0001, highLash: 0.0003 })).toBeUndefined();
  });

  it("reaches for the blades either side of the target and says whether they prove the range", () => {
    const blades = [0.00015, 0.0002, 0.00022, 0.00025];
    expect(bladePair({ blades, targetLash: 0.0002, lowLash: 0.00018, highLash: 0.00022 })).toEqual({ go: 0.0002, noGo: 0.00022, provesRange: true });
    expect(bladePair({ blades: [0.00015, 0.00025], targetLash: 0.0002, lowLash: 0.00018, highLash: 0.00022 })?.provesRange).toBe(false);
    expect(bladePair({ blades, targetLash: 0.0003, lowLash: 0.00028, highLash: 0.00032 })).toBeUndefined();
  });

  it("names companions for even orders, and none for a single", () => {
    expect(companionCylinder({ firingOrder: [1, 5, 3, 6, 2, 4], cylinder: 3 })).toBe(4);
    expect(companionCylinder({ firingOrder: [1, 8, 4, 3, 6, 5, 7, 2], cylinder: 1 })).toBe(6);
    expect(companionCylinder({ firingOrder: [1], cylinder: 1 })).toBeUndefined();
  });

  it("goes round in firing order, one interval a stop", () => {
    expect(settingOrder([1, 3, 4, 2])).toEqual([
      { crankDeg: 0, set: 1, rocking: 4 }, { crankDeg: 180, set: 3, rocking: 2 },
      { crankDeg: 360, set: 4, rocking: 1 }, { crankDeg: 540, set: 2, rocking: 3 },
    ]);
    expect(settingOrder([1])).toEqual([{ crankDeg: 0, set: 1, rocking: undefined }]);
  });

  it("frees every valve of an eight in two positions a turn apart", () => {
    const firingOrder = [1, 8, 4, 3, 6, 5, 7, 2];
    const names = (cylinder: number) => valvesFreeToSet({ firingOrder, cylinderAtFiringTdc: cylinder }).map((one) => `${one.cylinder}${one.valve}`);
    expect(names(1)).toContain("1intake");
    expect(new Set([...names(1), ...names(6)]).size).toBe(16);
    expect(names(1)).not.toContain("6intake");
  });

  it("frees fewer valves on a longer camshaft", () => {
    const long = { intakeOpensBtdcDeg: 60, intakeClosesAbdcDeg: 95, exhaustOpensBbdcDeg: 95, exhaustClosesAtdcDeg: 60 };
    const free = (events?: typeof long) => valvesFreeToSet({ firingOrder: [1, 8, 4, 3, 6, 5, 7, 2], cylinderAtFiringTdc: 1, ...(events ? { events } : {}) }).length;
    expect(free(long)).toBeLessThan(free());
  });

  it("pushes a plunger further than the nut on a stud rocker", () => {
    const preload = preloadFromTurns({ turns: 0.75, pitch: unifiedPitch({ perInch: 24 }), rockerRatio: 1.5 });
    // 3/4 turn of 24 threads an inch is 1/32 in at the nut, 5/3 of it at the lifter.
    expect(preload / 0.0254).toBeCloseTo((5 / 3) / 32, 12);
    expect(turnsForPreload({ preload, pitch: unifiedPitch({ perInch: 24 }), rockerRatio: 1.5 })).toBeCloseTo(0.75, 12);
  });

  it("gains preload from a skim, loses it to a smaller base circle, and asks the pushrod to make it good", () => {
    const preload = preloadAfterChanges({ preload: 0.001, headLowered: 0.0003, baseCircleRadiusLost: 0.0005 });
    expect(preload).toBeCloseTo(0.0008, 12);
    expect(pushrodLength({ fittedLength: 0.2, preload, wantedPreload: 0.001 })).toBeCloseTo(0.2002, 12);
  });
});
