// A fuel pump that gives less than the power wanted burns, or is rated at less pressure than it works against.
import { usualPumpMargin } from "../engineering/fuel.ts";
import { type Provided, effective } from "../model/effective.ts";
import { compareWithLimit } from "../quantity/display.ts";
import type { BuildRule } from "./rule.ts";
import { inUnitOf, quantityOf, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "pump-short",
  scope: "build",
  on: ["engine", "build"],
  severity: "warning",
  page: {
    summary: "The fuel pump gives less than the power wanted burns, or its flow is stated at a lower pressure than it works against.",
    why: "A pump that runs out does it at full load, where a lean mixture melts pistons; and every pump gives less as pressure rises and voltage falls.",
    limit: "Below the fuel that the power wanted burns it is a warning; without a fifth to spare, or with a rating at less than the rail pressure and the boost together, it is advice.",
    source: "definition of specific consumption; a margin of 15 to 30 per cent is common practice, no source",
    remedy: "Fit a larger pump or a second one, or look its flow up at the pressure it works against and at running voltage.",
    cautions: ["fuel"],
    bad: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part fuel-pump holmrook-pump for any {
  source: "box label"
  flow: 45 L/h
  at: 4.0 bar
}

build birkrigg-1 on dunlin-20 {
  fuel: petrol
  altitude: 240 m
  fit holmrook-pump
  fuel-system { rail-pressure: 3.0 bar gauge; regulator: manifold; power-target: 150 hp at crank; specific-consumption: 320 .. 370 g/kWh; density: 0.745 kg/L }
}
`,
    good: `
engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  redline: 6200 rpm
}

part fuel-pump holmrook-pump for any {
  source: "box label"
  flow: 190 L/h
  at: 4.0 bar
}

build birkrigg-1 on dunlin-20 {
  fuel: petrol
  altitude: 240 m
  fit holmrook-pump
  fuel-system { rail-pressure: 3.0 bar gauge; regulator: manifold; power-target: 150 hp at crank; specific-consumption: 320 .. 370 g/kWh; density: 0.745 kg/L }
}
`,
  },
  check({ build, sheet, report }) {
    const nominal = (id: string) => sheet.byId.get(id)?.interval?.nominal;
    const flow = effective(build.slots.get("fuel-pump.flow"));
    const given = nominal("pump.given");
    if (!flow || given === undefined) return;
    const at = effective(build.slots.get("fuel-system.power-target"))?.location ?? flow.location;
    const count = quantityOf(effective(build.slots.get("fuel-pump.count")))?.quantity.interval.nominal ?? 1;
    const pumps = count > 1 ? `${count} pumps of ${written(flow)}` : `The pump's ${written(flow)}`;
    const burnt = nominal("fuel.flow");
    const wanted = nominal("pump.flow");
    const related = [{ message: "The pump's flow stands here.", at: flow.location }];
    if (burnt !== undefined && compareWithLimit(given, burnt) < 0) {
      report({ message: `${pumps} ${count > 1 ? "are" : "is"} less than the ${told(burnt, flow)} that the power wanted burns. Fit a larger pump, or want less power.`, at, path: "pump.flow", related });
      return;
    }
    if (wanted !== undefined && compareWithLimit(given, wanted) < 0) {
      report({ message: `${pumps} ${count > 1 ? "leave" : "leaves"} less than ${usualPumpMargin.value * 100} % over what the power wanted burns, which is common practice; ${told(wanted, flow)} would do. Look at a larger pump.`, at, path: "pump.flow", severity: "advice", related });
      return;
    }
    const rating = effective(build.slots.get("fuel-pump.at"));
    const rated = quantityOf(rating)?.quantity;
    const against = nominal("pump.pressure");
    if (!rating || !rated || against === undefined || compareWithLimit(rated.interval.high + rated.halfDigit, against) >= 0) return;
    report({
      message: `The pump's ${written(flow)} holds at ${written(rating)}, and it works against ${inUnitOf(rated, against, "pressure")}, where it gives less. Look its flow up at that pressure.`,
      at, path: "pump.pressure", severity: "advice", related,
    });
  },
};

/** A flow as the pump's is written; one by weight has its volume in litres an hour. */
function told(flow: number, like: Provided): string {
  const quantity = quantityOf(like)?.quantity;
  return inUnitOf(quantity?.kind === "volume-flow" ? quantity : undefined, flow, "volume-flow");
}
