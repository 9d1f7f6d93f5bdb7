// Many timings as three figures, and as a line of a table. Knows nothing of what was timed.

export interface Spread {
  readonly median: number;
  /** A tenth of the timings lie below, and a tenth above. */
  readonly low: number;
  readonly high: number;
}

export function spreadOf(times: readonly number[]): Spread {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
  return { median: at(0.5), low: at(0.1), high: at(0.9) };
}

export function figure(x: number): string {
  return !Number.isFinite(x) ? "–" : x >= 100 ? x.toFixed(0) : x >= 10 ? x.toFixed(1) : x.toFixed(2);
}

export function shown({ median, low, high }: Spread): string {
  return `${figure(median)} (${figure(low)}–${figure(high)})`;
}

/** One column of timings over another, turn by turn: what the machine did meanwhile fell on both. */
export function ratios(ours: readonly number[], theirs: readonly number[]): Spread {
  return spreadOf(ours.flatMap((x, i) => (theirs[i] === undefined ? [] : [x / theirs[i]])));
}

export function table(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((r) => (r[i] ?? "").length)));
  return rows.map((row) => row.map((cell, i) => (i === 0 ? cell.padEnd(widths[i] ?? 0) : cell.padStart(widths[i] ?? 0))).join("  ").trimEnd()).join("\n");
}
