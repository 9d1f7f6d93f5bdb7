// Part kind: crankshaft.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { grams, kilograms, millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "crankshaft",
  words: "The crankshaft.",
  keys: [
    figure("stroke", "length", "86.00 mm", "Stroke: twice its throw.", { usual: millimetres(25, 150), lands: "stroke", importance: "essential" }),
    figure("main-journal", "length", "54.00 mm", "Diameter of the main journals.", { mayQualify: ["oversize"], usual: millimetres(10, 120), lands: "bottom-end.main.journal", importance: "useful" }),
    figure("rod-journal", "length", "45.00 mm", "Diameter of the big-end journals.", { mayQualify: ["oversize"], usual: millimetres(10, 120), lands: "bottom-end.rod.journal", importance: "useful" }),
    figure("endplay", "length", "0.08 .. 0.20 mm", "Fore-and-aft play that its maker asks for.", { usual: millimetres(0.01, 1), lands: "bottom-end.thrust-endplay", importance: "useful" }),
    figure("balance-mass", "mass", "1150 g", "Bob weight it was balanced with.", { usual: grams(100, 6000), importance: "rare" }),
    choice("material", { cast: "Cast iron.", forged: "Forged steel.", billet: "Machined from steel." }, "forged", "What it is made of.", { importance: "useful" }),
    figure("mass", "mass", "14.2 kg", "Weight.", { usual: kilograms(0.5, 60), importance: "rare" }),
  ],
  clears: ["crankshaft.*", "bottom-end.main.journal", "bottom-end.rod.journal"],
});
