/** What the last pull and the last tests of the cylinders come to. */
import { describe, expect, it } from "vitest";
import { DUNLIN } from "./samples.ts";
import { sheetOf } from "./sheet-of.ts";

const build = (body: string) => sheetOf(`${DUNLIN}build b on dunlin-18 {\n${body}\n}`);

describe("a pull", () => {
  const w = build(`pull on 2027-04-02 {
    at: wheels
    | rpm  | torque (N·m) |
    | 3000 | 120          |
    | 5000 | 138          |
    | 7000 | 118          |
  }`);

  it("made its torque in one row and its power in another", () => {
    expect(w.nominal("pull.peak.torque")).toBeCloseTo(138, 9);
    // 118 N·m at 7000 rpm is 86.5 kW, more than 138 at 5000 (72.3).
    expect(w.nominal("pull.peak.power")).toBeCloseTo((118 * 7000 * Math.PI) / 30, 6);
  });

  it("has a mean effective pressure for the engine's size", () => {
    expect(w.nominal("bmep.peak")).toBeCloseTo((4 * Math.PI * 138) / w.nominal("displacement.total"), 6);
  });

  it("is the last one by its date, wherever it stands", () => {
    const two = build(`pull on 2027-05-01 { at: wheels
      | rpm  | torque (N·m) |
      | 5000 | 150          |
    }
    pull on 2027-04-02 { at: wheels
      | rpm  | torque (N·m) |
      | 5000 | 138          |
    }`);
    expect(two.nominal("pull.peak.torque")).toBeCloseTo(150, 9);
  });

  it("that never was leaves no row", () => {
    expect(build("").sheet.byId.has("pull.peak.power")).toBe(false);
  });
});

describe("tests of the cylinders", () => {
  it("compare the lowest with the highest, in the last test on the engine as it is", () => {
    // 140 psi of 182: 0.769.
    const w = build(`measured cranking cold on 2027-03-20 {
      | cylinder (psi) |   1 |   2 |   3 |   4 |
      | dry            | 180 | 175 | 182 | 140 |
    }
    measured cranking cold before on 2027-01-10 {
      | cylinder (psi) |   1 |   2 |   3 |   4 |
      | dry            | 100 | 175 | 182 | 140 |
    }`);
    expect(w.nominal("cranking.spread")).toBeCloseTo(140 / 182, 9);
  });

  it("name the worst leak", () => {
    const w = build(`measured leak-down hot on 2027-03-20 {
      | cylinder (%) | 1 | 2 | 3  | 4 |
      | leak         | 6 | 8 | 14 | 7 |
    }`);
    expect(w.nominal("leak-down.worst")).toBeCloseTo(0.14, 12);
  });
});

describe("the engine as it was before the work", () => {
  const before = `measured cranking hot before on 2027-01-10 {
      throttle: open
      | cylinder (bar) |    1 |    2 |    3 |    4 |
      | dry            | 12.0 | 11.4 | 12.0 | 11.8 |
    }
    measured leak-down hot before on 2027-01-10 {
      | cylinder (%) | 1 | 2 | 3  | 4 |
      | leak         | 6 | 8 | 12 | 7 |
    }`;
  const after = (head: string, throttle: string) => `measured cranking ${head} on 2027-03-20 {
      throttle: ${throttle}
      | cylinder (bar) |    1 |    2 |    3 |    4 |
      | dry            | 12.6 | 10.8 | 12.6 | 12.4 |
    }`;

  it("has its own spread and its own worst leak", () => {
    const w = build(before);
    expect(w.nominal("baseline.cranking.spread")).toBeCloseTo(11.4 / 12, 12);
    expect(w.nominal("baseline.leak-down.worst")).toBeCloseTo(0.12, 12);
    expect(w.sheet.byId.has("cranking.spread")).toBe(false);
    expect(w.sheet.byId.has("baseline.cranking.change")).toBe(false);
  });

  it("is compared cylinder by cylinder with a test made alike, and with no other", () => {
    // Cylinder 2: 10.8 of 11.4.
    expect(build(`${before}\n${after("hot", "open")}`).nominal("baseline.cranking.change")).toBeCloseTo(10.8 / 11.4 - 1, 9);
    expect(build(`${before}\n${after("cold", "open")}`).sheet.byId.has("baseline.cranking.change")).toBe(false);
    expect(build(`${before}\n${after("hot", "shut")}`).sheet.byId.has("baseline.cranking.change")).toBe(false);
  });
});
