// Crank, rods, pistons, rings and the clearances they run in. Knows the figures, not how clearances are judged.
import { figure } from "../row.ts";
import { grams, millimetres, ofBore, ofCube, shareOf } from "../spans.ts";
import type { BlockSchema, KeySchema } from "../types.ts";

function journalKeys(what: string, journal: string, housing: string, bore: string): readonly KeySchema[] {
  return [
    figure("journal", "length", journal, `Diameter of the ${what} journal.`, { mayQualify: ["oversize"], usual: millimetres(10, 120), importance: "useful" }),
    figure("housing", "length", housing, `Diameter of the ${what} bearing housing without its shells.`, { mayQualify: ["oversize"], usual: millimetres(12, 140) }),
    figure("shell", "length", "2.00 mm", `Thickness of one ${what} bearing shell at its crown.`, { usual: millimetres(0.5, 6) }),
    figure("bore", "length", bore, `Inside diameter of the ${what} bearing, shells in and cap tightened.`, { usual: millimetres(9, 130) }),
    figure("clearance", "length", "0.030 .. 0.060 mm", `Oil clearance asked for at the ${what} bearings, bore less journal.`, { mayQualify: ["clearance-across"], usualPer: ofBore(0.00015, 0.0025), usual: millimetres(0.005, 0.25), importance: "useful" }),
    figure("width", "length", "24 mm", `Width of the ${what} bearing.`, { usual: millimetres(5, 60), importance: "rare" }),
  ];
}

/** Ring-gap keys are shared by the engine and by part ring. */
export const RING_GAPS: readonly KeySchema[] = [
  figure("top-gap", "length", "0.30 .. 0.45 mm", "End gap asked for at the top ring, square in its own bore.", { usualPer: ofBore(0.0022, 0.014), usual: millimetres(0.05, 2), importance: "useful" }),
  figure("second-gap", "length", "0.35 .. 0.50 mm", "End gap asked for at the second ring.", { usualPer: ofBore(0.0022, 0.016), usual: millimetres(0.05, 2), importance: "useful" }),
  figure("oil-gap", "length", "0.20 .. 0.90 mm", "End gap asked for at the rails of the oil ring.", { usualPer: ofBore(0.0018, 0.025), usual: millimetres(0.05, 3) }),
  figure("side-clearance", "length", "0.03 .. 0.07 mm", "Clearance of a ring in its groove.", { usual: millimetres(0.005, 0.3) }),
];

export const BOTTOM_END: BlockSchema = {
  id: "bottom-end",
  words: "Crank, rods and pistons: sizes, weights and the clearances they must run in.",
  keys: [
    figure("thrust-endplay", "length", "0.08 .. 0.20 mm", "Fore-and-aft play asked for at the crankshaft's thrust bearing.", { usualPer: ofBore(0.0004, 0.006), usual: millimetres(0.01, 1), importance: "useful" }),
    figure("rod-side-clearance", "length", "0.15 .. 0.30 mm", "Side play asked for at the big ends.", { usualPer: ofBore(0.0008, 0.009), usual: millimetres(0.02, 1.5), importance: "useful" }),
    figure("cam-endplay", "length", "0.05 .. 0.15 mm", "Fore-and-aft play asked for at the camshaft.", { usual: millimetres(0.01, 1) }),
    figure("piston-wall-clearance", "length", "0.03 .. 0.05 mm", "Clearance of the piston skirt in its bore, on the diameter.", { mayQualify: ["clearance-across"], usualPer: ofBore(0.00025, 0.0028), usual: millimetres(0.005, 0.4), importance: "useful" }),
    figure("piston-diameter", "length", "82.96 mm", "Piston diameter, where its maker says to measure.", { mayQualify: ["oversize"], usual: millimetres(29, 155), importance: "useful" }),
    figure("pin-diameter", "length", "20.0 mm", "Diameter of the gudgeon pin.", { usual: millimetres(8, 40), importance: "rare" }),
    figure("pin-offset", "length", "1.0 mm", "How far the pin stands off the middle of the piston.", { usual: millimetres(0, 4), importance: "rare" }),
    figure("compression-height", "length", "34.0 mm", "From the middle of the pin to the flat of the crown.", { usual: millimetres(15, 90), importance: "useful" }),
    figure("block-height", "length", "213.5 mm", "From the middle of the crankshaft to the block face.", { usual: millimetres(60, 400), importance: "useful" }),
    figure("piston-mass", "mass", "310 g", "Weight of a bare piston.", { usual: grams(20, 2500), usualPer: ofCube("bore", "the bore", 250, 1500) }),
    figure("pin-mass", "mass", "85 g", "Weight of a gudgeon pin.", { usual: grams(5, 600), usualPer: ofCube("bore", "the bore", 40, 500) }),
    figure("rings-mass", "mass", "35 g", "Weight of one piston's rings and clips.", { usual: grams(2, 300), usualPer: ofCube("bore", "the bore", 15, 200) }),
    figure("small-end-mass", "mass", "150 g", "Weight of the small end of a rod, hung level with the big end carried.", { usual: grams(10, 800), usualPer: [shareOf("bottom-end.piston-mass", "the piston's weight", 0.08, 2.5)] }),
    figure("big-end-mass", "mass", "400 g", "Weight of the big end of a rod, hung level with the small end carried.", { usual: grams(20, 2000), importance: "rare" }),
    figure("reciprocating-mass", "mass", "580 g", "Everything that stops and starts with one piston: piston, pin, rings and the small end of the rod.", { usual: grams(30, 4000), importance: "useful" }),
  ],
  blocks: {
    main: { id: "main", words: "Main bearings.", keys: journalKeys("main", "54.00 mm", "58.04 mm", "54.04 mm") },
    rod: { id: "rod", words: "Big-end bearings.", keys: journalKeys("big-end", "45.00 mm", "48.03 mm", "45.04 mm") },
    cam: { id: "cam", words: "Camshaft bearings.", keys: journalKeys("camshaft", "30.00 mm", "34.00 mm", "30.05 mm") },
    rings: { id: "rings", words: "Piston rings.", keys: RING_GAPS },
  },
};
