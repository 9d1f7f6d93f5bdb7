// What a misspelt unit was probably meant to be. Knows spellings and how hands slip, nothing of values.
import { UNIT_SPELLINGS, unitOfSpelling } from "../../grammar/vocabulary.ts";
import type { UnitId } from "../../grammar/vocabulary.ts";

/** What people write for a unit that is no spelling of it: offered, never read. */
const COLLOQUIAL = new Map<string, readonly UnitId[]>(Object.entries<readonly UnitId[]>({
  mil: ["thou"], mils: ["thou"], millimetre: ["millimetre"], millimetres: ["millimetre"], millimeter: ["millimetre"], millimeters: ["millimetre"], mms: ["millimetre"],
  "ft/lb": ["pound-foot"], "ft/lbs": ["pound-foot"], "lb/ft": ["pound-foot"], "lbs/ft": ["pound-foot"], lbft: ["pound-foot"], ftlb: ["pound-foot"], ftlbs: ["pound-foot"],
  "in/lb": ["pound-inch"], "in/lbs": ["pound-inch"], inlb: ["pound-inch"], "n/m": ["newton-metre"], newton: ["newton", "newton-metre"], newtons: ["newton", "newton-metre"],
  pounds: ["pound-force", "pound-foot", "pound"], kilos: ["kilogram", "kilogram-force-metre", "kilogram-force"], kgs: ["kilogram", "kilogram-force"], grams: ["gram"],
  c: ["degree-celsius"], celsius: ["degree-celsius"], f: ["degree-fahrenheit"], fahrenheit: ["degree-fahrenheit"],
  degree: ["degree", "degree-celsius", "degree-fahrenheit"], degrees: ["degree", "degree-celsius", "degree-fahrenheit"], degs: ["degree"],
  revs: ["revolution-per-minute"], rev: ["revolution-per-minute", "turn"], rpms: ["revolution-per-minute"], "rev/min": ["revolution-per-minute"],
  ccs: ["cubic-centimetre"], "n/mm2": ["megapascal"], horsepower: ["horsepower"], horses: ["horsepower"], cv: ["metric-horsepower"], ch: ["metric-horsepower"],
  minutes: ["minute"], mins: ["minute"], seconds: ["second"], secs: ["second"], hours: ["hour"], percent: ["percent"], pct: ["percent"], quarts: ["quart"], pints: ["pint"],
  volts: ["volt"], kmh: ["kilometre-per-hour"], kms: ["kilometre"], lph: ["litre-per-hour"], lpm: ["litre-per-minute"], bars: ["bar"],
}));

/** Letters that a slip of the hand runs into a unit. */
const MOST_RUN_IN = 3;

/** Units that a spelling may have been meant for, likeliest first; those of `preferred` before the rest. Empty when nothing is near. */
export function nearestUnits(spelling: string, preferred: readonly UnitId[], most = 3): UnitId[] {
  const word = spelling.toLowerCase();
  const known = unitOfSpelling(spelling);
  const found = new Map<UnitId, number>();
  if (known !== undefined) found.set(known, 0);
  for (const id of COLLOQUIAL.get(word) ?? []) found.set(id, found.get(id) ?? 0);
  const allowed = word.length <= 4 ? 1 : 2;
  for (const [id, spellings] of Object.entries(UNIT_SPELLINGS) as [UnitId, readonly string[]][]) {
    for (const s of spellings) {
      // One letter is near every other one letter, which says nothing.
      if (s.length < 2 || word.length < 2) continue;
      // A whole unit with a few letters run into it is that unit: `rpmval`.
      const run = s.length >= 3 && preferred.includes(id) && word.length <= s.length + MOST_RUN_IN && word.startsWith(s.toLowerCase());
      const d = run ? Math.min(allowed, word.length - s.length) : slipDistance(word, s.toLowerCase(), allowed);
      // A slip must keep most of what was meant: two letters that share none are two words.
      if (d > allowed || d >= s.length) continue;
      // Away from what the key takes, only a clear slip of a longer word counts.
      if (!preferred.includes(id) && (d > 1 || s.length < 3 || word.length < 4)) continue;
      found.set(id, Math.min(found.get(id) ?? Infinity, d));
    }
  }
  // A misspelt unit of the key's own sort leaves no reason to offer another sort.
  const own = [...found].filter(([id]) => preferred.includes(id));
  return (own.length > 0 ? own : [...found])
    .sort(([a, da], [b, db]) => da - db || preferred.indexOf(a) - preferred.indexOf(b))
    .slice(0, most)
    .map(([id]) => id);
}

/** Insertions, deletions, substitutions and neighbour swaps between two short words; gives up past `limit`. */
export function slipDistance(a: string, b: string, limit = Infinity): number {
  if (Math.abs(a.length - b.length) > limit) return Math.abs(a.length - b.length);
  let before: number[] = [];
  let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let best = Math.min((previous[j] as number) + 1, (row[j - 1] as number) + 1, (previous[j - 1] as number) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) best = Math.min(best, (before[j - 2] as number) + 1);
      row.push(best);
    }
    before = previous;
    previous = row;
  }
  return previous[b.length] as number;
}
