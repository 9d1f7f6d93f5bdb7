// Works every formula out for one effective build, with low, nominal and high, and what was missing. Knows formulas, not what they mean.
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import type { Location } from "../model/declaration.ts";
import { intervalOf } from "../model/value.ts";
import { type Interval, exactly, hasSpread } from "../quantity/interval.ts";
import type { KindId } from "../quantity/kinds.ts";
import type { KeySchema } from "../schema/types.ts";
import { type Formula, type Input, type LookedUp, at } from "./formula.ts";

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
  /** Why figures that are all there give nothing. */
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
  readonly inputs: readonly { readonly name: string; readonly leaf?: Leaf; readonly node?: Node; readonly constant?: unknown }[];
  /** Leaves with a spread, through other values too. */
  readonly spread: ReadonlyMap<string, Leaf>;
  readonly value: SheetValue;
}

/** Past this many inputs with a spread, the ends are bounded by adding the single deviations instead of trying every corner. */
const MOST_CORNERS = 8;

/** Places a formula is worked out for. */
export function placesFor(formula: Formula, build: EffectiveBuild): readonly string[] {
  if (formula.each === undefined) return [""];
  return formula.each === "side" ? ["intake", "exhaust"] : build.fasteners;
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
    const assumptions = new Set<string>();
    const spread = new Map<string, Leaf>();
    const provided: Provided[] = [];
    let estimate = formula.estimate !== undefined;
    let impossible: string | undefined;
    for (const [name, input] of Object.entries(formula.inputs)) {
      const found = read(input, each);
      if (found) {
        inputs.push({ name, ...found.use });
        traced.push({ name, ...found.trace });
        if (found.use.leaf && hasSpread(found.use.leaf.interval)) spread.set(found.use.leaf.id, found.use.leaf);
        if (found.trace.provided) provided.push(found.trace.provided);
        if (found.trace.lookedUp?.assumption) assumptions.add(found.trace.lookedUp.assumption);
        if (found.trace.lookedUp?.estimate) estimate = true;
        if (found.use.node) {
          for (const [leafId, leaf] of found.use.node.spread) spread.set(leafId, leaf);
          provided.push(...found.use.node.value.provided);
          for (const a of found.use.node.value.assumptions) assumptions.add(a);
          if (found.use.node.value.estimate) estimate = true;
        }
        continue;
      }
      if (input.optional) {
        inputs.push({ name, constant: undefined });
        continue;
      }
      if (input.fallback) {
        inputs.push({ name, constant: input.fallback.value });
        assumptions.add(input.fallback.assumption);
        traced.push({ name, words: input.fallback.assumption, assumption: input.fallback.assumption, ...(typeof input.fallback.value === "number" ? { interval: exactly(input.fallback.value) } : { text: String(input.fallback.value) }) });
        continue;
      }
      if (input.reads === "value") {
        const other = nodeOf(at(input.id, each))?.value;
        if (other?.impossible) impossible = other.impossible;
        missing.push(...(other?.missing ?? []));
      } else {
        const paths = (input.reads === "table" ? input.needs : input.paths.slice(0, 1)).map((p) => at(p, each));
        missing.push(...paths.filter((p) => !effective(build.slots.get(p))).map((path) => ({ path, words: keyWords(path) })));
        if (missing.length === 0) impossible = `${traceWords(input, each)} could not be found for what the build says`;
      }
    }
    const complete = missing.length === 0 && impossible === undefined;
    const draft = { formula, each, inputs, spread };
    let interval: Interval | undefined;
    if (complete) {
      interval = intervalFor(draft);
      if (!interval) impossible = "these figures contradict each other";
    }
    const unique = new Map(missing.map((m) => [m.path, m]));
    const sheetValue: SheetValue = {
      id, formula, each, label: at(formula.label, each), ...(interval && { interval }), estimate: estimate || assumptions.size > 0, assumptions: [...assumptions],
      missing: [...unique.values()], ...(impossible !== undefined && { impossible }), inputs: traced, from: [...new Set(provided.map((p) => p.location))], provided: [...new Set(provided)],
    };
    return { ...draft, value: sheetValue };
  };

  const read = (input: Input<unknown>, each: string): { use: { leaf?: Leaf; node?: Node; constant?: unknown }; trace: Omit<TracedInput, "name"> } | undefined => {
    switch (input.reads) {
      case "figure": {
        for (const template of input.paths) {
          const path = at(template, each);
          const given = effective(build.slots.get(path));
          const interval = given && intervalOf(given.fact.value);
          if (!given || !interval) continue;
          const kind = given.fact.key.type.is === "quantity" ? given.fact.key.type.kind : undefined;
          return { use: { leaf: { id: path, interval } }, trace: { words: given.fact.key.key, interval, provided: given, ...(kind && { kind }) } };
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
        return { use: { leaf: { id: `table:${found.words}:${each}`, interval: found.interval } }, trace: { words: found.words, kind: input.kind, interval: found.interval, lookedUp: found } };
      }
      case "word": case "class": case "thread": {
        for (const template of input.paths) {
          const given = effective(build.slots.get(at(template, each)));
          if (!given) continue;
          const v = given.fact.value;
          if (input.reads === "word" && v.is === "word") return { use: { constant: v.word }, trace: { words: given.fact.key.key, text: v.word, provided: given } };
          if (input.reads === "class" && (v.is === "class" || v.is === "text")) return { use: { constant: v.text }, trace: { words: given.fact.key.key, text: v.text, provided: given } };
          if (input.reads === "thread" && v.is === "thread") return { use: { constant: v.thread }, trace: { words: given.fact.key.key, text: v.thread.text, provided: given } };
        }
        return undefined;
      }
    }
  };

  const values: SheetValue[] = [];
  for (const id of byId.keys()) {
    const node = nodeOf(id);
    if (node) values.push(node.value);
  }
  return { build, values, byId: new Map(values.map((v) => [v.id, v])) };
}

function traceWords(input: Input<unknown>, each: string): string {
  return input.reads === "table" ? input.needs.map((p) => at(p, each)).join(", ") : input.reads === "value" ? at(input.id, each) : input.paths.map((p) => at(p, each)).join(" or ");
}

type Draft = Pick<Node, "formula" | "each" | "inputs" | "spread">;

/** The value at the nominal of every leaf, and its ends over the corners of the leaves that have a spread. */
function intervalFor(node: Draft): Interval | undefined {
  const nominal = work(node, (leaf) => leaf.interval.nominal, new Map());
  if (nominal === undefined) return undefined;
  const leaves = [...node.spread.values()];
  if (leaves.length === 0) return exactly(nominal);
  let low = nominal;
  let high = nominal;
  if (leaves.length <= MOST_CORNERS) {
    for (let corner = 0; corner < 1 << leaves.length; corner++) {
      const at = new Map(leaves.map((leaf, i) => [leaf.id, corner & (1 << i) ? leaf.interval.high : leaf.interval.low]));
      const x = work(node, (leaf) => at.get(leaf.id) ?? leaf.interval.nominal, new Map());
      // A corner that cannot be (a spread that passes through zero) makes the whole band unknown rather than wrong.
      if (x === undefined) return undefined;
      low = Math.min(low, x);
      high = Math.max(high, x);
    }
    return { low, nominal, high };
  }
  let down = 0;
  let up = 0;
  for (const moved of leaves) {
    const ends = [moved.interval.low, moved.interval.high].map((end) => work(node, (leaf) => (leaf.id === moved.id ? end : leaf.interval.nominal), new Map()));
    for (const x of ends) {
      if (x === undefined) return undefined;
      down = Math.min(down, 0) + Math.min(0, x - nominal);
      up += Math.max(0, x - nominal);
    }
  }
  return { low: nominal + down, nominal, high: nominal + up };
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
