// Every exported function is total: it answers NaN outside its domain, never throws, and never lets an infinity out.

import { describe, expect, it } from "vitest";
import * as eng from "../../server/engineering/index.ts";

/** Functions of lists, tables or words: their own tests feed them bad lists. */
const ofLists = new Set([
  "bladePair", "boltStiffness", "chooseShim", "companionCylinder", "crankingSpread", "eventsAtLift", "floatSpeedOnLobe", "inspectLobe",
  "isReadable", "leastGapOverSettings", "leastPistonValveGapOver", "leastValveToValveGap", "liftAt", "liftAtTdc", "lobePeak", "durationAtLashDeg",
  "moveAngles", "readerOf", "scaleAngles", "settingOrder", "smoothLobe", "stageTorques", "totalTurnDeg", "valveTable", "valvesFreeToSet",
  "clampLoadBand", "valveToValveGap", "combinedStress", "assemblyPreload", "blendStoichiometricRatio", "wireTensileStrength",
  "coarsePitch", "gradeStrength", "propertyClassStrength", "requiredEngagement", "camshaftTurn", "torsionalYieldShare", "correctionFactor",
  "quarterMileTime", "quarterMileSpeed", "powerFromQuarterMileTime",
]);

/** An argument that is `value` whichever named figure is asked of it, and as a plain number too. */
function everywhere(value: number): never {
  return new Proxy({}, { get: (_target, key) => (key === Symbol.toPrimitive ? () => value : value) }) as never;
}

const functions = Object.entries(eng as Readonly<Record<string, unknown>>)
  .filter(([name, value]) => typeof value === "function" && !ofLists.has(name))
  .map(([name, value]) => [name, value as (given: never) => unknown] as const);

describe("the engineering floor", () => {
  it("exports the functions this test walks", () => {
    expect(functions.length).toBeGreaterThan(120);
    expect([...ofLists].filter((name) => !(name in eng))).toEqual([]);
  });

  it.each(functions)("%s answers without throwing or overflowing", (_name, call) => {
    for (const value of [NaN, 0, -1, Infinity, -Infinity, 1]) {
      const answer = call(everywhere(value));
      if (typeof answer === "number") expect(Math.abs(answer)).not.toBe(Infinity);
    }
  });

  it.each(functions)("%s passes a missing reading on as not computed", (_name, call) => {
    const answer = call(everywhere(NaN));
    if (typeof answer === "number") expect(answer).toBeNaN();
    else if (typeof answer === "boolean") expect(answer).toBe(false);
    else expect(Object.values(answer as object).filter((part) => typeof part === "number").every((part) => Number.isNaN(part))).toBe(true);
  });
});
