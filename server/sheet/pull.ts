// A pull as it was read: its rows, where torque was taken, what was corrected already, the day's air. Reads records; corrects and judges nothing.
import { torqueFromPower } from "../engineering/power.ts";
import type { FigureFact, Location, RecordFact } from "../model/declaration.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import type { TableCell } from "../model/reading.ts";
import { keptFor } from "../model/reads.ts";
import type { QuantityValue } from "../model/value.ts";

export interface PullRow {
  /** The speed as a part of a value's id: `at-5250`. */
  readonly name: string;
  /** rpm. */
  readonly rpm: number;
  /** N·m, as read; or what a power that was read comes of. */
  readonly torque?: number;
  /** W, where a power column was read. */
  readonly power?: number;
  /** Readings of the row by column. */
  readonly cells: ReadonlyMap<string, TableCell>;
}

export interface Pull {
  /** As a part of a value's id: `on-2027-12-04`. */
  readonly name: string;
  /** As a person would call it: "the pull of 2027-12-04". */
  readonly words: string;
  readonly date?: string;
  readonly record: RecordFact;
  readonly at: Location;
  readonly takenAt?: "wheels" | "crank";
  /** The correction that is in the figures already; undefined where the sheet does not say. */
  readonly correction?: string;
  readonly rows: readonly PullRow[];
  readonly figure: (key: string) => FigureFact | undefined;
  readonly quantity: (key: string) => QuantityValue | undefined;
  readonly weather: (key: string) => QuantityValue | undefined;
}

/** The pulls of a build that have a table of speeds, oldest first; of one day in the order of the text. */
export const pullsOf: (build: EffectiveBuild) => readonly Pull[] = keptFor((build) => {
  const names = new Map<string, number>();
  return build.subject.records.filter((r) => r.word === "pull" && r.table !== undefined)
    .map((record, i) => ({ record, i, date: dateOf(record) ?? "" }))
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : a.i - b.i))
    .map(({ record }) => pullOf(build, record, names)).filter((pull) => pull.rows.some((row) => row.torque !== undefined));
});

export function lastPull(build: EffectiveBuild): Pull | undefined {
  return pullsOf(build).at(-1);
}

/** The pull of this name; the last one where none is named. */
export function pullNamed(build: EffectiveBuild, name: string): Pull | undefined {
  return name === "" ? lastPull(build) : pullsOf(build).find((pull) => pull.name === name);
}

/** The day of a record, from its head or its `date`. */
export function dateOf(record: RecordFact): string | undefined {
  if (record.date) return record.date.text;
  const value = figureOf(record, "date")?.value;
  return value?.is === "date" ? value.text : undefined;
}

/** A figure of a record by its key; `weather.temperature` for one in a block of it. */
export function figureOf(record: RecordFact, key: string): FigureFact | undefined {
  return record.figures.findLast((f) => f.written === `${record.word}.${key}` || f.written === key);
}

export function recordQuantity(record: RecordFact, key: string): QuantityValue | undefined {
  const value = figureOf(record, key)?.value;
  return value?.is === "quantity" ? value : undefined;
}

function pullOf(build: EffectiveBuild, record: RecordFact, names: Map<string, number>): Pull {
  const date = dateOf(record);
  const plain = date === undefined ? "undated" : `on-${date}`;
  const count = (names.get(plain) ?? 0) + 1;
  names.set(plain, count);
  const takenAt = wordOf(record, "at");
  const correction = wordOf(record, "correction");
  return {
    name: count === 1 ? plain : `${plain}-${count}`, words: date === undefined ? "the undated pull" : `the pull of ${date}`, record, at: { tree: build.subject.tree, span: record.span }, ...(date !== undefined && { date }),
    ...((takenAt === "wheels" || takenAt === "crank") && { takenAt }), ...(correction !== undefined && correction !== "unstated" && { correction }),
    rows: rowsOf(record), figure: (key) => figureOf(record, key), quantity: (key) => recordQuantity(record, key), weather: (key) => recordQuantity(record, `weather.${key}`),
  };
}

function wordOf(record: RecordFact, key: string): string | undefined {
  const value = figureOf(record, key)?.value;
  return value?.is === "word" ? value.word : undefined;
}

/** Rows of a pull's, run's or curve's table that have a speed. */
export function rowsOf({ table }: Pick<RecordFact, "table">): readonly PullRow[] {
  if (!table) return [];
  return table.rows.flatMap((row): PullRow[] => {
    const cells = new Map<string, TableCell>();
    table.heads.forEach((head, i) => {
      const cell = row.cells[i];
      if (head.key && cell?.quantity) cells.set(head.key.key, cell);
    });
    const read = (key: string) => cells.get(key)?.quantity?.interval.nominal;
    const rpm = read("rpm");
    if (rpm === undefined || !(rpm > 0)) return [];
    const power = read("power");
    const torque = read("torque") ?? (power === undefined || !(power >= 0) ? undefined : torqueFromPower({ power, rpm }));
    return [{ name: `at-${Math.round(rpm)}`, rpm, cells, ...(torque !== undefined && { torque }), ...(power !== undefined && { power }) }];
  });
}
