// Part kind: driven tyres.
import { figure } from "../row.ts";
import { partKind } from "../part.ts";
import { metres, millimetres, percent } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "tyre",
  words: "The driven tyres.",
  keys: [
    figure("diameter", "length", "576 mm", "Rolling diameter: a little less than it measures in the air.", { usual: millimetres(200, 1200), importance: "essential" }),
    figure("circumference", "length", "1.81 m", "Distance rolled in one turn, used in place of the diameter.", { usual: metres(0.6, 3.8) }),
    figure("width", "length", "185 mm", "Nominal width.", { usual: millimetres(40, 400) }),
    figure("profile", "fraction", "60 %", "Height of its side as a share of its width.", { usual: percent(20, 110) }),
    figure("rim", "length", "14 in", "Diameter of its rim.", { usual: millimetres(150, 650) }),
  ],
  clears: ["tyre.*"],
});
