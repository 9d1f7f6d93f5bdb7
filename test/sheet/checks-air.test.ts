/**
 * The published checks of boost (b-) and of tuning, air and road (t-): each that a file can state is written as one and read off the sheet;
 * the rest are named here with why no file states them, and are held at their function by test/engineering/reference.test.ts. Both are counted.
 */
import { describe, expect, it } from "vitest";
import checks from "../reference/checks.json" with { type: "json" };
import { listedPairs, pairsOf } from "../reference/formula-checks.ts";
import { toSi, unitFactor } from "../reference/reference-units.ts";
import { sheetOf } from "./sheet-of.ts";

type Check = (typeof checks)[number];

interface Given {
  readonly id: string;
  /** An input as the check prints it. */
  (name: string): number;
  /** The same in SI. */
  readonly si: (name: string) => number;
}

interface Case {
  readonly engine?: (g: Given) => string;
  readonly build: (g: Given) => string;
  readonly value: string;
  /** What the value must be, in its base unit, where that is not the printed figure in SI. */
  readonly expected?: (printed: number, g: Given) => number;
}

/** Written without an exponent. */
const n = (x: number): string => x.toFixed(15).replace(/\.?0+$/, "");

/** A bore that with the same stroke gives one cylinder of four this share of a volume, m³; in mm. */
const squareOf = (total: number, cylinders = 4): string => {
  const side = 1000 * Math.cbrt((4 * total) / (Math.PI * cylinders));
  return `bore: ${n(side)} mm\n stroke: ${n(side)} mm`;
};
const dry = (kPa: number, celsius: number, more = "") => `pull on 2027-04-02 { at: crank; correction: none; ${more}\n weather { barometer: ${n(kPa)} kPa station; temperature: ${n(celsius)} °C; humidity: 0 % }\n | rpm | torque (N·m) |\n | 5000 | 100 |\n }`;
const oneRow = (head: string, rpm: number, cell: string) => `pull on 2027-04-02 { at: crank; correction: none\n | rpm | ${head} |\n | ${rpm} | ${cell} |\n }`;
/** An engine of this compression: 400 cc swept under a chamber of what is left. */
const compression = (ratio: number) => `${squareOf(400e-6 * 4)}\n combustion { chamber: ${n(400 / (ratio - 1) - 1)} cc; gasket-volume: 1 cc; deck: 0 mm below; piston-dish: 0 cc }`;
/** The engine's barometer at 100 kPa and its air at 25 °C, whose pressure ratio the target makes. */
const ratioBoost = (ratio: number, part: string) => `air { barometer: 100 kPa station; temperature: 25 °C }\n boost { target: ${n(100 * (ratio - 1))} kPa gauge }\n ${part}`;
const injected = (more: string, part: string) => `fuel: petrol\n ${more}\n fit injector { ${part} }`;
const ring = (which: "top" | "second", bore: string, factor: number) => `bore: ${bore}\n use: street\n fit ring { ${which}-gap-factor: ${n(factor)} }`;
const STANDARD_AIR = { temperature: (metres: number) => 15 - 0.0065 * metres };

const CASES: readonly (readonly [RegExp, Case])[] = [
  [/^b-rho-isa$/, { build: (g) => `air { barometer: ${g("p") / 1000} kPa station; temperature: ${n(g("T") - 273.15)} °C }`, value: "air.density" }],
  [/^b-rho-sae$/, { build: (g) => `air { barometer: ${g("p") / 1000} kPa station; temperature: ${n(g("T") - 273.15)} °C }`, value: "air.density" }],
  [/^b-rho-lbft3$/, { build: () => "air { altitude: 0 m; temperature: 15 °C }", value: "air.density" }],
  [/^b-rho-humid$/, { build: (g) => `air { barometer: ${g("p") / 1000} kPa station; temperature: ${g("t")} °C; humidity: ${100 * g("RH")} % }`, value: "air.density" }],
  // What the barometer loses to vapour in dripping air is the vapour's saturation pressure.
  [/^b-es25$/, { build: (g) => dry(100, g("t")).replace("humidity: 0", "humidity: 100"), value: "pull.dry-pressure", expected: (printed) => 100000 - printed }],
  [/^b-cfm$/, { engine: (g) => `${squareOf(g.si("CID"))}\n redline: ${g("rpm")} rpm`, build: (g) => `altitude: 0 m\n air { temperature: 15 °C }\n fuel-system { volumetric-efficiency: ${100 * g("VE")} % }`, value: "airflow.volume" }],
  [/^b-lbmin$/, {
    engine: (g) => `${squareOf((g.si("Q") * 120) / 6000)}\n redline: 6000 rpm`,
    build: (g) => `air { barometer: ${n((g.si("rho") * 287.05287 * 288.15) / 1000)} kPa station; temperature: 15 °C }\n fuel-system { volumetric-efficiency: 100 % }`,
    value: "airflow.engine",
  }],
  [/^b-pr-5000$/, { build: (g) => `air { barometer: ${g("pa")} psi station }\n boost { target: ${g("pb")} psi gauge }`, value: "boost.pressure-ratio" }],
  [/^t-boost-alt$/, { build: (g) => `air { barometer: ${g("pa")} psi station }\n boost { target: ${g("pb")} psi gauge }`, value: "boost.absolute" }],
  [/^b-pulley$/, { engine: (g) => `redline: ${g("N")} rpm`, build: (g) => `fit blower { crank-pulley: ${g("Dc")} mm; blower-pulley: ${g("Db")} mm; step-up: ${g("st")} }`, value: "blower.speed" }],
  [/^b-drive-pct$/, { build: (g) => `fit blower { crank-pulley: ${100 * g("r")} mm; blower-pulley: 100 mm; step-up: 1 }`, value: "blower.overdrive" }],
  [/^b-blowerflow$/, { engine: (g) => `redline: ${g("N")} rpm`, build: (g) => `fit blower { displacement: ${g("V")} L; volumetric-efficiency: ${100 * g("ev")} %; crank-pulley: 100 mm; blower-pulley: 100 mm; step-up: 1 }`, value: "blower.delivery" }],
  [/^b-blowerpr-ic$/, {
    // A litre swallowed in two turns: half a litre a turn against half a litre times the ratio.
    engine: () => squareOf(1e-3),
    build: (g) => `air { barometer: 100 kPa station; temperature: ${n(g("T1") - 273.15)} °C }\n fuel-system { volumetric-efficiency: 100 % }
      fit blower { displacement: ${n(0.5 * g("r"))} L; volumetric-efficiency: 100 %; crank-pulley: 100 mm; blower-pulley: 100 mm; step-up: 1; efficiency: ${100 * g("eta")} % }\n fit cooler { effectiveness: ${100 * g("eps")} % }`,
    value: "blower.boost-estimate", expected: (printed) => 100000 * (printed - 1),
  }],
  [/^b-t2-1\.5-0\.55$/, { build: (g) => ratioBoost(g("PR"), `fit blower { efficiency: ${100 * g("eta")} % }`), value: "charge.temperature" }],
  [/^b-t2-2\.0-0\.75$/, { build: (g) => ratioBoost(g("PR"), `fit turbo { efficiency: ${100 * g("eta")} % }`), value: "charge.temperature" }],
  // The pressure ratio that heats to the check's temperature at 60 %.
  [/^b-ic$/, { build: (g) => ratioBoost((1 + (g("T2") / g("Ta") - 1) * 0.6) ** 3.5, `fit turbo { efficiency: 60 % }\n fit cooler { effectiveness: ${100 * g("eps")} % }`), value: "charge.temperature" }],
  [/^b-dr$/, { build: (g) => `${ratioBoost(g("PR"), "")}`.replace("gauge }", `gauge; charge-temperature: ${n(g("T3") - 273.15)} °C }`), value: "charge.density-ratio" }],
  [/^b-blowerpower$/, {
    // As much air as the check has, drawn at 25 °C without a charge any hotter: volume for the mass, over the ratio.
    engine: (g) => `${squareOf((120 / 6000) * (g("m") / (100000 / (287.05287 * 298.15) * g("PR"))))}\n redline: 6000 rpm`,
    build: (g) => ratioBoost(g("PR"), `fuel-system { volumetric-efficiency: 100 % }\n fit turbo { efficiency: ${100 * g("eta")} % }`).replace("gauge }", "gauge; charge-temperature: 25 °C }"),
    value: "compressor.power",
  }],
  [/^b-wrap$/, { build: (g) => `fit blower { crank-pulley: ${g("D")} mm; blower-pulley: ${g("d")} mm; pulley-centres: ${g("C")} mm }`, value: "blower.belt-wrap" }],
  [/^b-beltlen$/, { build: (g) => `fit blower { crank-pulley: ${g("D")} mm; blower-pulley: ${g("d")} mm; pulley-centres: ${g("C")} mm }`, value: "blower.belt-length" }],
  [/^b-afrtab-(gasoline|ethanol|lpg)$/, { build: (g) => `fuel: ${{ gasoline: "petrol", ethanol: "ethanol", lpg: "LPG" }[g.id.slice(9)]}\n fuel-system { full-load-mixture: 1.00 lambda }`, value: "mixture.afr" }],
  [/^b-lambda$/, { build: (g) => `fuel: petrol\n fuel-system { full-load-mixture: ${g("AFR")} afr }`, value: "mixture.lambda" }],
  [/^b-inj-(na|boost)$/, {
    build: (g) => injected(`fuel-system { power-target: ${g("hp")} hp at crank; specific-consumption: ${n((g("bsfc") * 453.59237) / 0.7456998715822702)} g/kWh }\n limits { injector-duty: ${100 * g("duty")} % }`, `count: ${g("n")}; flow: 30 lb/h; rated-pressure: 43.5 psi`),
    value: "injector.flow-wanted",
  }],
  // A rating by volume is weighed by the density: what one pound an hour measures must weigh one pound an hour.
  [/^b-lbh-cc-/, {
    build: (g) => injected(`fuel-system { rail-pressure: 3 bar gauge; density: ${g("rho")} kg/L }`, `count: 4; flow: ${n(printedOf(g.id))} cc/min; rated-pressure: 3 bar`),
    value: "injector.flow", expected: (_, g) => toSi(g("x"), "lb/h"),
  }],
  [/^b-inj-press$/, { build: (g) => injected(`fuel-system { rail-pressure: ${g("p2")} psi gauge; regulator: manifold }`, `count: 4; flow: ${g("q")} lb/h; rated-pressure: ${g("p1")} psi`), value: "injector.flow" }],
  [/^b-inj-boostdp$/, {
    build: (g) => injected(`altitude: 0 m\n boost { target: ${g("pm")} psi gauge }\n fuel-system { rail-pressure: ${g("pr")} psi gauge; regulator: atmosphere }`, `count: 4; flow: 30 lb/h; rated-pressure: ${g("p0")} psi`),
    value: "injector.flow", expected: (printed) => printed * toSi(30, "lb/h"),
  }],
  [/^b-pump$/, { build: (g) => `fuel: petrol\n fuel-system { power-target: ${g("hp")} hp at crank; specific-consumption: ${n((g("bsfc") * 453.59237) / 0.7456998715822702)} g/kWh; density: ${g("rho")} kg/L }`, value: "pump.flow" }],
  [/^b-ecr-(trade|9\.5)$/, { engine: (g) => compression(g("CR")), build: (g) => `altitude: 0 m\n boost { target: ${g("b")} psi gauge }`, value: "compression.with-boost" }],
  [/^b-ecr-thermo$/, { engine: (g) => compression(g("CR")), build: (g) => ratioBoost(g("PR"), ""), value: "compression.with-boost-ideal" }],
  [/^b-ring-.*-(top|second)$/, { build: (g) => ring(g.id.endsWith("top") ? "top" : "second", `${g("bore")} in`, g("factor")), value: "ring-gap.{which}.required" }],
  [/^b-ringB-/, { build: (g) => ring("top", `${g("bore")} mm`, g("factor")), value: "ring-gap.top.required" }],
  [/^b-bearing-fit$/, { build: (g) => `bottom-end { main { housing: ${g("bore")} mm; shell: ${g("shell")} mm; journal: ${n(g("j"))} mm } }`, value: "bearing.main.clearance" }],
  [/^b-oilrule$/, { engine: (g) => `redline: ${g("rpm")} rpm`, build: () => "run first-start on 2027-03-20 { time: 20 min; oil-pressure: 3.0 bar }", value: "oil-pressure.at-redline" }],

  [/^t-j1349-(97-32|101\.3-10|85-20)$/, { build: (g) => dry(g("Pd"), g("t")), value: "pull.factor.sae-j1349" }],
  [/^t-j1349-unrounded$/, { build: (g) => dry(g("Pd"), g("t"), `mechanical-efficiency: ${100 * g("eta")} %`), value: "pull.factor.sae-j1349" }],
  [/^t-dry$/, { build: (g) => dry(g("P") / 1000, g("t")).replace("humidity: 0", `humidity: ${100 * g("RH")}`), value: "pull.dry-pressure" }],
  // Air at 25 °C whose factor is the check's: 1.18 · x − 0.18 = factor.
  [/^t-j1349-power$/, { build: (g) => dry(99 / ((g("cf") + 0.18) / 1.18), 25).replace("torque (N·m)", "power (hp)").replace("| 100 |", `| ${g("P")} |`), value: "pull.corrected.sae-j1349.power" }],
  [/^t-iso1585-/, { build: (g) => dry(g("Pd"), g("t")), value: "pull.factor.iso-1585" }],
  [/^t-din$/, { build: (g) => dry(g("P"), g("t")), value: "pull.factor.din-70020" }],
  [/^t-std$/, { build: (g) => dry(0, 0).replace("0 kPa", `${g("Pd")} inHg`).replace("0 °C", `${g("T")} °F`), value: "pull.factor.sae-j607" }],
  [/^t-isa-p-/, { build: (g) => `air { altitude: ${g("H")} m }`, value: "air.pressure" }],
  [/^t-isa-5000ft$/, { build: (g) => `air { altitude: ${g("H")} ft }`, value: "air.pressure" }],
  [/^t-isa-rho-/, { build: (g) => `air { altitude: ${g("H")} m; temperature: ${n(STANDARD_AIR.temperature(g("H")))} °C }`, value: "air.density" }],
  [/^t-isa-densityratio-5280$/, { build: (g) => `air { altitude: ${g("H")} ft; temperature: ${n(STANDARD_AIR.temperature(g.si("H")))} °C }`, value: "air.density", expected: (printed) => printed * 1.22500001812 }],
  [/^t-da$/, { build: (g) => `air { barometer: ${g("P")} inHg station; temperature: ${g("T")} °F }`, value: "air.density-altitude" }],
  [/^t-kw$/, { build: (g) => oneRow("torque (N·m)", g("rpm"), String(g("T"))), value: "pull.peak.power" }],
  [/^t-torque$/, { build: (g) => oneRow("power (hp)", g("rpm"), String(g("hp"))), value: "pull.peak.torque" }],
  [/^t-bmep$/, { engine: (g) => squareOf(g.si("V")), build: (g) => oneRow("torque (N·m)", 5000, String(g("T"))), value: "bmep.peak" }],
  [/^t-bmep-psi$/, { engine: (g) => squareOf(g.si("V")), build: (g) => oneRow("torque (ft-lb)", 5000, String(g("T"))), value: "bmep.peak" }],
  [/^t-loss$/, { build: (g) => `vehicle { drivetrain-loss: ${100 * g("loss")} % }\n ${oneRow("power (hp)", 5000, String(g("whp"))).replace("crank", "wheels")}`, value: "pull.at-crank.power" }],
  [/^t-mph-gear$/, { engine: (g) => `redline: ${g("rpm")} rpm`, build: (g) => `fit gearbox { ratios: ${g("g")} }\n fit final-drive { ratio: ${g("f")} }\n fit tyre { diameter: ${g("dia")} in }`, value: "speed.gear.1" }],
  [/^t-kmh-gear$/, { engine: (g) => `redline: ${g("rpm")} rpm`, build: (g) => `fit gearbox { ratios: ${g("g")} }\n fit final-drive { ratio: ${g("f")} }\n fit tyre { circumference: ${g("C")} m }`, value: "speed.gear.1" }],
  [/^t-tyre$/, { build: (g) => `fit tyre { width: ${g("w")} mm; profile: ${100 * g("a")} %; rim: ${g("r")} in }`, value: "tyre.nominal-diameter" }],
  [/^t-rpmdrop$/, { engine: (g) => `redline: ${g("rpm")} rpm`, build: (g) => `fit gearbox { ratios: ${g("g1")}, ${g("g2")} }`, value: "shift.gear.2" }],
  [/^t-comp-var$/, { build: (g) => `measured cranking cold on 2027-03-20 {\n | cylinder (psi) | 1 | 2 | 3 | 4 |\n | dry | ${g("p1")} | ${g("p2")} | ${g("p3")} | ${g("p4")} |\n }`, value: "cranking.spread" }],
];

/** Checks that no file states, with the reason. They are held at their function. */
const AT_THE_FUNCTION: Readonly<Record<string, string>> = {
  "b-ve": "a file states filling and gets air flow, not the other way about",
  "b-ic-eff": "a file states a cooler's effectiveness, not the three temperatures that give it",
  "b-capstan": "no file states the friction of a belt",
  "b-afr-gasoline-ch1.87": "no file states a fuel's composition", "b-afr-ethanol": "no file states a fuel's composition", "b-afr-propane": "no file states a fuel's composition",
  "b-afr-butane": "no file states a fuel's composition", "b-afr-isooctane": "no file states a fuel's composition",
  "b-afr-e10": "no file states a blend by its shares", "b-afr-e85": "no file states a blend by its shares", "b-afr-e85-winter-51": "no file states a blend by its shares",
  "b-bsfc-meas": "no file states fuel burnt beside power", "b-mlcycle": "no file states the air of one cylinderful", "b-pump-e85": "a comparison of two fuels, and a build burns one",
  "b-bearing-low": "a rule of thumb for what to ask for, where a file states what is asked for", "b-bearing-rule": "as b-bearing-low", "b-bearing-metric": "as b-bearing-low",
  "b-endplay-low": "a usual figure, computed from nothing", "b-endplay-high": "a usual figure, computed from nothing",
  "b-ptw-cast-or-hypereutectic-low": "a usual figure, computed from nothing", "b-ptw-4032-forged-street-low": "a usual figure, computed from nothing", "b-ptw-2618-forged-naturally-aspirated-low": "a usual figure, computed from nothing",
  "b-ptw-2618-forged-naturally-aspirated-high": "a usual figure, computed from nothing", "b-ptw-2618-forged-boosted-low": "a usual figure, computed from nothing",
  "b-skirtgrowth": "no file states a running piston's temperature",
  "t-isa-T-2000": "the sheet asks for the air's temperature and never takes the standard one of a height",
  "t-hp-cross": "the crossing of two curves on a chart, no figure of an engine",
  "t-mph-hale": "the standing quarter mile is not on the sheet", "t-et-huntington": "the standing quarter mile is not on the sheet", "t-mph-huntington": "the standing quarter mile is not on the sheet",
  "t-et-fox": "the standing quarter mile is not on the sheet", "t-mph-fox": "the standing quarter mile is not on the sheet", "t-hp-et": "the standing quarter mile is not on the sheet",
  "t-leak": "a file states leak-down as the share that the tester shows", "t-leakband-serviceable": "a band of practice, computed from nothing", "t-leakband-fault": "a band of practice, computed from nothing",
  "t-comp-limit70": "a limit, not a value of the sheet", "t-comp-pred": "the pressure to expect is too weak a guess for the sheet", "t-vac-alt": "no file states the vacuum of another height",
};

const mine = checks.filter((check) => /^[bt]-/.test(check.id));
const caseOf = (id: string): Case | undefined => CASES.find(([pattern]) => pattern.test(id))?.[1];

function printedOf(id: string): number {
  return Number(checks.find((c) => c.id === id)?.expected.value);
}

function givenOf(check: Check): Given {
  const inputs = check.inputs as Record<string, { value: number | string; unit: string } | undefined>;
  const input = (name: string) => {
    const found = inputs[name];
    if (!found) throw new Error(`${check.id} has no input ${name}`);
    return found;
  };
  return Object.assign((name: string) => Number(input(name).value), { id: check.id, si: (name: string) => toSi(Number(input(name).value), input(name).unit) });
}

describe("a published check of air, boost, fuel and road", () => {
  it("is either written as a file or named with the reason why it cannot be", () => {
    expect(mine.filter((c) => caseOf(c.id) === undefined && AT_THE_FUNCTION[c.id] === undefined).map((c) => c.id)).toEqual([]);
    expect(Object.keys(AT_THE_FUNCTION).filter((id) => caseOf(id) !== undefined || !mine.some((c) => c.id === id))).toEqual([]);
    for (const [pattern] of CASES) expect(mine.some((c) => pattern.test(c.id)), String(pattern)).toBe(true);
    expect({ asFiles: mine.filter((c) => caseOf(c.id)).length, atTheFunction: Object.keys(AT_THE_FUNCTION).length, all: mine.length }).toEqual({ asFiles: 80, atTheFunction: 39, all: 119 });
  });

  it("stands beside its formula in the list that the page of formulas is written from", () => {
    const read = new Map(mine.filter((c) => caseOf(c.id)).map((check) => [check.id, [(caseOf(check.id) as Case).value.replace("{which}", check.id.endsWith("second") ? "second" : "top")]] as const));
    expect(listedPairs(new Set(read.keys()))).toEqual(pairsOf(read));
  });

  for (const check of mine.filter((c) => caseOf(c.id))) {
    it(`as a file: ${check.what} (${check.id})`, () => {
      const one = caseOf(check.id) as Case;
      const given = givenOf(check);
      const text = `engine e "Check" {\n source: "a published check"\n cylinders: 4\n ${one.engine?.(given) ?? ""}\n}\nbuild b on e {\n ${one.build(given)}\n}`;
      const worked = sheetOf(text).nominal(one.value.replace("{which}", check.id.endsWith("second") ? "second" : "top"));
      const printed = toSi(Number(check.expected.value), check.expected.unit);
      const expected = one.expected?.(printed, given) ?? printed;
      const slack = check.tolerance.kind === "relative" ? Math.abs(printed) * Number(check.tolerance.value) : Number(check.tolerance.value) * Math.abs(unitFactor(check.expected.unit));
      expect(Math.abs(worked - expected), `${worked} against ${expected}`).toBeLessThanOrEqual(slack * (1 + 1e-9) + Math.abs(expected) * 1e-11);
    });
  }
});
