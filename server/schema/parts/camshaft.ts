// Part kind: camshaft. Timing, lift and lash as its card prints them; one shaft for both sides, or one a side.
import { choice, eachSide, figure, figures, plainKey, text } from "../row.ts";
import type { Side } from "../row.ts";
import { partKind } from "../part.ts";
import { FOLLOWERS, LASH } from "../engine/valve-gear.ts";
import { LIKE_OTHER_SIDE, degrees, millimetres, plain, rpm } from "../spans.ts";
import type { BlockSchema, KeySchema, PartKind } from "../types.ts";

const EXAMPLES = {
  intake: { duration: "236 deg crank", lift: "7.10 mm", valve: "10.65 mm", centreline: "109 deg crank", opens: "9 deg btdc", closes: "47 deg abdc", lash: "0.20 ± 0.02 mm cold" },
  exhaust: { duration: "232 deg crank", lift: "7.00 mm", valve: "10.15 mm", centreline: "113 deg crank", opens: "49 deg bbdc", closes: "3 deg atdc", lash: "0.35 ± 0.02 mm cold" },
} as const;

function sideKeys(side: Side): readonly KeySchema[] {
  const example = EXAMPLES[side];
  return [
    figure("duration", "angle", example.duration, "How long the valve is open, between the points where it has the lift that `measured-at` names.", { qualifiers: ["degrees-of"], usual: degrees(90, 400), importance: "essential" }),
    figure("measured-at", "length", "1.00 mm at valve", "The lift at which duration, opening and closing are counted: two durations at different lifts cannot be compared.", { qualifiers: ["lift-at"], usual: millimetres(0, 2), usualPer: LIKE_OTHER_SIDE, importance: "essential" }),
    figure("advertised-duration", "angle", "272 deg crank", "The longer duration the shaft is sold by.", { qualifiers: ["degrees-of"], usual: degrees(150, 400), importance: "useful" }),
    figure("advertised-at", "length", "0.15 mm at valve", "The lift at which the advertised duration is counted.", { qualifiers: ["lift-at"], usual: millimetres(0, 1), usualPer: LIKE_OTHER_SIDE, importance: "useful" }),
    figure("lobe-lift", "length", example.lift, "Height of the lobe over its base circle.", { usual: millimetres(1.5, 20), importance: "essential" }),
    figure("valve-lift", "length", example.valve, "Lift at the valve as the card prints it, lash not taken off.", { usual: millimetres(2, 25), importance: "useful" }),
    figure("valve-lift-ratio", "ratio", "1.50", "The rocker ratio that the card's valve lift was worked out with.", { usual: plain(0.8, 2.5), importance: "rare" }),
    figure("centreline", "angle", example.centreline, side === "intake" ? "Where the lobe is fullest, counted after top dead centre." : "Where the lobe is fullest, counted before top dead centre.", { qualifiers: ["degrees-of"], usual: degrees(80, 140), importance: "essential" }),
    figure("opens", "angle", example.opens, "Where the valve reaches the lift that `measured-at` names, opening.", { qualifiers: ["event"], mayQualify: ["degrees-of"], usual: degrees(-40, 120), importance: "useful" }),
    figure("closes", "angle", example.closes, "Where the valve reaches the lift that `measured-at` names, closing.", { qualifiers: ["event"], mayQualify: ["degrees-of"], usual: degrees(-40, 120), importance: "useful" }),
    { ...LASH(example.lash), words: "Lash this shaft asks for: its ramps are ground for it.", lands: "valve-gear.{side}.lash" },
    figure("ramp-speed", "length", "0.010 mm", "Height of the opening ramp gained for each crank degree.", { usual: millimetres(0.001, 0.1), importance: "rare" }),
  ];
}

const LOBE: BlockSchema = {
  id: "lobe",
  words: "The lobe's shape, point by point, as measured with a degree wheel and a dial gauge: what piston clearance and true duration are worked out from.",
  keys: [
    choice("counted-from", { nose: "Angle 0 is the fullest point of the lobe.", tdc: "Angle 0 is top dead centre between exhaust and intake." }, "nose", "Where angle 0 lies; angles before it are negative.", { importance: "useful" }),
    plainKey("file", "file", '"ridgeway-272-intake.csv"', "A file of comma-separated text beside this one that holds the table, as a measuring machine writes it: a line of headings with their units, then an angle and a lift in each. Semicolons, tabs and decimal commas are read too.", { importance: "useful" }),
    choice("degrees", { crank: "Angles are turned at the crank.", cam: "Angles are turned at the cam." }, "crank", "Whose degrees the table counts, where its heading does not say.", { importance: "rare" }),
    choice("read-at", { lobe: "Lift was read on the lobe or its follower.", valve: "Lift was read at the valve, lash taken up." }, "lobe", "Where the lift was read, where its heading does not say.", { importance: "rare" }),
  ],
  table: {
    words: "Angle and lift. Say in the heading whose degrees they are and where the lift was read.",
    form: "columns",
    columns: [
      figure("angle", "angle", "-60 deg crank", "Angle from the point named by `counted-from`.", { qualifiers: ["degrees-of"], usual: degrees(-360, 720), required: true }),
      figure("lift", "length", "1.25 mm at lobe", "Lift at that angle.", { qualifiers: ["lift-at"], usual: millimetres(-0.1, 25), required: true }),
    ],
    example: "| angle (deg crank) | lift (mm at lobe) |",
  },
};

export const KIND: PartKind = partKind({
  id: "camshaft",
  words: "A camshaft: when the valves open, how far, and with what lash.",
  asksForTune: true,
  base: "camshaft",
  sided: true,
  keys: [
    figure("lobe-separation", "angle", "111 deg cam", "Angle between intake and exhaust lobe on the shaft, in cam degrees as the trade counts it.", { qualifiers: ["degrees-of"], usual: degrees(90, 130), importance: "useful" }),
    figures("break-in", "rotation", "1800 .. 2400 rpm for 20 min", "Speed, and for how long, that beds lobes and followers together at the first start; of several the first comes first.", { usual: rpm(800, 4000), importance: "useful" }),
    choice("follower", FOLLOWERS, "flat", "The follower that the lobes are ground for.", { importance: "useful" }),
    figure("base-circle", "length", "30.0 mm", "Diameter of the lobe's round back.", { usual: millimetres(8, 70), importance: "useful" }),
    figure("journal", "length", "29.96 mm", "Diameter of the bearing journals.", { usual: millimetres(10, 80), importance: "rare" }),
    text("grind", '"RW272/109"', "What is stamped or painted on the end of the shaft.", { importance: "rare" }),
    choice("blank", { new: "Cut from a new blank.", reground: "Reground from an old shaft: its base circle is smaller." }, "new", "What the shaft was ground from.", { importance: "rare" }),
  ],
  blocks: eachSide((side) => ({ id: side, words: `The ${side} lobes.`, keys: sideKeys(side), blocks: { lobe: LOBE } })),
  clears: ["camshaft.*", "valve-gear.*.lash"],
  cautions: ["timing-drive", "spring-energy"],
});
