// Part kind: fuel pressure regulator.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { bars } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "regulator",
  words: "The fuel pressure regulator.",
  keys: [
    figure("pressure", "pressure", "3.0 bar gauge", "Pressure it holds.", { qualifiers: ["pressure-reference"], usual: bars(0.1, 400), lands: "fuel-system.rail-pressure", importance: "essential" }),
    choice("reference", { manifold: "Held over manifold pressure.", atmosphere: "Held over the open air." }, "manifold", "What it is referred to.", { lands: "fuel-system.regulator", importance: "essential" }),
  ],
  clears: ["regulator.*"],
  cautions: ["fuel"],
});
