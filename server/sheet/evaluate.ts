// Works every formula out for one effective build, with low, nominal and high, and what was missing. Knows formulas, not what they mean.
import { type EffectiveBuild, type Provided, type Slot, asked, chosen, effective } from "../model/effective.ts";
import type { Location } from "../model/declaration.ts";
import type { Edits } from "../model/edited.ts";
import { type Changes, type Kept, type KeptBy, keptBy, keptOnce } from "../model/reads.ts";
import { type Interval, addIntervals, exactly, hasSpread } from "../quantity/interval.ts";
import type { KindId } from "../quantity/kinds.ts";
import { type Each, type Formula, type Input, type LookedUp, type Stage, type Thing, at } from "./formula.ts";
import { type Meaning, meaningOf } from "./meaning.ts";
import { type MeasuredReading, type MeasuredPlace, describesPlace, measuredPlaces, measuredReadings, placeWords } from "./measured.ts";
import { placesOf } from "./places.ts";
import { type Draft as DraftOf, type Leaf, type Node as NodeOf, intervalFor } from "./spread.ts";
import { capital } from "../quantity/spoken.ts";

type Node = NodeOf<SheetValue>;
type Draft = DraftOf<SheetValue>;

/** What one input was, for the trace. */
export interface TracedInput {
  readonly name: string;
  readonly words: string;
  readonly kind?: KindId;
  readonly interval?: Interval;
  /** For words, threads and classes. */
  readonly text?: string;
  readonly provided?: Provided;
  /** The value it came from, when it is another formula's. */
  readonly valueId?: string;
  readonly lookedUp?: LookedUp;
  /** Set for what is no number. */
  readonly thing?: Thing;
  /** Set where a reading stands for the figure. */
  readonly reading?: MeasuredReading;
  readonly assumption?: string;
}

export interface MissingInput {
  /** The path that would give it. */
  readonly path: string;
  readonly words: string;
}

export interface SheetValue {
  readonly id: string;
  readonly formula: Formula;
  readonly each: string;
  readonly label: string;
  /** Absent when it could not be worked out. Base unit of the formula's kind. */
  readonly interval?: Interval;
  readonly estimate: boolean;
  readonly assumptions: readonly string[];
  readonly missing: readonly MissingInput[];
  /** Why figures that are all there give nothing: completes "not computed: …". */
  readonly impossible?: string;
  readonly inputs: readonly TracedInput[];
  /** Every figure it rests on, through other values too. */
  readonly from: readonly Location[];
  readonly provided: readonly Provided[];
  /** The same value worked out from what was measured, place by place; what was not measured stays as specified. Empty where nothing it rests on was. */
  readonly measured: readonly MeasuredValue[];
}

export interface MeasuredValue {
  /** "cylinder 3", "intake a, cylinder 3"; empty where one reading serves the whole engine. */
  readonly place: string;
  /** As it comes out there. Its own `measured` is empty. */
  readonly value: SheetValue;
  /** The readings of that place that it rests on. */
  readonly readings: readonly MeasuredReading[];
}

/** A value is worked out when it is first asked for, and then kept: what nobody asks for costs nothing. */
export interface Sheet {
  readonly build: EffectiveBuild;
  /** All of them, in the order of the formulas. */
  readonly values: readonly SheetValue[];
  readonly byId: Pick<ReadonlyMap<string, SheetValue>, "get" | "has" | "keys">;
}

const NO_LEAVES: ReadonlyMap<string, Leaf> = new Map();
const NO_ASSUMPTIONS: readonly string[] = [];
const NONE_MISSING: readonly MissingInput[] = [];

interface NamedInput {
  readonly name: string;
  readonly input: Input<unknown>;
}
const entries = new WeakMap<Formula, readonly NamedInput[]>();

function inputsOf(formula: Formula): readonly NamedInput[] {
  let known = entries.get(formula);
  if (!known) {
    known = Object.entries(formula.inputs).map(([name, input]) => ({ name, input }));
    entries.set(formula, known);
  }
  return known;
}

const filledPaths = new WeakMap<readonly string[], Map<string, readonly string[]>>();

/** The paths of an input with `{each}` replaced. */
function pathsAt(paths: readonly string[], each: string): readonly string[] {
  let byEach = filledPaths.get(paths);
  if (!byEach) filledPaths.set(paths, (byEach = new Map()));
  let filled = byEach.get(each);
  if (!filled) {
    // Names of fasteners come from files without end; the table must not.
    if (byEach.size > 100) byEach.clear();
    byEach.set(each, (filled = paths.map((p) => at(p, each))));
  }
  return filled;
}

interface Instance {
  readonly formula: Formula;
  readonly each: string;
}

/** The values that a build has, by id, looked at one by one. */
interface Instances {
  get(id: string): Instance | undefined;
  /** In the order of the formulas. */
  ids(): readonly string[];
}

const fixedInstances = new WeakMap<readonly Formula[], ReadonlyMap<string, Instance>>();

/** Those whose places are the same on every engine. */
function fixedOf(formulas: readonly Formula[]): ReadonlyMap<string, Instance> {
  let fixed = fixedInstances.get(formulas);
  if (!fixed) {
    const found = new Map<string, Instance>();
    for (const formula of formulas) {
      if (formula.each === undefined) found.set(formula.id, { formula, each: "" });
      else if (formula.each === "side") for (const each of SIDES) found.set(at(formula.id, each), { formula, each });
    }
    fixed = found;
    fixedInstances.set(formulas, fixed);
  }
  return fixed;
}

function instancesOf(build: EffectiveBuild, formulas: readonly Formula[]): Instances {
  const fixed = fixedOf(formulas);
  const placed = keptBy((each: Each): readonly string[] => (each === "side" ? SIDES : placesOf(each, build)));
  const moving = keptOnce((): ReadonlyMap<string, Instance> => {
    const found = new Map<string, Instance>();
    for (const formula of formulas) if (formula.each !== undefined && formula.each !== "side") for (const each of placed(formula.each)) found.set(at(formula.id, each), { formula, each });
    return found;
  });
  const get = keptBy((id: string): Instance | undefined => {
    const found = fixed.get(id) ?? moving().get(id);
    return found && (!found.formula.applies || found.formula.applies(build, found.each)) ? found : undefined;
  });
  return {
    get,
    ids() {
      const all = new Set<string>();
      for (const formula of formulas) for (const each of formula.each === undefined ? ONCE : placed(formula.each)) all.add(at(formula.id, each));
      return [...all].filter((id) => get(id) !== undefined);
    },
  };
}

const SIDES = ["intake", "exhaust"] as const;
const ONCE = [""] as const;

/** An earlier state of the same build, whose values may still hold. */
export interface Earlier {
  readonly sheet: Sheet;
  readonly changes: Changes;
  readonly edits: Edits;
}

/** What a sheet has worked out by now, by the ids of values: the values, and on which readings they rest. */
interface WorkedOut {
  readonly node: (id: string) => Kept<Node | undefined> | undefined;
  readonly rests: (id: string) => Kept<ReadonlySet<string>> | undefined;
}
const workedOut = new WeakMap<Sheet, WorkedOut>();

/**
 * The sheet of a build. Pure; nothing throws for what a build says.
 * @param earlier where the build was edited; while it gives an earlier state, values of that are taken over where nothing that they rest on changed.
 */
export function evaluate(build: EffectiveBuild, formulas: readonly Formula[], keyWords: (path: string) => string, earlier?: () => Earlier | undefined): Sheet {
  const instances = instancesOf(build, formulas);
  const { measured, rests } = measuredValues(build, instances, keyWords, earlier && ((id) => {
    const before = earlier();
    const known = before && workedOut.get(before.sheet)?.rests(id);
    return before && known?.reads && !known.reads.touches(before.changes) ? known : undefined;
  }));
  const workOut = workings(build, instances, keyWords, undefined, measured, earlier && ((id) => {
    const before = earlier();
    return before && stillHolds(workedOut.get(before.sheet)?.node(id), before, workOut, measured);
  }));
  const get = (id: string) => workOut(id)?.value;
  const values = keptOnce((): readonly SheetValue[] => instances.ids().flatMap((id) => get(id) ?? []));
  const sheet: Sheet = {
    build,
    get values() {
      return values();
    },
    byId: { get, has: (id) => instances.get(id) !== undefined, keys: () => instances.ids().values() },
  };
  if (earlier) workedOut.set(sheet, { node: workOut.known, rests });
  return sheet;
}

/** A value of an earlier state, where it was watched, nothing that it looked at changed, and none of its figures stands in a text that was edited. */
function stillHolds(before: Kept<Node | undefined> | undefined, { changes, edits }: Earlier, workOut: (id: string) => Node | undefined, measured: (id: string) => readonly MeasuredValue[]): Kept<Node> | undefined {
  const node = before?.value;
  if (!before?.reads || !node || before.reads.touches(changes) || node.value.provided.some((p) => edits.has(p.origin.declaration))) return undefined;
  // What it rests on holds as well. Taken from this state, so that nothing of the earlier one stays alive by it.
  const inputs = node.inputs.map((input) => (input.node ? { ...input, node: workOut(input.node.value.id) } : input));
  const below = (node.value as unknown as Lazy).below.flatMap((value) => workOut(value.id)?.value ?? []);
  return { reads: before.reads, value: { ...node, inputs, value: valueOf({ ...node.value, interval: node.value.interval, impossible: node.value.impossible }, below, measured) } };
}

/** For a value's id, what it comes to from the readings; worked out when first asked for. */
function measuredValues(build: EffectiveBuild, byId: Instances, keyWords: (path: string) => string, earlier: WorkedOut["rests"] | undefined): { readonly measured: (id: string) => readonly MeasuredValue[]; readonly rests: WorkedOut["rests"] } {
  const targets = keptOnce(() => new Set(measuredReadings(build).map((r) => r.path ?? r.valueId ?? "")));
  /** Measured paths and values that a value rests on, through other values too. */
  const restsOn = keptBy((id: string): ReadonlySet<string> => {
    const found = new Set<string>();
    if (targets().has(id)) found.add(id);
    const entry = byId.get(id);
    if (entry) for (const { input } of inputsOf(entry.formula)) collect(input, entry.each, found);
    return found;
  }, earlier);
  const collect = (input: Input<unknown>, each: string, found: Set<string>): void => {
    if (input.reads === "either") for (const one of input.of) collect(one, each, found);
    else if (input.reads === "value") for (const target of restsOn(at(input.id, each))) found.add(target);
    else if (input.reads === "figure" && (input.role === undefined || input.role === "measured")) for (const path of input.paths) if (targets().has(at(path, each))) found.add(at(path, each));
  };
  const byPlace = new Map<string, (id: string) => Node | undefined>();
  const measured = (id: string): readonly MeasuredValue[] => {
    if (build.measured.length === 0 || targets().size === 0) return NONE_MEASURED;
    const on = restsOn(id);
    if (on.size === 0) return NONE_MEASURED;
    const readings = measuredReadings(build);
    const own = readings.filter((r) => on.has(r.path ?? r.valueId ?? ""));
    return measuredPlaces(own).flatMap((place): MeasuredValue[] => {
      const words = placeWords(place);
      let workOut = byPlace.get(words);
      if (!workOut) {
        workOut = workings(build, byId, keyWords, { place, readings }, () => NONE_MEASURED);
        byPlace.set(words, workOut);
      }
      const node = workOut(id);
      return node ? [{ place: words, value: node.value, readings: own.filter((r) => describesPlace(r.place, place)) }] : [];
    });
  };
  return { measured, rests: restsOn.known };
}

const NONE_MEASURED: readonly MeasuredValue[] = [];

interface AsMeasured {
  readonly place: MeasuredPlace;
  readonly readings: readonly MeasuredReading[];
}

/** Works values out one at a time, each once: as specified, or at one place as it was measured there. */
function workings(build: EffectiveBuild, byId: Instances, keyWords: (path: string) => string, asMeasured: AsMeasured | undefined, measured: (id: string) => readonly MeasuredValue[], earlier?: (id: string) => Kept<Node> | undefined): Pick<KeptBy<string, Node | undefined>, "known"> & ((id: string) => Node | undefined) {
  const open = new Set<string>();

  const known = keptBy((id: string): Node | undefined => {
    const entry = byId.get(id);
    if (!entry) return undefined;
    open.add(id);
    const confirmed = asMeasured?.readings.findLast((r) => r.valueId === id && describesPlace(r.place, asMeasured.place));
    const node = confirmed ? measuredNode(id, entry.formula, entry.each, confirmed) : build_(id, entry.formula, entry.each);
    open.delete(id);
    return node;
  }, earlier);
  // A formula that needs itself is a mistake in the declarations; a test forbids it, and here it is simply not computed.
  const nodeOf = (id: string): Node | undefined => (open.has(id) ? undefined : known(id));

  const build_ = (id: string, formula: Formula, each: string): Node => {
    const inputs: Node["inputs"][number][] = [];
    const traced: TracedInput[] = [];
    let missing: readonly MissingInput[] = NONE_MISSING;
    let assumptions: Set<string> | undefined;
    let spread: Map<string, Leaf> | undefined;
    let estimate = formula.estimate !== undefined;
    let impossible: string | undefined;
    const below: SheetValue[] = [];
    for (const { name, input } of inputsOf(formula)) {
      if (input.where && !input.where(build, each)) {
        inputs.push({ name, leaf: undefined, node: undefined, constant: undefined });
        continue;
      }
      const found = read(name, input, each);
      if (found) {
        const { leaf, node, constant, trace } = found;
        inputs.push({ name, leaf, node, constant });
        traced.push(trace);
        if (leaf && hasSpread(leaf.interval)) (spread ??= new Map()).set(leaf.id, leaf);
        if (trace.assumption !== undefined) (assumptions ??= new Set()).add(trace.assumption);
        if (trace.lookedUp?.estimate) estimate = true;
        if (node) {
          if (node.spread.size > 0) for (const [leafId, other] of node.spread) (spread ??= new Map()).set(leafId, other);
          below.push(node.value);
          for (const a of node.value.assumptions) (assumptions ??= new Set()).add(a);
          if (node.value.estimate) estimate = true;
        }
        continue;
      }
      if (input.optional) {
        inputs.push({ name, leaf: undefined, node: undefined, constant: undefined });
        continue;
      }
      if (input.fallback) {
        inputs.push({ name, leaf: undefined, node: undefined, constant: input.fallback.value });
        (assumptions ??= new Set()).add(input.fallback.assumption);
        traced.push({ name, words: input.fallback.assumption, assumption: input.fallback.assumption, ...(typeof input.fallback.value === "number" ? { interval: exactly(input.fallback.value) } : typeof input.fallback.value === "string" ? { text: input.fallback.value } : {}) });
        continue;
      }
      const lack = lackOf(input, each);
      missing = missing.length === 0 ? lack.missing : [...missing, ...lack.missing];
      impossible ??= lack.impossible ?? (lack.missing.length === 0 ? "nothing in this build gives it" : undefined);
    }
    const complete = missing.length === 0 && impossible === undefined;
    const rests = spread ?? NO_LEAVES;
    let interval: Interval | undefined;
    let corners: Float64Array | undefined;
    if (complete) {
      ({ interval, corners } = intervalFor({ formula, each, inputs, spread: rests }));
      if (!interval) impossible = "these figures cannot all be true of one engine";
    }
    const unique = missing.length > 1 ? [...new Map(missing.map((m) => [m.path, m])).values()] : missing;
    const value = valueOf({
      id, formula, each, label: labelOf(formula, each), interval, estimate: estimate || assumptions !== undefined, assumptions: assumptions ? [...assumptions] : NO_ASSUMPTIONS, missing: unique, impossible, inputs: traced,
    }, below, measured);
    return { formula, each, inputs, spread: rests, corners, value };
  };

  const read = (name: string, input: Input<unknown>, each: string): Found | undefined => {
    switch (input.reads) {
      case "figure": {
        const paths = pathsAt(input.paths, each);
        const read = asMeasured && (input.role === undefined || input.role === "measured") ? readingOf(asMeasured, paths) : undefined;
        if (read) return { leaf: { id: `measured:${read.path}`, interval: read.interval }, trace: { name, words: read.words, interval: read.interval, kind: read.kind, reading: read } };
        if (input.role === "measured") return undefined;
        const given = latest(build, paths, meaningOf, input.role);
        return given && leafOf(name, given.slot.path, given.provided, given.meaning);
      }
      case "stage": {
        const given = latest(build, pathsAt(input.paths, each), (_, provided) => stageOf(provided, input.stage));
        return given && leafOf(name, `${given.slot.path}:${input.stage}`, given.provided, given.meaning, input.stage === "turn" ? "angle" : "torque");
      }
      case "either": {
        for (const one of input.of) {
          if (one.where && !one.where(build, each)) continue;
          const found = read(name, one, each);
          if (found) return found;
        }
        return undefined;
      }
      case "value": {
        const id = at(input.id, each);
        const node = nodeOf(id);
        const interval = node?.value.interval;
        return interval && { node, trace: { name, words: node.value.label, kind: node.formula.kind, interval, valueId: id } };
      }
      case "table": {
        const found = input.look(build, each);
        return found && { leaf: { id: `table:${found.words}:${each}`, interval: found.interval }, trace: { name, words: found.words, kind: input.kind, interval: found.interval, lookedUp: found, ...(found.assumption !== undefined && { assumption: found.assumption }) } };
      }
      case "thing": {
        const found = input.look(build, each);
        return found && { constant: found.what, trace: { name, words: found.words, text: found.text, thing: found, ...(found.assumption !== undefined && { assumption: found.assumption }) } };
      }
      case "word": case "class": case "thread": {
        for (const path of pathsAt(input.paths, each)) {
          const given = effective(build.slots.get(path));
          if (!given) continue;
          const v = given.fact.value;
          const words = given.fact.key.key;
          if (input.reads === "word" && v.is === "word") return { constant: v.word, trace: { name, words, text: v.word, provided: given } };
          if (input.reads === "class" && (v.is === "class" || v.is === "text")) return { constant: v.text, trace: { name, words, text: v.text, provided: given } };
          if (input.reads === "thread" && v.is === "thread") return { constant: v.thread, trace: { name, words, text: v.thread.text, provided: given } };
        }
        return undefined;
      }
    }
  };

  /** What would have to be said for an input to be found. */
  const lackOf = (input: Input<unknown>, each: string): { readonly missing: readonly MissingInput[]; readonly impossible?: string } => {
    if (input.reads === "value") {
      const other = nodeOf(at(input.id, each))?.value;
      return { missing: other?.missing ?? [], ...(other?.impossible !== undefined && { impossible: other.impossible }) };
    }
    if (input.reads === "either") {
      // A way that lacks nothing and still gives nothing is the one that went wrong; else the shortest list is the easiest to fill in.
      const lacks = input.of.filter((one) => (one.reads !== "value" || byId.get(at(one.id, each)) !== undefined) && (!one.where || one.where(build, each))).map((one) => lackOf(one, each));
      if (input.ask && !lacks.some((lack) => lack.impossible !== undefined)) return lackOf(input.ask, each);
      return lacks.find((lack) => lack.impossible !== undefined) ?? lacks.reduce((least, lack) => (lack.missing.length > 0 && (least.missing.length === 0 || lack.missing.length < least.missing.length) ? lack : least), { missing: [] });
    }
    const asked = input.reads === "table" ? input.ask?.(build, each) : undefined;
    if (asked && asked.length > 0) return { missing: asked };
    const paths = (input.reads === "table" || input.reads === "thing" ? input.needs : input.paths.slice(0, 1)).map((p) => at(p, each));
    const absent = paths.filter((p) => !saidFor(input, build.slots.get(p)) && !build.tables.has(p));
    if (absent.length > 0) return { missing: absent.map((path) => ({ path, words: keyWords(path) })) };
    return { missing: [], impossible: `nothing is known for ${paths.map((p) => plainly(build.slots.get(p)) ?? p).join(" and ")}` };
  };

  return Object.assign(nodeOf, { known: known.known });
}

/** What counts of a slot for an input: where it takes only what was asked for or only what was chosen, the other is none. */
function saidFor(input: Input<unknown>, slot: Slot | undefined): Provided | undefined {
  if (input.reads !== "figure") return effective(slot);
  return input.role === "asked" ? asked(slot) : input.role === "chosen" ? chosen(slot) : effective(slot);
}

/** The reading of a place that stands for one of these paths. */
function readingOf({ place, readings }: AsMeasured, paths: readonly string[]): MeasuredReading | undefined {
  return readings.findLast((r) => r.path !== undefined && paths.includes(r.path) && describesPlace(r.place, place));
}

/** A value that was itself measured: the reading stands for it. */
function measuredNode(id: string, formula: Formula, each: string, reading: MeasuredReading): Node {
  const leaf = { id: `measured:${id}`, interval: reading.interval };
  const itself: Formula = { ...formula, expression: "{reading}", source: "measured", inputs: {}, compute: (inputs) => (inputs as { readonly reading: number }).reading };
  const spread = hasSpread(leaf.interval) ? new Map([[leaf.id, leaf]]) : NO_LEAVES;
  const draft: Draft = { formula: itself, each, inputs: [{ name: "reading", leaf }], spread };
  const { interval, corners } = intervalFor(draft);
  const label = labelOf(formula, each);
  return {
    ...draft, corners,
    value: { id, formula: itself, each, label, ...(interval && { interval }), estimate: false, assumptions: [], missing: [], inputs: [{ name: "reading", words: reading.words, interval: reading.interval, kind: reading.kind, reading }], from: [reading.location], provided: [], measured: NONE_MEASURED },
  };
}

interface Found {
  readonly leaf?: Leaf;
  readonly node?: Node;
  readonly constant?: unknown;
  readonly trace: TracedInput;
}

function leafOf(name: string, id: string, provided: Provided, { interval, assumption }: Meaning, kindOfStage?: KindId): Found {
  const type = provided.fact.key.type;
  const kind = kindOfStage ?? (type.is === "quantity" ? type.kind : undefined);
  return { leaf: { id, interval }, trace: { name, words: provided.fact.key.key, interval, provided, ...(kind && { kind }), ...(assumption !== undefined && { assumption }) } };
}

type Plain = Pick<SheetValue, "id" | "formula" | "each" | "label" | "estimate" | "assumptions" | "missing" | "inputs"> & { readonly interval: Interval | undefined; readonly impossible: string | undefined };

/** A value with what is asked for now and then, and would cost more than the value were it worked out for each of them at every keystroke. */
function valueOf(plain: Plain, below: readonly SheetValue[], measured: (id: string) => readonly MeasuredValue[]): SheetValue {
  const { id, formula, each, label, interval, estimate, assumptions, missing, impossible, inputs } = plain;
  const value: Lazy = { __proto__: LAZY, id, formula, each, label, estimate, assumptions, missing, inputs, below, look: measured, known: undefined };
  if (interval) value.interval = interval;
  if (impossible !== undefined) value.impossible = impossible;
  return value as unknown as SheetValue;
}

interface Lazy extends Omit<SheetValue, "provided" | "from" | "measured" | "interval" | "impossible"> {
  readonly __proto__: object;
  interval?: Interval;
  impossible?: string;
  /** The values that it rests on. */
  readonly below: readonly SheetValue[];
  readonly look: (id: string) => readonly MeasuredValue[];
  known: readonly Provided[] | undefined;
}

const LAZY = {
  get provided(): readonly Provided[] {
    const value = this as unknown as Lazy;
    return (value.known ??= providedOf(value));
  },
  get from(): readonly Location[] {
    return [...new Set(this.provided.map((p) => p.location))];
  },
  get measured(): readonly MeasuredValue[] {
    const value = this as unknown as Lazy;
    return value.look(value.id);
  },
};

function providedOf({ inputs, below }: Lazy): readonly Provided[] {
  const all = new Set<Provided>();
  for (const { provided, lookedUp, thing } of inputs) {
    if (provided) all.add(provided);
    if (lookedUp?.provided) for (const p of lookedUp.provided) all.add(p);
    if (thing?.provided) for (const p of thing.provided) all.add(p);
  }
  for (const value of below) for (const p of value.provided) all.add(p);
  return [...all];
}

/** The figure that was said last under any of these paths; of those said together, the first path's. */
export function latest(build: EffectiveBuild, paths: readonly string[], mean: (slot: Slot, provided: Provided) => Meaning | undefined, role?: Provided["role"]): { slot: Slot; provided: Provided; meaning: Meaning } | undefined {
  let best: { slot: Slot; provided: Provided; meaning: Meaning; rank: number } | undefined;
  for (const path of paths) {
    const slot = build.slots.get(path);
    const provided = role === "asked" ? asked(slot) : role === "chosen" ? chosen(slot) : effective(slot);
    const meaning = slot && provided && mean(slot, provided);
    if (!meaning) continue;
    const rank = rankOf(build, provided);
    if (!best || rank > best.rank) best = { slot, provided, meaning, rank };
  }
  return best;
}

/** The order in which the layers of a build lie: engine, parts, cards, the builder's own. */
function rankOf(build: EffectiveBuild, { origin }: Provided): number {
  if (origin.sort === "build") return Infinity;
  const part = build.parts.findLastIndex((p) => p.declaration === origin.declaration);
  if (part >= 0) return 1 + part;
  const card = build.cards.findLastIndex((c) => c.declaration === origin.declaration);
  return card >= 0 ? 1 + build.parts.length + card : 0;
}

/** The last torque of a tightening, or all angles that follow a torque added up. */
export function stageOf({ fact: { value } }: Provided, stage: Stage): Meaning | undefined {
  if (value.is === "quantity") return stage === "last-torque" && value.quantity.kind === "torque" ? { interval: value.quantity.interval } : undefined;
  if (value.is !== "stages") return undefined;
  const lastTorque = value.stages.findLastIndex((s) => s.quantity.kind === "torque");
  if (stage === "last-torque") {
    const torque = value.stages[lastTorque];
    return torque && { interval: torque.quantity.interval };
  }
  const turns = value.stages.slice(lastTorque + 1).filter((s) => s.quantity.kind === "angle");
  return turns.length > 0 ? { interval: turns.map((s) => s.quantity.interval).reduce(addIntervals) } : undefined;
}

/** What a slot says, for a sentence: `class 7.7`. */
function plainly(slot: Slot | undefined): string | undefined {
  const given = effective(slot);
  if (!given) return undefined;
  const v = given.fact.value;
  const text = v.is === "word" ? v.word : v.is === "class" || v.is === "text" || v.is === "date" ? v.text : v.is === "thread" ? v.thread.text : "";
  return `${given.fact.key.key} ${text}`.trim();
}

/** The label with its place: a pull's and a speed's names are words joined for an id. */
function labelOf({ label, each: sort }: Formula, each: string): string {
  return sort === "side" ? capital(at(label, each)) : at(label, sort === "pull" || sort === "log" || sort === "pull-speed" ? each.replace("-", " ") : each);
}
