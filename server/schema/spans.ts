// Usual spans written in the unit the trade thinks in and held in the base unit of their kind. Knows factors, no keys.
import type { KeySchema, UsualShare, UsualSpan } from "./types.ts";

/** Where a span comes from when no standard or table states it: drawn wide round what builders meet, from a 50 cc single to a 7 litre V8. */
const COMMON_PRACTICE = "common practice, no source";

/** `low .. high` in the named unit, held in the base unit of the kind. */
export type SpanOf = (low: number, high: number, source?: string) => UsualSpan;

function spanIn(factor: number, offset = 0): SpanOf {
  return (low, high, source = COMMON_PRACTICE) => ({ low: low * factor + offset, high: high * factor + offset, source });
}

/** For plain numbers and for units that are their kind's own base: degree, rpm, s, V, kg, N·m, N, mixture and octane. */
export const plain = spanIn(1);
export const degrees = plain;
export const rpm = plain;
export const newtonMetres = plain;
export const newtons = plain;
export const seconds = plain;
export const millimetres = spanIn(1e-3);
export const metres = plain;
export const kilometres = spanIn(1e3);
export const squareCentimetres = spanIn(1e-4);
export const cubicCentimetres = spanIn(1e-6);
export const litres = spanIn(1e-3);
export const grams = spanIn(1e-3);
export const kilograms = plain;
export const newtonsPerMillimetre = spanIn(1e3);
export const bars = spanIn(1e5);
export const kilopascals = spanIn(1e3);
export const megapascals = spanIn(1e6);
export const gigapascals = spanIn(1e9);
export const metresPerSecond = plain;
export const celsius = spanIn(1, 273.15);
export const kelvins = plain;
export const minutes = spanIn(60);
export const milliseconds = spanIn(1e-3);
export const percent = spanIn(0.01);
export const gramsPerSecond = spanIn(1e-3);
export const gramsPerKilowattHour = spanIn(1 / 3.6e9);
export const cubicCentimetresPerMinute = spanIn(1e-6 / 60);
export const kilogramsPerLitre = spanIn(1e3);

/** A share of the bore, wide enough for any engine from a small single to a large V8. */
export function ofBore(low: number, high: number): NonNullable<KeySchema["usualPer"]> {
  return [{ path: "bore", words: "the bore", low, high, source: COMMON_PRACTICE }];
}

/** A share of another figure of the same engine, wide. Figures of one kind are compared as they are, others in the base units of their kinds. */
export function shareOf(path: string, words: string, low: number, high: number, source = COMMON_PRACTICE): UsualShare {
  return { path, words, low, high, source };
}

/** Power for each unit of displacement: 6 kW/L for a pumping engine, 300 for a racing one blown hard. */
export const PER_DISPLACEMENT: readonly UsualShare[] = [shareOf("displacement.total", "the displacement", 6e6, 3e8)];

/** Weight in kilograms over the cube of a size in metres: parts of one make-up keep it, whatever their size. */
export function ofCube(path: string, words: string, low: number, high: number): readonly UsualShare[] {
  return [{ path, words, low, high, power: 3, source: COMMON_PRACTICE }];
}

/** Both sides of one engine are of one making: what differs five times between them is likelier a slip than a design. */
export const LIKE_OTHER_SIDE: readonly UsualShare[] = [{ path: "{other}", words: "the other side's", low: 1 / 5, high: 5, source: COMMON_PRACTICE }];
