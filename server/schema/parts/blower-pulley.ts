// Part kind: pulley on the blower that drives a blower.
import { figure } from "../row.ts";
import { partKind } from "../part.ts";
import { grams, millimetres, plain } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "blower-pulley",
  words: "The pulley on the blower that drives the blower.",
  asksForTune: true,
  keys: [
    figure("diameter", "length", "65 mm", "Effective diameter: where the belt's cords run.", { usual: millimetres(25, 350), lands: "blower.blower-pulley", importance: "essential" }),
    figure("ribs", "count", "6", "Grooves for the belt's ribs.", { usual: plain(1, 20), importance: "rare" }),
    figure("mass", "mass", "620 g", "Weight.", { usual: grams(50, 8000), importance: "rare" }),
  ],
  clears: ["blower-pulley.*", "blower.blower-pulley"],
  cautions: ["burst-speed", "rotating"],
});
