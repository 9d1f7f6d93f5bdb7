/** Pulls against the day's air and what their printout states; road speed by gears. Worked by hand. */
import { describe, expect, it } from "vitest";
import { DUNLIN } from "./samples.ts";
import { sheetOf } from "./sheet-of.ts";

const build = (body: string) => sheetOf(`${DUNLIN}build b on dunlin-18 {\n${body}\n}`);
const pull = (keys: string, on = "2027-04-02", torque = 138) => `pull on ${on} {
    at: wheels; ${keys}
    | rpm  | torque (N·m) |
    | 4000 | 120          |
    | 5000 | ${torque}    |
  }`;
const weather = (more: string) => `weather { barometer: 97 kPa station; temperature: 32 °C; ${more} }`;
const PEAK = (138 * 5000 * Math.PI) / 30;
/** SAE J1349 of June 1990 for 97 kPa dry and 32 °C: 1.18 · (99/97 · √(305/298)) − 0.18. */
const J1349 = 1.18 * ((99 / 97) * Math.sqrt(305 / 298)) - 0.18;
/** ISO 1585: (99/97)^1.2 · (305/298)^0.6. */
const ISO1585 = (99 / 97) ** 1.2 * (305 / 298) ** 0.6;

describe("a pull corrected for the day's air", () => {
  const w = build(pull(`correction: none\n ${weather("humidity: 0 %")}`));
  it("is given by each standard under its name, and the two differ", () => {
    expect(w.nominal("pull.corrected.sae-j1349.power")).toBeCloseTo(PEAK * J1349, 6);
    expect(w.nominal("pull.corrected.iso-1585.power")).toBeCloseTo(PEAK * ISO1585, 6);
    expect(w.nominal("pull.corrected.sae-j1349.torque")).toBeCloseTo(138 * J1349, 9);
    expect(w.value("pull.corrected.sae-j1349.power").label).toContain("SAE J1349");
    expect(w.value("pull.corrected.iso-1585.power").label).toContain("ISO 1585");
  });

  it("that was corrected before has that taken out first", () => {
    const already = build(pull(`correction: iso-1585\n ${weather("humidity: 0 %")}`));
    expect(already.nominal("pull.corrected.iso-1585.power")).toBeCloseTo(PEAK, 6);
    expect(already.nominal("pull.corrected.sae-j1349.power")).toBeCloseTo((PEAK / ISO1585) * J1349, 6);
  });

  it("asks what was corrected, and for the air, where nobody says", () => {
    expect(build(pull(`correction: unstated\n ${weather("humidity: 0 %")}`)).value("pull.corrected.sae-j1349.power").missing.map((m) => m.path)).toEqual(["pull.correction"]);
    expect(build(pull("correction: none\n weather { temperature: 32 °C; humidity: 0 % }")).value("pull.corrected.sae-j1349.power").missing.map((m) => m.path)).toEqual(["pull.weather.barometer"]);
    expect(build(pull("correction: none\n weather { barometer: 101 kPa sea-level; temperature: 32 °C; humidity: 0 % }")).value("pull.corrected.sae-j1349.power").missing.map((m) => m.path)).toEqual(["pull.weather.altitude"]);
    expect([...build(pull("correction: none")).sheet.byId.keys()].filter((id) => id.includes("corrected"))).toEqual([]);
  });

  it("without the humidity is a band from dry to dripping that says so", () => {
    const { interval, assumptions } = build(pull(`correction: none\n ${weather("")}`)).value("pull.corrected.iso-1585.power");
    expect(interval?.low).toBeCloseTo(PEAK * ISO1585, 6);
    // Dripping air at 32 °C holds about 4.75 kPa of vapour.
    expect(interval?.high).toBeGreaterThan(PEAK * (99 / 92.4) ** 1.2 * (305 / 298) ** 0.6);
    expect(assumptions.join()).toMatch(/humidity is not stated/);
  });

  it("of a blown engine warns that the factor may correct too much", () => {
    expect(build(`altitude: 0 m\n boost { target: 0.4 bar gauge }\n ${pull(`correction: none\n ${weather("humidity: 0 %")}`)}`).value("pull.corrected.sae-j1349.power").assumptions.join()).toMatch(/blown/);
    expect(w.value("pull.corrected.sae-j1349.power").assumptions).toEqual([]);
  });
});

describe("a pull's power", () => {
  it("is told in both horsepowers, which differ by 1.4 %", () => {
    const w = build(pull("correction: none"));
    // 72.257 kW: 96.90 hp of 745.70 W, 98.24 PS of 735.50 W.
    expect(w.nominal("pull.peak.horsepower")).toBeCloseTo(PEAK / 745.6998715822702, 6);
    expect(w.nominal("pull.peak.metric-horsepower")).toBeCloseTo(PEAK / 735.49875, 6);
    expect(w.nominal("pull.power.at-4000")).toBeCloseTo((120 * 4000 * Math.PI) / 30, 6);
  });

  it("is set against what its printout states, where both were taken at one place", () => {
    expect(build(pull("correction: none; stated-power: 70 kW at wheels")).nominal("pull.disagreement")).toBeCloseTo(PEAK / 70000 - 1, 9);
    expect(build(pull("correction: none; stated-power: 80 kW at crank")).sheet.byId.has("pull.disagreement")).toBe(false);
  });

  it("of each pull is given where there are several", () => {
    const w = build(`${pull("correction: none", "2027-05-01", 150)}\n${pull("correction: none")}\n${pull("correction: none", "2027-04-02", 139)}`);
    expect(w.nominal("pull.on-2027-04-02.peak.torque")).toBeCloseTo(138, 9);
    expect(w.nominal("pull.on-2027-04-02-2.peak.torque")).toBeCloseTo(139, 9);
    expect(w.nominal("pull.on-2027-05-01.peak.torque")).toBeCloseTo(150, 9);
    expect(w.nominal("pull.peak.torque")).toBeCloseTo(150, 9);
    expect(w.value("pull.on-2027-04-02.peak.torque").label).toContain("the pull on 2027-04-02");
    expect(build(pull("correction: none")).sheet.byId.has("pull.on-2027-04-02.peak.torque")).toBe(false);
  });
});

describe("nonsense in a pull or a gearbox", () => {
  const NONSENSE = [
    "pull on 2027-04-02 { at: wheels; correction: none\n weather { barometer: 0 kPa station; temperature: 20 °C; humidity: 50 % }\n | rpm | torque (N·m) |\n | 0 | 100 |\n | 3000 | 0 |\n }",
    "pull on 2027-04-02 { at: wheels; correction: sae-j1349; stated-power: 0 kW at wheels\n weather { barometer: 99 kPa station; temperature: 99 °C; humidity: 150 % }\n | rpm | torque (N·m) | power (kW) |\n | -3000 | 100 | 5 |\n | 3000 | -50 | -3 |\n }",
    "pull on 2027-04-02 { at: wheels; correction: none\n | rpm | torque (N·m) |\n | 3000 | - |\n | … | 100 |\n }",
    "fit gearbox { ratios: 0, -2, 1 }\n fit final-drive { ratio: 0 }\n fit tyre { diameter: 0 mm }",
    "altitude: 0 m\n boost { target: -2 bar gauge }\n fit blower { crank-pulley: 0 mm; blower-pulley: 0 mm; displacement: 0 L; efficiency: 0 %; pulley-centres: 10 mm }\n fit cooler { effectiveness: 200 % }",
    "fuel: petrol\n fit injector { flow: 0 cc/min; rated-pressure: 0 bar; count: 0; dead-time: -1 ms }\n fit fuel-pump { flow: 0 L/h; at: 0 bar; count: 0 }\n fuel-system { rail-pressure: 0 bar gauge; power-target: 0 kW at crank; density: 0 kg/L; full-load-mixture: 0 afr; specific-consumption: 0 g/kWh }",
  ];
  it.each(NONSENSE)("never becomes a figure that is none: %s", (body) => {
    const values = sheetOf(`${DUNLIN}build b on dunlin-18 {\n${body}\n}`, undefined, true).sheet.values.filter((v) => v.interval !== undefined);
    expect(values.length).toBeGreaterThan(0);
    expect(values.filter((v) => ![v.interval?.low, v.interval?.nominal, v.interval?.high].every(Number.isFinite)).map((v) => v.id)).toEqual([]);
  });
});

describe("gears", () => {
  it("each have a speed at the redline, and a place where the shift lands", () => {
    const w = build("fit gearbox { ratios: 3.58, 2.02, 1.35; primary: 1.5 }\n fit final-drive { ratio: 3.94 }\n fit tyre { diameter: 576 mm }");
    expect(w.nominal("speed.gear.3")).toBeCloseTo((6500 * Math.PI * 0.576) / (60 * 1.35 * 3.94 * 1.5), 9);
    expect(w.nominal("shift.gear.3")).toBeCloseTo((6500 * 1.35) / 2.02, 9);
    expect(w.sheet.byId.has("shift.gear.1")).toBe(false);
    expect(w.sheet.byId.has("speed.gear.4")).toBe(false);
  });

  it("ask for what is missing", () => {
    expect(build("fit gearbox { ratios: 3.58, 2.02 }\n fit tyre { diameter: 576 mm }").value("speed.gear.1").missing.map((m) => m.path)).toEqual(["final-drive.ratio"]);
  });
});

describe("fuel for other fuels than petrol", () => {
  it("takes petrol's consumption by the ratio of what the air burns, and says so", () => {
    const flow = (fuel: string) => build(`fuel: ${fuel}\n fuel-system { power-target: 100 kW at crank; density: 0.75 kg/L }`).value("fuel.flow");
    expect((flow("E85").interval?.nominal ?? 0) / (flow("petrol").interval?.nominal ?? 1)).toBeCloseTo(14.7 / 9.8, 9);
    expect(flow("E85").assumptions.join()).toMatch(/times 1\.50 for E85/);
  });
});

describe("oil pressure at the redline", () => {
  it("is the maker's curve where there is one, else the old rule, named as such", () => {
    const rule = build("run road on 2027-03-20 { time: 20 min; oil-pressure: 3.0 bar }").value("oil-pressure.at-redline");
    expect(rule.interval?.nominal).toBeCloseTo(65 * 6894.757293168361, 6);
    expect(rule.assumptions.join()).toMatch(/10 psi/);
    const curve = build("fluids { oil-pressure {\n | rpm | pressure (bar) |\n | 1000 | 1.0 |\n | 4000 | 2.5 |\n } }");
    expect(curve.nominal("oil-pressure.at-redline")).toBeCloseTo(250000, 6);
  });
});
