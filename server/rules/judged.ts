// Which of a value's results a rule judges: the worst of those that were measured, else the one as specified. Knows no limit.
import type { Location } from "../model/declaration.ts";
import type { Interval } from "../quantity/interval.ts";
import type { SheetValue } from "../sheet/evaluate.ts";

export interface Judged {
  readonly interval: Interval;
  /** The result itself: the value as specified, or as it comes out at one place. */
  readonly value: SheetValue;
  /** "intake a, cylinder 3"; empty where it holds for the whole engine. */
  readonly place: string;
  /** True where a reading stands for something it rests on. */
  readonly measured: boolean;
  /** The newest reading it rests on. */
  readonly at?: Location;
}

/** The result that is worst when `worst` is `least` or `greatest`; nothing where it was neither computed nor measured. */
export function judged(value: SheetValue | undefined, worst: "least" | "greatest"): Judged | undefined {
  if (!value) return undefined;
  let found: Judged | undefined;
  for (const m of value.measured) {
    const { interval } = m.value;
    if (!interval) continue;
    if (found && (worst === "least" ? interval.nominal >= found.interval.nominal : interval.nominal <= found.interval.nominal)) continue;
    const at = m.readings[m.readings.length - 1]?.location;
    found = { interval, value: m.value, place: m.place, measured: true, ...(at && { at }) };
  }
  return found ?? (value.interval && { interval: value.interval, value, place: "", measured: false });
}

/** " at intake a, cylinder 3, as measured,", to go after what was judged; nothing for a value as specified. */
export function asMeasured({ measured, place }: Judged): string {
  return measured ? `${place === "" ? "" : ` at ${place}`}, as measured,` : "";
}
