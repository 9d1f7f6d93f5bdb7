// Questions asked of the schema: which block is here, which key is this word, where does its figure land. Pure look-ups; knows no text and no build.
import { unitOfSpelling } from "../../grammar/vocabulary.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";
import { unitFits } from "../quantity/kinds.ts";
import { slipDistance } from "../quantity/spelling.ts";
import { ENGINE, ENGINE_BLOCKS, BUILD } from "./engine.ts";
import { FASTENER } from "./fastener.ts";
import { measurementBlock, measurementOf } from "./measurements.ts";
import { PART_KINDS } from "./parts/index.ts";
import { PHRASES } from "./phrases.ts";
import { QUALIFIER_SETS, UNSTATED } from "./qualifiers.ts";
import { isSide, SIDES } from "./row.ts";
import type { Side } from "./row.ts";
import type { BlockSchema, KeySchema, PartKind, PhraseSchema, QualifierSet } from "./types.ts";

/**
 * One level of nesting: the word that opened a block and what is known of its head.
 * `of`: the part kind of a `part` or `fit`, the measurement of a `measured`. `name`: its own name, where figures land under it
 * (a fastener, a part of which an engine takes several). `side`: from `for intake` or `for exhaust`.
 */
export interface Step {
  readonly word: string;
  readonly of?: string;
  readonly name?: string;
  readonly side?: Side;
}

export interface Place {
  readonly block: BlockSchema;
  /** Path of the effective build under which the block's keys land; undefined in records and other blocks outside the overlay. */
  readonly base: string | undefined;
  readonly side: Side | undefined;
}

const kinds = new Map(PART_KINDS.map((kind) => [kind.id, kind]));

/** The kind of part of this name. */
export function partKindOf(id: string): PartKind | undefined {
  return kinds.get(id);
}

/** The declaration or statement that this word begins. */
export function phraseOf(word: string): PhraseSchema | undefined {
  return Object.hasOwn(PHRASES, word) ? PHRASES[word] : undefined;
}

const fits = new Map<string, BlockSchema>(
  PART_KINDS.map((kind) => [
    kind.id,
    { ...kind, base: kind.base ?? kind.id, words: `How this ${kind.id} is set in this build.`, keys: [...(kind.fitKeys ?? []), ...kind.keys], statements: ["waive", "note", "photo"] },
  ]),
);

/** What a `fit` of this kind of part may say: the part's own keys and those that only a fit carries. */
export function fitBlock(kind: string): BlockSchema | undefined {
  return fits.get(kind);
}

const measuredBlocks = new Map<string, BlockSchema>();

function measuredBlock(id: string): BlockSchema | undefined {
  const measurement = measurementOf(id);
  if (!measurement) return undefined;
  const known = measuredBlocks.get(id) ?? measurementBlock(measurement);
  measuredBlocks.set(id, known);
  return known;
}

function under(base: string | undefined, name: string): string | undefined {
  return base === undefined ? undefined : base === "" ? name : `${base}.${name}`;
}

function isSideBase(base: string): Side | undefined {
  return SIDES.find((side) => base.endsWith(`.${side}`));
}

function partPlace(block: BlockSchema, kind: PartKind, step: Step): Place {
  let base = kind.base ?? kind.id;
  if (kind.several) base = `${base}.${step.name ?? "*"}`;
  if (step.side && kind.sided) base = `${base}.${step.side}`;
  return { block, base, side: kind.sided ? step.side : undefined };
}

/** The block that a phrase in this block opens. */
export function descend(place: Place, step: Step): Place | undefined {
  const { block, base, side } = place;
  const nested = block.blocks && Object.hasOwn(block.blocks, step.word) ? block.blocks[step.word] : undefined;
  if (nested) {
    const own = isSide(step.word) ? step.word : undefined;
    // `fit x for intake` of a part with an intake block: the side is in the path already. The other side's figures go nowhere.
    if (own && side && base !== undefined && isSideBase(base) === side) return own === side ? { block: nested, base, side } : { block: nested, base: undefined, side: own };
    let path = nested.base === undefined ? under(base, step.word) : base === undefined ? undefined : nested.base;
    const within = own ?? step.side ?? side;
    if (step.side && nested.sided && path !== undefined) path = `${path}.${step.side}`;
    return { block: nested, base: path, side: within };
  }
  if (!block.statements?.includes(step.word)) return undefined;
  if (step.word === "fastener") return { block: FASTENER, base: base === undefined ? undefined : `fastener.${step.name ?? "*"}`, side: undefined };
  if (step.word === "fit") {
    const kind = step.of === undefined ? undefined : partKindOf(step.of);
    const fitted = kind && fitBlock(kind.id);
    return kind && fitted ? partPlace(fitted, kind, step) : undefined;
  }
  if (step.word === "measured") {
    const measured = step.of === undefined ? undefined : measuredBlock(step.of);
    return measured && { block: measured, base: undefined, side: undefined };
  }
  const record = phraseOf(step.word)?.block;
  return record && { block: record, base: undefined, side: undefined };
}

/** The block at a path of phrases, outermost first, and where its figures land; undefined where the schema knows no such block. */
export function placeAt(path: readonly Step[]): Place | undefined {
  const [first, ...rest] = path;
  if (!first) return undefined;
  let place: Place | undefined;
  if (first.word === "part") {
    const kind = first.of === undefined ? undefined : partKindOf(first.of);
    place = kind && partPlace(kind, kind, first);
  } else {
    const block = phraseOf(first.word)?.block;
    place = block && { block, base: block.base ?? undefined, side: undefined };
  }
  for (const step of rest) {
    if (!place) return undefined;
    place = descend(place, step);
  }
  return place;
}

/** The block at a path of phrases, outermost first. */
export function blockAt(path: readonly Step[]): BlockSchema | undefined {
  return placeAt(path)?.block;
}

const keyMaps = new WeakMap<BlockSchema, Map<string, KeySchema>>();

function keysOf(block: BlockSchema): Map<string, KeySchema> {
  let known = keyMaps.get(block);
  if (!known) {
    known = new Map();
    for (const row of block.keys) if (row.aliases) for (const alias of row.aliases) known.set(alias, row);
    for (const row of block.keys) known.set(row.key, row);
    keyMaps.set(block, known);
  }
  return known;
}

/** The key of a block by its name or an older spelling; compare `key` to tell which it was. */
export function keyIn(block: BlockSchema, word: string): KeySchema | undefined {
  return keysOf(block).get(word);
}

/** The column of a block's table that a heading names. */
export function columnIn(block: BlockSchema, heading: string): KeySchema | undefined {
  return block.table?.columns?.find((column) => column.key === heading || column.aliases?.includes(heading));
}

/** The unit that a column's own name stands for, where its heading needs no other: `rpm`, `afr`, `deg`. */
export function unitOfColumn(column: KeySchema): UnitId | undefined {
  const unit = unitOfSpelling(column.key);
  return unit !== undefined && column.type.is === "quantity" && unitFits(column.type.kind, unit) ? unit : undefined;
}

/**
 * Effective paths that a key's figure lands on: none outside the overlay, two where a figure without a side serves both sides
 * (a rocker's ratio), else one.
 */
export function landing(path: readonly Step[], key: string, side?: Side): readonly string[] {
  const place = placeAt(path);
  if (!place) return [];
  return landingIn(place, key, side);
}

/** As `landing`, from a place already found. */
export function landingIn(place: Place, key: string, side?: Side): readonly string[] {
  const { block, base } = place;
  const row = base === undefined ? undefined : (keyIn(block, key) ?? columnIn(block, key));
  if (row) return rowLandsIn(place, row, side);
  return base !== undefined && block.open ? [under(base, key) as string] : [];
}

/** As `landingIn`, of a row that the place is known to have. */
export function rowLandsIn({ base, side: own }: Place, row: KeySchema, side?: Side): readonly string[] {
  if (base === undefined) return [];
  if (row.lands === undefined) return [under(base, row.key) as string];
  const where = row.lands;
  if (!where.includes("{side}")) return [where];
  const known = own ?? side;
  return (known ? [known] : SIDES).map((each) => where.replaceAll("{side}", each));
}

/** Every path of the effective build with the row that explains it; `*` stands for a name. */
function effectivePaths(): ReadonlyMap<string, KeySchema> {
  const found = new Map<string, KeySchema>();
  // The row that stands where the path says explains it best; one that lands there from elsewhere serves until it is met.
  const note = (path: string, row: KeySchema): void => {
    const known = found.get(path);
    if (!known || (known.lands !== undefined && row.lands === undefined)) found.set(path, row);
  };
  const visit = (place: Place): void => {
    const { block, base } = place;
    if (base === undefined) return;
    for (const rows of [block.keys, block.table?.columns ?? []])
      for (const row of rows) {
        if (row.lands === undefined) note(under(base, row.key) as string, row);
        else for (const path of rowLandsIn(place, row)) note(path, row);
      }
    for (const word of Object.keys(block.blocks ?? {})) {
      const inner = descend(place, { word });
      if (inner) visit(inner);
    }
  };
  visit({ block: ENGINE, base: "", side: undefined });
  visit({ block: BUILD, base: "", side: undefined });
  visit({ block: FASTENER, base: "fastener.*", side: undefined });
  for (const kind of PART_KINDS) {
    const block = fitBlock(kind.id) as BlockSchema;
    visit(partPlace(block, kind, { word: "fit", of: kind.id }));
    if (kind.sided) for (const side of SIDES) visit(partPlace(block, kind, { word: "fit", of: kind.id, side }));
  }
  return found;
}

let paths: ReadonlyMap<string, KeySchema> | undefined;

/** Every effective path there is, with its row; names of fasteners and of parts that come in several are `*`. */
export function allEffectivePaths(): ReadonlyMap<string, KeySchema> {
  return (paths ??= effectivePaths());
}

const severalBases = PART_KINDS.filter((kind) => kind.several).map((kind) => kind.base ?? kind.id);

/** The row that explains an effective path such as `valve-gear.intake.lash` or `fastener.head-bolt.torque`. */
export function keyOfPath(path: string): KeySchema | undefined {
  const all = allEffectivePaths();
  const direct = all.get(path);
  if (direct) return direct;
  for (const base of ["fastener", ...severalBases]) {
    if (path.startsWith(`${base}.`)) {
      const [, ...rest] = path.slice(base.length + 1).split(".");
      return all.get(`${base}.*.${rest.join(".")}`);
    }
  }
  return undefined;
}

function matches(pattern: string, path: string): boolean {
  const want = pattern.split(".");
  const have = path.split(".");
  const open = want.at(-1) === "*";
  if (open ? have.length < want.length : have.length !== want.length) return false;
  return want.every((step, i) => step === "*" || step === have[i]);
}

/**
 * Whether a figure that stood at this path before a part of the kind was fitted no longer holds once it is. For a fit on one side
 * the other side's figures stay; figures shared by both sides are the caller's to split first.
 */
export function clearedBy(kind: PartKind, path: string, side?: Side): boolean {
  const steps = path.split(".");
  if (side && SIDES.some((other) => other !== side && steps.includes(other))) return false;
  if (kind.keeps?.some((pattern) => matches(pattern, path))) return false;
  return kind.clears?.some((pattern) => matches(pattern, path)) ?? false;
}

const setsById = new Map(QUALIFIER_SETS.map((set) => [set.id, set]));
const setsByWord = new Map(QUALIFIER_SETS.flatMap((set) => Object.keys(set.options).map((word): [string, QualifierSet] => [word, set])));

/** The qualifier set of this id. */
export function qualifierSet(id: string): QualifierSet | undefined {
  return setsById.get(id);
}

/** The set that a qualifier word belongs to: `cold` to `thermal`, `at valve` to `lift-at`. `unstated` belongs to every set and so to none. */
export function qualifierSetOf(word: string): QualifierSet | undefined {
  return word === UNSTATED ? undefined : setsByWord.get(word);
}

/** Candidates that a word was probably meant to be, nearest first: at most a third of its letters out, and never more than three. */
export function nearest(word: string, candidates: Iterable<string>, most = 3): readonly string[] {
  const lower = word.toLowerCase();
  const allowed = Math.min(3, Math.max(1, Math.floor(word.length / 3)));
  const near: { readonly candidate: string; readonly distance: number }[] = [];
  for (const candidate of new Set(candidates)) {
    const folded = candidate.toLowerCase();
    const distance = folded.startsWith(`${lower}-`) || folded.endsWith(`-${lower}`) || isShortened(lower, folded) ? 1 : slipDistance(lower, folded, allowed);
    if (distance <= allowed && distance < candidate.length) near.push({ candidate, distance });
  }
  return near
    .sort((a, b) => a.distance - b.distance || (a.candidate < b.candidate ? -1 : 1))
    .slice(0, most)
    .map(({ candidate }) => candidate);
}

/** True where every word of a name is there, one or more of them cut short: `mean-dia` for `mean-diameter`, `max-len` for `max-length`. */
function isShortened(word: string, name: string): boolean {
  const [short, long] = [word.split("-"), name.split("-")];
  return short.length === long.length && word.length >= 3 && short.every((part, i) => part.length >= Math.min(2, long[i]?.length ?? 0) && isCutOf(part, long[i] ?? ""));
}

/** The beginning of a word, or its first letter and consonants in order: `dia`, `dmtr`, `lgth`. */
function isCutOf(part: string, whole: string): boolean {
  if (whole.startsWith(part)) return true;
  if (part[0] !== whole[0] || part.length < 3 || /[aeiou]/.test(part.slice(1))) return false;
  let at = 0;
  for (const letter of whole) if (letter === part[at]) at++;
  return at === part.length;
}

/** Names of blocks that describe an engine: what a card's scope (`for dunlin-20 bottom-end`) may name. */
export const ENGINE_BLOCK_NAMES: readonly string[] = Object.keys(ENGINE_BLOCKS);
