// Figures each of which is possible, and which cannot all be true of one engine.
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import { keptFor } from "../model/reads.ts";
import { compareWithLimit } from "../quantity/display.ts";
import { cylinderDisplacement } from "../engineering/bottom-end.ts";
import { meaningOf } from "../sheet/meaning.ts";
import type { BuildRule } from "./rule.ts";
import { written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "impossible-set",
  scope: "build",
  on: ["engine", "build"],
  severity: "error",
  page: {
    summary: "Two or three figures cannot all be true of one engine.",
    why: "One of them is a slip. Whatever rests on them comes out as nonsense, so it is said here, once, and nothing that rests on them is reported.",
    limit: "A rod no longer than half the stroke cannot turn. A chamber is smaller than what the cylinder sweeps. A valve head, a piston and a journal are smaller than the bore that they are in, and a spring is taller at its seat than solid, presses harder when it is shorter, and is wound of wire thinner than its coil.",
    source: "geometry",
    remedy: "Look both figures up again.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  stroke: 182.00 mm
  rod-length: 88.5 mm
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  stroke: 82.00 mm
  rod-length: 138.5 mm
}
`,
  },
  check({ build, report }) {
    for (const { figures, said, at } of setsOf(build)) {
      // What the engine says by itself is the engine's finding, and what a part does is the part's, told where it was brought in.
      if (build.subject.sort === "build" && figures.every((f) => f.origin.sort === "engine")) continue;
      report({ message: `${said} They cannot both be true: look them up again.`, at, path: figures[0]?.fact.path ?? "", related: figures.filter((f) => f.location.tree !== at.tree || f.location.span !== at.span).map((f) => ({ message: `The other figure: ${written(f)}.`, at: f.location })) });
    }
  },
};

interface ImpossibleSet {
  readonly figures: readonly Provided[];
  readonly said: string;
  readonly at: Location;
}

interface Read {
  readonly provided: Provided;
  readonly low: number;
  readonly high: number;
  readonly nominal: number;
}

function read(build: EffectiveBuild, path: string): Read | undefined {
  const slot = build.slots.get(path);
  const provided = effective(slot);
  const interval = slot && provided && meaningOf(slot, provided)?.interval;
  return provided && interval && interval.nominal > 0 ? { provided, ...interval } : undefined;
}

/** Every set of figures that cannot be, in the order of the sheet. */
export const setsOf: (build: EffectiveBuild) => readonly ImpossibleSet[] = keptFor(setsIn);

function setsIn(build: EffectiveBuild): readonly ImpossibleSet[] {
  const sets: ImpossibleSet[] = [];
  const used = new Set<Provided>();
  const add = (said: string, ...figures: readonly Provided[]) => {
    // One slip in the bore is one finding, not one for each thing that is in it.
    if (figures.some((f) => used.has(f))) return;
    figures.forEach((f) => used.add(f));
    const last = figures.find((f) => f.location.tree === build.subject.tree) ?? figures[0];
    if (last) sets.push({ figures, said, at: last.location });
  };
  /** `small` must be less than `large`. */
  const smaller = (small: string, large: string, say: (small: string, large: string) => string, least = 0) => {
    const a = read(build, small);
    const b = read(build, large);
    if (a && b && compareWithLimit(a.low, b.high - least) >= 0) add(say(written(a.provided), written(b.provided)), a.provided, b.provided);
  };
  const [stroke, rod, bore] = [read(build, "stroke"), read(build, "rod-length"), read(build, "bore")];
  if (stroke && rod && compareWithLimit(rod.high, stroke.low / 2) <= 0) add(`A rod of ${value(rod)} is no longer than half the stroke, ${value(stroke)}, and could not turn.`, rod.provided, stroke.provided);
  const chamber = read(build, "combustion.chamber");
  if (chamber && stroke && bore && compareWithLimit(chamber.low, cylinderDisplacement({ bore: bore.high, stroke: stroke.high })) >= 0) add(`A chamber of ${value(chamber)} is larger than what a bore of ${value(bore)} and a stroke of ${value(stroke)} sweep.`, chamber.provided, bore.provided, stroke.provided);
  smaller("bottom-end.piston-diameter", "bore", (a, b) => `A piston of ${bare(a)} does not go into a bore of ${bare(b)}.`);
  for (const side of ["intake", "exhaust"]) smaller(`valve-gear.${side}.valve-diameter`, "bore", (a, b) => `The ${side} valve head of ${bare(a)} is no smaller than the bore, ${bare(b)}.`);
  for (const bearing of ["main", "rod", "cam"]) smaller(`bottom-end.${bearing}.journal`, `bottom-end.${bearing}.bore`, (a, b) => `A ${bearing} journal of ${bare(a)} does not go into a bearing of ${bare(b)}.`);
  for (const bearing of ["main", "rod", "cam"]) smaller(`bottom-end.${bearing}.journal`, `bottom-end.${bearing}.housing`, (a, b) => `A ${bearing} journal of ${bare(a)} does not go into a housing of ${bare(b)}.`);
  for (const spring of springBases(build)) {
    const name = spring.split(".").slice(2).join(" ");
    const words = `The ${name === "" ? "" : `${name} `}valve spring`;
    smaller(`${spring}.solid-height`, `${spring}.seat-height`, (a, b) => `${words} is solid at ${bare(a)} and stands ${bare(b)} tall at its seat.`);
    smaller(`${spring}.seat-height`, `${spring}.free-length`, (a, b) => `${words} stands ${bare(a)} tall at its seat and ${bare(b)} free: it would press nothing.`);
    smaller(`${spring}.open-height`, `${spring}.seat-height`, (a, b) => `${words} is ${bare(a)} tall with the valve open and ${bare(b)} with it shut.`);
    smaller(`${spring}.seat-load`, `${spring}.open-load`, (a, b) => `${words} presses ${bare(a)} on the seat and ${bare(b)} open.`);
    smaller(`${spring}.wire`, `${spring}.mean-diameter`, (a, b) => `${words} is wound of ${bare(a)} wire to a mean diameter of ${bare(b)}.`);
    smaller(`${spring}.active-coils`, `${spring}.total-coils`, (a, b) => `${words} has ${bare(a)} active coils of ${bare(b)} in all.`, -1e-9);
  }
  return sets;
}

const SPRING = "valve-gear.valve-spring";

const SPRING_BASES = [SPRING, `${SPRING}.outer`, `${SPRING}.inner`, ...["intake", "exhaust"].flatMap((s) => [`${SPRING}.${s}`, `${SPRING}.${s}.outer`, `${SPRING}.${s}.inner`])].map((base) => ({
  base, paths: ["solid-height", "seat-height", "open-load", "wire", "active-coils", "open-height"].map((key) => `${base}.${key}`),
}));

function springBases(build: EffectiveBuild): readonly string[] {
  return SPRING_BASES.filter(({ paths }) => paths.some((path) => build.slots.has(path))).map(({ base }) => base);
}

function value(figure: Read): string {
  return bare(written(figure.provided));
}

/** The figure without its key. */
function bare(text: string): string {
  return text.replace(/^[\w.-]+:\s*/, "");
}
