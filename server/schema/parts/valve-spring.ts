// Part kind: valve spring, single or dual, one set for all valves or one a side.
import { choice, eachSide, figure, mark, yesNo } from "../row.ts";
import { partKind } from "../part.ts";
import { gigapascals, grams, megapascals, millimetres, newtons, newtonsPerMillimetre, ofCube, plain, shareOf } from "../spans.ts";
import type { BlockSchema, KeySchema, PartKind } from "../types.ts";

const SEAT_HEIGHT = figure("seat-height", "length", "38.0 mm", "Height of the spring with the valve shut, between its seat and the retainer.", { usual: millimetres(10, 80), importance: "essential", aliases: ["installed-height", "fitted-height"] });

/** One coil: these describe a single spring, or each of a pair. */
const COIL: readonly KeySchema[] = [
  figure("wire", "length", "3.8 mm", "Thickness of the wire.", { usual: millimetres(0.8, 8), importance: "essential" }),
  figure("mean-diameter", "length", "24.0 mm", "Coil diameter from middle of wire to middle of wire: outside diameter less one wire.", { usual: millimetres(8, 60), importance: "essential" }),
  figure("outer-diameter", "length", "27.8 mm", "Outside diameter of the coil.", { usual: millimetres(9, 65) }),
  figure("active-coils", "number", "5.2", "Coils that work: all of them less about one at each closed end.", { usual: plain(2, 15), importance: "essential" }),
  figure("total-coils", "number", "7.2", "All coils, closed ends included.", { usual: plain(3, 18) }),
  figure("free-length", "length", "46.5 mm", "Length of the spring standing free.", { usual: millimetres(15, 120), importance: "useful" }),
  SEAT_HEIGHT,
  figure("seat-load", "force", "240 N", "Load of the spring at its seat height.", { usual: newtons(20, 1500), usualPer: [shareOf(".open-load", "the open load", 0.12, 0.95), shareOf("{spring-rate}", "the rate", 0.0015, 0.05)], importance: "essential" }),
  figure("open-height", "length", "28.0 mm", "Height at which the open load was measured.", { usual: millimetres(8, 70), importance: "useful" }),
  figure("open-load", "force", "560 N", "Load of the spring at its open height.", { usual: newtons(40, 4000), importance: "useful" }),
  figure("solid-height", "length", "27.4 mm", "Height of the spring with its coils touching.", { usual: millimetres(6, 65), importance: "essential", aliases: ["coil-bind-height"] }),
  figure("rate", "spring-rate", "32 N/mm", "Load gained for each unit the spring is pressed down.", { usual: newtonsPerMillimetre(2, 200), importance: "useful" }),
  figure("mass", "mass", "55 g", "Weight of the spring.", { usual: grams(3, 300), usualPer: ofCube(".mean-diameter", "the mean diameter", 800, 14000), importance: "rare" }),
  choice("wire-material", {
    "music-wire": "Music wire.",
    "hard-drawn": "Hard-drawn carbon steel.",
    "oil-tempered": "Oil-tempered carbon steel.",
    "chrome-vanadium": "Chrome-vanadium steel.",
    "chrome-silicon": "Chrome-silicon steel.",
    unknown: "Not stated: stress is shown but not judged.",
  }, "chrome-silicon", "What the wire is made of: without it, stress is not judged.", { importance: "useful" }),
  figure("wire-strength", "stress", "1900 MPa", "Tensile strength of the wire, where its maker states it.", { usual: megapascals(800, 2800), importance: "rare" }),
  figure("shear-modulus", "stress", "77 GPa", "Shear modulus of the wire.", { usual: gigapascals(60, 90, "a machine-design textbook, table of spring wire moduli"), importance: "rare" }),
  choice("form", { cylindrical: "The same coil all the way up.", beehive: "Smaller coils at the top.", conical: "Tapering all the way.", progressive: "Coils wound closer at one end, closing first." }, "cylindrical", "Shape of the coil: the formula for rate holds for a cylindrical one only.", { importance: "useful" }),
];

const LOADS: BlockSchema = {
  id: "loads",
  words: "Loads as measured on a spring tester or printed by the maker: the only way for beehive and progressive springs.",
  keys: [],
  table: {
    words: "Height and the load at it.",
    form: "columns",
    columns: [
      figure("height", "length", "38.0 mm", "Height of the spring.", { usual: millimetres(6, 120), required: true }),
      figure("load", "force", "240 N", "Load at that height.", { usual: newtons(0, 5000), required: true }),
    ],
    example: "| height (mm) | load (N) |",
  },
};

const OF_A_PAIR: Readonly<Record<string, BlockSchema>> = {
  inner: { id: "inner", words: "The inner spring of a pair.", keys: COIL, blocks: { loads: LOADS } },
  outer: { id: "outer", words: "The outer spring of a pair.", keys: COIL, blocks: { loads: LOADS } },
};

export const KIND: PartKind = partKind({
  id: "valve-spring",
  words: "The springs that shut the valves.",
  base: "valve-gear.valve-spring",
  sided: true,
  keys: [
    ...COIL,
    yesNo("damper", "Whether a flat damper or an inner spring rubs inside the coil.", { importance: "rare" }),
    mark("colour", "green-white", "Paint marks on the spring.", { importance: "rare" }),
  ],
  blocks: {
    loads: LOADS,
    ...OF_A_PAIR,
    ...eachSide((side) => ({ id: side, words: `The ${side} valves' springs, where the sides differ.`, keys: COIL, blocks: { loads: LOADS, ...OF_A_PAIR } })),
  },
  clears: ["valve-gear.valve-spring.*"],
  keeps: ["valve-gear.valve-spring.seat-height", "valve-gear.valve-spring.*.seat-height"],
  cautions: ["spring-energy"],
});
