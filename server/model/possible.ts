// Whether a figure can be at all: nothing where there must be something, less than nothing, or past anything that a slip explains. What cannot be
// counts for nothing in a build. Knows spans, not engines.
import type { Quantity } from "../quantity/quantity.ts";
import { measurementOf } from "../schema/measurements.ts";
import type { KeySchema, UsualSpan } from "../schema/types.ts";
import type { Declaration, FigureFact, RecordFact } from "./declaration.ts";
import { keptFor } from "./reads.ts";
import type { Span } from "../../grammar/tree.ts";

/** Past this many times its key's usual span no moved point and no other unit explains a figure. This project's own choice. */
const FAR = 100;

/** Sets of words that say which side of a face or which way a figure counts: a sign beside them is another matter. */
const DIRECTIONS: ReadonlySet<string> = new Set(["deck", "event", "gear-direction", "oversize"]);

/** Of these the word alone says which way: above or below, advanced or retarded. */
const SIDED = ["deck", "gear-direction"] as const;

const MUCH = "more than a hundred times what any engine has";

/** What is wrong with a figure, to complete "… is 0 mm, …"; nothing where it may be. `usual` where the key itself names no span. */
export function faultOfFigure({ key, value }: Pick<FigureFact, "key" | "value">, usual: UsualSpan | undefined = key.usual): string | undefined {
  // A figure in another of its key's kinds is on another scale: the span says nothing of it.
  if (value.is !== "quantity" || !usual || (key.type.is === "quantity" && key.type.kind !== value.quantity.kind)) return undefined;
  const said = SIDED.map((set) => value.qualifiers[set]).find((word) => word !== undefined && word !== "unstated");
  const { low, high } = value.quantity.interval;
  if (said !== undefined && value.quantity.interval.nominal < 0 && Number.isFinite(low + high)) return `and a minus beside \`${said}\` says twice which way it counts`;
  return faultOfQuantity(value.quantity, usual, countsToEitherSide(key, value.qualifiers));
}

function countsToEitherSide(key: KeySchema, qualifiers: Readonly<Record<string, string>>): boolean {
  return [...(key.qualifiers ?? []), ...(key.mayQualify ?? [])].some((set) => DIRECTIONS.has(set) && (set !== "oversize" || qualifiers[set] !== undefined));
}

function faultOfQuantity({ kind, shape, interval }: Quantity, usual: UsualSpan, eitherSide: boolean): string | undefined {
  // A tolerance says how well the figure is known (alone it says how far to either side); of a range each end is a figure.
  const [low, high] = shape === "tolerance" && interval.nominal !== 0 ? [interval.nominal, interval.nominal] : [interval.low, interval.high];
  const most = Math.max(Math.abs(usual.low), Math.abs(usual.high));
  if (low > FAR * most || high < -FAR * most || (shape === "tolerance" && high > FAR * most)) return high < 0 && usual.low >= 0 && !eitherSide ? "less than nothing" : MUCH;
  if (eitherSide) return undefined;
  // Degrees of temperature count from another zero than their base.
  const nothing = kind === "temperature" ? "colder than anything can be" : undefined;
  if (usual.low > 0 && high <= 0) return nothing ?? (high === 0 && low === 0 ? "and there must be something" : "less than nothing");
  if (usual.low >= 0 && high < 0) return nothing ?? "less than nothing";
  if (usual.low >= 0 && low < 0 && Number.isFinite(low)) return nothing ?? "less than nothing at one end";
  return usual.low > 0 && high < usual.low / FAR ? "less than a hundredth of what any engine has" : undefined;
}

export interface Impossible {
  readonly key: string;
  readonly path: string;
  readonly span: Span;
  readonly fault: string;
  readonly quantity: Quantity;
  readonly usual: UsualSpan;
}

/** Every figure and reading of a declaration that cannot be, once each, though it may be given for both sides. */
export function impossibleIn(declaration: Declaration): readonly Impossible[] {
  return [...impossibleFigures(declaration), ...impossibleReadings(declaration)];
}

/** True where a figure of a declaration cannot be and the builder has not said that it is so. */
export function countsForNothing(declaration: Declaration, span: Span): boolean {
  return isAmong(impossibleFigures(declaration), declaration, span) || readingCountsForNothing(declaration, span);
}

/** The same of a reading. */
export function readingCountsForNothing(declaration: Declaration, span: Span): boolean {
  return isAmong(impossibleReadings(declaration), declaration, span);
}

function isAmong(impossible: readonly Impossible[], declaration: Declaration, span: Span): boolean {
  return impossible.some((one) => one.span.start === span.start) && !declaration.waivers.some((w) => w.rule.text === "impossible-figure");
}

/** What is measured over more than this many times its least is a gap and no size: read as nothing it may be nothing. This project's own choice. */
const GAP = 200;

function gapOrSize(usual: UsualSpan | undefined): UsualSpan | undefined {
  return usual && usual.low > 0 && usual.high / usual.low > GAP ? { ...usual, low: 0 } : usual;
}

function impossible(fact: FigureFact, usual: UsualSpan | undefined): readonly Impossible[] {
  const span = usual ?? fact.key.usual;
  const fault = faultOfFigure(fact, span);
  return fault === undefined || !span || fact.value.is !== "quantity" ? [] : [{ key: fact.key.key, path: fact.path, span: fact.span, fault, quantity: fact.value.quantity, usual: span }];
}

function onceEach(all: readonly Impossible[]): readonly Impossible[] {
  return all.length > 1 ? [...new Map(all.map((one) => [one.span.start, one])).values()] : all;
}

const impossibleFigures = keptFor((declaration: Declaration): readonly Impossible[] => {
  const records = (record: RecordFact): readonly Impossible[] => [...record.figures.flatMap((f) => impossible(f, undefined)), ...record.records.flatMap(records)];
  return onceEach([...[declaration.figures, ...declaration.fits.flatMap((f) => [f.figures, f.inline?.figures ?? []])].flat().flatMap((f) => impossible(f, undefined)), ...declaration.records.flatMap(records)]);
});

const impossibleReadings = keptFor((declaration: Declaration): readonly Impossible[] =>
  onceEach(declaration.measured.flatMap(({ what, figures, readings }) => {
    const usual = gapOrSize(measurementOf(what.text)?.usual);
    return [
      ...figures.flatMap((f) => impossible(f, f.key.usual ?? usual)),
      ...readings.flatMap(({ quantity, words, span }) => {
        const fault = usual && quantity.kind === measurementOf(what.text)?.kind ? faultOfQuantity(quantity, usual, words.some((w) => ["above", "below"].includes(w.text))) : undefined;
        return fault === undefined || !usual ? [] : [{ key: what.text, path: what.text, span, fault, quantity, usual }];
      }),
    ];
  })),
);
