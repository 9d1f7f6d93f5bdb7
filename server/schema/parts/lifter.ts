// Part kind: lifter, hydraulic or solid, under a pushrod or in an overhead-cam head.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { FOLLOWERS } from "../engine/valve-gear.ts";
import { degrees, grams, millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "lifter",
  words: "The lifters.",
  sided: true,
  keys: [
    choice("type", { hydraulic: "Takes up its own lash with oil.", solid: "Needs lash." }, "hydraulic", "How the lifter deals with lash.", { importance: "essential" }),
    choice("follower", FOLLOWERS, "flat", "What touches the lobe.", { lands: "valve-gear.follower", importance: "useful" }),
    figure("preload", "length", "0.80 ± 0.30 mm", "How far its plunger is to be pushed down with the valve shut.", { usual: millimetres(0, 5), lands: "valve-gear.{side}.preload", importance: "essential" }),
    figure("preload-turns", "angle", "3/4 turn past zero", "The same as turns of the adjuster.", { qualifiers: ["from-zero"], usual: degrees(0, 900), lands: "valve-gear.{side}.preload-turns", importance: "useful" }),
    figure("travel", "length", "3.0 mm", "Whole travel of its plunger.", { usual: millimetres(0.5, 8), lands: "valve-gear.{side}.lifter-travel" }),
    figure("diameter", "length", "21.40 mm", "Outside diameter.", { usual: millimetres(8, 40) }),
    figure("mass", "mass", "95 g", "Weight of one lifter.", { usual: grams(10, 300), lands: "valve-gear.{side}.follower-mass" }),
  ],
  clears: ["lifter.*", "valve-gear.*.preload", "valve-gear.*.preload-turns", "valve-gear.*.lifter-travel", "valve-gear.*.follower-mass"],
});
