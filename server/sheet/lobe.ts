// The lobe tables of a build as engineering wants them: crank degrees from the nose, metres, and what is wrong with them by the row it stands in.
// Reads tables; works no clearance out and reports nothing.
import { type LobeFault, type LobeTable, eventsAtLift, inspectLobe, isReadable, lobePeak, mostLobeReadings, readerOf, smoothLobe } from "../engineering/lobe-table.ts";
import type { LobeMotion } from "../engineering/lobe-table.ts";
import type { Declaration, Location, Side } from "../model/declaration.ts";
import { type EffectiveBuild, type ProvidedTable, wordAt } from "../model/effective.ts";
import { type DataFile, type Scope, figuresNamedBy } from "../model/project.ts";
import type { ReadingTable } from "../model/reading.ts";
import { keptBy, keptFor } from "../model/reads.ts";
import { readLobeFile } from "./lobe-file.ts";

export interface Lobe {
  /** Crank degrees after the nose, and metres as read. Empty where the rows cannot be read in order. */
  readonly table: LobeTable;
  /** Where the lift was read. */
  readonly at: "valve" | "lobe";
  /** Whether somebody says whose degrees they are and where the lift was read. */
  readonly stated: boolean;
  /** Where the table is counted from top dead centre: degrees after it at which the nose lies. */
  readonly noseAtdc?: number;
  /** What stops its file from being read at all, to complete a sentence: "has no column of angles". */
  readonly problem?: string;
  readonly faults: readonly LobeFaultAt[];
  readonly count: number;
  readonly location: Location;
  readonly assumption?: string;
}

export interface LobeFaultAt {
  readonly fault: LobeFault;
  readonly at: Location;
  /** Line of its file, where the table stands in one. */
  readonly line?: number;
}

/** How far below nothing a dial may stray on the heel of a lobe before it is a mistake, m. Common practice, no source. */
const HEEL_NOISE = 0.05e-3;

/** The nose lies halfway between two points so far below it, m: 0.050 in, as a shaft is degreed. Common practice. */
const BELOW_NOSE = 0.05 * 0.0254;

/** The lobe of a side, where its table is given. */
export function lobeOf(build: EffectiveBuild, side: Side | string): Lobe | undefined {
  const path = `camshaft.${side}.lobe`;
  const given = build.tables.get(path);
  if (!given) return undefined;
  return lobes(build)(String(side))(given);
}

const lobes = keptFor((build: EffectiveBuild) => keptBy((side: string) => keptFor((given: ProvidedTable): Lobe | undefined => {
  const path = `camshaft.${side}.lobe`;
  return read(given, side, { countedFrom: wordAt(build, `${path}.counted-from`) ?? "nose", degrees: wordAt(build, `${path}.degrees`), readAt: wordAt(build, `${path}.read-at`) });
})));

const declared = new WeakMap<Declaration, { readonly data: readonly (DataFile | undefined)[]; readonly lobes: readonly DeclaredLobe[] }>();

export interface DeclaredLobe {
  readonly side: string;
  readonly lobe: Lobe;
  /** The file it stands in, where it does not stand in the text. */
  readonly file?: string;
}

/** The lobes that one declaration gives by itself, in its text or in files that it names. */
export function lobesIn(declaration: Declaration, scope: Pick<Scope, "data">): readonly DeclaredLobe[] {
  const data = figuresNamedBy(declaration).map((path) => scope.data(declaration, path.text));
  const before = declared.get(declaration);
  if (before && before.data.length === data.length && before.data.every((d, i) => d === data[i])) return before.lobes;
  const origin = { sort: declaration.sort, declaration, words: "" } as const;
  const lobes = [declaration, ...declaration.fits.flatMap((fit) => fit.inline ?? [])].flatMap(({ tree, figures, tables }) => {
    const wordOf = (path: string) => {
      const value = figures.find((f) => f.path === path)?.value;
      return value?.is === "word" ? value.word : undefined;
    };
    return ["intake", "exhaust"].flatMap((side): DeclaredLobe[] => {
      const path = `camshaft.${side}.lobe`;
      const fact = tables.find((t) => t.path === path);
      const named = figures.find((f) => f.path === `${path}.file`);
      const location = { tree, span: fact?.span ?? named?.span ?? { start: 0, end: 0 } };
      const name = fact || named?.value.is !== "file" ? undefined : named.value.path.text;
      const lobe = fact || name !== undefined
        ? read({ origin, ...(fact && { fact }), ...(name !== undefined && { file: scope.data(declaration, name) }), location }, side, { countedFrom: wordOf(`${path}.counted-from`) ?? "nose", degrees: wordOf(`${path}.degrees`), readAt: wordOf(`${path}.read-at`) })
        : undefined;
      return lobe ? [{ side, lobe, ...(name !== undefined && { file: name }) }] : [];
    });
  });
  declared.set(declaration, { data, lobes });
  return lobes;
}

/** What the block says beside its table. */
interface Said {
  readonly countedFrom: string;
  readonly degrees: string | undefined;
  readonly readAt: string | undefined;
}

/** Readings as they stand, with what their headings say and where each stands. */
interface Rows {
  readonly points: LobeTable;
  readonly degrees: "cam" | "crank" | undefined;
  readonly at: "valve" | "lobe" | undefined;
  readonly places: readonly Location[];
  readonly lines?: readonly number[];
}

function read(given: ProvidedTable, side: string, said: Said): Lobe | undefined {
  const nothing = (problem: string): Lobe => ({ table: [], at: "lobe", stated: false, problem, faults: [], count: 0, location: given.location });
  let rows: Rows | undefined;
  if (given.fact) rows = rowsWritten(given.fact.table, given.location);
  else if (given.file && "print" in given.file && given.file.text !== undefined) {
    const file = readLobeFile(given.file.text, side);
    if ("problem" in file) return nothing(file.problem);
    rows = { points: file.points, degrees: file.degrees, at: file.at, lines: file.lines, places: [] };
  }
  if (!rows) return undefined;
  if (rows.degrees && said.degrees && rows.degrees !== said.degrees) return nothing(`counts in ${rows.degrees} degrees by its heading and in ${said.degrees} degrees by \`degrees\``);
  if (rows.at && said.readAt && rows.at !== said.readAt) return nothing(`has its lift read at the ${rows.at} by its heading and at the ${said.readAt} by \`read-at\``);
  const degrees = rows.degrees ?? said.degrees;
  const readAt = rows.at ?? said.readAt;
  const at = readAt === "valve" ? "valve" : "lobe";
  const assumptions = [
    ...(degrees ? [] : ["the lobe's table does not say whose degrees it counts: taken as crank"]),
    ...(at === "valve" ? ["the lobe's lifts were read at the valve: taken as read with no lash"] : readAt ? [] : ["the lobe's table does not say where lift was read: taken at the lobe"]),
  ];
  const factor = degrees === "cam" ? 2 : 1;
  const raw = rows.points.map(({ deg, lift }) => ({ deg: deg * factor, lift: lift < 0 && lift >= -HEEL_NOISE ? 0 : lift }));
  const { places, lines } = rows;
  const faults = inspectLobe(raw).map((fault): LobeFaultAt => {
    const index = "index" in fault ? fault.index : fault.kind === "ends-open" ? (fault.end === "first" ? 0 : raw.length - 1) : undefined;
    const line = index === undefined ? undefined : lines?.[index];
    return { fault, at: (index === undefined ? undefined : places[index]) ?? given.location, ...(line !== undefined && { line }) };
  });
  const rest = { at, stated: degrees !== undefined && readAt !== undefined, faults, count: raw.length, location: given.location, ...(assumptions.length > 0 && { assumption: assumptions.join("; ") }) } as const;
  if (!isReadable(raw) || raw.length < 5 || raw.length > mostLobeReadings) return { table: [], ...rest };
  if (said.countedFrom !== "tdc") return { table: raw, ...rest };
  const nose = noseOf(raw);
  return { table: raw.map((p) => ({ deg: p.deg - nose, lift: p.lift })), noseAtdc: nose > 360 ? nose - 720 : nose, ...rest };
}

/** The rows of a table that stands in the text. */
function rowsWritten({ heads, rows }: ReadingTable, location: Location): Rows | undefined {
  const angleAt = heads.findIndex((h) => h.key?.key === "angle");
  const liftIndex = heads.findIndex((h) => h.key?.key === "lift");
  const angle = heads[angleAt];
  const lift = heads[liftIndex];
  if (!angle || !lift) return undefined;
  const says = (words: readonly { readonly text: string }[], word: string) => words.some((w) => w.text === word);
  const places: Location[] = [];
  const points = rows.flatMap((row) => {
    const deg = row.cells[angleAt]?.quantity?.interval.nominal;
    const height = row.cells[liftIndex]?.quantity?.interval.nominal;
    if (deg === undefined || height === undefined) return [];
    places.push({ tree: location.tree, span: row.span });
    return [{ deg, lift: height }];
  });
  const degrees = says(angle.words, "cam") ? "cam" : says(angle.words, "crank") ? "crank" : undefined;
  return { points, degrees, at: says(lift.words, "valve") ? "valve" : says(lift.words, "lobe") ? "lobe" : undefined, places };
}

/** Where a table has its nose, as a shaft is degreed. */
export function noseOf(table: LobeTable): number {
  const peak = lobePeak(table);
  const { centrelineDeg } = eventsAtLift({ table, lift: peak.lift - BELOW_NOSE });
  return Number.isFinite(centrelineDeg) ? centrelineDeg : peak.deg;
}

const readers = new WeakMap<LobeTable, (deg: number) => number>();

/** Lift as read, m, so many crank degrees after the nose. */
export function liftAfterNose({ table }: Lobe): (deg: number) => number {
  let reader = readers.get(table);
  if (!reader) {
    reader = readerOf(table);
    readers.set(table, reader);
  }
  return reader;
}

const motions = new WeakMap<LobeTable, readonly LobeMotion[]>();

/**
 * Smoothed lift and acceleration over the lobe: parabolas fitted over about twenty crank degrees, at least five readings, which keeps a
 * hundredth's misreading of the dial from counting as acceleration. The heel is left out.
 */
export function motionOf({ table }: Lobe): readonly LobeMotion[] {
  let motion = motions.get(table);
  if (!motion) {
    const step = table.length > 1 ? ((table[table.length - 1]?.deg ?? 0) - (table[0]?.deg ?? 0)) / (table.length - 1) : 0;
    const window = Math.max(5, 2 * Math.floor(20 / step / 2) + 1);
    motion = smoothLobe({ table, window: Math.min(window, table.length % 2 === 0 ? table.length - 1 : table.length) }).filter((p) => p.lift > HEEL_NOISE * 3);
    motions.set(table, motion);
  }
  return motion;
}
