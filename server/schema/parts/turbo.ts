// Part kind: turbocharger.
import { figure } from "../row.ts";
import { partKind } from "../part.ts";
import { bars, gramsPerSecond, millimetres, percent, rpm } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "turbo",
  words: "A turbocharger.",
  asksForTune: true,
  keys: [
    figure("efficiency", "fraction", "70 %", "Isentropic efficiency of its compressor where it is used.", { usual: percent(40, 85), importance: "useful" }),
    figure("max-speed", "rotation", "160000 rpm", "Speed of its shaft that its maker allows.", { usual: rpm(20000, 350000), importance: "useful" }),
    figure("max-flow", "mass-flow", "32 lb/min", "Air flow that its compressor can pass.", { usual: gramsPerSecond(10, 1500), importance: "useful" }),
    figure("wastegate", "pressure", "0.5 bar gauge", "Boost at which its wastegate starts to open.", { qualifiers: ["pressure-reference"], usual: bars(0.1, 3), importance: "useful", tune: true }),
    figure("oil-restrictor", "length", "1.0 mm", "Bore of its oil feed restrictor.", { usual: millimetres(0.4, 5), importance: "rare" }),
  ],
  clears: ["turbo.*"],
  cautions: ["boost", "burst-speed", "hot"],
});
