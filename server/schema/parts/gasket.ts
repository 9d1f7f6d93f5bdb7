// Part kind: head gasket; other gaskets are seals.
import { choice, figure, yesNo } from "../row.ts";
import { partKind } from "../part.ts";
import { cubicCentimetres, millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "gasket",
  words: "The head gasket.",
  keys: [
    figure("bore", "length", "84.0 mm", "Diameter of its hole.", { usual: millimetres(30, 155), lands: "combustion.gasket-bore", importance: "essential" }),
    figure("thickness", "length", "1.20 mm crushed", "Its thickness.", { qualifiers: ["gasket-state"], usual: millimetres(0.1, 4), lands: "combustion.gasket-thickness", importance: "essential" }),
    figure("volume", "volume", "4.4 cc", "Volume inside it where the hole is not round.", { usual: cubicCentimetres(0.1, 40), lands: "combustion.gasket-volume" }),
    choice("construction", { composite: "Composite: crushes, may ask to be tightened again.", "multi-layer-steel": "Sheets of steel: wants smooth faces.", copper: "Solid copper.", steel: "One sheet of steel." }, "multi-layer-steel", "How it is made.", { importance: "useful" }),
    yesNo("retorque", "Whether its maker asks for the head to be tightened again after the first heat.", { importance: "useful" }),
  ],
  clears: ["gasket.*", "combustion.gasket-bore", "combustion.gasket-thickness", "combustion.gasket-volume"],
  cautions: ["tightening"],
});
