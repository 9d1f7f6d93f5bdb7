// Part kind: spark plugs.
import { figure, mark, plainKey } from "../row.ts";
import { partKind } from "../part.ts";
import { millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "spark-plug",
  words: "The spark plugs.",
  keys: [
    figure("gap", "length", "0.80 mm", "Gap they are set to.", { usual: millimetres(0.3, 1.8), lands: "ignition.plug-gap", importance: "useful" }),
    mark("heat-range", "7", "Heat range as its maker numbers it: makers count in opposite directions.", { importance: "useful" }),
    plainKey("thread", "thread", "M14x1.25", "Thread.", { importance: "rare" }),
    figure("reach", "length", "19.0 mm", "Length of its thread: too long meets the piston.", { usual: millimetres(8, 32), importance: "useful" }),
  ],
  clears: ["spark-plug.*", "ignition.plug-gap"],
});
