// Two sheets of one build held against each other: what was said differently, and which computed values differ in consequence, each with the
// changed figures it rests on. Knows no finding and no page.
import type { DeclarationTree } from "../../grammar/tree.ts";
import type { Location } from "../model/declaration.ts";
import type { Interval } from "../quantity/interval.ts";
import { type Change, type Renamed, changesBetween } from "./changes.ts";
import type { MeasuredValue, Sheet, SheetValue } from "./evaluate.ts";
import { formattedInterval, formattedValue } from "./trace.ts";

export interface ChangedValue {
  readonly id: string;
  /** Of a value as measured, where; absent for the value as specified. */
  readonly place?: string;
  readonly before?: SheetValue;
  readonly after?: SheetValue;
  /** As the sheet prints it; "not computed: …" where it could not be worked out, empty where the build has no such thing. */
  readonly from: string;
  readonly to: string;
  /** The changed figures it rests on, in the order of the changes. */
  readonly causes: readonly Change[];
  /** True where both read the same in the digits a sheet shows. */
  readonly unseen: boolean;
}

export interface SheetComparison {
  /** What a person changed. Figures that were only written in another unit are apart. */
  readonly changes: readonly Change[];
  readonly respelt: readonly Change[];
  readonly renamed: readonly Renamed[];
  readonly values: readonly ChangedValue[];
}

export function compareSheets(before: Sheet, after: Sheet): SheetComparison {
  const { changes: all, renamed } = changesBetween(before.build, after.build);
  const respelt = all.filter((c) => c.respelt);
  const changes = all.filter((c) => !c.respelt);
  const causesOf = causeFinder(all);
  const values: ChangedValue[] = [];
  for (const id of new Set([...after.byId.keys(), ...before.byId.keys()])) {
    const [a, b] = [before.byId.get(id), after.byId.get(id)];
    if ((b ?? a)?.formula.quiet) continue;
    const [old, now]: [Resting, Resting] = [{ sheet: before, value: a }, { sheet: after, value: b }];
    if (!sameInterval(a?.interval, b?.interval)) values.push({ id, ...(a && { before: a }), ...(b && { after: b }), from: told(a), to: told(b), causes: causesOf(old, now), unseen: told(a) === told(b) });
    values.push(...measuredChanges(id, old, now, causesOf));
  }
  // What only a respelt figure moves is rounding, and no consequence.
  return { changes, respelt, renamed, values: respelt.length === 0 ? values : values.filter((v) => !(v.causes.length > 0 && v.causes.every((c) => c.respelt))) };
}

function told(value: SheetValue | undefined): string {
  return value ? formattedValue(value) : "";
}

/** The same to eleven figures: beyond them arithmetic differs, not engines. */
export function sameInterval(a: Interval | undefined, b: Interval | undefined): boolean {
  if (!a || !b) return a === b;
  return sameNumber(a.low, b.low) && sameNumber(a.nominal, b.nominal) && sameNumber(a.high, b.high);
}

function sameNumber(a: number, b: number): boolean {
  return a === b || Math.abs(a - b) <= 1e-11 * Math.max(Math.abs(a), Math.abs(b)) || Math.abs(a - b) < 1e-15;
}

interface Resting {
  readonly sheet: Sheet;
  readonly value: SheetValue | undefined;
  readonly readings?: readonly Location[];
}
type CausesOf = (...sides: readonly Resting[]) => readonly Change[];

/** Finds what changed among everything that a value rests on, before and after. */
function causeFinder(changes: readonly Change[]): CausesOf {
  const byFact = new Map<unknown, Change>();
  const byPlace = new Map<DeclarationTree, Map<number, Change>>();
  for (const change of changes) {
    for (const fact of change.facts) if (fact !== undefined) byFact.set(fact, change);
    for (const side of [change.from, change.to]) {
      if (!side) continue;
      const { tree, span } = side.location;
      const inTree = byPlace.get(tree) ?? new Map<number, Change>();
      byPlace.set(tree, inTree.set(span.start, change));
    }
  }
  const byPath = new Map(changes.filter((c) => c.sort === "figure" || c.sort === "table").map((c) => [c.path, c]));
  // Words and fittings choose which formula applies without being a number in it.
  const structural = changes.filter((c) => c.sort === "engine" || c.sort === "part" || c.sort === "card");
  return (...sides) => {
    const found = new Set<Change | undefined>();
    const at = ({ tree, span }: Location) => found.add(byPlace.get(tree)?.get(span.start));
    for (const { sheet, value, readings } of sides) {
      for (const location of readings ?? []) at(location);
      if (!value) continue;
      for (const { fact } of value.provided) found.add(byFact.get(fact));
      for (const location of wholeThings(sheet, value)) at(location);
      for (const { path } of value.missing) found.add(byPath.get(path));
    }
    const causes = changes.filter((c) => found.has(c));
    return causes.length > 0 ? causes : structural;
  };
}

/** Where the tables, records and readings stand that a value takes whole, through other values too. */
function wholeThings(sheet: Sheet, value: SheetValue, seen = new Set<SheetValue>()): readonly Location[] {
  if (seen.has(value)) return [];
  seen.add(value);
  return value.inputs.flatMap((input) => {
    const below = input.valueId === undefined ? undefined : sheet.byId.get(input.valueId);
    return [...(input.thing?.location ? [input.thing.location] : []), ...(input.reading ? [input.reading.location] : []), ...(below ? wholeThings(sheet, below, seen) : [])];
  });
}

/** A value as it comes out of what was measured, place by place. */
function measuredChanges(id: string, before: Resting, after: Resting, causesOf: CausesOf): ChangedValue[] {
  const byPlace = ({ value }: Resting) => new Map((value?.measured ?? []).map((m): [string, MeasuredValue] => [m.place, m]));
  const [old, now] = [byPlace(before), byPlace(after)];
  return [...new Set([...old.keys(), ...now.keys()])].flatMap((place): ChangedValue[] => {
    const [a, b] = [old.get(place), now.get(place)];
    if (sameInterval(a?.value.interval, b?.value.interval)) return [];
    const say = (m: MeasuredValue | undefined, { value }: Resting) => (m?.value.interval && value ? formattedInterval(m.value.interval, value.formula) : "");
    const [from, to] = [say(a, before), say(b, after)];
    const side = ({ sheet }: Resting, m: MeasuredValue | undefined): Resting => ({ sheet, value: m?.value, readings: (m?.readings ?? []).map((r) => r.location) });
    return [{ id, place, ...(before.value && { before: before.value }), ...(after.value && { after: after.value }), from, to, causes: causesOf(side(before, a), side(after, b)), unseen: from === to }];
  });
}
