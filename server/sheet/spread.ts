// From the spread of figures to the spread of a value: its ends over the corners of everything it rests on. Knows no build and no formula by name.
import { type Interval, exactly } from "../quantity/interval.ts";
import type { Formula } from "./formula.ts";

export interface Leaf {
  readonly id: string;
  readonly interval: Interval;
}

/** A value with what it rests on. Of the value itself only the interval matters here. */
export interface Node<V extends { readonly interval?: Interval } = { readonly interval?: Interval }> {
  readonly formula: Formula;
  readonly each: string;
  readonly inputs: readonly { readonly name: string; readonly leaf?: Leaf | undefined; readonly node?: Node<V> | undefined; readonly constant?: unknown }[];
  /** Leaves with a spread, through other values too. */
  readonly spread: ReadonlyMap<string, Leaf>;
  /** Its value at every corner of its leaves: bit `i` of the index set means the high end of leaf `i`. Absent where there are too many leaves. */
  readonly corners?: Float64Array | undefined;
  readonly value: V;
}

/** Past this many inputs with a spread, only the two corners are tried at which every input pulls the same way; every formula with so many rises or falls steadily in each. */
const MOST_CORNERS = 8;

export type Draft<V extends { readonly interval?: Interval } = { readonly interval?: Interval }> = Pick<Node<V>, "formula" | "each" | "inputs" | "spread">;

/** The value at the nominal of every leaf, and its ends over the corners of the leaves that have a spread. */
export function intervalFor(node: Draft): { interval?: Interval; corners?: Float64Array } {
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
