// Everything between lobe and valve: layout, lash, ratios, valves, springs. Knows the figures, not how a valve moves.
import { choice, eachSide, figure, plainKey } from "../row.ts";
import type { Side } from "../row.ts";
import { LIKE_OTHER_SIDE, degrees, grams, kilometres, millimetres, ofBore, ofCube, plain } from "../spans.ts";
import type { BlockSchema, KeySchema } from "../types.ts";
import { KIND as valveSpring } from "../parts/valve-spring.ts";

/** What touches the lobe; shared with the camshaft, whose grind suits one of them only. */
export const FOLLOWERS = { flat: "A flat face that slides on the lobe.", roller: "A roller.", pad: "A curved pad on a rocker or finger." } as const;

export const LASH = (example: string): KeySchema =>
  figure("lash", "length", example, "Gap asked for between valve and valve gear with the valve shut.", { qualifiers: ["thermal"], usualPer: [...ofBore(0.0004, 0.012), ...LIKE_OTHER_SIDE], usual: millimetres(0, 0.8), importance: "essential" });

const LASH_EXAMPLES = { intake: "0.15 ± 0.03 mm cold", exhaust: "0.30 ± 0.03 mm cold" } as const;

function sideKeys(side: Side): readonly KeySchema[] {
  return [
    figure("per-cylinder", "count", side === "intake" ? "2" : "1", `How many ${side} valves a cylinder has.`, { usual: plain(1, 4), importance: "essential" }),
    figure("rocker-ratio", "ratio", "1.50", "Valve lift for one unit of lobe lift; 1 where the cam bears straight on the valve.", { usual: plain(0.8, 2.5), importance: "essential" }),
    LASH(LASH_EXAMPLES[side]),
    figure("preload", "length", "0.80 mm", "How far a hydraulic lifter is pushed down from the top of its travel with the valve shut.", { usual: millimetres(0, 5), importance: "useful" }),
    figure("preload-turns", "angle", "3/4 turn past zero", "How far the adjuster is turned on after the lash has just gone.", { qualifiers: ["from-zero"], usual: degrees(0, 900), importance: "useful" }),
    figure("valve-diameter", "length", side === "intake" ? "33.0 mm" : "35.0 mm", "Diameter of the valve head.", { usual: millimetres(10, 70), importance: "useful", tune: true }),
    figure("stem-diameter", "length", "6.96 mm", "Diameter of the valve stem.", { usual: millimetres(3, 15), importance: "rare" }),
    figure("stem-clearance", "length", "0.03 .. 0.06 mm", "Clearance asked for between stem and guide.", { usual: millimetres(0.005, 0.3), importance: "rare" }),
    figure("seat-angle", "angle", "45 deg", "Angle of the valve seat.", { usual: degrees(20, 60), importance: "rare" }),
    figure("valve-angle", "angle", "18 deg", "Angle between valve stem and cylinder axis.", { usual: degrees(0, 50), usualPer: LIKE_OTHER_SIDE, importance: "useful" }),
    figure("pocket-depth", "length", "2.5 mm", "Depth of the valve's pocket in the piston crown, along the stem.", { usual: millimetres(0, 15), importance: "useful" }),
    figure("valve-recess", "length", "1.2 mm", "How far the shut valve's face sits up from the head face, along the cylinder.", { usual: millimetres(-5, 20), importance: "useful" }),
    figure("stem-height", "length", "42.5 mm", "From spring seat to stem tip with the valve shut.", { usual: millimetres(20, 90), importance: "rare" }),
    figure("retainer-to-guide", "length", "12.6 mm", "Gap between retainer and guide or stem seal with the valve shut.", { usual: millimetres(3, 35), importance: "useful" }),
    figure("valve-mass", "mass", "52 g", "Weight of one valve.", { usual: grams(5, 300), usualPer: ofCube(".valve-diameter", "the valve's head", 400, 6000) }),
    figure("retainer-mass", "mass", "14 g", "Weight of one retainer with its keepers.", { usual: grams(2, 80) }),
    figure("follower-mass", "mass", "60 g", "Weight of one follower, bucket or lifter, and pushrod where there is one.", { usual: grams(3, 300) }),
    figure("rocker-mass", "mass", "35 g", "Share of a rocker's weight that moves with the valve.", { usual: grams(2, 200), importance: "rare" }),
    figure("pushrod-length", "length", "192.5 mm", "Length of a pushrod, tip to tip.", { usual: millimetres(50, 400), importance: "useful" }),
    figure("lifter-travel", "length", "3.0 mm", "Whole travel of a hydraulic lifter's plunger.", { usual: millimetres(0.5, 8), importance: "rare" }),
    figure("shim", "length", "2.60 mm", "Thickness of the shim fitted.", { usual: millimetres(0.8, 8), importance: "rare" }),
  ];
}

function side(side: Side): BlockSchema {
  return {
    id: side,
    words: `The ${side} valves and what moves them.`,
    keys: sideKeys(side),
    blocks: {
      "valve-spring": { ...valveSpring, id: "valve-spring", words: `The ${side} valves' springs.`, base: `valve-gear.valve-spring.${side}`, blocks: pair(valveSpring.blocks) },
    },
  };
}

/** Inside one side, a spring divides into inner and outer only. */
function pair(blocks: BlockSchema["blocks"]): BlockSchema["blocks"] {
  return blocks && Object.fromEntries(Object.entries(blocks).filter(([name]) => name === "inner" || name === "outer" || name === "loads"));
}

/** A figure given for both sides at once lands on each of them. */
const BOTH_SIDES: readonly KeySchema[] = sideKeys("intake").map((row) => ({ ...row, lands: `valve-gear.{side}.${row.key}`, words: row.words.replace("intake valves", "valves of either side").replace(/\.$/, ", where both sides are alike."), importance: "rare" }));

export const VALVE_GEAR: BlockSchema = {
  id: "valve-gear",
  words: "What opens the valves and how it is set.",
  keys: [
    choice("layout", {
      ohv: "Camshaft in the block, valves in the head, pushrods between.",
      sohc: "One camshaft above the valves of a bank.",
      dohc: "Two camshafts above the valves of a bank, one for each side.",
      "side-valve": "Valves beside the cylinder, in the block.",
    }, "sohc", "Where the camshaft lies.", { importance: "essential" }),
    choice("actuation", {
      rocker: "A rocker that pivots between its ends.",
      finger: "A finger follower that pivots at one end.",
      bucket: "A bucket tappet straight on the valve.",
      pushrod: "Lifter, pushrod and rocker.",
      direct: "The cam straight on the valve stem's cap.",
    }, "rocker", "What stands between lobe and valve.", { importance: "essential" }),
    choice("adjuster", {
      screw: "A screw with a lock nut in the rocker.",
      shim: "Shims of graded thickness.",
      "stud-nut": "The nut on which a stud rocker pivots.",
      hydraulic: "Hydraulic: takes up its own lash.",
      eccentric: "An eccentric shaft or pivot.",
      none: "Not adjustable: set by grinding stems or choosing pushrods.",
    }, "screw", "How lash or preload is set.", { importance: "essential" }),
    choice("lash-at", { valve: "Between rocker and valve stem.", cam: "Between lobe and follower." }, "valve", "Where the feeler goes: lash at the cam reaches the valve multiplied by the ratio.", { importance: "essential" }),
    figure("gear-teeth", "count", "38", "Teeth on the camshaft's gear or sprocket: one tooth is 720 crank degrees divided by them.", { usual: plain(12, 90), importance: "useful" }),
    figure("gear-pitch-diameter", "length", "121.0 mm", "Pitch diameter of the camshaft's gear: with it, a skimmed head tells how far the cam was retarded.", { usual: millimetres(30, 250), importance: "useful" }),
    choice("drive", { belt: "A toothed belt.", chain: "A chain.", gears: "Gears." }, "belt", "What turns the camshaft: a skimmed head moves a belt- or chain-driven overhead cam.", { importance: "useful" }),
    choice("follower", FOLLOWERS, "flat", "What rubs or rolls on the lobe.", { importance: "useful" }),
    figure("adjuster-pitch", "length", "1.0 mm", "Pitch of the adjusting thread: travel for one turn.", { usual: millimetres(0.3, 2), importance: "rare" }),
    plainKey("adjuster-thread", "thread", "3/8-24", "Thread of the adjusting screw or stud.", { importance: "useful" }),
    figure("lash-every", ["distance", "time"], "10000 km", "How far, or how many hours, the engine may run between two checks of the lash.", { usual: kilometres(50, 200000), importance: "rare" }),
    figure("valve-centres", "length", "38.0 mm", "Distance between the middles of an intake and an exhaust valve that face each other.", { usual: millimetres(10, 90), importance: "rare" }),
    figure("float-speed", "rotation", "7600 rpm", "Stated speed at which the valves leave their cam.", { usual: plain(2000, 20000), importance: "rare" }),
    ...BOTH_SIDES,
  ],
  blocks: { ...eachSide(side), "valve-spring": valveSpring },
};
