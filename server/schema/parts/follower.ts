// Part kind: cam follower or bucket without hydraulics.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { FOLLOWERS } from "../engine/valve-gear.ts";
import { grams, millimetres, ofCube } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "follower",
  words: "The cam followers or buckets.",
  sided: true,
  keys: [
    choice("follower", FOLLOWERS, "flat", "What touches the lobe.", { lands: "valve-gear.follower", importance: "useful" }),
    figure("diameter", "length", "33.0 mm", "Outside diameter: a fast lobe runs off the edge of a small one.", { usual: millimetres(8, 60), importance: "useful" }),
    figure("mass", "mass", "58 g", "Weight of one follower.", { usual: grams(3, 300), usualPer: ofCube("follower.diameter", "the diameter", 250, 20000), lands: "valve-gear.{side}.follower-mass" }),
    choice("shim-place", { over: "The shim sits on top, under the lobe.", under: "The shim sits inside, on the valve tip.", none: "No shim." }, "under", "Where its shim sits.", { importance: "rare" }),
  ],
  clears: ["follower.*", "valve-gear.*.follower-mass"],
});
