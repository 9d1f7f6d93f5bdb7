// The lift of one side's valves over the turn of the crank: from the lobe as it was measured point by point, else a model shape through the
// events. Knows no drawing.
import type { Side } from "../model/declaration.ts";
import { type EffectiveBuild, quantityAt } from "../model/effective.ts";
import { cosineLobeLift, lobePeak, readerOf } from "../engineering/index.ts";
import type { LobeTable } from "../engineering/lobe-table.ts";
import type { Sheet, SheetValue } from "../sheet/evaluate.ts";
import { lobeOf } from "../sheet/lobe.ts";

export interface LiftCurve {
  readonly side: Side;
  /** Crank degrees, counted from top dead centre between exhaust and intake; before it negative. */
  readonly opens: number;
  readonly closes: number;
  readonly centreline: number;
  /** m at the valve, no lash taken off. */
  readonly peak: number;
  readonly liftAt: (deg: number) => number;
  /** True where nobody measured the lobe. */
  readonly assumed: boolean;
  /** m at the valve: the lift that the events are counted at; nothing where no card says. */
  readonly reference?: number;
}

/** What a value of the whole engine comes to now: as measured, where it was. */
export function nowOf(value: SheetValue | undefined): number | undefined {
  const measured = value?.measured.find((m) => m.place === "")?.value.interval;
  return (measured ?? value?.interval)?.nominal;
}

/** The curve of a side; nothing where its events or its lift are not worked out. */
export function liftCurve(build: EffectiveBuild, sheet: Sheet, side: Side): LiftCurve | undefined {
  const now = (id: string) => nowOf(sheet.byId.get(id));
  const [opens, closes, installed, peak] = [now(`event.${side}.opens`), now(`event.${side}.closes`), now(`centreline.${side}.installed`), now(`lift.${side}.gross`)];
  if (opens === undefined || closes === undefined || installed === undefined || peak === undefined || !(peak > 0)) return undefined;
  const [opensAt, closesAt, centreline] = side === "intake" ? [-opens, 180 + closes, installed] : [-180 - opens, closes, -installed];
  if (!(opensAt < centreline && centreline < closesAt)) return undefined;
  const reference = referenceLift(build, sheet, side);
  const events = { side, opens: opensAt, closes: closesAt, centreline, peak, ...(reference !== undefined && { reference }) };
  const table = lobeAtValve(build, sheet, side, centreline);
  if (table) return { ...events, peak: lobePeak(table).lift, liftAt: within(table), assumed: false };
  return { ...events, liftAt: modelShape(events), assumed: true };
}

/** A cosine on each flank, through the reference lift at the event and through full lift at the centreline. */
function modelShape({ opens, closes, centreline, peak, reference = 0 }: Pick<LiftCurve, "opens" | "closes" | "centreline" | "peak" | "reference">): (deg: number) => number {
  const at = Math.min(reference, peak * 0.9);
  // Half the duration of the whole cosine from half the duration between the events: peak/2 · (1 + cos(2π · half / whole)) = at.
  const whole = (half: number) => (2 * Math.PI * half) / Math.acos((2 * at) / peak - 1);
  const [rising, falling] = [whole(centreline - opens), whole(closes - centreline)];
  return (deg) => cosineLobeLift({ peakLift: peak, durationDeg: deg < centreline ? rising : falling, fromCentrelineDeg: deg - centreline });
}

function within(table: LobeTable): (deg: number) => number {
  const read = readerOf(table);
  const [first, last] = [table[0]?.deg ?? 0, table.at(-1)?.deg ?? 0];
  return (deg) => (deg < first || deg > last ? 0 : Math.max(0, read(deg)));
}

/** The lobe's table as the valve sees it, its angles counted from top dead centre; nothing where nobody says whose degrees or whose lift they are. */
function lobeAtValve(build: EffectiveBuild, sheet: Sheet, side: Side, centreline: number): LobeTable | undefined {
  const lobe = lobeOf(build, side);
  if (!lobe?.stated || lobe.table.length === 0) return undefined;
  const [gross, atLobe] = [nowOf(sheet.byId.get(`lift.${side}.gross`)), quantityAt(build, `camshaft.${side}.lobe-lift`)?.quantity.interval.nominal];
  const ratio = lobe.at === "valve" ? 1 : gross !== undefined && atLobe !== undefined && atLobe > 0 ? gross / atLobe : undefined;
  // A table counted from top dead centre stands where it was read, whatever the card says of its nose.
  const nose = lobe.noseAtdc ?? centreline;
  return ratio === undefined ? undefined : lobe.table.map(({ deg, lift }) => ({ deg: deg + nose, lift: lift * ratio }));
}

/** The lift that a card counts its events at, as the valve feels it. */
function referenceLift(build: EffectiveBuild, sheet: Sheet, side: Side): number | undefined {
  const at = quantityAt(build, `camshaft.${side}.measured-at`);
  if (!at) return undefined;
  const lift = at.quantity.interval.nominal;
  if (at.qualifiers["lift-at"] !== "at lobe") return lift;
  const [gross, lobe] = [nowOf(sheet.byId.get(`lift.${side}.gross`)), quantityAt(build, `camshaft.${side}.lobe-lift`)?.quantity.interval.nominal];
  return gross !== undefined && lobe !== undefined && lobe > 0 ? (lift * gross) / lobe : undefined;
}
