// Counts and lists as they are spoken. Knows no engine.

export { capital } from "../quantity/spoken.ts";

const SMALL = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/** "three", "no", "14". */
export function numberWord(n: number): string {
  return SMALL[n] ?? String(n);
}

export function plural(n: number, one: string, many = `${one}s`): string {
  return n === 1 ? one : many;
}

/** "1 file", "3 files". */
export function counted(n: number, one: string, many = `${one}s`): string {
  return `${n} ${plural(n, one, many)}`;
}

/** "a", "a and b", "a, b and c"; "a, x; b, y" where the items themselves have commas. */
export function listed(items: readonly string[], joiner = "and"): string {
  if (items.length < 2) return items[0] ?? "";
  if (items.some((item) => item.includes(","))) return items.join("; ");
  return `${items.slice(0, -1).join(", ")} ${joiner} ${items[items.length - 1]}`;
}

/** A sentence with its stop, which a question has already. */
export function stopped(sentence: string): string {
  return /[?!]\s*$/.test(sentence) ? sentence.trimEnd() : `${sentence.replace(/(?<![.\s])[.\s]+$/, "")}.`;
}
