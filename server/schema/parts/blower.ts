// Part kind: supercharger that displaces its air, or a belt-driven centrifugal one.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { cubicCentimetres, degrees, millimetres, percent, plain, rpm, shareOf } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "blower",
  words: "A supercharger driven by the engine.",
  asksForTune: true,
  keys: [
    choice("type", { lobe: "Two lobed rotors push air round the outside.", screw: "Two screws press it inside.", vane: "Sliding vanes.", spiral: "A wobbling spiral.", centrifugal: "A wheel spun fast: its boost rises with the square of speed." }, "lobe", "How it moves the air.", { importance: "essential" }),
    figure("displacement", "volume", "0.90 L", "Air moved for one turn of its shaft.", { usual: cubicCentimetres(50, 12000), usualPer: [shareOf("displacement.total", "the engine's displacement", 0.08, 3)], importance: "essential" }),
    figure("crank-pulley", "length", "140 mm", "Effective diameter of the pulley on the crank.", { usual: millimetres(40, 350), importance: "essential" }),
    figure("blower-pulley", "length", "70 mm", "Effective diameter of the pulley on the blower.", { usual: millimetres(25, 350), importance: "essential" }),
    figure("step-up", "ratio", "1.0", "Gearing inside the blower: rotor turns for one turn of its pulley.", { usual: plain(0.3, 15), importance: "useful" }),
    figure("volumetric-efficiency", "fraction", "85 %", "Share of its displacement that comes through.", { usual: percent(40, 105), importance: "useful" }),
    figure("efficiency", "fraction", "55 %", "How little more than needed it heats the air: isentropic efficiency.", { usual: percent(30, 85), importance: "useful" }),
    figure("max-speed", "rotation", "14000 rpm", "Speed of its rotors that its maker allows.", { usual: rpm(2000, 250000), usualPer: [shareOf("blower.speed", "the speed it is driven at at the redline,", 0.2, 8)], importance: "essential" }),
    figure("belt-slack", "length", "6 .. 8 mm", "How far the belt may give at the middle of its longest run.", { usual: millimetres(1, 30), importance: "useful" }),
    figure("pulley-centres", "length", "260 mm", "Distance between the middles of crank and blower pulley.", { usual: millimetres(50, 1000), importance: "rare" }),
    figure("belt-wrap", "angle", "150 deg", "Angle round the blower pulley that the belt touches.", { usual: degrees(60, 300), importance: "rare" }),
    figure("belt-ribs", "count", "6", "Ribs of the belt.", { usual: plain(1, 20), importance: "rare" }),
  ],
  clears: ["blower.*"],
  cautions: ["boost", "burst-speed", "rotating"],
});
