// Part kind: fuel pump.
import { figure } from "../row.ts";
import { partKind } from "../part.ts";
import { bars, cubicCentimetresPerMinute, plain, shareOf } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "fuel-pump",
  words: "The fuel pump.",
  keys: [
    figure("flow", ["volume-flow", "mass-flow"], "190 L/h", "Fuel it delivers at the pressure stated.", { usual: cubicCentimetresPerMinute(50, 40000), usualPer: [shareOf("pump.by-size", "what an engine of this size burns at the redline,", 0.3, 35)], importance: "essential" }),
    figure("at", "pressure", "3.0 bar", "Pressure at which it delivers that.", { usual: bars(0.05, 200), usualPer: [shareOf("fuel-system.rail-pressure", "the rail pressure", 0.2, 5)], importance: "essential" }),
    figure("voltage", "voltage", "13.5 V", "Voltage at which it delivers that.", { usual: plain(5, 60), importance: "rare" }),
    figure("count", "count", "1", "How many run together.", { usual: plain(1, 6), importance: "rare" }),
  ],
  clears: ["fuel-pump.*"],
  cautions: ["fuel"],
});
