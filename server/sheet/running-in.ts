// Running-in as makers ask for it and as runs have it: stages of speed and time, what was reached, what is still due. Reads records; judges
// nothing.
import type { RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import type { FigureValue, QuantityValue } from "../model/value.ts";
import type { Interval } from "../quantity/interval.ts";
import { figureOf, recordQuantity } from "./pull.ts";

/** How far under the speed asked for a run may be read, for the needle of a rev counter. Common practice, no source. */
export const NEEDLE = 0.03;

/** A speed held, and for how long. */
export interface Held {
  /** rpm; absent where a run says only how long it lasted. */
  readonly speed?: Interval;
  /** s; absent where it says only how fast. */
  readonly time?: number;
}

export interface BreakInStage {
  readonly asked: QuantityValue;
  /** s at this speed or above it that this stage and all faster ones come to. */
  readonly needed: number;
  /** s at this speed or above it that were run. */
  readonly had: number;
}

export interface BreakIn {
  readonly path: string;
  readonly asked: Provided;
  /** In the order in which they are asked for. */
  readonly stages: readonly BreakInStage[];
  /** True where a run was fast enough and does not say how long. */
  readonly untold: boolean;
}

/** One figure or several in order, as a list. */
export function stagesOf(value: FigureValue | undefined): readonly QuantityValue[] {
  return value?.is === "stages" ? value.stages : value?.is === "quantity" ? [value] : [];
}

/** `for 20 min`, s. */
export function heldFor(value: QuantityValue): number | undefined {
  const time = value.clauses.find((c) => c.word === "for" && c.quantity.kind === "time")?.quantity.interval.nominal;
  return time !== undefined && time > 0 ? time : undefined;
}

/** What a run held: the stages of its `speed`, else what its table reads from row to row, else its time alone. */
export function heldBy(run: RecordFact): readonly Held[] {
  const whole = recordQuantity(run, "time")?.quantity.interval.nominal;
  const stages = stagesOf(figureOf(run, "speed")?.value);
  if (stages.length > 0) {
    return stages.map((stage) => {
      const time = heldFor(stage) ?? (stages.length === 1 ? whole : undefined);
      return { speed: stage.quantity.interval, ...(time !== undefined && { time }) };
    });
  }
  const rows = readingsOf(run);
  const read = rows.slice(1).flatMap(([at, rpm], i): Held[] => {
    const [from, before] = rows[i] ?? [at, rpm];
    return at > from ? [{ speed: { low: Math.min(before, rpm), nominal: (before + rpm) / 2, high: Math.max(before, rpm) }, time: at - from }] : [];
  });
  if (read.length > 0) return read;
  return whole === undefined ? [] : [{ time: whole }];
}

/** Times in s and speeds in rpm as a run's table reads them. */
export function readingsOf({ table }: Pick<RecordFact, "table">): readonly (readonly [number, number])[] {
  const column = (key: string) => table?.heads.findIndex((h) => h.key?.key === key) ?? -1;
  const [time, rpm] = [column("time"), column("rpm")];
  return (table?.rows ?? []).flatMap(({ cells }) => {
    const [t, n] = [cells[time]?.quantity?.interval.nominal, cells[rpm]?.quantity?.interval.nominal];
    return t === undefined || n === undefined ? [] : [[t, n] as const];
  });
}

/** True for a speed that its slowest moment keeps; one that nobody stated is taken to have been kept. */
export function keeps(held: Held, asked: QuantityValue): boolean {
  return held.speed === undefined || held.speed.low >= asked.quantity.interval.low * (1 - NEEDLE);
}

/** What each fitted camshaft asks for, and how much of it the runs come to. The stock shaft has long had its own. */
export function breakInsOf(build: EffectiveBuild): readonly BreakIn[] {
  const held = build.subject.records.filter((r) => r.word === "run").flatMap(heldBy);
  return ["camshaft.break-in", "camshaft.intake.break-in", "camshaft.exhaust.break-in"].flatMap((path): BreakIn[] => {
    const asked = effective(build.slots.get(path));
    const stages = stagesOf(asked?.fact.value).filter((s) => heldFor(s) !== undefined);
    if (!asked || asked.origin.sort === "engine" || stages.length === 0) return [];
    return [{
      path, asked, untold: held.some((h) => h.speed !== undefined && h.time === undefined && stages.some((s) => keeps(h, s))),
      stages: stages.map((stage) => ({
        asked: stage,
        needed: stages.reduce((sum, other) => sum + (other.quantity.interval.low >= stage.quantity.interval.low ? leastOf(other) : 0), 0),
        had: held.reduce((sum, h) => sum + (keeps(h, stage) ? (h.time ?? 0) : 0), 0),
      })),
    }];
  });
}

/** The least time that a stage asks for, s. */
function leastOf(stage: QuantityValue): number {
  return stage.clauses.find((c) => c.word === "for")?.quantity.interval.low ?? 0;
}

/** The first stage that was not held long enough. */
export function shortStage({ stages }: BreakIn): BreakInStage | undefined {
  return stages.find(({ had, needed }) => had < needed * (1 - 1e-9));
}
