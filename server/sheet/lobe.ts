// The lobe tables of a build as engineering wants them: crank degrees from the nose, metres, and what is wrong with them by the row it stands in.
// Reads tables; works no clearance out and reports nothing.
import { type LobeFault, type LobeTable, eventsAtLift, inspectLobe, isReadable, lobePeak, readerOf, smoothLobe } from "../engineering/lobe-table.ts";
import type { LobeMotion } from "../engineering/lobe-table.ts";
import type { Location, Side } from "../model/declaration.ts";
import { type EffectiveBuild, type ProvidedTable, wordAt } from "../model/effective.ts";

export interface Lobe {
  /** Crank degrees after the nose, and metres as read. Empty where the rows cannot be read in order. */
  readonly table: LobeTable;
  /** Where the lift was read. */
  readonly at: "valve" | "lobe";
  /** Where the table is counted from top dead centre: degrees after it at which the nose lies. */
  readonly noseAtdc?: number;
  readonly faults: readonly LobeFaultAt[];
  readonly count: number;
  readonly location: Location;
  readonly assumption?: string;
}

export interface LobeFaultAt {
  readonly fault: LobeFault;
  readonly at: Location;
}

/** How far below nothing a dial may stray on the heel of a lobe before it is a mistake, m. Common practice, no source. */
const HEEL_NOISE = 0.05e-3;

/** The nose lies halfway between two points so far below it, m: 0.050 in, as a shaft is degreed. Common practice. */
const BELOW_NOSE = 0.05 * 0.0254;

const known = new WeakMap<ProvidedTable, Lobe | undefined>();

/** The lobe of a side, where its table is given. */
export function lobeOf(build: EffectiveBuild, side: Side | string): Lobe | undefined {
  const path = `camshaft.${side}.lobe`;
  const given = build.tables.get(path);
  if (!given) return undefined;
  if (!known.has(given)) known.set(given, read(given, wordAt(build, `${path}.counted-from`) ?? "nose"));
  return known.get(given);
}

function read(given: ProvidedTable, countedFrom: string): Lobe | undefined {
  const { heads, rows } = given.fact.table;
  const angleAt = heads.findIndex((h) => h.key?.key === "angle");
  const liftIndex = heads.findIndex((h) => h.key?.key === "lift");
  const angle = heads[angleAt];
  const lift = heads[liftIndex];
  if (!angle || !lift) return undefined;
  const says = (words: readonly { readonly text: string }[], word: string) => words.some((w) => w.text === word);
  const factor = says(angle.words, "cam") ? 2 : 1;
  const at = says(lift.words, "valve") ? "valve" : "lobe";
  const assumptions = [
    ...(says(angle.words, "cam") || says(angle.words, "crank") ? [] : ["the lobe's table does not say whose degrees it counts: taken as crank"]),
    ...(at === "valve" ? ["the lobe's lifts were read at the valve: taken as read with no lash"] : says(lift.words, "lobe") ? [] : ["the lobe's table does not say where lift was read: taken at the lobe"]),
  ];
  const places: Location[] = [];
  const raw = rows.flatMap((row) => {
    const deg = row.cells[angleAt]?.quantity?.interval.nominal;
    const height = row.cells[liftIndex]?.quantity?.interval.nominal;
    if (deg === undefined || height === undefined) return [];
    places.push({ tree: given.location.tree, span: row.span });
    return [{ deg: deg * factor, lift: height < 0 && height >= -HEEL_NOISE ? 0 : height }];
  });
  const faults = inspectLobe(raw).map((fault) => ({ fault, at: ("index" in fault ? places[fault.index] : fault.kind === "ends-open" ? places[fault.end === "first" ? 0 : places.length - 1] : undefined) ?? given.location }));
  const rest = { at, faults, count: raw.length, location: given.location, ...(assumptions.length > 0 && { assumption: assumptions.join("; ") }) } as const;
  if (!isReadable(raw) || raw.length < 5) return { table: [], ...rest };
  if (countedFrom !== "tdc") return { table: raw, ...rest };
  const nose = noseOf(raw);
  return { table: raw.map((p) => ({ deg: p.deg - nose, lift: p.lift })), noseAtdc: nose > 360 ? nose - 720 : nose, ...rest };
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
