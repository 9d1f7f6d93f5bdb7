// Whether a build's tunes still answer for it: what each was recorded for against what the build now says, and whether its file is the one
// that was recorded. Knows records and prints; judges nothing and writes nothing.
import type { FigureFact, Location, RecordBlock, RecordFact } from "../model/declaration.ts";
import type { EffectiveBuild, FittedPart } from "../model/effective.ts";
import { printOfText } from "../model/print.ts";
import type { DataFile, Unreadable } from "../model/project.ts";
import type { TableCell } from "../model/reading.ts";
import { keptFor } from "../model/reads.ts";
import { plainText, readQuantityValue } from "../model/value.ts";
import { keyOfPath } from "../schema/lookup.ts";
import type { Sheet } from "./evaluate.ts";
import { meaningOfFigure } from "./meaning.ts";
import { dateOf, figureOf } from "./pull.ts";
import { type TuneFigure, canonicalQuantity, textFigure, tuneFigures } from "./tune-figures.ts";

/** How fingerprints are made now. Goes up when the set of figures or their canonical form changes, so that older ones are read as what they are. */
export const SCHEME = 1;

/** A figure as it was recorded. */
export interface RecordedFigure {
  readonly path: string;
  /** As it stands in the file. */
  readonly text: string;
  readonly canonical: string;
}

/** Absent ends: a figure that was not stated then, or is no more. */
export interface TuneChange {
  readonly path: string;
  readonly was?: string;
  readonly is?: string;
  readonly location?: Location;
}

export type TuneState =
  /** No fingerprint: nobody recorded what it was made for. */
  | { readonly is: "unrecorded" }
  | { readonly is: "current" }
  | { readonly is: "stale"; readonly changes: readonly TuneChange[] }
  /** A fingerprint that this tool never wrote so: made up, without the figures that it is of, edited by hand, or made by a later scheme. */
  | { readonly is: "doubtful"; readonly why: "bare" | "edited" | "scheme"; readonly scheme?: number };

export type TuneFileState =
  | { readonly is: "same" | "unrecorded"; readonly print: string }
  | { readonly is: "changed"; readonly print: string; readonly recorded: string }
  | { readonly is: "unreadable"; readonly why: Unreadable };

export interface TuneLook {
  readonly record: RecordFact;
  readonly date?: string;
  /** The path of its file, where it is one. */
  readonly path?: string;
  /** Absent where it is no file, or the file was not looked for. */
  readonly file?: TuneFileState;
  /** The one that counts: the last by its day, of those without days the last in the text. */
  readonly latest: boolean;
  /** Of the one that counts; earlier ones are history. */
  readonly state: TuneState;
  /** Parts that ask for a tune and went in on a later day than this one's. */
  readonly before: readonly { readonly part: FittedPart; readonly date: string }[];
}

const looks = keptFor((sheet: Sheet) => keptFor((data: ReadonlyMap<string, DataFile>): readonly TuneLook[] => {
  const { build } = sheet;
  const records = build.subject.records.filter((record) => record.word === "tune");
  const last = records.reduce<RecordFact | undefined>((best, one) => (best === undefined || (dateOf(one) ?? "") >= (dateOf(best) ?? "") ? one : best), undefined);
  return records.map((record): TuneLook => {
    const date = dateOf(record);
    const named = record.head.find((part) => part.kind === "string");
    const path = named?.kind === "string" ? named.text : undefined;
    const file = path === undefined ? undefined : fileState(data.get(path), textAt(record, "file-print"));
    const latest = record === last;
    return {
      record, latest, ...(date !== undefined && { date }), ...(path !== undefined && { path }), ...(file && { file }),
      state: latest ? stateOf(record, () => tuneFigures(build, sheet)) : { is: "unrecorded" }, before: latest && date !== undefined ? fittedAfter(build, date) : [],
    };
  });
}));

/** The build's tunes, in the order of the text. */
export function tunesOf(sheet: Sheet, data: ReadonlyMap<string, DataFile>): readonly TuneLook[] {
  return looks(sheet)(data);
}

/** The state of one record against the figures of the build as it stands; they are worked out only where they are needed. */
export function stateOf(record: RecordFact, now: () => readonly TuneFigure[], scheme = SCHEME): TuneState {
  const made = textAt(record, "made-for");
  if (made === undefined) return { is: "unrecorded" };
  const block = record.blocks.findLast((b) => b.word === "based-on");
  if (!block) return samePrint(made, fingerprintOf(now(), scheme)) ? { is: "current" } : { is: "doubtful", why: "bare" };
  const own = schemeOf(block);
  if (own === undefined || own > scheme) return { is: "doubtful", why: "scheme", ...(own !== undefined && { scheme: own }) };
  const recorded = recordedFigures(block);
  if (!samePrint(made, fingerprintOf(recorded, own))) return { is: "doubtful", why: "edited" };
  const changes = changesBetween(recorded, now(), own < scheme);
  return changes.length > 0 ? { is: "stale", changes } : { is: "current" };
}

/** The fingerprint of figures, whatever their order: a digest of their paths and canonical values under a scheme. */
export function fingerprintOf(figures: readonly { readonly path: string; readonly canonical: string }[], scheme = SCHEME): string {
  const lines = figures.map((f) => `${f.path} = ${f.canonical}`).sort();
  return `#${printOfText([`tune scheme ${scheme}`, ...lines].join("\n"))}`;
}

/** What changed, by path. An older scheme knew fewer figures: what it has not recorded says nothing then. */
function changesBetween(recorded: readonly RecordedFigure[], now: readonly TuneFigure[], olderScheme: boolean): readonly TuneChange[] {
  const current = new Map(now.map((f) => [f.path, f]));
  const paths = new Set(recorded.map((f) => f.path));
  const changes = recorded.flatMap(({ path, text, canonical }): TuneChange[] => {
    const is = current.get(path);
    if (!is) return olderScheme ? [] : [{ path, was: text }];
    return is.canonical === canonical ? [] : [{ path, was: text, is: is.text, ...(is.location && { location: is.location }) }];
  });
  const added = olderScheme ? [] : now.filter((f) => !paths.has(f.path)).map(({ path, text, location }): TuneChange => ({ path, is: text, ...(location && { location }) }));
  return [...changes, ...added];
}

export function schemeOf(block: RecordBlock): number | undefined {
  const value = block.figures.find((f) => f.key.key === "scheme")?.value;
  const scheme = value?.is === "quantity" ? value.quantity.interval.nominal : undefined;
  return scheme !== undefined && Number.isInteger(scheme) && scheme >= 1 ? scheme : undefined;
}

/** The rows of a `based-on` table. */
export function recordedFigures(block: RecordBlock): readonly RecordedFigure[] {
  const { table } = block;
  if (!table) return [];
  const column = (key: string) => table.heads.findIndex((head) => head.key?.key === key);
  const [figure, value] = [column("figure"), column("value")];
  return table.rows.flatMap(({ cells }): RecordedFigure[] => {
    const [path, cell] = [cells[figure]?.text ?? "", cells[value]];
    return path === "" || !cell ? [] : [{ path, ...readCell(path, cell) }];
  });
}

/** A path without the word of who gave what another took the place of: `engine.combustion.gasket-thickness`. */
function keyAt(path: string) {
  return keyOfPath(path) ?? keyOfPath(path.replace(/^(engine|part|card|build)\./, ""));
}

function readCell(path: string, cell: TableCell): Omit<RecordedFigure, "path"> {
  const [first] = cell.parts;
  if (cell.parts.length === 1 && first?.kind === "string") return { ...textFigure(first.text), text: first.text };
  const key = keyAt(path);
  const read = key?.type.is === "quantity" ? readQuantityValue(cell.parts, key, cell.span, path, true).value : undefined;
  const meaning = key && read && meaningOfFigure(read, key.key, path, () => undefined);
  const text = cell.parts.map(plainText).join(" ");
  return { text, canonical: read && meaning ? canonicalQuantity(read, meaning) : text };
}

function samePrint(a: string, b: string): boolean {
  return a.toLowerCase() === b.toLowerCase();
}

function fileState(file: DataFile | undefined, recorded: string | undefined): TuneFileState | undefined {
  if (!file) return undefined;
  if ("problem" in file) return { is: "unreadable", why: file.problem };
  const print = `#${file.print}`;
  if (recorded === undefined) return { is: "unrecorded", print };
  return samePrint(recorded, print) ? { is: "same", print } : { is: "changed", print, recorded };
}

function textAt(record: RecordFact, key: string): string | undefined {
  const value = figureOf(record, key)?.value;
  return value?.is === "text" ? value.text : undefined;
}

/** Parts that ask for a tune and whose day is later than a tune's. */
function fittedAfter(build: EffectiveBuild, date: string): readonly { readonly part: FittedPart; readonly date: string }[] {
  return build.parts.flatMap((part) => {
    const asks = part.kind?.asksForTune || part.declaration.needs.some((need) => need.what.text === "tune");
    const given = part.fit.date?.text ?? dateIn([...part.fit.figures, ...(part.fit.inline?.figures ?? [])]);
    return asks && given !== undefined && given > date ? [{ part, date: given }] : [];
  });
}

function dateIn(figures: readonly FigureFact[]): string | undefined {
  const value = figures.findLast((f) => f.key.key === "fitted")?.value;
  return value?.is === "date" ? value.text : undefined;
}
