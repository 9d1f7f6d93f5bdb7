// Clearances: bearings, end plays, pistons in their bores and the gaps of rings, from sizes. Judges none. Knows no physics of its own.
import * as fits from "../../engineering/fits.ts";
import { type EffectiveBuild, effective, wordAt } from "../../model/effective.ts";
import { exactly } from "../../quantity/interval.ts";
import { type Formula, type Input, asking, blockHas, either, figure, figureBy, formula, slotHas, table, value } from "../formula.ts";

const measuredOf = (build: EffectiveBuild, ...ids: readonly string[]): boolean => build.measured.some((m) => ids.includes(m.what.text));

const BEARINGS = { main: "Main bearing", rod: "Big end", cam: "Camshaft bearing" } as const;

function bearing(id: keyof typeof BEARINGS): readonly Formula[] {
  const name = BEARINGS[id];
  const base = `bottom-end.${id}`;
  const applies = (build: EffectiveBuild): boolean =>
    ["journal", "housing", "shell"].some((key) => slotHas(build, `${base}.${key}`)) || measuredOf(build, `${id}-journal`, `${id}-bore`, `${id}-clearance`);
  return [
    formula({
      id: `bearing.${id}.bore`, section: "bottom-end", label: `${name}, bore with its shells in`, kind: "length", unit: "millimetre", quiet: true,
      words: "Inside diameter once the shells are in and the cap is tightened.",
      expression: "{housing} − 2 · {shell}", source: "difference of diameters",
      inputs: { housing: figure(`${base}.housing`), shell: figure(`${base}.shell`) },
      applies,
      compute: ({ housing, shell }) => housing - 2 * shell,
    }),
    formula({
      id: `bearing.${id}.clearance`, section: "bottom-end", label: `${name}, oil clearance`, kind: "length", unit: "millimetre",
      words: "Bore less journal: room for the oil film, on the diameter.",
      expression: "{bore} − {journal}", source: "difference of diameters",
      inputs: { bore: asking(either(figure(`${base}.bore`), value(`bearing.${id}.bore`)), value(`bearing.${id}.bore`)), journal: figure(`${base}.journal`) },
      applies,
      compute: ({ bore, journal }) => fits.fitClearance({ bore, shaft: journal }),
    }),
  ];
}

function play(id: string, path: string, label: string, words: string, measurement: string): Formula {
  return formula({
    id, section: "bottom-end", label, kind: "length", unit: "millimetre", words, expression: "{play}", source: "as asked for",
    inputs: { play: figureBy("asked", path) },
    applies: (build) => slotHas(build, path) || measuredOf(build, measurement),
    compute: ({ play: asked }) => asked,
  });
}

/** The row of the trade's factors for each use that a build may state. */
const RING_USES: Readonly<Record<string, fits.RingUse>> = {
  street: "street", modified: "modified or nitrous", racing: "racing naturally aspirated", "racing-turbo": "racing nitrous or turbo", "racing-supercharged": "racing supercharged",
};

function gapRow(build: EffectiveBuild) {
  const use = RING_USES[wordAt(build, "use") ?? ""];
  return use && fits.ringGapFactors[use];
}

function gapFactor(ring: "top" | "second"): Input<number> {
  return either(figure(`ring.${ring}-gap-factor`), table("ratio", ["use"], (build) => {
    const given = effective(build.slots.get("use"));
    const row = gapRow(build);
    const factor = row?.[ring];
    return !given || !row || factor === undefined ? undefined : { interval: exactly(factor), words: `${ring} gap for one of bore, ${wordAt(build, "use")}`, source: `common practice: ${row.source}`, estimate: true, provided: [given] };
  }));
}

function ringGap(ring: "top" | "second"): readonly Formula[] {
  const name = ring === "top" ? "Top ring" : "Second ring";
  const applies = (build: EffectiveBuild): boolean => slotHas(build, `bottom-end.rings.${ring}-gap`) || slotHas(build, `ring.${ring}-gap-factor`) || gapRow(build)?.[ring] !== undefined;
  return [
    formula({
      id: `ring-gap.${ring}.by-bore`, section: "bottom-end", label: `${name}, least gap by its bore`, kind: "length", unit: "millimetre", quiet: true,
      words: "Factor of the ring maker or of the trade times the bore.", expression: "{factor} · {bore}", source: "the ring maker's factor, else common practice",
      inputs: { factor: gapFactor(ring), bore: figure("bore") },
      applies,
      compute: ({ factor, bore }) => fits.ringGap({ bore, factor }),
    }),
    formula({
      id: `ring-gap.${ring}.required`, section: "bottom-end", label: `${name}, gap wanted`, kind: "length", unit: "millimetre",
      words: "End gap in its own bore: as the ring's maker asks, else by the bore and how hard the engine will work. Too little seizes the engine.",
      expression: "{gap}", source: "the ring maker's figure; else common practice, no source",
      inputs: { gap: either(figureBy("asked", `bottom-end.rings.${ring}-gap`), value(`ring-gap.${ring}.by-bore`)) },
      applies,
      compute: ({ gap }) => gap,
    }),
  ];
}

export const CLEARANCES: readonly Formula[] = [
  ...bearing("main"), ...bearing("rod"), ...bearing("cam"),
  play("thrust.endplay", "bottom-end.thrust-endplay", "Crankshaft end play", "Fore-and-aft play at the thrust bearing.", "thrust-endplay"),
  play("cam.endplay", "bottom-end.cam-endplay", "Camshaft end play", "Fore-and-aft play of the camshaft.", "cam-endplay"),
  play("rod.side-clearance", "bottom-end.rod-side-clearance", "Big-end side play", "Side play of the rods on the crank.", "rod-side-clearance"),
  ...(["tip", "outer", "side"] as const).map((where) => formula({
    id: `oil-pump.${where}`, section: "bottom-end", label: `Oil pump, ${where} clearance`, kind: "length", unit: "millimetre",
    words: "Clearance in the oil pump as asked for, or as measured.", expression: "{clearance}", source: "as written",
    inputs: { clearance: figure(`oil-pump.${where}-clearance`) },
    applies: (build) => blockHas(build, "oil-pump") || measuredOf(build, "oil-pump"),
    compute: ({ clearance }) => clearance,
  })),
  formula({
    id: "piston-wall.clearance", section: "bottom-end", label: "Piston in its bore", kind: "length", unit: "millimetre",
    words: "Bore less piston, where the piston's maker says to measure it.",
    expression: "{bore} − {piston}", source: "difference of diameters",
    inputs: { bore: figure("bore"), piston: figure("bottom-end.piston-diameter") },
    applies: (build) => slotHas(build, "bottom-end.piston-diameter") || measuredOf(build, "piston-diameter", "piston-wall-clearance"),
    compute: ({ bore, piston }) => fits.fitClearance({ bore, shaft: piston }),
  }),
  ...ringGap("top"), ...ringGap("second"),
];
