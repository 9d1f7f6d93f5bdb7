// Air and fuel: what the engine breathes, what it burns, and whether injectors and pump keep up. Knows no physics of its own.
import * as air from "../../engineering/air.ts";
import * as boosting from "../../engineering/boost.ts";
import * as fuelling from "../../engineering/fuel.ts";
import { wordAt } from "../../model/effective.ts";
import { type Formula, blockHas, figure, formula, optional, orAssume, slotHas, value, where } from "../formula.ts";
import { blown, hasInjectors, hasAir, wantsPower, mixtureIsRatio, RATING, barometer, airTemperature, inletTemperature, filling, fuelStoichiometric, stoichiometric, consumption, dutyAllowed, pumpFlow, fuelDensity, ratedFlow } from "./air-inputs.ts";

export const AIR: readonly Formula[] = [
  formula({
    id: "air.pressure", section: "fuel-and-boost", label: "Barometer where it runs", kind: "pressure", unit: "kilopascal",
    words: "Pressure of the air round the engine: as measured there, else that of the standard atmosphere at its height.",
    expression: "{pressure}", source: "ISO 2533 standard atmosphere",
    inputs: { pressure: barometer() },
    applies: hasAir,
    compute: ({ pressure }) => pressure,
  }),
  formula({
    id: "air.density", section: "fuel-and-boost", label: "Density of the air", kind: "density", unit: "kilogram-per-cubic-metre",
    words: "How much air there is in what the engine draws: it falls with height, heat and damp.",
    expression: "{pressure} / (287.05 · {temperature}), damp air by its vapour at {humidity}", source: "ideal gas; Magnus form for water vapour",
    inputs: { pressure: value("air.pressure"), temperature: airTemperature(), humidity: optional(figure("air.humidity")) },
    applies: hasAir,
    compute: ({ pressure, temperature, humidity }) => (humidity === undefined ? air.dryAirDensity({ pressure, temperature }) : air.moistAirDensity({ pressure, temperature, humidity })),
  }),
  formula({
    id: "air.density-altitude", section: "fuel-and-boost", label: "Density altitude", kind: "length", unit: "metre",
    words: "Height at which the standard atmosphere is as thin as this air, damp left out: one figure to compare days by.",
    expression: "44.3 km · (1 − (17.326 · {pressure} / {temperature})^0.235), in inHg and Rankine", source: "US National Weather Service",
    inputs: { pressure: value("air.pressure"), temperature: airTemperature() },
    applies: hasAir,
    compute: ({ pressure, temperature }) => air.densityAltitude({ pressure, temperature }),
  }),
];

export const FUEL: readonly Formula[] = [
  formula({
    id: "airflow.volume", section: "fuel-and-boost", label: "Air the engine swallows at the redline, by volume", kind: "volume-flow", unit: "cubic-foot-per-minute",
    words: "Volume at the cylinders' own pressure: without boost it is what a carburettor or air meter must pass.",
    expression: "{displacement} / 2 · {redline} / 60 · {filling}", source: "a four-stroke fills itself every other turn",
    inputs: { displacement: value("displacement.total"), redline: figure("redline"), filling: filling() },
    applies: hasAir,
    compute: ({ displacement, redline, filling: full }) => air.airflowVolume({ displacement, rpm: redline, volumetricEfficiency: full }),
  }),
  formula({
    id: "airflow.engine", section: "fuel-and-boost", label: "Air the engine draws at the redline", kind: "mass-flow", unit: "gram-per-second",
    words: "Weight of air for each second at the redline; under boost, of the denser charge.",
    expression: "{displacement} / 2 · {redline} / 60 · {filling} · {density} · {ratio} · {outside} / {charge}", source: "a four-stroke fills itself every other turn",
    inputs: {
      displacement: value("displacement.total"), redline: figure("redline"), filling: filling(), density: value("air.density"),
      ratio: where(value("boost.pressure-ratio"), blown), outside: where(inletTemperature(), blown), charge: where(value("charge.temperature"), blown),
    },
    applies: hasAir,
    compute: ({ displacement, redline, filling: full, density, ratio, outside, charge }) => {
      const denser = ratio === undefined || outside === undefined || charge === undefined ? 1 : boosting.densityRatio({ ratio, inletTemperature: outside, chargeTemperature: charge });
      return air.massFlow({ volumeFlow: air.airflowVolume({ displacement, rpm: redline, volumetricEfficiency: full }), density: density * denser });
    },
  }),
  formula({
    id: "mixture.lambda", section: "fuel-and-boost", label: "Full-load mixture, lambda", kind: "ratio",
    words: "Air over what the fuel could just burn: below 1 is rich.",
    expression: "{mixture} / {stoichiometric}, a lambda as written", source: "stoichiometric ratios of public fuel tables",
    inputs: { mixture: figure("fuel-system.full-load-mixture"), stoichiometric: where(stoichiometric(), mixtureIsRatio) },
    applies: (build) => slotHas(build, "fuel-system.full-load-mixture"),
    compute: ({ mixture: written, stoichiometric: exact }) => (exact === undefined ? written : fuelling.lambdaFromRatio({ airFuelRatio: written, stoichiometric: exact })),
  }),
  formula({
    id: "mixture.afr", section: "fuel-and-boost", label: "Full-load mixture, air to fuel by weight", kind: "ratio",
    words: "The true air-fuel ratio of the fuel in the tank; a gauge may print petrol's whatever is burnt.",
    expression: "{lambda} · {stoichiometric}", source: "stoichiometric ratios of public fuel tables",
    inputs: { lambda: value("mixture.lambda"), stoichiometric: fuelStoichiometric() },
    applies: (build) => slotHas(build, "fuel-system.full-load-mixture"),
    compute: ({ lambda, stoichiometric: exact }) => fuelling.ratioFromLambda({ lambda, stoichiometric: exact }),
  }),
  formula({
    id: "power.estimate", section: "fuel-and-boost", label: "Power that the air is enough for", kind: "power", unit: "kilowatt", estimate: "specific consumption decides, and is known to about 15 % unless measured",
    words: "Crank power that this much air carries fuel for: a band to plan fuel by, not a claim.",
    expression: "{airflow} / ({afr} · {consumption})", source: "definition of specific consumption",
    inputs: { airflow: value("airflow.engine"), afr: value("mixture.afr"), consumption: consumption() },
    applies: (build) => hasAir(build) && slotHas(build, "fuel-system.full-load-mixture"),
    compute: ({ airflow, afr, consumption: used }) => fuelling.powerFromAirflow({ airFlow: airflow, airFuelRatio: afr, specificConsumption: used }),
  }),
  formula({
    id: "injector.by-size", section: "fuel-and-boost", label: "Fuel that one injector gives an engine of this size at the redline", kind: "volume-flow", unit: "cubic-centimetre-per-minute", quiet: true,
    words: "Cylinders filled once with plain air and petrol: no figure to buy by, and never ten times off.",
    expression: "{cylinder} · {cylinders} / {injectors} · {redline} / 2 · 1.2 kg/m³ / (12.6 · 740 kg/m³)", source: "four-stroke filling; density of air at 20 °C, petrol at full-load mixture", estimate: "no boost, no other fuel, no resonance",
    inputs: { cylinder: value("displacement.cylinder"), cylinders: figure("cylinders"), injectors: figure("injector.count"), redline: figure("redline") },
    applies: hasInjectors,
    compute: ({ cylinder, cylinders, injectors, redline }) => (injectors > 0 ? bySize(cylinder * cylinders, redline) / injectors : undefined),
  }),
  formula({
    id: "pump.by-size", section: "fuel-and-boost", label: "Fuel that an engine of this size burns at the redline", kind: "volume-flow", unit: "litre-per-hour", quiet: true,
    words: "Cylinders filled once with plain air and petrol: no figure to buy by, and never thirty times off.",
    expression: "{displacement} · {redline} / 2 · 1.2 kg/m³ / (12.6 · 740 kg/m³)", source: "four-stroke filling; density of air at 20 °C, petrol at full-load mixture", estimate: "no boost, no other fuel, no resonance",
    inputs: { displacement: value("displacement.total"), redline: figure("redline") },
    applies: (build) => blockHas(build, "fuel-pump"),
    compute: ({ displacement, redline }) => bySize(displacement, redline),
  }),
  formula({
    id: "injector.pressure", section: "fuel-and-boost", label: "Pressure across the injectors", kind: "pressure", unit: "kilopascal", quiet: true,
    words: "Rail over manifold: a regulator referred to the open air gives away what the boost takes.",
    expression: "{rail} − {boost}, the rail alone where the regulator follows the manifold", source: "pressures along the line",
    inputs: { rail: figure("fuel-system.rail-pressure"), boost: where(value("boost.gauge"), (build) => blown(build) && wordAt(build, "fuel-system.regulator") === "atmosphere") },
    applies: hasInjectors,
    compute: ({ rail, boost }) => fuelling.injectorPressureDifference({ railGauge: rail, manifoldGauge: boost ?? 0, reference: boost === undefined ? "manifold" : "atmosphere" }),
  }),
  formula({
    id: "injector.flow", section: "fuel-and-boost", label: "Flow of one injector as it is fed", kind: "mass-flow", unit: "gram-per-second", tune: true,
    words: "Rated flow brought to the pressure it really sees; flow follows the root of the pressure.",
    expression: "{rated} · √({pressure} / {ratedPressure})", source: `orifice law; ${RATING}`,
    inputs: { rated: ratedFlow(), pressure: value("injector.pressure"), ratedPressure: figure("injector.rated-pressure") },
    applies: hasInjectors,
    compute: ({ rated, pressure, ratedPressure }) => fuelling.injectorFlowAtPressure({ ratedFlow: rated, ratedDifference: ratedPressure, difference: pressure }),
  }),
  formula({
    id: "injector.flow-wanted", section: "fuel-and-boost", label: "Flow each injector must have for the power wanted", kind: "mass-flow", unit: "gram-per-second", estimate: "specific consumption is known to about 15 % unless measured; dead time is left out",
    words: "At the pressure it is fed with, held to the greatest duty allowed: what to buy.",
    expression: "{power} · {consumption} / ({injectors} · {duty})", source: "definition of specific consumption",
    inputs: { power: figure("fuel-system.power-target"), consumption: consumption(), injectors: figure("injector.count"), duty: dutyAllowed() },
    applies: (build) => hasInjectors(build) && wantsPower(build),
    compute: ({ power, consumption: used, injectors, duty }) => fuelling.requiredInjectorFlow({ power, specificConsumption: used, injectors, duty }),
  }),
  formula({
    id: "injector.duty", section: "fuel-and-boost", label: "Injector duty at the power wanted, redline", kind: "fraction", unit: "percent", estimate: "the power wanted is taken at the redline; specific consumption is known to about 15 % unless measured",
    words: "Share of its time that an injector must stay open, its opening time counted in.",
    expression: "({power} · {consumption} / {injectors} / {flow} · 120 / {redline} + {deadTime}) · {redline} / 120", source: "definition of specific consumption; one squirt in two turns",
    inputs: {
      power: figure("fuel-system.power-target"), consumption: consumption(), injectors: figure("injector.count"), flow: value("injector.flow"), redline: figure("redline"),
      deadTime: orAssume(figure("injector.dead-time"), 0, "the injectors' dead time is not stated and is left out"),
    },
    applies: (build) => hasInjectors(build) && wantsPower(build),
    compute: ({ power, consumption: used, injectors, flow, redline, deadTime }) =>
      fuelling.injectorDuty({ fuelPerCycle: fuelling.fuelPerCycleForPower({ power, specificConsumption: used, rpm: redline, cylinders: injectors }), flow, deadTime, rpm: redline }),
  }),
  formula({
    id: "fuel.flow", section: "fuel-and-boost", label: "Fuel burnt at the power wanted", kind: "volume-flow", unit: "litre-per-hour", quiet: true, estimate: "specific consumption is known to about 15 % unless measured",
    words: "What the engine burns, without a margin.",
    expression: "{power} · {consumption} / {density}", source: "definition of specific consumption",
    inputs: { power: figure("fuel-system.power-target"), consumption: consumption(), density: fuelDensity() },
    applies: wantsPower,
    compute: ({ power, consumption: used, density }) => fuelling.requiredPumpFlow({ power, specificConsumption: used, density, margin: 0 }),
  }),
  formula({
    id: "pump.pressure", section: "fuel-and-boost", label: "Pressure the pump works against", kind: "pressure", unit: "kilopascal", quiet: true,
    words: "Rail pressure, and the boost on top where the regulator follows the manifold.",
    expression: "{rail} + {boost}", source: "pressures along the line",
    inputs: { rail: figure("fuel-system.rail-pressure"), boost: where(value("boost.gauge"), (build) => blown(build) && wordAt(build, "fuel-system.regulator") !== "atmosphere") },
    applies: (build) => slotHas(build, "fuel-system.rail-pressure") && (wantsPower(build) || blockHas(build, "fuel-pump")),
    compute: ({ rail, boost }) => rail + (boost ?? 0),
  }),
  formula({
    id: "pump.given", section: "fuel-and-boost", label: "Fuel the pump gives", kind: "volume-flow", unit: "litre-per-hour", quiet: true,
    words: "As its maker states it, all pumps together.",
    expression: "{flow} · {pumps}", source: "the pump's own rating",
    inputs: { flow: pumpFlow(), pumps: optional(figure("fuel-pump.count")) },
    applies: (build) => slotHas(build, "fuel-pump.flow"),
    compute: ({ flow, pumps }) => flow * (pumps ?? 1),
  }),
  formula({
    id: "pump.flow", section: "fuel-and-boost", label: "Fuel the pump must give", kind: "volume-flow", unit: "litre-per-hour", estimate: "20 % over the sum; specific consumption is known to about 15 % unless measured",
    words: "What the pump must deliver at rail pressure and running voltage, with a margin.",
    expression: "{power} · {consumption} / {density} · 1.2", source: "definition of specific consumption; margin of 15 to 30 % is common practice, no source",
    inputs: { power: figure("fuel-system.power-target"), consumption: consumption(), density: fuelDensity() },
    applies: wantsPower,
    compute: ({ power, consumption: used, density }) => fuelling.requiredPumpFlow({ power, specificConsumption: used, density, margin: fuelling.usualPumpMargin.value }),
  }),
];

/** Petrol, m³/s, that a displacement (m³) filled once every other turn takes at full-load mixture. */
function bySize(displacement: number, rpm: number): number {
  return (displacement * (rpm / 120) * 1.2) / (12.6 * 740);
}
