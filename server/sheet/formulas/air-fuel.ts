// Air, boost and fuel: what the engine breathes, how hard it is blown, and whether injectors and pump keep up. Boost is counted over the
// barometer of the place. Knows no physics of its own.
import * as air from "../../engineering/air.ts";
import * as boosting from "../../engineering/boost.ts";
import * as fuelling from "../../engineering/fuel.ts";
import { type EffectiveBuild, type Provided, effective, quantityAt, wordAt } from "../../model/effective.ts";
import type { QuantityValue } from "../../model/value.ts";
import { exactly, mapInterval } from "../../quantity/interval.ts";
import { type Formula, type Input, type LookedUp, blockHas, either, figure, formula, optional, orAssume, slotHas, table, value, where } from "../formula.ts";

const blown = (build: EffectiveBuild): boolean => slotHas(build, "boost.target") || blockHas(build, "blower") || blockHas(build, "turbo");
const hasBlower = (build: EffectiveBuild): boolean => blockHas(build, "blower");
const hasInjectors = (build: EffectiveBuild): boolean => blockHas(build, "injector");
const hasAir = (build: EffectiveBuild): boolean => blown(build) || blockHas(build, "air");
const wantsPower = (build: EffectiveBuild): boolean => slotHas(build, "fuel-system.power-target");

const mixtureIsRatio = (build: EffectiveBuild): boolean => quantityAt(build, "fuel-system.full-load-mixture")?.quantity.unit !== "lambda";

/** 15 °C, ISO 2533 at sea level. */
const STANDARD_TEMPERATURE = 288.15;

const GAS = "thermodynamics of an ideal gas, an internal-combustion-engine textbook";
const RATING = "the injector's own rating";

export const AIR_FUEL: readonly Formula[] = [
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
    id: "boost.gauge", section: "fuel-and-boost", label: "Boost over the barometer", kind: "pressure", unit: "kilopascal", quiet: true,
    words: "Manifold pressure over the air around: a figure in absolute has the barometer taken off.",
    expression: "{boost} − {barometer}", source: "by definition",
    inputs: { boost: figure("boost.target"), barometer: where(value("air.pressure"), (build) => quantityAt(build, "boost.target")?.qualifiers["pressure-reference"] === "absolute") },
    applies: blown,
    compute: ({ boost, barometer: taken }) => boost - (taken ?? 0),
  }),
  formula({
    id: "boost.pressure-ratio", section: "fuel-and-boost", label: "Pressure ratio", kind: "ratio",
    words: "What the compressor has to do: absolute pressure after it over that before it. The same boost asks more of it on a mountain.",
    expression: "({barometer} + {boost} + {coolerDrop}) / ({barometer} − {inletDrop})", source: "by definition",
    inputs: { barometer: value("air.pressure"), boost: value("boost.gauge"), coolerDrop: optional(figure("boost.cooler-drop")), inletDrop: optional(figure("boost.inlet-drop")) },
    applies: blown,
    compute: ({ barometer: pressure, boost, coolerDrop, inletDrop }) => boosting.pressureRatio({ barometer: pressure, boostGauge: boost, inletDrop: inletDrop ?? 0, coolerDrop: coolerDrop ?? 0 }),
  }),
  formula({
    id: "charge.temperature-hot", section: "fuel-and-boost", label: "Temperature after the compressor", kind: "temperature", unit: "degree-celsius", quiet: true,
    words: "How hot pressing makes the air, before any cooler.",
    expression: "{inlet} · (1 + ({ratio}^0.2857 − 1) / {efficiency})", source: `${GAS}; adiabatic relation`,
    inputs: { inlet: inletTemperature(), ratio: value("boost.pressure-ratio"), efficiency: figure("blower.efficiency", "turbo.efficiency") },
    applies: blown,
    compute: ({ inlet, ratio, efficiency }) => boosting.compressorOutletTemperature({ inletTemperature: inlet, ratio, efficiency }),
  }),
  formula({
    id: "charge.temperature", section: "fuel-and-boost", label: "Charge temperature", kind: "temperature", unit: "degree-celsius",
    words: "How hot the charge is that enters the engine: knock and power hang on it.",
    expression: "{hot} − {effectiveness} · ({hot} − {outside})", source: `${GAS}; cooler effectiveness by definition`,
    inputs: { hot: value("charge.temperature-hot"), effectiveness: where(figure("cooler.effectiveness"), (build) => blockHas(build, "cooler")), outside: airTemperature() },
    applies: blown,
    compute: ({ hot, effectiveness, outside }) => (effectiveness === undefined ? hot : boosting.cooledTemperature({ hot, coolant: outside, effectiveness })),
  }),
  formula({
    id: "compression.with-boost", section: "fuel-and-boost", label: "Compression with boost, by the rule of thumb", kind: "ratio", estimate: "a rule of thumb with no physics in it: it knows nothing of heat, chamber, spark or fuel",
    words: "A comparison figure of the trade. It is no limit: knock is settled on the engine.",
    expression: "{ratio} · ({boost} / 14.7 psi + 1)", source: "common practice, no source",
    inputs: { ratio: value("compression.static"), boost: value("boost.gauge") },
    applies: blown,
    compute: ({ ratio, boost }) => boosting.tradeEffectiveCompression({ ratio, boostGauge: boost }),
  }),
  formula({
    id: "blower.speed", section: "fuel-and-boost", label: "Blower speed at the redline", kind: "rotation", unit: "revolution-per-minute",
    words: "How fast the rotors turn when the engine is at its redline. What their maker allows is the limit.",
    expression: "{redline} · {crank} / {blower} · {stepUp}", source: "belt geometry, no slip",
    inputs: { redline: figure("redline"), crank: figure("blower.crank-pulley"), blower: figure("blower.blower-pulley"), stepUp: orAssume(figure("blower.step-up"), 1, "no gearing inside the blower is stated: its rotors are taken to turn with its pulley") },
    applies: hasBlower,
    compute: ({ redline, crank, blower, stepUp }) => boosting.blowerRpm({ rpm: redline, crankPulley: crank, blowerPulley: blower, stepUp }),
  }),
  formula({
    id: "blower.boost-estimate", section: "fuel-and-boost", label: "Boost the blower should make", kind: "pressure", unit: "kilopascal", estimate: "within 15 to 20 %: no slip of belt, one efficiency over the whole range",
    words: "What a blower of this displacement, geared so, piles up over what the engine swallows.",
    expression: "ratio at which {swept} · {step} · {efficient} of the blower meets {displacement} / 2 · {filling} of the engine, from {outside} and {barometer}, {heating} heating it, {cooling} cooling it",
    source: "conservation of mass; adiabatic relation",
    inputs: {
      swept: figure("blower.displacement"), step: value("blower.drive-ratio"), efficient: figure("blower.volumetric-efficiency"), displacement: value("displacement.total"), filling: filling(),
      outside: inletTemperature(), barometer: value("air.pressure"), heating: figure("blower.efficiency"), cooling: where(figure("cooler.effectiveness"), (build) => blockHas(build, "cooler")),
    },
    applies: (build) => hasBlower(build) && wordAt(build, "blower.type") !== "centrifugal",
    compute: ({ swept, step, efficient, displacement, filling: full, outside, barometer: pressure, heating, cooling }) => {
      const flowRatio = (swept * step * efficient) / ((displacement / 2) * full);
      const ratio = boosting.blowerPressureRatio({ flowRatio, inletTemperature: outside, efficiency: heating, effectiveness: cooling ?? 0 });
      return pressure * (ratio - 1);
    },
  }),
  formula({
    id: "blower.drive-ratio", section: "fuel-and-boost", label: "Blower turns for one of the crank", kind: "ratio", quiet: true,
    words: "Pulleys and gearing together.", expression: "{crank} / {blower} · {stepUp}", source: "belt geometry, no slip",
    inputs: { crank: figure("blower.crank-pulley"), blower: figure("blower.blower-pulley"), stepUp: orAssume(figure("blower.step-up"), 1, "no gearing inside the blower is stated: its rotors are taken to turn with its pulley") },
    applies: hasBlower,
    compute: ({ crank, blower, stepUp }) => (blower > 0 ? (crank / blower) * stepUp : undefined),
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
    id: "injector.pressure", section: "fuel-and-boost", label: "Pressure across the injectors", kind: "pressure", unit: "kilopascal", quiet: true,
    words: "Rail over manifold: a regulator referred to the open air gives away what the boost takes.",
    expression: "{rail} − {boost}, the rail alone where the regulator follows the manifold", source: "pressures along the line",
    inputs: { rail: figure("fuel-system.rail-pressure"), boost: where(value("boost.gauge"), (build) => blown(build) && wordAt(build, "fuel-system.regulator") === "atmosphere") },
    applies: hasInjectors,
    compute: ({ rail, boost }) => fuelling.injectorPressureDifference({ railGauge: rail, manifoldGauge: boost ?? 0, reference: boost === undefined ? "manifold" : "atmosphere" }),
  }),
  formula({
    id: "injector.flow", section: "fuel-and-boost", label: "Flow of one injector as it is fed", kind: "mass-flow", unit: "gram-per-second",
    words: "Rated flow brought to the pressure it really sees; flow follows the root of the pressure.",
    expression: "{rated} · √({pressure} / {ratedPressure})", source: `orifice law; ${RATING}`,
    inputs: { rated: ratedFlow(), pressure: value("injector.pressure"), ratedPressure: figure("injector.rated-pressure") },
    applies: hasInjectors,
    compute: ({ rated, pressure, ratedPressure }) => fuelling.injectorFlowAtPressure({ ratedFlow: rated, ratedDifference: ratedPressure, difference: pressure }),
  }),
  formula({
    id: "injector.duty", section: "fuel-and-boost", label: "Injector duty at the power wanted, redline", kind: "fraction", estimate: "the power wanted is taken at the redline; specific consumption is known to about 15 % unless measured",
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
    id: "pump.flow", section: "fuel-and-boost", label: "Fuel the pump must give", kind: "volume-flow", unit: "litre-per-hour", estimate: "20 % over the sum; specific consumption is known to about 15 % unless measured",
    words: "What the pump must deliver at rail pressure and running voltage, with a margin.",
    expression: "{power} · {consumption} / {density} · 1.2", source: "definition of specific consumption; margin of 15 to 30 % is common practice, no source",
    inputs: { power: figure("fuel-system.power-target"), consumption: consumption(), density: fuelDensity() },
    applies: wantsPower,
    compute: ({ power, consumption: used, density }) => fuelling.requiredPumpFlow({ power, specificConsumption: used, density, margin: fuelling.usualPumpMargin.value }),
  }),
];

/** The air's pressure: read on the spot; brought up from sea level by the height; or of the standard atmosphere there. */
function barometer(): Input<number> {
  return table("pressure", ["air.altitude"], (build): LookedUp | undefined => {
    const read = effective(build.slots.get("air.barometer"));
    const reading = read?.fact.value;
    const height = heightOf(build);
    if (read && reading?.is === "quantity") {
      if (reading.qualifiers["barometer-at"] !== "sea-level") return { interval: reading.quantity.interval, words: "barometer", source: "as read where it runs", provided: [read] };
      if (!height) return undefined;
      const share = air.standardPressure({ altitude: height.nominal }) / air.standardPressure({ altitude: 0 });
      return { interval: mapInterval(reading.quantity.interval, (p) => p * share), words: "barometer", source: "sea-level reading brought to the height by ISO 2533", provided: [read, ...height.provided] };
    }
    if (!height) return undefined;
    return { interval: exactly(air.standardPressure({ altitude: height.nominal })), words: "standard pressure at the height", source: "ISO 2533 standard atmosphere", provided: height.provided };
  });
}

function heightOf(build: EffectiveBuild): { readonly nominal: number; readonly provided: readonly Provided[] } | undefined {
  const own = effective(build.slots.get("air.altitude"));
  if (own?.fact.value.is === "quantity") return { nominal: own.fact.value.quantity.interval.nominal, provided: [own] };
  const shop = build.shop?.figures.find((f) => f.path === "air.altitude")?.value;
  return shop?.is === "quantity" ? { nominal: shop.quantity.interval.nominal, provided: [] } : undefined;
}

function airTemperature(): Input<number> {
  return orAssume(figure("air.temperature"), STANDARD_TEMPERATURE, "the air's temperature is not stated: taken as 15 °C");
}

function inletTemperature(): Input<number> {
  return orAssume(figure("boost.inlet-temperature", "air.temperature"), STANDARD_TEMPERATURE, "the air's temperature is not stated: taken as 15 °C");
}

function filling(): Input<number> {
  return figure("fuel-system.volumetric-efficiency");
}

function fuelOf(build: EffectiveBuild): { readonly fuel: fuelling.Fuel; readonly provided: Provided } | undefined {
  const provided = effective(build.slots.get("fuel"));
  const word = wordAt(build, "fuel");
  const fuel = fuelling.fuelNames.find((name) => name === word);
  return provided && fuel ? { fuel, provided } : undefined;
}

function fuelStoichiometric(): Input<number> {
  return table("ratio", ["fuel"], (build) => {
    const one = fuelOf(build);
    return one && { interval: exactly(fuelling.fuels[one.fuel].stoichiometric), words: `stoichiometric ratio of ${one.fuel}`, source: fuelling.fuels[one.fuel].source, provided: [one.provided] };
  });
}

/** The ratio that an afr figure is on the scale of: petrol's on a gauge that prints petrol's, else the fuel's own. Asked for where nobody says. */
function stoichiometric(): Input<number> {
  return table("ratio", ["fuel-system.afr-scale", "fuel"], (build): LookedUp | undefined => {
    const one = fuelOf(build);
    const scale = wordAt(build, "fuel-system.afr-scale");
    if (scale === "petrol") return { interval: exactly(fuelling.fuels.petrol.stoichiometric), words: "stoichiometric ratio of the gauge's scale", source: fuelling.fuels.petrol.source };
    if (!one) return undefined;
    const own = fuelling.fuels[one.fuel];
    // Petrol's figures are on petrol's scale whichever the gauge prints; of any other fuel the scale must be said.
    if (scale === "fuel" || one.fuel === "petrol") return { interval: exactly(own.stoichiometric), words: `stoichiometric ratio of ${one.fuel}`, source: own.source, provided: [one.provided] };
    return undefined;
  });
}

/** Fuel for a unit of work: stated, else the usual band for an engine of its kind. */
function consumption(): Input<number> {
  return either(figure("fuel-system.specific-consumption"), table("specific-consumption", [], (build): LookedUp => {
    const kind = wordAt(build, "fuel") === "methanol" ? "methanol" : blown(build) ? "boosted" : "natural";
    const band = fuelling.usualSpecificConsumption[kind];
    return {
      interval: { low: band.low, nominal: (band.low + band.high) / 2, high: band.high }, words: "specific consumption", source: band.source,
      assumption: `specific consumption is not stated: the usual ${band.source} is taken`,
    };
  }));
}

function fuelDensity(): Input<number> {
  return either(figure("fuel-system.density"), table("density", ["fuel"], (build): LookedUp | undefined => {
    const one = fuelOf(build);
    return one && { interval: exactly(fuelling.fuels[one.fuel].density), words: `density of ${one.fuel}`, source: "from memory, near 15 °C", provided: [one.provided], assumption: `density of ${one.fuel} taken as ${fuelling.fuels[one.fuel].density} kg/m³` };
  }));
}

/** Rated flow by weight: as rated, or a rating by volume times the fuel's density. */
function ratedFlow(): Input<number> {
  return table("mass-flow", ["injector.flow", "fuel"], (build): LookedUp | undefined => {
    const provided = effective(build.slots.get("injector.flow"));
    const rated: QuantityValue | undefined = provided?.fact.value.is === "quantity" ? provided.fact.value : undefined;
    if (!provided || !rated) return undefined;
    if (rated.quantity.kind === "mass-flow") return { interval: rated.quantity.interval, words: "rated flow", source: RATING, provided: [provided] };
    const stated = quantityAt(build, "fuel-system.density")?.quantity.interval.nominal;
    const one = fuelOf(build);
    const density = stated ?? (one && fuelling.fuels[one.fuel].density);
    if (density === undefined) return undefined;
    return {
      interval: mapInterval(rated.quantity.interval, (q) => q * density), words: "rated flow by weight", source: RATING, provided: [provided],
      ...(stated === undefined && one && { assumption: `density of ${one.fuel} taken as ${density} kg/m³` }),
    };
  });
}
