// Works every formula out for one effective build, with low, nominal and high, and what was missing. Knows formulas, not what they mean.
import { type EffectiveBuild, type Provided, type Slot, asked, chosen, effective } from "../model/effective.ts";
import type { Location } from "../model/declaration.ts";
import { type Interval, addIntervals, exactly, hasSpread } from "../quantity/interval.ts";
import type { KindId } from "../quantity/kinds.ts";
import { type Formula, type Input, type LookedUp, type Stage, at } from "./formula.ts";
import { type Meaning, meaningOf } from "./meaning.ts";

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
}

export interface Sheet {
  readonly build: EffectiveBuild;
  /** In the order of the formulas. */
  readonly values: readonly SheetValue[];
  readonly byId: ReadonlyMap<string, SheetValue>;
}

interface Leaf {
  readonly id: string;
  readonly interval: Interval;
}

interface Node {
  readonly formula: Formula;
  readonly each: string;
  readonly inputs: readonly { readonly name: string; readonly leaf?: Leaf | undefined; readonly node?: Node | undefined; readonly constant?: unknown }[];
  /** Leaves with a spread, through other values too. */
  readonly spread: ReadonlyMap<string, Leaf>;
  /** Its value at every corner of its leaves: bit `i` of the index set means the high end of leaf `i`. Absent where there are too many leaves. */
  readonly corners?: Float64Array;
  readonly value: SheetValue;
}

/** Past this many inputs with a spread, only the two corners are tried at which every input pulls the same way; every formula with so many rises or falls steadily in each. */
const MOST_CORNERS = 8;

const NO_LEAVES: ReadonlyMap<string, Leaf> = new Map();
const entries = new WeakMap<Formula, readonly (readonly [string, Input<unknown>])[]>();

function inputsOf(formula: Formula): readonly (readonly [string, Input<unknown>])[] {
  let known = entries.get(formula);
  if (!known) {
    known = Object.entries(formula.inputs);
    entries.set(formula, known);
  }
  return known;
}

/** Places a formula is worked out for. */
export function placesFor(formula: Formula, build: EffectiveBuild): readonly string[] {
  const places = formula.each === undefined ? [""] : formula.each === "side" ? ["intake", "exhaust"] : build.fasteners;
  return formula.applies ? places.filter((each) => formula.applies?.(build, each)) : places;
}

/** Evaluates all formulas. Pure; nothing throws for what a build says. */
export function evaluate(build: EffectiveBuild, formulas: readonly Formula[], keyWords: (path: string) => string): Sheet {
  const byId = new Map<string, { formula: Formula; each: string }>();
  for (const formula of formulas) for (const each of placesFor(formula, build)) byId.set(at(formula.id, each), { formula, each });
  const nodes = new Map<string, Node>();
  const open = new Set<string>();

  const nodeOf = (id: string): Node | undefined => {
    const done = nodes.get(id);
    if (done) return done;
    const entry = byId.get(id);
    // A formula that needs itself is a mistake in the declarations; a test forbids it, and here it is simply not computed.
    if (!entry || open.has(id)) return undefined;
    open.add(id);
    const node = build_(id, entry.formula, entry.each);
    open.delete(id);
    nodes.set(id, node);
    return node;
  };

  const build_ = (id: string, formula: Formula, each: string): Node => {
    const inputs: Node["inputs"][number][] = [];
    const traced: TracedInput[] = [];
    const missing: MissingInput[] = [];
    let assumptions: Set<string> | undefined;
    const assume = (sentence: string) => (assumptions ??= new Set()).add(sentence);
    let spread: Map<string, Leaf> | undefined;
    const own: Provided[] = [];
    const below: SheetValue[] = [];
    let estimate = formula.estimate !== undefined;
    let impossible: string | undefined;
    for (const [name, input] of inputsOf(formula)) {
      if (input.where && !input.where(build, each)) {
        inputs.push({ name, constant: undefined });
        continue;
      }
      const found = read(input, each);
      if (found) {
        const { leaf, node, constant } = found.use;
        inputs.push({ name, leaf, node, constant });
        traced.push({ name, ...found.trace });
        if (leaf && hasSpread(leaf.interval)) (spread ??= new Map()).set(leaf.id, leaf);
        if (found.trace.provided) own.push(found.trace.provided);
        if (found.trace.lookedUp?.provided) own.push(...found.trace.lookedUp.provided);
        if (found.trace.assumption !== undefined) assume(found.trace.assumption);
        if (found.trace.lookedUp?.estimate) estimate = true;
        if (node) {
          if (node.spread.size > 0) {
            spread ??= new Map();
            for (const [leafId, other] of node.spread) spread.set(leafId, other);
          }
          below.push(node.value);
          for (const a of node.value.assumptions) assume(a);
          if (node.value.estimate) estimate = true;
        }
        continue;
      }
      if (input.optional) {
        inputs.push({ name, constant: undefined });
        continue;
      }
      if (input.fallback) {
        inputs.push({ name, constant: input.fallback.value });
        assume(input.fallback.assumption);
        traced.push({ name, words: input.fallback.assumption, assumption: input.fallback.assumption, ...(typeof input.fallback.value === "number" ? { interval: exactly(input.fallback.value) } : typeof input.fallback.value === "string" ? { text: input.fallback.value } : {}) });
        continue;
      }
      const lack = lackOf(input, each);
      missing.push(...lack.missing);
      impossible ??= lack.impossible ?? (lack.missing.length === 0 ? "nothing in this build gives it" : undefined);
    }
    const complete = missing.length === 0 && impossible === undefined;
    const draft: Draft = { formula, each, inputs, spread: spread ?? NO_LEAVES };
    let interval: Interval | undefined;
    let corners: Float64Array | undefined;
    if (complete) {
      ({ interval, corners } = intervalFor(draft));
      if (!interval) impossible = "these figures cannot all be true of one engine";
    }
    const unique = missing.length > 1 ? [...new Map(missing.map((m) => [m.path, m])).values()] : missing;
    // What a value rests on is asked for now and then, and worked out for every value at every keystroke it would cost more than the value.
    let provided: readonly Provided[] | undefined;
    const sheetValue: SheetValue = {
      id, formula, each, label: formula.each === "side" ? capital(at(formula.label, each)) : at(formula.label, each), ...(interval && { interval }), estimate: estimate || assumptions !== undefined, assumptions: assumptions ? [...assumptions] : [],
      missing: unique, ...(impossible !== undefined && { impossible }), inputs: traced,
      get provided() {
        return (provided ??= [...new Set([...own, ...below.flatMap((v) => v.provided)])]);
      },
      get from() {
        return [...new Set(this.provided.map((p) => p.location))];
      },
    };
    return { ...draft, ...(corners && { corners }), value: sheetValue };
  };

  const read = (input: Input<unknown>, each: string): Found | undefined => {
    switch (input.reads) {
      case "figure": {
        const given = latest(build, input.paths.map((p) => at(p, each)), (slot, provided) => meaningOf(slot, provided), input.role);
        return given && leafOf(given.slot.path, given.provided, given.meaning);
      }
      case "stage": {
        const given = latest(build, input.paths.map((p) => at(p, each)), (_, provided) => stageOf(provided, input.stage));
        return given && leafOf(`${given.slot.path}:${input.stage}`, given.provided, given.meaning, input.stage === "turn" ? "angle" : "torque");
      }
      case "either": {
        for (const one of input.of) {
          const found = read(one, each);
          if (found) return found;
        }
        return undefined;
      }
      case "value": {
        const id = at(input.id, each);
        const node = nodeOf(id);
        if (!node?.value.interval) return undefined;
        return { use: { node }, trace: { words: node.value.label, kind: node.formula.kind, interval: node.value.interval, valueId: id } };
      }
      case "table": {
        const found = input.look(build, each);
        if (!found) return undefined;
        return { use: { leaf: { id: `table:${found.words}:${each}`, interval: found.interval } }, trace: { words: found.words, kind: input.kind, interval: found.interval, lookedUp: found, ...(found.assumption !== undefined && { assumption: found.assumption }) } };
      }
      case "word": case "class": case "thread": {
        for (const template of input.paths) {
          const given = effective(build.slots.get(at(template, each)));
          if (!given) continue;
          const v = given.fact.value;
          const words = given.fact.key.key;
          if (input.reads === "word" && v.is === "word") return { use: { constant: v.word }, trace: { words, text: v.word, provided: given } };
          if (input.reads === "class" && (v.is === "class" || v.is === "text")) return { use: { constant: v.text }, trace: { words, text: v.text, provided: given } };
          if (input.reads === "thread" && v.is === "thread") return { use: { constant: v.thread }, trace: { words, text: v.thread.text, provided: given } };
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
      const lacks = input.of.filter((one) => one.reads !== "value" || byId.has(at(one.id, each))).map((one) => lackOf(one, each));
      if (input.ask && !lacks.some((lack) => lack.impossible !== undefined)) return lackOf(input.ask, each);
      return lacks.find((lack) => lack.impossible !== undefined) ?? lacks.reduce((least, lack) => (lack.missing.length > 0 && (least.missing.length === 0 || lack.missing.length < least.missing.length) ? lack : least), { missing: [] });
    }
    const paths = (input.reads === "table" ? input.needs : input.paths.slice(0, 1)).map((p) => at(p, each));
    const absent = paths.filter((p) => !effective(build.slots.get(p)));
    if (absent.length > 0) return { missing: absent.map((path) => ({ path, words: keyWords(path) })) };
    return { missing: [], impossible: `nothing is known for ${paths.map((p) => plainly(build.slots.get(p)) ?? p).join(" and ")}` };
  };

  const values: SheetValue[] = [];
  for (const id of byId.keys()) {
    const node = nodeOf(id);
    if (node) values.push(node.value);
  }
  return { build, values, byId: new Map(values.map((v) => [v.id, v])) };
}

interface Found {
  readonly use: { readonly leaf?: Leaf; readonly node?: Node; readonly constant?: unknown };
  readonly trace: Omit<TracedInput, "name">;
}

function leafOf(id: string, provided: Provided, { interval, assumption }: Meaning, kindOfStage?: KindId): Found {
  const type = provided.fact.key.type;
  const kind = kindOfStage ?? (type.is === "quantity" ? type.kind : undefined);
  return { use: { leaf: { id, interval } }, trace: { words: provided.fact.key.key, interval, provided, ...(kind && { kind }), ...(assumption !== undefined && { assumption }) } };
}

/** The figure that was said last under any of these paths; of those said together, the first path's. */
function latest(build: EffectiveBuild, paths: readonly string[], mean: (slot: Slot, provided: Provided) => Meaning | undefined, role?: Provided["role"]): { slot: Slot; provided: Provided; meaning: Meaning } | undefined {
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
function stageOf({ fact: { value } }: Provided, stage: Stage): Meaning | undefined {
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

type Draft = Pick<Node, "formula" | "each" | "inputs" | "spread">;

/** The value at the nominal of every leaf, and its ends over the corners of the leaves that have a spread. */
function intervalFor(node: Draft): { interval?: Interval; corners?: Float64Array } {
  const nominal = nominalOf(node);
  if (nominal === undefined) return {};
  const leaves = [...node.spread.values()];
  if (leaves.length === 0) return { interval: exactly(nominal) };
  if (leaves.length <= MOST_CORNERS) {
    const corners = cornersOf(node, leaves);
    let low = nominal;
    let high = nominal;
    for (const x of corners) {
      // A corner that cannot be (a spread that passes through zero) makes the whole band unknown rather than wrong.
      if (!Number.isFinite(x)) return {};
      if (x < low) low = x;
      if (x > high) high = x;
    }
    return { interval: { low, nominal, high }, corners };
  }
  const interval = steadyEnds(node, leaves, nominal);
  return interval ? { interval } : {};
}

function nominalOf(node: Draft): number | undefined {
  const args: Record<string, unknown> = {};
  for (const { name, leaf, node: other, constant } of node.inputs) args[name] = leaf ? leaf.interval.nominal : other ? other.value.interval?.nominal : constant;
  const x = node.formula.compute(args as never, node.each);
  return x !== undefined && Number.isFinite(x) ? x : undefined;
}

/** Every corner of a value, from the corners that the values it rests on have already been worked out at. NaN where a corner cannot be. */
function cornersOf(node: Draft, leaves: readonly Leaf[]): Float64Array {
  const bitOf = new Map(leaves.map((leaf, i) => [leaf.id, i]));
  const args: Record<string, unknown> = {};
  const set: ((corner: number) => void)[] = [];
  for (const { name, leaf, node: other, constant } of node.inputs) {
    if (leaf) {
      const bit = bitOf.get(leaf.id);
      if (bit === undefined) args[name] = leaf.interval.nominal;
      else set.push((corner) => void (args[name] = corner & (1 << bit) ? leaf.interval.high : leaf.interval.low));
    } else if (other) {
      const own = other.corners;
      if (!own) {
        args[name] = other.value.interval?.nominal;
        continue;
      }
      const bits = [...other.spread.keys()].map((id) => bitOf.get(id) ?? 0);
      set.push((corner) => {
        let index = 0;
        for (let j = 0; j < bits.length; j++) if (corner & (1 << (bits[j] as number))) index |= 1 << j;
        args[name] = own[index];
      });
    } else args[name] = constant;
  }
  const corners = new Float64Array(1 << leaves.length);
  for (let corner = 0; corner < corners.length; corner++) {
    for (const each of set) each(corner);
    corners[corner] = node.formula.compute(args as never, node.each) ?? Number.NaN;
  }
  return corners;
}

/** For more leaves than corners can be tried of: the two corners at which every leaf pulls the same way. */
function steadyEnds(node: Draft, leaves: readonly Leaf[], nominal: number): Interval | undefined {
  let low = nominal;
  let high = nominal;
  // Which end of each input lowers the value is found one input at a time, and then all ends that lower it are taken together, and all that raise it.
  const lowering = new Map<string, number>();
  const raising = new Map<string, number>();
  for (const moved of leaves) {
    const [atLow, atHigh] = [moved.interval.low, moved.interval.high].map((end) => work(node, (leaf) => (leaf.id === moved.id ? end : leaf.interval.nominal), new Map()));
    if (atLow === undefined || atHigh === undefined) return undefined;
    lowering.set(moved.id, atLow <= atHigh ? moved.interval.low : moved.interval.high);
    raising.set(moved.id, atLow <= atHigh ? moved.interval.high : moved.interval.low);
  }
  for (const ends of [lowering, raising]) {
    const x = work(node, (leaf) => ends.get(leaf.id) ?? leaf.interval.nominal, new Map());
    if (x === undefined) return undefined;
    low = Math.min(low, x);
    high = Math.max(high, x);
  }
  return { low, nominal, high };
}

function work(node: Draft, leafValue: (leaf: Leaf) => number, done: Map<unknown, number | undefined>): number | undefined {
  const args: Record<string, unknown> = {};
  for (const input of node.inputs) {
    if (input.leaf) args[input.name] = leafValue(input.leaf);
    else if (input.node) {
      if (!done.has(input.node)) done.set(input.node, work(input.node, leafValue, done));
      const x = done.get(input.node);
      if (x === undefined) return undefined;
      args[input.name] = x;
    } else args[input.name] = input.constant;
  }
  const x = node.formula.compute(args as never, node.each);
  return x !== undefined && Number.isFinite(x) ? x : undefined;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
