// Part kind: connecting rod.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { grams, millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "rod",
  words: "The connecting rods.",
  keys: [
    figure("length", "length", "138.5 mm", "Middle of big end to middle of small end.", { usual: millimetres(50, 300), lands: "rod-length", importance: "essential" }),
    figure("small-end-mass", "mass", "140 g", "Weight of the small end, hung level.", { usual: grams(10, 800), lands: "bottom-end.small-end-mass", importance: "useful" }),
    figure("big-end-mass", "mass", "390 g", "Weight of the big end, hung level.", { usual: grams(20, 2000), lands: "bottom-end.big-end-mass" }),
    figure("housing", "length", "48.03 mm", "Big-end housing without shells.", { usual: millimetres(12, 140), lands: "bottom-end.rod.housing" }),
    figure("side-clearance", "length", "0.15 .. 0.30 mm", "Side play that its maker asks for.", { usual: millimetres(0.02, 1.5), lands: "bottom-end.rod-side-clearance", importance: "useful" }),
    figure("pin-clearance", "length", "0.012 .. 0.020 mm", "Clearance of the pin in the small end.", { usual: millimetres(0.001, 0.1), importance: "rare" }),
    choice("material", { forged: "Forged steel.", cast: "Cast.", billet: "Machined from steel.", sintered: "Sintered.", aluminium: "Aluminium: grows far more, needs more squish.", titanium: "Titanium." }, "forged", "What it is made of.", { importance: "useful" }),
  ],
  clears: ["rod.*", "bottom-end.small-end-mass", "bottom-end.big-end-mass", "bottom-end.reciprocating-mass"],
  cautions: ["tightening"],
});
