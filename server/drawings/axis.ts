// Scales, ticks and the words at them. Knows numbers and units, no engine.
import { scaleLinear } from "d3-scale";
import { type UnitId, spellingOfUnit } from "../../grammar/vocabulary.ts";
import { formatNumber, formatValue, unitFor } from "../quantity/display.ts";
import { type KindId, fromKindBase, toKindBase } from "../quantity/kinds.ts";
import { beside } from "../quantity/written.ts";
import { type Svg, label, line } from "./svg.ts";

export interface Scale {
  /** A value in the base of the axis' kind to its place. */
  (value: number): number;
  readonly ticks: readonly Tick[];
  /** Ends of the axis in the base of the kind. */
  readonly low: number;
  readonly high: number;
}

export interface Tick {
  /** In the base of the kind. */
  readonly value: number;
  readonly text: string;
}

export interface ScaleOptions {
  readonly kind: KindId;
  readonly unit: UnitId | undefined;
  /** What must be on it, in the base of the kind. */
  readonly low: number;
  readonly high: number;
  /** Where its ends lie: per cent along, or letters' heights down. */
  readonly range: readonly [number, number];
  /** About how many ticks. */
  readonly count: number;
  /** False where the ends must stay as given instead of moving out to round figures. */
  readonly round?: boolean;
}

/** A straight scale whose ticks are round figures in the unit that is shown. */
export function scaleOf({ kind, unit, low, high, range, count, round = true }: ScaleOptions): Scale {
  const shown = (x: number) => fromKindBase(x, unit, kind);
  const plain = scaleLinear().domain([shown(low), shown(high === low ? low + 1 : high)]).range([...range]);
  const inner = round ? plain.nice(count) : plain;
  const values = inner.ticks(count);
  const decimals = decimalsOf(values);
  const base = (x: number) => toKindBase(x, unit, kind);
  const [from = 0, to = 1] = inner.domain();
  return Object.assign((value: number) => inner(shown(value)), {
    ticks: values.map((x) => ({ value: base(x), text: x === 0 ? "0" : formatNumber(x, { decimals }) })), low: base(from), high: base(to),
  });
}

/** Decimals that the step between ticks needs. */
function decimalsOf(values: readonly number[]): number {
  const step = (values[1] ?? 1) - (values[0] ?? 0);
  for (let decimals = 0; decimals < 6; decimals++) if (Math.abs(Number(step.toFixed(decimals)) - step) < 1e-9 * Math.max(1, Math.abs(step))) return decimals;
  return 6;
}

export function unitWord(unit: UnitId | undefined): string {
  return unit === undefined ? "" : spellingOfUnit(unit);
}

/** Lines across at the ticks of an upright axis, each with its figure standing on it at the left; the topmost figure has the unit. */
export function gridAcross(scale: Scale, unit: UnitId | undefined, left = 0, right = 100): readonly Svg[] {
  const top = Math.min(...scale.ticks.map((t) => scale(t.value)));
  return scale.ticks.flatMap(({ value, text }) => {
    const y = scale(value);
    const words = y === top && unit !== undefined ? beside(text, spellingOfUnit(unit)) : text;
    return [line([left, y], [right, y], "faint"), label(words, [left, y], { class: "note plate", dx: "0.25em", dy: "-0.25em" })];
  });
}

/** Figures under a level axis, those at its ends kept inside the drawing. */
export function figuresAlong(scale: Scale, y: number): readonly Svg[] {
  return scale.ticks.map(({ value, text }) => label(text, [scale(value), y], { class: "note", "text-anchor": anchorAt(scale(value)) }));
}

/** How text at a place must hang so as not to leave the drawing. */
export function anchorAt(x: number, room = 3): "start" | "middle" | "end" {
  return x < room ? "start" : x > 100 - room ? "end" : "middle";
}

/** One computed value in the trade's rounding and the unit of a system. `value` in the base of the kind. */
export function figureIn(system: "metric" | "inch", kind: KindId, value: number): string {
  return formatValue(value, kind, unitFor(kind, system, value));
}
