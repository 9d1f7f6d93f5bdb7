// Part kind: pushrod.
import { figure } from "../row.ts";
import { partKind } from "../part.ts";
import { grams, millimetres, shareOf } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "pushrod",
  words: "The pushrods.",
  sided: true,
  keys: [
    figure("length", "length", "7.600 in", "Length, tip to tip.", { usual: millimetres(50, 400), lands: "valve-gear.{side}.pushrod-length", importance: "essential" }),
    figure("diameter", "length", "5/16 in", "Outside diameter.", { usual: millimetres(4, 16) }),
    figure("wall", "length", ".080 in", "Thickness of the wall.", { usual: millimetres(0.5, 5), importance: "rare" }),
    figure("mass", "mass", "52 g", "Weight of one pushrod.", { usual: grams(5, 250), usualPer: [shareOf("pushrod.steel-mass", "the weight of its tube in steel,", 0.25, 1.8, "densities of steel and aluminium; tips weigh on top, common practice")] }),
  ],
  clears: ["pushrod.*", "valve-gear.*.pushrod-length"],
});
