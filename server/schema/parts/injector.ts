// Part kind: fuel injectors, one set.
import { figure, text } from "../row.ts";
import { partKind } from "../part.ts";
import { bars, milliseconds, plain, cubicCentimetresPerMinute, shareOf } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "injector",
  words: "The fuel injectors.",
  asksForTune: true,
  keys: [
    figure("flow", ["volume-flow", "mass-flow"], "440 cc/min", "Flow of one, held open, at its rated pressure.", { usual: cubicCentimetresPerMinute(20, 6000), usualPer: [shareOf("injector.by-size", "what a cylinder of this size burns at the redline,", 0.3, 12)], importance: "essential" }),
    figure("rated-pressure", "pressure", "3.0 bar", "Pressure difference across it at which that flow was measured.", { usual: bars(0.5, 200), importance: "essential" }),
    figure("count", "count", "4", "How many there are.", { usual: plain(1, 32), importance: "essential", tune: true }),
    figure("dead-time", "time", "1.0 ms", "Time it takes to open, at running voltage, before fuel comes.", { usual: milliseconds(0.1, 5), importance: "useful", tune: true }),
    figure("dead-time-at", "voltage", "13.5 V", "Voltage at which the dead time holds.", { usual: plain(6, 60), importance: "rare" }),
    text("test-fluid", '"heptane"', "What its flow was measured with.", { importance: "rare" }),
  ],
  clears: ["injector.*"],
  cautions: ["fuel"],
});
