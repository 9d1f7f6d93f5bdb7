// Part kind: set of main, big-end or camshaft bearing shells.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { millimetres } from "../spans.ts";
import type { BlockSchema, PartKind } from "../types.ts";

function shells(bearing: "main" | "rod" | "cam", what: string): BlockSchema {
  return {
    id: bearing,
    words: `The ${what} shells.`,
    base: `bottom-end.${bearing}`,
    keys: [
      figure("shell", "length", "2.00 mm", "Thickness of one shell at its crown.", { usual: millimetres(0.5, 6), importance: "useful" }),
      figure("clearance", "length", "0.030 .. 0.060 mm", "Oil clearance that their maker asks for.", { mayQualify: ["clearance-across"], usual: millimetres(0.005, 0.25), importance: "essential" }),
      figure("width", "length", "22 mm", "Width of a shell.", { usual: millimetres(5, 60), importance: "rare" }),
    ],
  };
}

export const KIND: PartKind = partKind({
  id: "bearing",
  words: "Bearing shells.",
  several: true,
  keys: [
    figure("undersize", "length", "0.25 mm under", "How much smaller than standard the journals must be.", { mayQualify: ["oversize"], usual: millimetres(0, 1.6), importance: "useful" }),
    choice("material", { "white-metal": "White metal.", "copper-lead": "Copper-lead.", aluminium: "Aluminium-tin.", "three-layer": "Steel, copper-lead and an overlay." }, "three-layer", "What they are made of.", { importance: "rare" }),
  ],
  blocks: { main: shells("main", "main bearing"), rod: shells("rod", "big-end"), cam: shells("cam", "camshaft bearing") },
});
