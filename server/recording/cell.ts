// One cell of a recording as a number: decimal point or comma, missing, a clock, or none of these. Knows no unit.
import type { DecimalMark } from "./question.ts";

/** What a cell holds that is no number. */
export type Cellless = "missing" | "unreadable" | "marks";

const MISSING = /^(?:|-+|–|n\/?a|nan|null|none|\?|#n\/a|---?)$/i;

/** A number, or why there is none. `text` may have blanks around it. */
export function numberIn(text: string, mark: DecimalMark | undefined): number | Cellless {
  // The way that nearly every cell goes.
  if (mark !== ",") {
    const x = Number(text);
    if (x === x && x !== Infinity && x !== -Infinity && isPlain(text)) return x;
  }
  const own = text.trim();
  if (MISSING.test(own)) return "missing";
  const plain = own.replace("\u2212", "-").replace(/^\+/, "");
  if (mark === ",") {
    if (/^-?(?:\d+(?:,\d+)?|,\d+)(?:e[-+]?\d{1,3})?$/i.test(plain) || /^-?\d+,$/.test(plain)) {
      const x = Number(plain.replace(",", "."));
      if (Number.isFinite(x)) return x;
    }
    if (/^-?\d[\d.' \u00a0\u202f]*[.' \u00a0\u202f]\d+(?:,\d+)?$/.test(plain)) return "marks";
  } else {
    const x = Number(plain);
    if (plain !== "" && Number.isFinite(x) && isPlain(plain)) return x;
    if (/^-?\d[\d,' \u00a0\u202f]*[,' \u00a0\u202f]\d+(?:\.\d+)?$/.test(plain)) return "marks";
  }
  return "unreadable";
}

/** Nothing but digits, signs, a point, an exponent and blanks: no hexadecimal, and not empty. */
function isPlain(text: string): boolean {
  let digit = false;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c >= 48 && c <= 57) digit = true;
    else if (c !== 46 && c !== 45 && c !== 43 && c !== 32 && c !== 9 && c !== 13 && c !== 101 && c !== 69) return false;
  }
  return digit;
}

const DAY = 86400;

/** Seconds of a time cell: a number in a unit of `factor` seconds, or a clock such as 1:02:03.4, after a date or not. */
export function timeIn(text: string, mark: DecimalMark | undefined, factor: number): number | Cellless {
  if (!text.includes(":")) {
    const x = numberIn(text, mark);
    return typeof x === "number" ? x * factor : x;
  }
  const m = /^(?:\s*\d{4}-\d{2}-\d{2}[T ])?\s*(?:(\d{1,3}):)?(\d{1,2}):(\d{1,2}(?:[.,]\d+)?)(?:Z|[+-]\d{2}:?\d{2})?\s*$/.exec(text);
  if (!m) return "unreadable";
  return Number(m[1] ?? 0) * 3600 + Number(m[2]) * 60 + Number((m[3] ?? "0").replace(",", "."));
}

/** Past midnight a clock begins anew: how much to add so that time goes on. */
export function pastMidnight(before: number, now: number): number {
  return before - now > DAY / 2 && before < DAY + 1 && now < DAY / 2 ? DAY : 0;
}

/**
 * The decimal mark that cells settle on. `ambiguous`: commas stand only where thousands marks would stand as well.
 */
export function markOf(cells: Iterable<string>): DecimalMark | "ambiguous" | undefined {
  let doubtful = false;
  let comma = false;
  for (const cell of cells) {
    const text = cell.trim();
    if (/^[-+\u2212]?\d*\.\d+$/.test(text)) return ".";
    if (!/^[-+\u2212]?\d*,\d+$/.test(text)) continue;
    // Three digits after one to three that do not begin with a zero are what 3,500 looks like too.
    if (/^[-+\u2212]?[1-9]\d{0,2},\d{3}$/.test(text)) doubtful = true;
    else comma = true;
  }
  return comma ? "," : doubtful ? "ambiguous" : undefined;
}
