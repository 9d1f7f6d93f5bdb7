// A number with its spread: low, nominal, high, in one base unit. Knows nothing of units or of what is measured.

export interface Interval {
  readonly low: number;
  readonly nominal: number;
  readonly high: number;
}

export function exactly(value: number): Interval {
  return { low: value, nominal: value, high: value };
}

/** The middle is the nominal unless one is given. Ends may come in either order. */
export function between(a: number, b: number, nominal = (a + b) / 2): Interval {
  return { low: Math.min(a, b), nominal, high: Math.max(a, b) };
}

export function hasSpread(i: Interval): boolean {
  return i.low !== i.high;
}

export function mapInterval(i: Interval, f: (x: number) => number): Interval {
  const a = f(i.low);
  const b = f(i.high);
  return { low: Math.min(a, b), nominal: f(i.nominal), high: Math.max(a, b) };
}

export function addIntervals(a: Interval, b: Interval): Interval {
  return { low: a.low + b.low, nominal: a.nominal + b.nominal, high: a.high + b.high };
}

/** True when the two touch, allowing each its own rounding slack. */
export function intervalsOverlap(a: Interval, b: Interval, slack = 0): boolean {
  return a.low <= b.high + slack && b.low <= a.high + slack;
}

export function isFiniteInterval(i: Interval): boolean {
  return Number.isFinite(i.low) && Number.isFinite(i.nominal) && Number.isFinite(i.high);
}
