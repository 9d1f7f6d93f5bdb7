// The one convention of this floor: a formula outside its domain answers NaN, and this module says how to ask. It refuses to know any formula.
//
// Every function in server/engineering is total. Inside the documented domain it returns the value in SI;
// outside it (a zero bore, a rod shorter than half the stroke, a missing reading passed on as NaN) it returns
// NaN and never throws. Callers ask `isComputed` before they show or compare a figure. Look-ups of named rows
// (a bolt class, a fuel) return `undefined` for a name they do not hold, and say so.

/** True when a figure came out of its formula: finite, not NaN. The only question a caller needs to ask. */
export function isComputed(value: number | undefined): value is number {
  return value !== undefined && Number.isFinite(value);
}

/** True when every value is a finite number above zero: the usual domain of a length, a mass, a speed. */
export function arePositive(...values: readonly number[]): boolean {
  return values.every((value) => Number.isFinite(value) && value > 0);
}

/** True when every value is finite and not below zero: the domain of a lash, a loss, a drop. */
export function areNotNegative(...values: readonly number[]): boolean {
  return values.every((value) => Number.isFinite(value) && value >= 0);
}

/** True when every value is a finite number of either sign: angles, deck clearances, dish and dome. */
export function areFinite(...values: readonly number[]): boolean {
  return values.every((value) => Number.isFinite(value));
}
