// Part kind: set of bolts, studs or nuts sold together; each job in it is a `fastener`.
import { choice, text } from "../row.ts";
import { partKind } from "../part.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "fastener-set",
  words: "Bolts, studs or nuts sold as a set: write each job in it as a `fastener`.",
  several: true,
  keys: [
    choice("material", { steel: "Alloy steel.", stainless: "Stainless steel: galls when dry.", titanium: "Titanium." }, "steel", "What they are made of.", { importance: "rare" }),
    text("lubricant", '"the sachet in the box"', "What their maker wants on the thread.", { importance: "useful" }),
  ],
  cautions: ["tightening"],
});
