// Part kind: cylinder block, bored or machined.
import { choice, figure } from "../row.ts";
import { partKind } from "../part.ts";
import { MATERIALS } from "../engine/combustion.ts";
import { millimetres } from "../spans.ts";
import type { PartKind } from "../types.ts";

export const KIND: PartKind = partKind({
  id: "block",
  words: "The cylinder block.",
  keys: [
    figure("bore", "length", "83.50 mm", "Its bore as machined.", { mayQualify: ["oversize"], usual: millimetres(30, 150), lands: "bore", importance: "essential" }),
    figure("height", "length", "213.2 mm", "From the middle of the crankshaft to its face.", { usual: millimetres(60, 400), lands: "bottom-end.block-height", importance: "useful" }),
    figure("skim", "length", "0.30 mm", "How much has been cut off its face.", { usual: millimetres(0, 3), lands: "combustion.block-skim", importance: "useful" }),
    figure("main-housing", "length", "58.04 mm", "Main bearing housing without shells.", { usual: millimetres(12, 140), lands: "bottom-end.main.housing" }),
    figure("max-bore", "length", "84.00 mm", "Largest bore that its maker allows.", { usual: millimetres(30, 155) }),
    choice("material", MATERIALS, "cast-iron", "What it is cast of.", { lands: "combustion.block-material", importance: "useful" }),
  ],
  cautions: ["lifting"],
});
