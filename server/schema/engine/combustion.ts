// What stands above the piston at top dead centre: chamber, crown, gasket, deck. Knows the figures, not how they add up.
import { choice, figure } from "../row.ts";
import { cubicCentimetres, millimetres, shareOf, squareCentimetres } from "../spans.ts";
import type { BlockSchema } from "../types.ts";

/** Materials whose growth with heat and thread strength are told apart. */
export const MATERIALS = {
  aluminium: "Aluminium alloy.",
  "cast-iron": "Cast iron.",
  steel: "Steel.",
  magnesium: "Magnesium alloy.",
  titanium: "Titanium alloy.",
} as const;

export const COMBUSTION: BlockSchema = {
  id: "combustion",
  words: "What is left above the piston at top dead centre: this is where the compression ratio comes from.",
  keys: [
    figure("chamber", "volume", "44.6 cc", "Volume of one chamber in the head, plug and valves in place, up to the head face.", { usual: cubicCentimetres(2, 200), importance: "essential" }),
    figure("piston-dish", "volume", "3.0 cc", "Volume sunk into the piston crown, valve pockets included.", { usual: cubicCentimetres(0, 80), importance: "essential" }),
    figure("piston-dome", "volume", "5.0 cc", "Volume of the piston crown that stands above its flat, pockets taken off.", { usual: cubicCentimetres(0, 80), usualPer: [shareOf("combustion.chamber", "the chamber", 0, 0.9)], importance: "useful" }),
    figure("gasket-bore", "length", "84.0 mm", "Diameter of the hole in the head gasket.", { usual: millimetres(30, 155), importance: "essential" }),
    figure("gasket-thickness", "length", "0.80 mm crushed", "Thickness of the head gasket.", { qualifiers: ["gasket-state"], usual: millimetres(0.1, 4), importance: "essential" }),
    figure("gasket-volume", "volume", "4.4 cc", "Volume inside the head gasket where its hole is not round; used in place of bore and thickness.", { usual: cubicCentimetres(0.1, 40), importance: "rare" }),
    figure("deck", "length", "0.15 mm below", "How far the flat of the piston crown stops from the block face at top dead centre.", { qualifiers: ["deck"], usual: millimetres(0, 5), importance: "essential" }),
    figure("crevice-volume", "volume", "0.5 cc", "Volume round the top land of the piston above the first ring, and in other crevices.", { usual: cubicCentimetres(0, 5), importance: "rare" }),
    figure("plug-volume", "volume", "0.3 cc", "Volume in and round the plug where the chamber was measured without it.", { usual: cubicCentimetres(0, 5), importance: "rare" }),
    figure("skim", "length", "0.60 mm", "How much has been cut off the head face since new.", { usual: millimetres(0, 4), importance: "useful", aliases: ["head-skim"] }),
    figure("block-skim", "length", "0.30 mm", "How much has been cut off the block face since new.", { usual: millimetres(0, 3), importance: "useful", aliases: ["decked"] }),
    figure("chamber-area", "area", "48 cm²", "Area of the chamber at the head face: with it, a skim tells how much chamber went.", { usual: squareCentimetres(5, 200), importance: "rare" }),
    figure("squish-clearance", "length", "0.95 mm", "Stated gap between crown and head over the flat parts.", { usual: millimetres(0.3, 5), importance: "rare" }),
    choice("head-material", MATERIALS, "aluminium", "What the head is cast of.", { importance: "useful" }),
    choice("block-material", MATERIALS, "cast-iron", "What the block is cast of.", { importance: "useful" }),
  ],
};
