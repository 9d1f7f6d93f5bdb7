// Part kind: piston, with its pin.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { cubicCentimetres, grams, millimetres, ofCube, plain } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "piston",
  words: "The pistons.",
  keys: [
    figure("for-bore", "length", "83.50 mm", "The bore it is made for.", { usual: millimetres(30, 150), importance: "essential" }),
    figure("diameter", "length", "83.46 mm", "Its own diameter, where its maker says to measure.", { usual: millimetres(29, 150), lands: "bottom-end.piston-diameter", importance: "useful" }),
    figure("wall-clearance", "length", "0.04 .. 0.06 mm", "Clearance in the bore that its maker asks for, on the diameter.", { mayQualify: ["clearance-across"], usual: millimetres(0.005, 0.4), lands: "bottom-end.piston-wall-clearance", importance: "useful" }),
    figure("dish", "volume", "3.0 cc", "Volume sunk into the crown, pockets included.", { usual: cubicCentimetres(0, 80), lands: "combustion.piston-dish", importance: "essential" }),
    figure("dome", "volume", "5.0 cc", "Volume of the crown that stands above its flat, pockets taken off.", { usual: cubicCentimetres(0, 80), lands: "combustion.piston-dome", importance: "useful" }),
    figure("compression-height", "length", "34.0 mm", "From the middle of the pin to the flat of the crown.", { usual: millimetres(15, 90), lands: "bottom-end.compression-height", importance: "useful" }),
    figure("intake-pocket", "length", "2.5 mm", "Depth of the intake valve's pocket, along the stem.", { usual: millimetres(0, 15), lands: "valve-gear.intake.pocket-depth", importance: "useful" }),
    figure("exhaust-pocket", "length", "2.0 mm", "Depth of the exhaust valve's pocket, along the stem.", { usual: millimetres(0, 15), lands: "valve-gear.exhaust.pocket-depth", importance: "useful" }),
    figure("mass", "mass", "305 g", "Weight of a bare piston.", { usual: grams(20, 2500), usualPer: ofCube("bore", "the bore", 250, 1500), lands: "bottom-end.piston-mass" }),
    figure("pin-mass", "mass", "82 g", "Weight of its pin.", { usual: grams(5, 600), usualPer: ofCube("bore", "the bore", 40, 500), lands: "bottom-end.pin-mass" }),
    figure("rings-mass", "mass", "34 g", "Weight of its rings and clips.", { usual: grams(2, 300), usualPer: ofCube("bore", "the bore", 15, 200), lands: "bottom-end.rings-mass" }),
    figure("pin-diameter", "length", "20.0 mm", "Diameter of its pin.", { usual: millimetres(8, 40), lands: "bottom-end.pin-diameter" }),
    figure("pin-offset", "length", "1.0 mm", "How far the pin stands off the middle.", { usual: millimetres(0, 4), lands: "bottom-end.pin-offset", importance: "rare" }),
    choice("material", {
      cast: "Cast aluminium.",
      hypereutectic: "Cast aluminium rich in silicon.",
      "forged-4032": "Forged, silicon alloy 4032: grows little.",
      "forged-2618": "Forged, low-silicon alloy 2618: grows more and runs looser.",
      "cast-iron": "Cast iron.",
    }, "cast", "What it is made of: clearance and speed are judged by it.", { importance: "useful" }),
    figure("max-piston-speed", "speed", "20 m/s", "Mean piston speed that its maker allows.", { usual: plain(5, 35), lands: "limits.piston-speed" }),
  ],
  clears: ["piston.*", "combustion.piston-dish", "combustion.piston-dome", "bottom-end.piston-diameter", "bottom-end.piston-mass", "bottom-end.pin-mass", "bottom-end.reciprocating-mass", "bottom-end.compression-height", "valve-gear.*.pocket-depth"],
});
