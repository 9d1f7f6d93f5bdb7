// What a running engine is fed and kept with: air, boost, fuel, spark, oil and water. Knows the figures, not what follows from them.
import { choice, figure, mark, text, yesNo } from "../row.ts";
import { PER_DISPLACEMENT, bars, celsius, degrees, gramsPerKilowattHour, kelvins, kilograms, kilogramsPerLitre, kilometres, kilopascals, litres, metres, millimetres, percent, plain, rpm, shareOf } from "../spans.ts";
import type { BlockSchema } from "../types.ts";

const STANDARD_ATMOSPHERE = "standard atmosphere from below sea level to the highest roads, ISO 2533";

/** From below sea level to the highest roads, inside the lowest layer of the standard atmosphere. */
export const AIR_ALTITUDE = metres(-430, 5500, STANDARD_ATMOSPHERE);

/** The chemistry each name stands for is in server/engineering. */
export const FUELS = {
  petrol: "Pump petrol.",
  E10: "Petrol with a tenth of ethanol by volume.",
  E85: "Ethanol with about 15 % petrol by volume.",
  ethanol: "Ethanol.",
  methanol: "Methanol.",
  LPG: "Liquefied petroleum gas.",
  propane: "Propane.",
  butane: "Butane.",
} as const;

export const AIR: BlockSchema = {
  id: "air",
  words: "The air that the engine breathes: where and when.",
  base: "air",
  keys: [
    figure("altitude", "length", "250 m", "Height above sea level where the engine runs.", { usual: AIR_ALTITUDE, importance: "useful", tune: true }),
    figure("barometer", "pressure", "98.6 kPa station", "Pressure of the air around the engine.", { qualifiers: ["barometer-at"], usual: kilopascals(50, 109, STANDARD_ATMOSPHERE), importance: "useful" }),
    figure("temperature", "temperature", "18 °C", "Temperature of the air that the engine draws.", { usual: celsius(-40, 60), importance: "useful" }),
    figure("humidity", "fraction", "55 %", "Relative humidity.", { usual: percent(0, 100, "by definition"), importance: "useful" }),
  ],
};

export const BOOST: BlockSchema = {
  id: "boost",
  words: "Pressure over the barometer in the manifold, and what the charge passes on its way.",
  keys: [
    figure("target", "pressure", "0.55 bar gauge", "Boost wanted in the manifold.", { qualifiers: ["pressure-reference"], usual: bars(0, 5), usualPer: [shareOf("boost.valve-opens", "the relief at", 0.2, 1.6), shareOf("limits.boost", "the limit", 0.1, 3)], importance: "essential" }),
    figure("at", "rotation", "6000 rpm", "Engine speed at which that boost is wanted.", { usual: rpm(1000, 20000) }),
    figure("inlet-drop", "pressure", "1.5 kPa", "Pressure lost in filter and inlet ahead of the compressor.", { usual: kilopascals(0, 20) }),
    figure("cooler-drop", "pressure", "5 kPa", "Pressure lost in the charge cooler and its pipes.", { usual: kilopascals(0, 50) }),
    figure("inlet-temperature", "temperature", "25 °C", "Temperature of the air entering the compressor.", { usual: celsius(-40, 80) }),
    figure("charge-temperature", "temperature", "55 °C", "Temperature of the charge entering the engine, where it is known.", { usual: celsius(-40, 200) }),
    figure("valve-opens", "pressure", "0.6 bar gauge", "Boost at which the relief or bypass valve opens.", { qualifiers: ["pressure-reference"], usual: bars(0, 5), tune: true }),
  ],
};

export const FUEL_SYSTEM: BlockSchema = {
  id: "fuel-system",
  words: "How fuel reaches the engine.",
  keys: [
    choice("type", { carburettor: "One carburettor or more.", injection: "Port injection.", "direct-injection": "Injection into the cylinder.", "throttle-body": "Injection into the throttle body.", mechanical: "Mechanical injection." }, "injection", "What meters the fuel.", { importance: "useful", tune: true }),
    figure("rail-pressure", "pressure", "3.0 bar gauge", "Fuel pressure in the rail.", { qualifiers: ["pressure-reference"], usual: bars(0.1, 400), usualPer: [shareOf("injector.rated-pressure", "the injectors' rated pressure", 0.2, 5)], importance: "useful" }),
    choice("regulator", { manifold: "Held over manifold pressure: the injector sees the same difference at any boost.", atmosphere: "Held over the open air: boost takes away from what the injector sees." }, "manifold", "What the fuel pressure regulator is referred to.", { importance: "useful" }),
    figure("specific-consumption", "specific-consumption", "300 .. 350 g/kWh", "Fuel burnt for one unit of work at full load.", { usual: gramsPerKilowattHour(180, 1000), importance: "useful" }),
    figure("density", "density", "0.745 kg/L", "Density of the fuel.", { usual: kilogramsPerLitre(0.4, 0.9) }),
    figure("full-load-mixture", "mixture", "12.6 afr", "Mixture wanted at full load.", { usual: plain(0.6, 20), importance: "useful" }),
    choice("afr-scale", { petrol: "The gauge prints petrol air-fuel ratios whatever the fuel.", fuel: "The figures are true air-fuel ratios of the fuel burnt." }, "petrol", "Which scale the mixture figures in afr are on.", { importance: "useful" }),
    figure("power-target", "power", "140 hp at crank", "Power that the fuel must be enough for.", { qualifiers: ["power-at"], usual: plain(500, 1.5e6), usualPer: PER_DISPLACEMENT, importance: "useful" }),
    figure("volumetric-efficiency", "fraction", "85 %", "How full the cylinders get, against the air before the inlet.", { usual: percent(30, 140) }),
  ],
};

export const IGNITION: BlockSchema = {
  id: "ignition",
  words: "Spark: when, and across what gap.",
  keys: [
    figure("base-timing", "angle", "10 deg btdc at 850 rpm", "Spark advance set with the timing light, and the speed at which it is set.", { qualifiers: ["event"], mayQualify: ["degrees-of"], usual: degrees(-20, 60), importance: "useful" }),
    figure("full-advance", "angle", "32 deg btdc at 4000 rpm", "Whole spark advance at speed and full load.", { qualifiers: ["event"], mayQualify: ["degrees-of"], usual: degrees(0, 65), usualPer: [shareOf("ignition.base-timing", "the base timing", 0.8, 20)], importance: "useful" }),
    figure("plug-gap", "length", "0.80 mm", "Gap of the spark plugs.", { usual: millimetres(0.3, 1.8), importance: "useful" }),
    figure("points-gap", "length", "0.40 mm", "Gap of the contact breaker.", { usual: millimetres(0.2, 0.7), importance: "rare" }),
    figure("dwell", "angle", "52 deg", "Angle of the distributor through which the points stay shut.", { usual: degrees(10, 90), importance: "rare" }),
    figure("idle", "rotation", "850 rpm", "Idling speed.", { usual: rpm(400, 3000), importance: "rare" }),
  ],
};

export const FLUIDS: BlockSchema = {
  id: "fluids",
  words: "Oil and coolant: which, how much, how often.",
  keys: [
    mark("oil", "10W-40", "Grade of engine oil.", { importance: "useful" }),
    mark("break-in-oil", "20W-50", "Grade of oil for running in.", { importance: "rare" }),
    figure("oil-capacity", "capacity", "4.2 L", "Oil that goes in at a change, filter included.", { usual: litres(0.2, 25), usualPer: [shareOf("displacement.total", "the displacement", 0.35, 20)], importance: "useful" }),
    figure("oil-change", "distance", "10000 km", "Distance between oil changes.", { usual: kilometres(100, 50000) }),
    figure("coolant-capacity", "capacity", "6.5 L", "Coolant that goes in.", { usual: litres(0.3, 40), usualPer: [shareOf("displacement.total", "the displacement", 0.6, 20)] }),
    text("coolant", '"half water, half antifreeze"', "What the coolant is.", { importance: "rare" }),
    figure("thermostat", "temperature", "88 °C", "Temperature at which the thermostat opens.", { usual: celsius(40, 110), importance: "rare" }),
    yesNo("air-cooled", "Whether the engine is cooled by air alone.", { importance: "rare" }),
  ],
  blocks: {
    "oil-pressure": {
      id: "oil-pressure",
      words: "Hot oil pressure the maker asks for, by engine speed.",
      keys: [],
      table: {
        words: "Least hot oil pressure at each speed; pressures are gauge.",
        form: "columns",
        columns: [
          figure("rpm", "rotation", "1000 rpm", "Engine speed.", { usual: rpm(300, 20000), required: true }),
          figure("pressure", "pressure", "1.0 bar", "Least hot oil pressure, as the gauge reads.", { usual: bars(0, 12), required: true }),
        ],
        example: "| rpm | pressure (bar) |",
      },
    },
  },
};

export const THERMAL: BlockSchema = {
  id: "thermal",
  words: "Temperatures at which cold and hot are meant.",
  keys: [
    figure("cold", "temperature", "20 °C", "Temperature of the engine when it is called cold.", { usual: celsius(-20, 45) }),
    figure("hot", "temperature", "90 °C", "Temperature of the engine when it is called hot.", { usual: celsius(40, 140) }),
    figure("growth", "temperature-difference", "70 K", "How much warmer the engine is when hot.", { usual: kelvins(10, 150), importance: "rare" }),
  ],
};

export const VEHICLE: BlockSchema = {
  id: "vehicle",
  words: "What the engine pushes along.",
  keys: [
    figure("mass", "mass", "910 kg", "Weight of the car or machine as it runs, driver included.", { usual: kilograms(40, 6000) }),
    choice("driven", { front: "Front wheels.", rear: "Rear wheels.", all: "All wheels." }, "rear", "Which wheels are driven.", { importance: "rare" }),
    figure("drivetrain-loss", "fraction", "12 .. 18 %", "Share of the crank's power that never reaches the wheels: a guess unless it was measured.", { usual: percent(2, 40), importance: "useful" }),
  ],
};

export const DECOMPRESSOR = yesNo("decompressor", "Whether a decompressor lets pressure out while the engine is cranked: cranking pressures then read low and mean nothing bad.", { importance: "rare" });
