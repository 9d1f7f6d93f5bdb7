// Part kind: distributor or other mechanical advance.
import { figure } from "../row.ts";
import { partKind } from "../part.ts";
import { degrees, millimetres, rpm } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "distributor",
  words: "A distributor or other mechanical spark advance.",
  keys: [
    figure("centrifugal", "angle", "22 deg crank", "Whole advance that its weights add.", { qualifiers: ["degrees-of"], usual: degrees(0, 60), importance: "useful", tune: true }),
    figure("all-in", "rotation", "4000 rpm", "Engine speed at which all of it is in.", { usual: rpm(800, 12000), importance: "useful", tune: true }),
    figure("vacuum", "angle", "12 deg crank", "Whole advance that its vacuum capsule adds.", { qualifiers: ["degrees-of"], usual: degrees(0, 40), importance: "rare", tune: true }),
    figure("points-gap", "length", "0.40 mm", "Gap of its contact breaker.", { usual: millimetres(0.2, 0.7), lands: "ignition.points-gap", importance: "rare" }),
    figure("dwell", "angle", "52 deg", "Angle through which its points stay shut.", { usual: degrees(10, 90), lands: "ignition.dwell", importance: "rare" }),
  ],
  clears: ["distributor.*"],
});
