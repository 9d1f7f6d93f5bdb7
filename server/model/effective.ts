// The effective build: engine, then fitted parts, then followed cards, then the build's own entries, each figure with the chain of what it
// replaced. Knows no formula and no limit.
import type { KeySchema, PartKind } from "../schema/types.ts";
import type { Text } from "../../grammar/tree.ts";
import type { Question } from "../recording/question.ts";
import type { Outcome } from "../recording/summary.ts";
import type { Declaration, FigureFact, FitFact, FollowFact, Location, MeasuredFact, RecordFact, Side, Sort, TableFact } from "./declaration.ts";
import { type DataFile, type Scope, figuresNamedBy } from "./project.ts";
import { FIT_BASE } from "./lower.ts";
import { countsForNothing } from "./possible.ts";
import { looked } from "./reads.ts";
import type { FigureValue, QuantityValue, Thread } from "./value.ts";

/** Who gave a figure. */
export interface Origin {
  readonly sort: Sort;
  readonly declaration: Declaration;
  /** As a person would call it: "Ridgeway 272", "dunlin-18", "this build". */
  readonly words: string;
}

/** One figure of a chain. Asked for by a source, or chosen by the builder. */
export interface Provided {
  readonly role: "asked" | "chosen";
  readonly origin: Origin;
  readonly fact: FigureFact;
  readonly location: Location;
}

/** One place of the effective build with everything that was said of it, oldest first. */
export interface Slot {
  readonly path: string;
  readonly key: KeySchema;
  readonly chain: readonly Provided[];
  /** Links of the chain before this index describe something that has been taken off the engine, or cannot be. */
  readonly from: number;
}

/** A table that counts, and who gave it: written out, or in a file of its own. */
export interface ProvidedTable {
  readonly origin: Origin;
  readonly fact?: TableFact;
  /** The file it stands in, where it was looked for. */
  readonly file?: DataFile | undefined;
  readonly location: Location;
}

export interface FittedPart {
  readonly kind: PartKind | undefined;
  readonly kindId: string;
  readonly declaration: Declaration;
  readonly fit: FitFact;
  readonly side?: Side;
  readonly words: string;
}

export interface FollowedCard {
  readonly declaration: Declaration;
  readonly follow: FollowFact;
}

export interface EffectiveBuild {
  /** The build, or the engine when it is looked at by itself. */
  readonly subject: Declaration;
  readonly engine?: Declaration;
  readonly parts: readonly FittedPart[];
  readonly cards: readonly FollowedCard[];
  readonly slots: ReadonlyMap<string, Slot>;
  /** The paths at which a figure counts, whatever it is. */
  readonly said: readonly string[];
  /** By the path of the block that holds it: `camshaft.intake.lobe`. The last one said counts, and goes with the part it described. */
  readonly tables: ReadonlyMap<string, ProvidedTable>;
  /** Names of fasteners in order of first mention. */
  readonly fasteners: readonly string[];
  readonly measured: readonly MeasuredFact[];
  readonly shop?: Declaration;
  /** Its recordings in the order of the text, where somebody looked for them. */
  readonly recordings?: readonly Recording[] | undefined;
}

/** A recording in a file of its own: what is asked of it, and what it came to once it was read. */
export interface Recording {
  readonly record: RecordFact;
  /** As written, counted from the build's file. */
  readonly path: Text;
  readonly uri: string;
  /** Of file and question together; it begins with `reading`. */
  readonly key: string;
  /** Of the file and of how it is read: what stays while only limits change. */
  readonly reading: string;
  readonly question: Question;
  readonly outcome?: Outcome;
  /** True where the outcome is that of an earlier question with other limits: nothing in it is judged. */
  readonly behind?: boolean;
}

/**
 * The declarations that decide an effective build besides its own: the engine, the shop, each fitted part, each followed card; `undefined` where
 * a name is not known; and the files of figures that these name. While these are the same, so is everything worked out from them.
 */
export function standsOn(subject: Declaration, scope: Scope): readonly (Declaration | DataFile | undefined)[] {
  const shop = scope.shops[0]?.declaration;
  const declarations = subject.sort === "build" ? [shop, ...below(subject, scope)] : [shop];
  const data = [subject, ...declarations].flatMap((d) => (d ? figuresNamedBy(d).map((path) => scope.data(d, path.text)) : []));
  return data.length > 0 ? [...declarations, ...data] : declarations;
}

function below(subject: Declaration, scope: Scope): readonly (Declaration | undefined)[] {
  return [
    subject.on && scope.engines.get(subject.on.text)?.[0]?.declaration,
    ...subject.fits.map((fit) => (fit.name && !fit.inline ? scope.parts.get(fit.name.text)?.[0]?.declaration : undefined)),
    ...subject.follows.map((follow) => scope.cards.get(follow.name.text)?.[0]?.declaration),
  ];
}

/**
 * Lays a build (or an engine by itself) over what it stands on. Names that cannot be resolved are left out; a rule reports them.
 * @param earlier the slots of an earlier state, whose links are taken over where they say the same: values that are taken over rest on them.
 */
export function effectiveOf(subject: Declaration, scope: Scope, earlier?: EffectiveBuild["slots"]): EffectiveBuild {
  const engine = subject.sort === "engine" ? subject : subject.on ? scope.engines.get(subject.on.text)?.[0]?.declaration : undefined;
  const slots = new Map<string, { path: string; key: KeySchema; chain: Provided[]; from: number }>();
  const lay = (fact: FigureFact, role: Provided["role"], origin: Origin, path = fact.path) => {
    // A hole is nothing yet: it replaces no figure.
    if (fact.value.is === "hole") return;
    const provided = earlier?.get(path)?.chain.find((link) => link.fact === fact && link.role === role && link.origin.declaration === origin.declaration) ?? { role, origin, fact, location: { tree: origin.declaration.tree, span: fact.span } };
    const slot = slots.get(path);
    // What cannot be replaces what was there, and is nothing itself: neither it nor what it replaced is worked with.
    const none = countsForNothing(origin.declaration, fact.span);
    if (slot) slot.chain.push(provided);
    else slots.set(path, { path, key: fact.key, chain: [provided], from: none ? 1 : 0 });
    if (slot && none) slot.from = slot.chain.length;
  };
  const tables = new Map<string, ProvidedTable>();
  const layTables = (origin: Origin, place = (path: string) => path) => {
    for (const { path, value, span } of origin.declaration.figures)
      if (value.is === "file") tables.set(place(path.slice(0, path.lastIndexOf("."))), { origin, file: scope.data(origin.declaration, value.path.text), location: { tree: origin.declaration.tree, span } });
    // Where a block gives both, what stands written out counts.
    for (const fact of origin.declaration.tables) tables.set(place(fact.path), { origin, fact, location: { tree: origin.declaration.tree, span: fact.span } });
  };
  const fasteners = new Set<string>();
  const noteFasteners = (d: Declaration) => d.fasteners.forEach((f) => fasteners.add(f.name.text));
  if (engine) {
    const origin = { sort: engine.sort, declaration: engine, words: wordsFor(engine) };
    for (const fact of sharedFirst(engine.figures)) lay(fact, "asked", origin);
    layTables(origin);
    noteFasteners(engine);
  }
  const parts: FittedPart[] = [];
  const cards: FollowedCard[] = [];
  if (subject.sort === "build") {
    const builder: Origin = { sort: "build", declaration: subject, words: "this build" };
    for (const fit of subject.fits) {
      const declaration = fit.inline ?? (fit.name ? scope.parts.get(fit.name.text)?.[0]?.declaration : undefined);
      if (!declaration) continue;
      const side = sideOf(fit, declaration, twinCam(slots));
      const kindId = declaration.kindName?.text ?? "part";
      const kindBase = declaration.kind?.base ?? kindId;
      const base = declaration.kind?.several && declaration.name ? `${kindBase}.${declaration.name.text}` : kindBase;
      parts.push({ kind: declaration.kind, kindId, declaration, fit, ...(side && { side }), words: wordsFor(declaration) });
      if (declaration.kind?.sided && side) split(slots, declaration.kind, base);
      if (declaration.kind) {
        takeOff(slots, declaration.kind, base, side);
        for (const path of [...tables.keys()]) if (comesOff(path, declaration.kind, base, side)) tables.delete(path);
      }
      const origin: Origin = { sort: "part", declaration, words: wordsFor(declaration) };
      const onSide = (path: string) => (side && declaration.kind?.sided && path.startsWith(`${base}.`) && !path.startsWith(`${base}.${side}.`) ? `${base}.${side}${path.slice(base.length)}` : path);
      for (const fact of sharedFirst(declaration.figures)) lay(fact, "asked", origin, fit.inline ? fact.path : onSide(fact.path));
      layTables(origin, fit.inline ? (path) => path : onSide);
      for (const fact of fit.figures) lay(fact, "chosen", builder, fact.path.startsWith(FIT_BASE) ? onSide(base + fact.path.slice(FIT_BASE.length)) : fact.path);
      noteFasteners(declaration);
    }
    for (const follow of subject.follows) {
      const declaration = scope.cards.get(follow.name.text)?.[0]?.declaration;
      if (!declaration) continue;
      cards.push({ declaration, follow });
      const origin: Origin = { sort: "card", declaration, words: wordsFor(declaration) };
      for (const fact of sharedFirst(declaration.figures)) lay(fact, "asked", origin);
      layTables(origin);
      noteFasteners(declaration);
    }
    for (const fact of sharedFirst(subject.figures)) lay(fact, "chosen", builder);
    layTables(builder);
    noteFasteners(subject);
  }
  const shop = scope.shops[0]?.declaration;
  return new Laid({ subject, ...(engine && { engine }), parts, cards, slots: new Slots(slots), said: [...slots.values()].flatMap((slot) => (effective(slot) ? slot.path : [])), tables, fasteners: [...fasteners], measured: subject.measured, ...(shop && { shop }) });
}

/** The build with its recordings. */
export function withRecordings(build: EffectiveBuild, recordings: readonly Recording[]): EffectiveBuild {
  const { subject, engine, parts, cards, slots, said, tables, fasteners, measured, shop } = build;
  return new Laid({ subject, ...(engine && { engine }), parts, cards, slots, said, tables, fasteners, measured, ...(shop && { shop }), recordings });
}

/** An effective build that says which of its lists are looked at. */
class Laid implements EffectiveBuild {
  readonly subject: Declaration;
  declare readonly engine?: Declaration;
  declare readonly shop?: Declaration;
  readonly slots: ReadonlyMap<string, Slot>;
  readonly #lists: Omit<EffectiveBuild, "subject" | "engine" | "shop" | "slots">;

  constructor(build: EffectiveBuild) {
    this.subject = build.subject;
    if (build.engine) this.engine = build.engine;
    if (build.shop) this.shop = build.shop;
    this.slots = build.slots;
    this.#lists = build;
  }

  get parts() { looked("build.parts"); return this.#lists.parts; }
  get cards() { looked("build.cards"); return this.#lists.cards; }
  get said() { looked("build.said"); return this.#lists.said; }
  get tables() { looked("build.tables"); return this.#lists.tables; }
  get fasteners() { looked("build.fasteners"); return this.#lists.fasteners; }
  get measured() { looked("build.measured"); return this.#lists.measured; }
  get recordings() { looked("build.recordings"); return this.#lists.recordings; }
}

/** Looked at all together, when somebody goes through them. */
export const ALL_SLOTS = "build.slots";

/** Slots that say which of them are looked at, by their paths. */
class Slots implements ReadonlyMap<string, Slot> {
  readonly #slots: ReadonlyMap<string, Slot>;

  constructor(slots: ReadonlyMap<string, Slot>) {
    this.#slots = slots;
  }

  get(path: string) { looked(path); return this.#slots.get(path); }
  has(path: string) { looked(path); return this.#slots.has(path); }
  get size() { return this.#all().size; }
  keys() { return this.#all().keys(); }
  values() { return this.#all().values(); }
  entries() { return this.#all().entries(); }
  [Symbol.iterator]() { return this.#all()[Symbol.iterator](); }
  forEach(each: (slot: Slot, path: string, all: ReadonlyMap<string, Slot>) => void) { this.#all().forEach((slot, path) => each(slot, path, this)); }

  #all(): ReadonlyMap<string, Slot> {
    looked(ALL_SLOTS);
    return this.#slots;
  }
}

/** An engine whose sides have a shaft each, as far as it has been laid. */
function twinCam(slots: ReadonlyMap<string, Slot>): boolean {
  const layout = effective(slots.get("valve-gear.layout"))?.fact.value;
  return layout?.is === "word" && layout.word === "dohc";
}

/**
 * The side a part goes on: as the fit says. A camshaft that states one side only is the shaft of that side where each has its own; elsewhere it is
 * the one shaft of the engine, half described.
 */
function sideOf(fit: FitFact, declaration: Declaration, twin: boolean): Side | undefined {
  if (fit.side || declaration.kind?.id !== "camshaft" || !twin) return fit.side;
  const paths = [...declaration.figures, ...declaration.tables].map((fact) => fact.path.split("."));
  const [intake, exhaust] = [paths.some((steps) => steps.includes("intake")), paths.some((steps) => steps.includes("exhaust"))];
  return intake === exhaust ? undefined : intake ? "intake" : "exhaust";
}

/** Within one declaration a figure for one side counts before one given for both. */
function sharedFirst(figures: readonly FigureFact[]): readonly FigureFact[] {
  return figures.some((f) => f.shared) ? [...figures.filter((f) => f.shared), ...figures.filter((f) => !f.shared)] : figures;
}

/** Before a part goes on one side, figures that stood for both sides are given to each, so that the other side keeps its own. */
function split(slots: Map<string, { path: string; key: KeySchema; chain: Provided[]; from: number }>, kind: PartKind, base: string): void {
  for (const slot of [...slots.values()]) {
    if (!slot.path.startsWith(`${base}.`) || slot.path.split(".").some((step) => step === "intake" || step === "exhaust")) continue;
    if (!(kind.clears ?? [`${base}.*`]).some((pattern) => matches(pattern, slot.path))) continue;
    for (const side of ["intake", "exhaust"]) {
      const path = `${base}.${side}${slot.path.slice(base.length)}`;
      if (!slots.has(path)) slots.set(path, { ...slot, path, chain: [...slot.chain] });
    }
    slots.delete(slot.path);
  }
}

/**
 * A fitted part takes its forerunner off the engine whole: the stock spring's coils say nothing of the new spring. What the kind `keeps`
 * belongs to what it sits in (a spring's seat height is the head's) and stays.
 */
function takeOff(slots: Map<string, { path: string; chain: Provided[]; from: number }>, kind: PartKind, base: string, side: Side | undefined): void {
  for (const slot of slots.values()) if (comesOff(slot.path, kind, base, side)) slot.from = slot.chain.length;
}

function comesOff(path: string, kind: PartKind, base: string, side: Side | undefined): boolean {
  if (kind.several) return false;
  const other = side === "intake" ? "exhaust" : side === "exhaust" ? "intake" : undefined;
  // A part fitted on one side leaves the other side's figures, and those given for both, as they were.
  if (other && path.split(".").includes(other)) return false;
  if (side && kind.sided && !path.split(".").includes(side)) return false;
  if (!(kind.clears ?? [`${base}.*`]).some((pattern) => matches(pattern, path))) return false;
  return !kind.keeps?.some((pattern) => matches(pattern, path) || path.endsWith(`.${pattern}`));
}

const patterns = new Map<string, RegExp>();

/** `a.*` is everything below a; `*` in the middle is one step. */
function matches(pattern: string, path: string): boolean {
  let regex = patterns.get(pattern);
  if (!regex) {
    const steps = pattern.split(".").map((step, i, all) => (step === "*" ? (i === all.length - 1 ? ".+" : "[^.]+") : step.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")));
    regex = new RegExp(`^${steps.join("\\.")}$`);
    patterns.set(pattern, regex);
  }
  return regex.test(path);
}

/** What a person would call a declaration. */
export function wordsFor(declaration: Declaration): string {
  return declaration.title ?? declaration.name?.text ?? declaration.kindName?.text ?? declaration.sort;
}

/** The figure that counts, when there is one. */
export function effective(slot: Slot | undefined): Provided | undefined {
  return slot && slot.chain.length > slot.from ? slot.chain[slot.chain.length - 1] : undefined;
}

/** What the last source asked for. */
export function asked(slot: Slot | undefined): Provided | undefined {
  return lastOf(slot, "asked");
}

/** What the builder chose. */
export function chosen(slot: Slot | undefined): Provided | undefined {
  return lastOf(slot, "chosen");
}

function lastOf(slot: Slot | undefined, role: Provided["role"]): Provided | undefined {
  if (!slot) return undefined;
  for (let i = slot.chain.length - 1; i >= slot.from; i--) if (slot.chain[i]?.role === role) return slot.chain[i];
  return undefined;
}

export function valueAt(build: EffectiveBuild, path: string): FigureValue | undefined {
  return effective(build.slots.get(path))?.fact.value;
}

export function quantityAt(build: EffectiveBuild, path: string): QuantityValue | undefined {
  const value = valueAt(build, path);
  return value?.is === "quantity" ? value : undefined;
}

export function wordAt(build: EffectiveBuild, path: string): string | undefined {
  const value = valueAt(build, path);
  return value?.is === "word" ? value.word : undefined;
}

export function threadAt(build: EffectiveBuild, path: string): Thread | undefined {
  const value = valueAt(build, path);
  return value?.is === "thread" ? value.thread : undefined;
}

/** The fitted parts of a kind. */
export function fitted(build: EffectiveBuild, kindId: string): readonly FittedPart[] {
  return build.parts.filter((p) => p.kindId === kindId);
}
