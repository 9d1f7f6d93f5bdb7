// Part kind: pulley on the crank that drives a blower.
import { figure } from "../row.ts";
import { partKind } from "../part.ts";
import { grams, millimetres, plain, rpm } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "crank-pulley",
  words: "The pulley on the crank that drives the blower.",
  keys: [
    figure("diameter", "length", "140 mm", "Effective diameter: where the belt's cords run.", { usual: millimetres(25, 350), lands: "blower.crank-pulley", importance: "essential" }),
    figure("max-speed", "rotation", "8000 rpm", "Crank speed that its maker allows.", { usual: rpm(1500, 20000), importance: "useful" }),
    figure("ribs", "count", "6", "Grooves for the belt's ribs.", { usual: plain(1, 20), importance: "rare" }),
    figure("mass", "mass", "620 g", "Weight.", { usual: grams(50, 8000), importance: "rare" }),
  ],
  clears: ["crank-pulley.*", "blower.crank-pulley"],
  cautions: ["burst-speed", "rotating"],
});
