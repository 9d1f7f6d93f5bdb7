// Part kind: engine controller for fuel or spark; what is in it is the tune.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { kilopascals } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "controller",
  words: "A controller for fuel, spark or boost.",
  keys: [
    choice("controls", { "fuel-and-spark": "Fuel and spark.", fuel: "Fuel only.", spark: "Spark only.", boost: "Boost only." }, "fuel-and-spark", "What it controls.", { importance: "useful" }),
    figure("load-limit", "pressure", "250 kPa absolute", "Greatest manifold pressure that its sensor reads.", { qualifiers: ["pressure-reference"], usual: kilopascals(100, 700) }),
  ],
});
