/** Air, boost and fuel of written builds, against published checks and by hand. */
import { describe, expect, it } from "vitest";
import checks from "../reference/checks.json" with { type: "json" };
import { toSi } from "../reference/reference-units.ts";
import { sheetOf } from "./sheet-of.ts";

const on = (engine: string, build: string) => sheetOf(`engine e "Test" {\n source: "test"\n cylinders: 4\n ${engine}\n}\nbuild b on e {\n ${build}\n}`);
const printed = (id: string) => {
  const check = checks.find((c) => c.id === id);
  if (!check) throw new Error(`no check ${id}`);
  return toSi(Number(check.expected.value), check.expected.unit);
};

describe("the air", () => {
  it("has the standard atmosphere's pressure at its height, checked against ISO 2533", () => {
    for (const height of [500, 1000, 1500, 2000, 3000]) expect(on("", `air { altitude: ${height} m }`).nominal("air.pressure")).toBeCloseTo(printed(`t-isa-p-${height}`), 2);
    expect(on("", "altitude: 5000 ft\n boost { target: 10 psi gauge }").nominal("air.pressure")).toBeCloseTo(printed("t-isa-5000ft"), 2);
  });

  it("is what the barometer reads there, or the sea-level figure brought up", () => {
    expect(on("", "air { barometer: 98.6 kPa station }").nominal("air.pressure")).toBeCloseTo(98600, 6);
    expect(on("", "air { barometer: 101.325 kPa sea-level; altitude: 1000 m }").nominal("air.pressure")).toBeCloseTo(printed("t-isa-p-1000"), 2);
    expect(on("", "air { barometer: 101.325 kPa sea-level }").value("air.pressure").missing.map((m) => m.path)).toEqual(["air.altitude"]);
  });

  it("weighs what the gas law says, damp or dry", () => {
    expect(on("", "air { barometer: 99 kPa station; temperature: 25 °C }").nominal("air.density")).toBeCloseTo(printed("b-rho-sae"), 7);
    expect(on("", "air { barometer: 100 kPa station; temperature: 30 °C; humidity: 60 % }").nominal("air.density")).toBeCloseTo(printed("b-rho-humid"), 6);
    expect(on("", "air { barometer: 99 kPa station }").value("air.density").assumptions).toEqual(["the air's temperature is not stated: taken as 15 °C"]);
  });
});

describe("boost", () => {
  it("is counted over the barometer of the place: the same gauge asks more on a mountain", () => {
    // The check's own barometer, that of 5000 ft.
    const high = on("", "air { barometer: 12.2277545 psi station }\n boost { target: 10 psi gauge }");
    expect(high.nominal("boost.pressure-ratio")).toBeCloseTo(printed("b-pr-5000"), 9);
    expect(on("", "altitude: 0 m\n boost { target: 10 psi gauge }").nominal("boost.pressure-ratio")).toBeLessThan(high.nominal("boost.pressure-ratio"));
  });

  it("stated absolute has the barometer taken off", () => {
    expect(on("", "air { barometer: 100 kPa station }\n boost { target: 155 kPa absolute }").nominal("boost.gauge")).toBeCloseTo(55000, 6);
  });

  it("heats the charge, and a cooler takes its share back", () => {
    const hot = "air { barometer: 100 kPa station; temperature: 25 °C }\n boost { target: 50 kPa gauge }\n fit blower { efficiency: 55 % }";
    // Pressure ratio 1.5 at 55 %: the published 364.73 K.
    expect(on("", hot).nominal("charge.temperature")).toBeCloseTo(printed("b-t2-1.5-0.55"), 4);
    // 70 % of the rise over 298.15 K taken out.
    expect(on("", `${hot}\n fit cooler { effectiveness: 70 % }`).nominal("charge.temperature")).toBeCloseTo(298.15 + 0.3 * (printed("b-t2-1.5-0.55") - 298.15), 4);
  });

  it("turns the blower by its pulleys", () => {
    expect(on("redline: 6500 rpm", "fit blower { crank-pulley: 150 mm; blower-pulley: 75 mm; step-up: 1.0 }").nominal("blower.speed")).toBeCloseTo(printed("b-pulley"), 6);
  });

  it("piles up what the blower brings over what the engine swallows", () => {
    // Delivery 0.90 L · 2 · 0.85 = 1.53 L a turn against 1.7746/2 · 0.85 = 0.7542 L: ratio 2.03 by volume, more by pressure since the charge is hot.
    const w = on("bore: 83 mm\n stroke: 82 mm\n redline: 6500 rpm", "air { barometer: 100 kPa station; temperature: 25 °C }\n fuel-system { volumetric-efficiency: 85 % }\n fit blower { displacement: 0.90 L; crank-pulley: 140 mm; blower-pulley: 70 mm; volumetric-efficiency: 85 %; efficiency: 55 % }");
    const ratio = 1 + w.nominal("blower.boost-estimate") / 100000;
    const flow = (0.9 * 2 * 0.85) / ((w.nominal("displacement.total") * 1000) / 2 * 0.85);
    // The ratio that satisfies PR = r·T3/T1 with T3/T1 = 1 + (PR^(2/7) − 1)/η.
    expect(ratio).toBeCloseTo(flow * (1 + (ratio ** (2 / 7) - 1) / 0.55), 6);
    expect(w.value("blower.boost-estimate").estimate).toBe(true);
  });

  it("by the trade's rule of thumb is marked as one", () => {
    const w = on("bore: 83 mm\n stroke: 82 mm\n combustion { chamber: 50 cc; gasket-volume: 4 cc; deck: 0 mm below; piston-dish: 5.156 cc }", "altitude: 0 m\n boost { target: 7 psi gauge }");
    expect(w.nominal("compression.with-boost")).toBeCloseTo(w.nominal("compression.static") * (7 / 14.7 + 1), 9);
    expect(w.value("compression.with-boost").estimate).toBe(true);
  });
});

describe("the mixture", () => {
  it("is a lambda by the fuel's own ratio", () => {
    expect(on("", "fuel: petrol\n fuel-system { full-load-mixture: 12.5 afr }").nominal("mixture.lambda")).toBeCloseTo(printed("b-lambda"), 9);
    expect(on("", "fuel: E85\n fuel-system { full-load-mixture: 0.85 lambda }").nominal("mixture.afr")).toBeCloseTo(0.85 * 9.8, 9);
  });

  it("of another fuel asks which scale the gauge prints", () => {
    const unsaid = on("", "fuel: E85\n fuel-system { full-load-mixture: 12.5 afr }");
    expect(unsaid.value("mixture.lambda").missing.map((m) => m.path)).toEqual(["fuel-system.afr-scale"]);
    expect(on("", "fuel: E85\n fuel-system { full-load-mixture: 12.5 afr; afr-scale: petrol }").nominal("mixture.lambda")).toBeCloseTo(12.5 / 14.7, 9);
  });
});

describe("fuel", () => {
  const inject = (regulator: string) => on("redline: 7000 rpm", `fuel: petrol\n altitude: 0 m\n boost { target: 10 psi gauge }\n fuel-system { rail-pressure: 43.5 psi gauge; regulator: ${regulator}; power-target: 140 hp at crank; specific-consumption: 300 g/kWh; density: 0.745 kg/L }
    fit injector { flow: 30 lb/h; rated-pressure: 43.5 psi; count: 4; dead-time: 1.0 ms }`);

  it("flows by the pressure across the injector, which boost eats where the regulator does not follow it", () => {
    expect(inject("manifold").nominal("injector.flow")).toBeCloseTo(toSi(30, "lb/h"), 12);
    // The published factor for a 43.5 psi rail with 10 psi in the manifold.
    expect(inject("atmosphere").nominal("injector.flow") / toSi(30, "lb/h")).toBeCloseTo(printed("b-inj-boostdp"), 8);
  });

  it("rated by volume is weighed by the fuel's density", () => {
    const cc = on("redline: 7000 rpm", "fuel: petrol\n fuel-system { rail-pressure: 3.0 bar gauge; density: 0.745 kg/L }\n fit injector { flow: 440 cc/min; rated-pressure: 3.0 bar; count: 4 }");
    expect(cc.nominal("injector.flow")).toBeCloseTo((440e-6 / 60) * 745, 12);
  });

  it("counts the injector's dead time in its duty", () => {
    // 140 hp · 300 g/kWh over 4 injectors, and 1 ms of every 120/7000 s.
    const flow = toSi(30, "lb/h");
    const power = 140 * 745.6998715822702;
    const burnt = (power * (300 / 3.6e9)) / 4;
    expect(inject("manifold").nominal("injector.duty")).toBeCloseTo(burnt / flow + 0.001 * (7000 / 120), 9);
  });

  it("asks the pump for a fifth more than the sum", () => {
    // 400 hp at 0.62 lb/(hp·h) and 0.745 kg/L with 20 %: the published 181.19 L/h.
    const consumption = (0.62 * 453.59237 * 1000) / 745.6998715822702;
    const w = on("", `fuel: petrol\n fuel-system { power-target: 400 hp at crank; specific-consumption: ${consumption.toFixed(6)} g/kWh; density: 0.745 kg/L }`);
    expect(w.nominal("pump.flow") / printed("b-pump")).toBeCloseTo(1, 7);
  });

  it("with an unstated consumption is a band that says so", () => {
    const w = on("", "fuel: petrol\n fuel-system { power-target: 140 hp at crank; density: 0.745 kg/L }").value("pump.flow");
    expect(w.assumptions.join()).toMatch(/specific consumption is not stated/);
    expect(w.interval && w.interval.high / w.interval.low).toBeCloseTo(0.5 / 0.45, 9);
  });
});

describe("an engine that is not blown", () => {
  it("has no row of boost", () => {
    const ids = [...on("bore: 83 mm", "redline: 7000 rpm").sheet.byId.keys()];
    expect(ids.filter((id) => /^(boost|blower|charge|injector|air)\b/.test(id))).toEqual([]);
  });
});
