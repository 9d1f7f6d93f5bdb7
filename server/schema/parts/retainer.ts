// Part kind: valve spring retainer with its keepers.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { MATERIALS } from "../engine/combustion.ts";
import { degrees, grams, millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "retainer",
  words: "The retainers that hold the springs to the valves.",
  sided: true,
  keys: [
    figure("mass", "mass", "14 g", "Weight of one retainer with its keepers.", { usual: grams(2, 80), lands: "valve-gear.{side}.retainer-mass" }),
    figure("height-change", "length", "+1.0 mm", "How much taller the spring stands than with the standard retainer; less is negative.", { usual: millimetres(-5, 5), importance: "useful" }),
    figure("to-guide", "length", "13.6 mm", "Gap between retainer and guide or stem seal with the valve shut.", { usual: millimetres(3, 35), lands: "valve-gear.{side}.retainer-to-guide", importance: "useful" }),
    choice("material", MATERIALS, "titanium", "What the retainer is made of.", { importance: "rare" }),
    figure("keeper-angle", "angle", "7 deg", "Taper of the keepers.", { usual: degrees(4, 15), importance: "rare" }),
  ],
  clears: ["retainer.*", "valve-gear.*.retainer-mass"],
  cautions: ["spring-energy"],
});
