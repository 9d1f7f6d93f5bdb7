// Part kind: exhaust manifold and system.
import { figure, text, yesNo } from "../row.ts";
import { partKind } from "../part.ts";
import { kilopascals, millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "exhaust",
  words: "The exhaust manifold and pipes.",
  keys: [
    text("layout", '"four into two into one"', "How its pipes join.", { importance: "useful", tune: true }),
    figure("primary-length", "length", "800 mm", "Length of a first pipe.", { usual: millimetres(50, 2500), tune: true }),
    figure("primary-diameter", "length", "42 mm", "Inside diameter of a first pipe.", { usual: millimetres(12, 120), tune: true }),
    figure("back-pressure", "pressure", "12 kPa", "Pressure ahead of the silencers at full load.", { usual: kilopascals(0, 300), importance: "rare", tune: true }),
    yesNo("catalyst", "Whether a catalyst is fitted.", { importance: "rare" }),
  ],
  cautions: ["hot", "law"],
});
