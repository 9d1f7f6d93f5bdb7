// What an engine is, key by key: the top of its card and the blocks below it. Knows which figures exist, not what they come to.
import { choice, figure, plainKey, REMARK, SOURCE, text, yesNo } from "./row.ts";
import { COMBUSTION } from "./engine/combustion.ts";
import { BOTTOM_END } from "./engine/bottom-end.ts";
import { LIMITS } from "./engine/limits.ts";
import { AIR, AIR_ALTITUDE, BOOST, DECOMPRESSOR, FLUIDS, FUEL_SYSTEM, FUELS, IGNITION, THERMAL, VEHICLE } from "./engine/running.ts";
import { VALVE_GEAR } from "./engine/valve-gear.ts";
import { PART_KINDS } from "./parts/index.ts";
import { PER_DISPLACEMENT, cubicCentimetres, degrees, kilograms, millimetres, newtonMetres, plain, rpm, shareOf } from "./spans.ts";
import type { BlockSchema, KeySchema } from "./types.ts";

/** Ends of an engine, by what a person sees there. */
const ENDS = ["belt end", "chain end", "gear end", "flywheel end", "front", "rear", "drive side", "timing side"] as const;

const END_OPTIONS: Readonly<Record<string, string>> = Object.fromEntries(ENDS.map((end) => [end, `The cylinder nearest the ${end}.`]));

const TURNING: Readonly<Record<string, string>> = Object.fromEntries(
  ["clockwise", "anticlockwise", "counterclockwise"].flatMap((way) => ENDS.map((end) => [`${way} from ${end}`, `Turns ${way}, seen looking at the ${end}.`])),
);

export const ENGINE_KEYS: readonly KeySchema[] = [
  SOURCE,
  figure("cylinders", "count", "4", "How many cylinders.", { usual: plain(1, 16), importance: "essential", required: true }),
  choice("layout", {
    single: "One cylinder.",
    inline: "Cylinders in one row.",
    vee: "Two banks at an angle.",
    flat: "Two banks lying opposite each other.",
    narrow: "Two staggered rows under one head.",
    radial: "Cylinders round the crankshaft like spokes.",
  }, "inline", "How the cylinders stand.", { importance: "useful" }),
  figure("bank-angle", "angle", "90 deg", "Angle between the banks.", { usual: degrees(10, 180, "from memory: the narrowest vees built stand a little over 10 degrees, the widest lie flat"), importance: "rare" }),
  choice("cylinder-1", END_OPTIONS, "belt end", "Which end cylinder 1 is at: makers count from either.", { importance: "essential" }),
  plainKey("firing-order", "order", "1-3-4-2", "The order in which the cylinders fire.", { importance: "essential" }),
  choice("rotation", TURNING, "clockwise from belt end", "Which way the crankshaft turns, seen from which end.", { importance: "useful" }),
  figure("bore", "length", "83.00 mm", "Cylinder bore.", { mayQualify: ["oversize"], usual: millimetres(30, 150), importance: "essential" }),
  figure("stroke", "length", "82.00 mm", "Stroke: twice the throw of the crank.", { usual: millimetres(25, 150), importance: "essential" }),
  figure("rod-length", "length", "138.5 mm", "Connecting rod, middle of big end to middle of small end.", { usual: millimetres(50, 300), importance: "essential" }),
  figure("stated-displacement", "volume", "1775 cc", "Displacement as the maker states it: checked against bore and stroke.", { usual: cubicCentimetres(20, 15000), importance: "useful" }),
  figure("stated-compression", "ratio", "9.4:1", "Compression ratio as the maker states it: checked against the volumes.", { usual: plain(5, 25), importance: "useful" }),
  figure("stated-power", "power", "92 hp at crank", "Power as the maker states it.", { qualifiers: ["power-at"], usual: plain(500, 1.5e6), usualPer: PER_DISPLACEMENT, importance: "rare" }),
  figure("stated-torque", "torque", "140 N·m", "Greatest torque as the maker states it.", { usual: newtonMetres(2, 2000), importance: "rare" }),
  figure("redline", "rotation", "6500 rpm", "Highest speed the engine is turned to.", { usual: rpm(1500, 20000), importance: "essential", tune: true }),
  DECOMPRESSOR,
  figure("flywheel-inertia", "inertia", "0.12 kg·m²", "Moment of inertia of crank, flywheel and clutch.", { usual: plain(0.0005, 3), importance: "rare" }),
  figure("weight", "mass", "118 kg", "Weight of the engine as it is lifted.", { usual: kilograms(3, 600), usualPer: [shareOf("displacement.total", "the displacement", 1.2e4, 6e5)], importance: "rare" }),
  REMARK,
];

/** Blocks that describe an engine; a card, a part's `limits` and a build use the same ones. */
const CORE_BLOCKS: Readonly<Record<string, BlockSchema>> = {
  combustion: COMBUSTION,
  "valve-gear": VALVE_GEAR,
  "bottom-end": BOTTOM_END,
  "fuel-system": FUEL_SYSTEM,
  ignition: IGNITION,
  boost: BOOST,
  fluids: FLUIDS,
  air: AIR,
  thermal: THERMAL,
  vehicle: VEHICLE,
  limits: LIMITS,
};

/**
 * A stock part is written in the engine as a block named after its kind, with the keys that the part itself would have.
 * Kinds of which an engine takes several need a name, so they are declared as parts.
 */
const STOCK_PARTS: Readonly<Record<string, BlockSchema>> = Object.fromEntries(
  PART_KINDS.filter((kind) => !kind.several).map(({ fitKeys, ...kind }) => [kind.id, { ...kind, base: kind.base ?? kind.id, keys: [...kind.keys, ...(fitKeys ?? [])] }]),
);

export const ENGINE_BLOCKS: Readonly<Record<string, BlockSchema>> = { ...CORE_BLOCKS, ...STOCK_PARTS };

export const ENGINE: BlockSchema = {
  id: "engine",
  words: "An engine as its maker built it: the figures everything else is compared with.",
  base: "",
  keys: ENGINE_KEYS,
  blocks: ENGINE_BLOCKS,
  statements: ["fastener", "waive", "note", "photo", "document"],
};

/** Keys that a build decides on top of those an engine has. */
export const BUILD_KEYS: readonly KeySchema[] = [
  text("goal", '"hill climbs, pump fuel, keeps its idle"', "What the engine is for, in your own words.", { importance: "rare" }),
  text("builder", '"M. Ashdown"', "Who builds it.", { importance: "rare" }),
  choice("use", {
    street: "Road use.",
    modified: "Road use driven hard, mild competition, or nitrous on a road engine.",
    racing: "Competition without boost.",
    "racing-turbo": "Competition with a turbocharger or nitrous.",
    "racing-supercharged": "Competition with a supercharger.",
  }, "modified", "How hard it will work: ring gaps and clearances are judged by it.", { importance: "useful" }),
  choice("fuel", FUELS, "petrol", "What it burns.", { importance: "essential", tune: true }),
  figure("octane", "octane", "98 RON", "Octane number of the fuel, and on which scale.", { usual: plain(60, 125), importance: "useful", tune: true }),
  figure("altitude", "length", "250 m", "Height above sea level where the engine runs.", { usual: AIR_ALTITUDE, lands: "air.altitude", importance: "useful", tune: true }),
  yesNo("interference", "Whether valves and pistons meet when the timing drive fails.", { importance: "rare" }),
];

const LASH_CONVENIENCE: BlockSchema = {
  id: "lash",
  words: "The lash chosen for this build.",
  base: "valve-gear",
  keys: (["intake", "exhaust"] as const).map((side) =>
    figure(side, "length", side === "intake" ? "0.20 mm cold" : "0.35 mm cold", `Lash of the ${side} valves.`, {
      qualifiers: ["thermal"],
      usual: millimetres(0, 0.8),
      lands: `valve-gear.${side}.lash`,
      importance: "essential",
    }),
  ),
};

/** What a build may decide: its own keys, every engine key and block as a chosen figure, and lash in short form. */
export const BUILD: BlockSchema = {
  id: "build",
  words: "One engine as it is being built: what is fitted, chosen, measured and run.",
  base: "",
  keys: [...BUILD_KEYS, ...ENGINE_KEYS.map(({ required: _, ...row }) => row)],
  blocks: { ...ENGINE_BLOCKS, lash: LASH_CONVENIENCE },
  statements: ["fit", "follow", "measured", "plan", "done", "run", "pull", "log", "tune", "fastener", "check", "waive", "note", "photo", "document"],
};

/** What a card may carry: any engine figure, and fasteners. */
export const CARD: BlockSchema = {
  id: "card",
  words: "Figures copied from one place, and the engines they are good for.",
  base: "",
  keys: ENGINE_KEYS.map(({ required: _, ...row }) => row),
  blocks: ENGINE_BLOCKS,
  statements: ["fastener", "needs", "waive", "note", "photo", "document"],
};
