// Inputs that the formulas of air, boost and fuel share: the barometer of the place, what the build burns, the bands of practice where it does
// not say. Knows no formula.
import * as air from "../../engineering/air.ts";
import * as fuelling from "../../engineering/fuel.ts";
import { type EffectiveBuild, type Provided, effective, quantityAt, wordAt } from "../../model/effective.ts";
import type { QuantityValue } from "../../model/value.ts";
import { exactly, mapInterval } from "../../quantity/interval.ts";
import { type Input, type LookedUp, blockHas, either, figure, orAssume, slotHas, table } from "../formula.ts";

export const blown = (build: EffectiveBuild): boolean => slotHas(build, "boost.target") || blockHas(build, "blower") || blockHas(build, "turbo");
export const hasBlower = (build: EffectiveBuild): boolean => blockHas(build, "blower");
export const hasInjectors = (build: EffectiveBuild): boolean => blockHas(build, "injector");
export const hasAir = (build: EffectiveBuild): boolean => blown(build) || blockHas(build, "air");
export const wantsPower = (build: EffectiveBuild): boolean => slotHas(build, "fuel-system.power-target");

export const mixtureIsRatio = (build: EffectiveBuild): boolean => quantityAt(build, "fuel-system.full-load-mixture")?.quantity.unit !== "lambda";

/** 15 °C, ISO 2533 at sea level. */
const STANDARD_TEMPERATURE = 288.15;

export const GAS = "thermodynamics of an ideal gas, an internal-combustion-engine textbook";
export const RATING = "the injector's own rating";

/** The air's pressure: read on the spot; brought up from sea level by the height; or of the standard atmosphere there. */
export function barometer(): Input<number> {
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

/** Height of the place: the build's own, else the shop's. */
export function heightOf(build: EffectiveBuild): { readonly nominal: number; readonly provided: readonly Provided[] } | undefined {
  const own = effective(build.slots.get("air.altitude"));
  if (own?.fact.value.is === "quantity") return { nominal: own.fact.value.quantity.interval.nominal, provided: [own] };
  const shop = build.shop?.figures.find((f) => f.path === "air.altitude")?.value;
  return shop?.is === "quantity" ? { nominal: shop.quantity.interval.nominal, provided: [] } : undefined;
}

export function airTemperature(): Input<number> {
  return orAssume(figure("air.temperature"), STANDARD_TEMPERATURE, "the air's temperature is not stated: taken as 15 °C");
}

export function inletTemperature(): Input<number> {
  return orAssume(figure("boost.inlet-temperature", "air.temperature"), STANDARD_TEMPERATURE, "the air's temperature is not stated: taken as 15 °C");
}

export function filling(): Input<number> {
  return figure("fuel-system.volumetric-efficiency");
}

function fuelOf(build: EffectiveBuild): { readonly fuel: fuelling.Fuel; readonly provided: Provided } | undefined {
  const provided = effective(build.slots.get("fuel"));
  const word = wordAt(build, "fuel");
  const fuel = fuelling.fuelNames.find((name) => name === word);
  return provided && fuel ? { fuel, provided } : undefined;
}

export function fuelStoichiometric(): Input<number> {
  return table("ratio", ["fuel"], (build) => {
    const one = fuelOf(build);
    return one && { interval: exactly(fuelling.fuels[one.fuel].stoichiometric), words: `stoichiometric ratio of ${one.fuel}`, source: fuelling.fuels[one.fuel].source, provided: [one.provided] };
  });
}

/** The ratio that an afr figure is on the scale of: petrol's on a gauge that prints petrol's, else the fuel's own. Asked for where nobody says. */
export function stoichiometric(): Input<number> {
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

/**
 * Fuel for a unit of work: stated, else the usual band for an engine of its kind. The bands are petrol's (methanol has its own); the same air
 * burns other fuels by their own ratio to it.
 */
export function consumption(): Input<number> {
  return either(figure("fuel-system.specific-consumption"), table("specific-consumption", [], (build): LookedUp => {
    const fuel = fuelOf(build)?.fuel ?? "petrol";
    const band = fuelling.usualSpecificConsumption[fuel === "methanol" ? "methanol" : blown(build) ? "boosted" : "natural"];
    const times = fuel === "methanol" ? 1 : fuelling.fuels.petrol.stoichiometric / fuelling.fuels[fuel].stoichiometric;
    return {
      interval: { low: band.low * times, nominal: ((band.low + band.high) / 2) * times, high: band.high * times }, words: "specific consumption", source: band.source, estimate: true,
      assumption: `specific consumption is not stated: the usual ${band.source}${times === 1 ? "" : ` of petrol, times ${times.toFixed(2)} for ${fuel},`} is taken`,
    };
  }));
}

/** Share of its time that an injector may stay open: the build's or shop's limit, else common practice. */
export function dutyAllowed(): Input<number> {
  return either(figure("limits.injector-duty"), table("fraction", [], (build): LookedUp => {
    const own = build.shop?.figures.find((f) => f.path === "limits.injector-duty")?.value;
    if (own?.is === "quantity") return { interval: exactly(own.quantity.interval.high), words: "duty allowed", source: "the shop's own limit" };
    const { value: most, source } = fuelling.usualInjectorDutyLimit;
    return { interval: exactly(most), words: "duty allowed", source, assumption: `no limit of duty is stated: ${most * 100} % is taken, common practice` };
  }));
}

/** A pump's rating by volume; one by weight over the fuel's density. */
export function pumpFlow(): Input<number> {
  return table("volume-flow", ["fuel-pump.flow", "fuel"], (build): LookedUp | undefined => {
    const provided = effective(build.slots.get("fuel-pump.flow"));
    const rated = provided?.fact.value.is === "quantity" ? provided.fact.value.quantity : undefined;
    if (!provided || !rated) return undefined;
    if (rated.kind === "volume-flow") return { interval: rated.interval, words: "the pump's flow", source: "the pump's own rating", provided: [provided] };
    const one = fuelOf(build);
    const density = quantityAt(build, "fuel-system.density")?.quantity.interval.nominal ?? (one && fuelling.fuels[one.fuel].density);
    return density === undefined ? undefined : { interval: mapInterval(rated.interval, (m) => m / density), words: "the pump's flow by volume", source: "the pump's own rating", provided: [provided] };
  });
}

export function fuelDensity(): Input<number> {
  return either(figure("fuel-system.density"), table("density", ["fuel"], (build): LookedUp | undefined => {
    const one = fuelOf(build);
    return one && { interval: exactly(fuelling.fuels[one.fuel].density), words: `density of ${one.fuel}`, source: "from memory, near 15 °C", provided: [one.provided], assumption: `density of ${one.fuel} taken as ${fuelling.fuels[one.fuel].density} kg/m³` };
  }));
}

/** Rated flow by weight: as rated, or a rating by volume times the fuel's density. */
export function ratedFlow(): Input<number> {
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
