// Works the values of a sheet out a second time with mathjs, from the inputs that their traces name: a general library knows nothing of our own
// functions, nor of engines.
import { all, create } from "mathjs";
import type { Sheet, SheetValue, TracedInput } from "../../server/sheet/evaluate.ts";
import type { Lobe } from "../../server/sheet/lobe.ts";
import recomputed from "../reference/recomputed.json" with { type: "json" };

const math = create(all!, {});

export interface Recomputation {
  /** In the syntax of mathjs; names are the formula's inputs, in SI (angles in degrees, rotation in revolutions a minute). */
  readonly by: string;
  /** What an input stands for where the build has none. */
  readonly absent?: Readonly<Record<string, number>>;
  /** Relative, where ours goes about it another way (a finer sweep, another table's constants); else 1e-9. */
  readonly within?: number;
}

export const RECOMPUTATIONS: Readonly<Record<string, Recomputation>> = recomputed.formulas;

const PARSER = math.parser();
for (const definition of recomputed.functions) PARSER.evaluate(definition);
PARSER.set("first", (list: unknown, wanted: number) => (math.matrix(list as number[]).toArray() as number[]).findIndex((x) => Math.abs(x - wanted) <= Math.abs(wanted) * 1e-12) + 1);
PARSER.set("between", (xs: unknown, ys: unknown, x: number, below: number) => {
  const [a, b] = [math.matrix(xs as number[]).toArray() as number[], math.matrix(ys as number[]).toArray() as number[]];
  const [x0, x1, y0, y1] = [a[below - 1] as number, a[below] as number, b[below - 1] as number, b[below] as number];
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
});
const OWN = new Set(Object.keys(PARSER.getAll()));

export interface Recomputed {
  readonly ours: number;
  readonly theirs: number;
  readonly within: number;
}

/** The value as mathjs comes to it; nothing where it was not worked out or no expression is given. */
export function recompute(value: SheetValue): Recomputed | undefined {
  const expression = RECOMPUTATIONS[value.formula.id];
  if (!expression || !value.interval || value.inputs.some(isCoarse)) return undefined;
  for (const name of Object.keys(PARSER.getAll())) if (!OWN.has(name)) PARSER.remove(name);
  PARSER.set("each", value.each);
  if (/^\d+$/.test(value.each)) PARSER.set("cylinder", Number(value.each));
  for (const [name, fallback] of Object.entries(expression.absent ?? {})) PARSER.set(name, fallback);
  for (const input of value.inputs) putIn(input);
  const theirs: unknown = PARSER.evaluate(expression.by);
  const number = typeof theirs === "number" ? theirs : Number((theirs as { entries?: readonly unknown[] }).entries?.at(-1) ?? NaN);
  return { ours: value.interval.nominal, theirs: number, within: expression.within ?? 1e-9 };
}

/** A lobe read every twenty degrees tells a straight line between its readings too little of what lies there. */
function isCoarse({ thing }: TracedInput): boolean {
  const table = (thing?.what as Partial<Lobe> | undefined)?.table;
  return table !== undefined && table.some((point, i) => i > 0 && point.deg - (table[i - 1]?.deg ?? 0) > 6);
}

function putIn({ name, interval, text, thing }: TracedInput): void {
  if (interval) PARSER.set(name, interval.nominal);
  else if (thing) {
    const what = thing.what as Lobe | readonly number[];
    if (Array.isArray(what)) PARSER.set(name, math.matrix([...what] as number[]));
    else if ("low" in what && "high" in what) {
      PARSER.set(`${name}_low`, what.low);
      PARSER.set(`${name}_high`, what.high);
    } else if ("table" in (what as Lobe)) {
      const { table, at } = what as Lobe;
      PARSER.set(`${name}_deg`, math.matrix(table.map((p) => p.deg)));
      PARSER.set(`${name}_lift`, math.matrix(table.map((p) => p.lift)));
      PARSER.set(`${name}_at`, at);
    }
  } else if (text !== undefined) {
    PARSER.set(name, text);
    putThread(text);
  }
}

/** A thread's sizes, m, by ISO 68-1 and ASME B1.1: H = P·√3/2, d2 = d − 3/4·H, d3 = d − 17/12·H. */
function putThread(text: string): void {
  const metric = /^M(\d+(?:\.\d+)?)[x×](\d+(?:\.\d+)?)$/.exec(text);
  const inch = /^(\d+)\/(\d+)-(\d+)$/.exec(text);
  if (!metric && !inch) return;
  const d = metric ? Number(metric[1]) / 1000 : (Number(inch?.[1]) / Number(inch?.[2])) * 0.0254;
  const p = metric ? Number(metric[2]) / 1000 : 0.0254 / Number(inch?.[3]);
  const height = (p * Math.sqrt(3)) / 2;
  for (const [name, size] of Object.entries({ thread_d: d, thread_p: p, thread_k: metric ? 0.9382 : 0.9743, thread_d2: d - 0.75 * height, thread_d3: d - (17 / 12) * height })) PARSER.set(name, size);
}

/** Every value of a sheet, as measured too. */
export function everyValue(sheet: Sheet): readonly SheetValue[] {
  return sheet.values.flatMap((v) => [v, ...v.measured.map((m) => m.value)]).filter((v) => v.formula.source !== "measured");
}
