// Part kind: carburettor, one or several alike; its jets belong to the tune.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { bars, millimetres, plain } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "carburettor",
  words: "The carburettor or carburettors.",
  asksForTune: true,
  keys: [
    figure("count", "count", "2", "How many there are.", { usual: plain(1, 12), importance: "useful", tune: true }),
    figure("bore", "length", "40 mm", "Bore at the throttle.", { usual: millimetres(8, 80), importance: "useful", tune: true }),
    figure("choke", "length", "32 mm", "Narrowest place of the venturi.", { usual: millimetres(6, 70), importance: "useful", tune: true }),
    choice("type", { fixed: "Fixed venturi.", variable: "Variable venturi." }, "fixed", "How its venturi works.", { importance: "rare" }),
    figure("fuel-pressure", "pressure", "0.2 bar", "Fuel pressure that its needle valve stands.", { usual: bars(0.02, 1) }),
  ],
  clears: ["carburettor.*"],
  cautions: ["fuel"],
});
