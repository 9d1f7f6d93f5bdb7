// Part kind: rocker or finger follower.
import { choice, figure, plainKey } from "../row.ts";
import { partKind } from "../part.ts";
import { FOLLOWERS } from "../engine/valve-gear.ts";
import { grams, plain } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "rocker",
  words: "The rockers or finger followers.",
  sided: true,
  keys: [
    figure("ratio", "ratio", "1.60", "Valve lift for one unit of lobe lift.", { usual: plain(0.8, 2.5), lands: "valve-gear.{side}.rocker-ratio", importance: "essential" }),
    figure("mass", "mass", "35 g", "Share of the rocker's weight that moves with the valve.", { usual: grams(2, 200), lands: "valve-gear.{side}.rocker-mass" }),
    choice("follower", FOLLOWERS, "pad", "What touches the lobe.", { lands: "valve-gear.follower" }),
    plainKey("thread", "thread", "3/8-24", "Thread of the stud or adjusting screw.", { lands: "valve-gear.adjuster-thread" }),
  ],
  clears: ["rocker.*", "valve-gear.*.rocker-mass"],
});
