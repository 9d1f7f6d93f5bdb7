// Part kind: clutch.
import { figure } from "../row.ts";
import { partKind } from "../part.ts";
import { kilograms, millimetres, newtonMetres, rpm } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "clutch",
  words: "The clutch.",
  keys: [
    figure("max-torque", "torque", "220 N·m", "Torque that its maker allows.", { usual: newtonMetres(3, 3000), importance: "useful" }),
    figure("diameter", "length", "200 mm", "Diameter of its plate.", { usual: millimetres(60, 400) }),
    figure("max-speed", "rotation", "8000 rpm", "Speed that its maker allows: past it a plate or cover may burst.", { usual: rpm(1500, 20000), importance: "useful" }),
    figure("mass", "mass", "4.1 kg", "Weight of cover and plate.", { usual: kilograms(0.2, 30), importance: "rare" }),
  ],
  cautions: ["burst-speed"],
});
