import { describe, expect, it } from "vitest";
import {
  accelerationOnLobe, cosineLobeLift, durationAtLashDeg, eventsAtLift, floatSpeedOnCosineLobe, floatSpeedOnLobe, inspectLobe, liftAt, liftAtTdc,
  lobePeak, moveAngles, scaleAngles, smoothLobe, valveTable,
} from "../../server/engineering/index.ts";
import type { LobePoint, LobeTable } from "../../server/engineering/index.ts";

const peakLift = 0.0071;
const durationDeg = 280;

/** A known lobe, read every `step` crank degrees from its centreline. */
function readings(step: number): LobePoint[] {
  const table: LobePoint[] = [];
  for (let deg = -150; deg <= 150; deg += step) table.push({ deg, lift: cosineLobeLift({ peakLift, durationDeg, fromCentrelineDeg: deg }) });
  return table;
}

const table: LobeTable = readings(5);
const changed = (index: number, change: Partial<LobePoint>): LobeTable => table.map((point, at) => (at === index ? { ...point, ...change } : point));

describe("a lobe table", () => {
  it("passes through its readings and stays between neighbours", () => {
    for (const { deg, lift } of table) expect(liftAt({ table, deg })).toBeCloseTo(lift, 15);
    for (let deg = -149.5; deg < 150; deg += 1) {
      const below = table.filter((point) => point.deg <= deg).at(-1)!;
      const above = table.find((point) => point.deg >= deg)!;
      const lift = liftAt({ table, deg });
      expect(lift).toBeGreaterThanOrEqual(Math.min(below.lift, above.lift) - 1e-15);
      expect(lift).toBeLessThanOrEqual(Math.max(below.lift, above.lift) + 1e-15);
    }
  });

  it("comes near the true lobe between readings", () => {
    for (let deg = -120; deg <= 120; deg += 0.7) {
      expect(Math.abs(liftAt({ table, deg }) - cosineLobeLift({ peakLift, durationDeg, fromCentrelineDeg: deg }))).toBeLessThan(12e-6);
    }
  });

  it("holds the end reading beyond its ends", () => {
    const short = table.filter(({ deg }) => Math.abs(deg) <= 60);
    expect(liftAt({ table: short, deg: 90 })).toBe(short.at(-1)!.lift);
    expect(inspectLobe(short).map(({ kind }) => kind)).toEqual(["ends-open", "ends-open"]);
  });

  it("finds the duration the lobe was drawn with", () => {
    // L/2·(1 + cos(2πθ/D)) passes L/4 at a third of the duration either side.
    const events = eventsAtLift({ table, lift: peakLift / 4 });
    expect(events.durationDeg).toBeCloseTo((2 / 3) * durationDeg, 1);
    expect(events.centrelineDeg).toBeCloseTo(0, 9);
    expect(lobePeak(table)).toEqual({ deg: 0, lift: peakLift });
  });

  it("shortens the duration as the lash grows", () => {
    const at = (lashAtValve: number) => durationAtLashDeg({ table, rockerRatio: 1.5, lashAtValve });
    expect(at(0.0003)).toBeLessThan(at(0.0002));
    expect(at(0.0002)).toBeLessThan(durationDeg);
    expect(eventsAtLift({ table, lift: 0.02 }).durationDeg).toBeNaN();
  });

  it("reads the lift at overlap TDC from a centreline after it", () => {
    expect(liftAtTdc({ table, centrelineAtdcDeg: 109 })).toBeCloseTo(cosineLobeLift({ peakLift, durationDeg, fromCentrelineDeg: 109 }), 5);
    expect(liftAt({ table: moveAngles({ table, by: 109 }), deg: 0 })).toBe(liftAtTdc({ table, centrelineAtdcDeg: 109 }));
  });

  it("doubles cam degrees into crank degrees", () => {
    const cam = table.map(({ deg, lift }) => ({ deg: deg / 2, lift }));
    expect(eventsAtLift({ table: scaleAngles({ table: cam, by: 2 }), lift: 0.001 }).durationDeg).toBeCloseTo(eventsAtLift({ table, lift: 0.001 }).durationDeg, 9);
  });

  it("shows the valve's lift less its lash", () => {
    const valve = valveTable({ table, rockerRatio: 1.5, lashAtValve: 0.0002 });
    expect(lobePeak(valve).lift).toBeCloseTo(0.01045, 12);
    expect(Math.min(...valve.map(({ lift }) => lift))).toBe(0);
  });

  it("recovers the nose acceleration of the drawn lobe", () => {
    const nose = smoothLobe({ table: readings(1), window: 5 }).find(({ deg }) => deg === 0)!;
    const exact = -(peakLift / 2) * ((2 * Math.PI) / durationDeg) ** 2;
    expect(Math.abs(nose.accelerationPerDeg2 / exact - 1)).toBeLessThan(1e-3);
    expect(nose.velocityPerDeg).toBeCloseTo(0, 12);
    expect(accelerationOnLobe({ accelerationPerDeg2: exact, rpm: 6000 })).toBeCloseTo(exact * 36000 ** 2, 9);
  });

  it("floats at the speed the cosine model gives, when read from the same lobe", () => {
    const points = smoothLobe({ table: readings(1) });
    const rate = 40_000;
    const fromTable = floatSpeedOnLobe({ seatLoad: 300, rate, mass: 0.12, points: points.filter(({ deg }) => Math.abs(deg) < 3) });
    const modelled = floatSpeedOnCosineLobe({ openLoad: 300 + rate * peakLift, mass: 0.12, lift: peakLift, durationDeg });
    expect(Math.abs(fromTable / modelled - 1)).toBeLessThan(0.005);
  });

  it("smooths a straight flank without bending it", () => {
    const flank = [0, 2, 5, 6, 9, 11, 14].map((deg) => ({ deg, lift: 0.0001 * deg }));
    for (const point of smoothLobe({ table: flank })) {
      expect(point.lift).toBeCloseTo(0.0001 * point.deg, 12);
      expect(point.velocityPerDeg).toBeCloseTo(0.0001, 12);
      expect(point.accelerationPerDeg2).toBeCloseTo(0, 12);
    }
  });

  it("has no fault when it has none", () => {
    expect(inspectLobe(table)).toEqual([]);
  });

  it.each([
    ["rows out of order", changed(20, { deg: -200 }), "out-of-order"],
    ["an angle twice", changed(20, { deg: table[19]!.deg }), "repeated-angle"],
    ["a negative lift", changed(20, { lift: -0.001 }), "negative-lift"],
    ["a missing reading", changed(20, { lift: NaN }), "not-a-number"],
    ["missing rows", table.filter((_, index) => index < 20 || index > 22), "gap"],
    ["too few rows", table.slice(0, 3), "too-few"],
    ["a misread dial", changed(25, { lift: table[25]!.lift + 0.001 }), "kink"],
  ] as const)("names %s", (_what, faulty, kind) => {
    expect(inspectLobe(faulty).map((fault) => fault.kind)).toContain(kind);
  });

  it("blames one misread dial and not its neighbours", () => {
    const kinks = inspectLobe(changed(25, { lift: table[25]!.lift + 0.001 })).filter(({ kind }) => kind === "kink");
    expect(kinks).toHaveLength(1);
    expect(kinks[0]).toMatchObject({ index: 25, deg: table[25]!.deg });
  });

  it("gives no lift from a table that cannot be read", () => {
    expect(liftAt({ table: changed(20, { deg: -200 }), deg: 0 })).toBeNaN();
    expect(smoothLobe({ table: [{ deg: 0, lift: 0 }] })[0]!.accelerationPerDeg2).toBeNaN();
  });
});
