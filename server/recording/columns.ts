// Headings of a recording matched with the readings asked for, and the unit of each. Knows no reading's value and guesses no unit where
// there are several: what it takes for granted is said.
import { type UnitId, unitOfSpelling } from "../../grammar/vocabulary.ts";
import { type KindId, kindOf, unitFits } from "../quantity/kinds.ts";
import { nearest } from "../schema/lookup.ts";
import type { WantedColumn } from "./question.ts";
import type { LostColumn } from "./summary.ts";

/** What stands for a unit in headings of recordings and nowhere else. */
const LOGGED: Readonly<Partial<Record<KindId, Readonly<Record<string, UnitId>>>>> = {
  temperature: { c: "degree-celsius", "deg c": "degree-celsius", f: "degree-fahrenheit", "deg f": "degree-fahrenheit" },
  time: { sec: "second", secs: "second", seconds: "second", msec: "millisecond", milliseconds: "millisecond", minutes: "minute" },
  rotation: { "1/min": "revolution-per-minute", "u/min": "revolution-per-minute", "r/min": "revolution-per-minute", "rev/min": "revolution-per-minute", "min-1": "revolution-per-minute" },
  "road-speed": { kph: "kilometre-per-hour", kmh: "kilometre-per-hour" },
  mixture: { "a/f": "air-fuel-ratio", ":1": "air-fuel-ratio", "λ": "lambda", lam: "lambda" },
  angle: { "deg btdc": "degree", "° btdc": "degree", degrees: "degree" },
  fraction: { pct: "percent", percent: "percent" },
};

/** Where nobody says it: the only unit of such readings, or the one that all recordings are in. */
const TAKEN: Readonly<Partial<Record<KindId, UnitId>>> = { rotation: "revolution-per-minute", time: "second", fraction: "percent", angle: "degree" };
const BY_KEY: Readonly<Record<string, UnitId>> = { afr: "air-fuel-ratio", lambda: "lambda" };

export interface FoundColumn {
  readonly wanted: WantedColumn;
  readonly index: number;
  readonly heading: string;
  readonly unit?: UnitId;
  readonly assumed?: boolean;
}

export interface Matched {
  readonly found: readonly FoundColumn[];
  readonly lost: readonly LostColumn[];
  /** Headings that were asked for and stand there twice: the first one counts. */
  readonly twice: readonly string[];
}

/** A heading is a few words: of one that goes on, the rest names nothing. */
const LONGEST_HEADING = 200;

/** A heading without case and with single blanks. */
export function plainHeading(text: string): string {
  return text.slice(0, LONGEST_HEADING).trim().replace(/\s+/g, " ").toLowerCase();
}

interface Heading {
  readonly plain: string;
  /** Without what stands in brackets at its end. */
  readonly base: string;
  readonly bracket?: string;
}

function headingOf(text: string): Heading {
  const plain = plainHeading(text);
  const m = /[([{]([^()[\]{}]*)[)\]}]$/.exec(plain);
  const base = plain.slice(0, m?.index ?? 0).trimEnd();
  return m && base !== "" ? { plain, base, bracket: (m[1] as string).trim() } : { plain, base: plain };
}

/** How many of these headings are among those asked for. */
export function likeness(cells: readonly string[], wanted: readonly WantedColumn[]): number {
  const own = new Set(cells.flatMap((cell) => { const h = headingOf(cell); return [h.plain, h.base]; }));
  return wanted.filter((w) => { const h = headingOf(w.heading); return own.has(h.plain) || own.has(h.base); }).length;
}

/** @param units the row of units under the headings, where there is one. */
export function matchColumns(cells: readonly string[], units: readonly string[] | undefined, wanted: readonly WantedColumn[]): Matched {
  const heads = cells.map(headingOf);
  const found: FoundColumn[] = [];
  const lost: LostColumn[] = [];
  const twice: string[] = [];
  for (const want of wanted) {
    const wish = headingOf(want.heading);
    const exact = heads.flatMap((h, i) => (h.plain === wish.plain ? [i] : []));
    const places = exact.length > 0 ? exact : heads.flatMap((h, i) => (h.base === wish.base ? [i] : []));
    const index = places[0];
    const heading = index === undefined ? undefined : (cells[index] as string).trim();
    if (index === undefined || heading === undefined) {
      lost.push({ key: want.key, heading: want.heading, why: "absent", found: nearest(want.heading, cells.map((c) => c.trim()).filter((c) => c !== "")) });
      continue;
    }
    if (places.length > 1) twice.push(heading);
    const head = heads[index] as Heading;
    const written = statedUnit(head, want.kind) ?? (units ? unitNamed(units[index] ?? "", want.kind) : undefined);
    const said = wish.bracket === undefined ? undefined : unitNamed(wish.bracket, want.kind);
    const lose = (why: LostColumn["why"]) => lost.push({ key: want.key, heading: want.heading, why, found: [heading] });
    if (written === "wrong" || said === "wrong" || [head.bracket, units?.[index]].some((t) => t !== undefined && wrongReference(t, want.key))) lose("unit");
    else if (written !== undefined && said !== undefined && written !== said) lose("disagrees");
    else {
      const unit = written ?? said;
      const own = unit ?? BY_KEY[want.key] ?? TAKEN[want.kind];
      if (own === undefined && kindOf(want.kind).units.length > 0) lose("no-unit");
      else found.push({ wanted: want, index, heading, ...(own !== undefined && { unit: own }), ...(unit === undefined && own !== undefined && own !== BY_KEY[want.key] && want.kind !== "rotation" && { assumed: true }) });
    }
  }
  return { found, lost, twice };
}

/** Boost is read over the air outside, manifold pressure from nothing: one under the other's name would be a bar out. */
function wrongReference(text: string, key: string): boolean {
  const plain = plainHeading(text);
  if (key === "manifold") return /^psig$|^bar\(?g\)?$|\b(gauge|rel)\b/.test(plain);
  return key === "boost" && (/^psia$|^bar\(?a\)?$|\babs(olute)?\b/.test(plain));
}

/** The unit a heading gives in brackets, as its last word, or by being one. */
function statedUnit({ plain, bracket }: Heading, kind: KindId): UnitId | "wrong" | undefined {
  if (bracket !== undefined) {
    const unit = unitNamed(bracket, kind);
    if (unit !== undefined) return unit;
  }
  for (const word of [plain, /(?:[\s_,]|^[^\s_,/.-]*[/.-])([^\s_,]+)$/.exec(plain)?.[1]]) {
    const unit = word === undefined ? undefined : unitNamed(word, kind);
    // A last word that is a unit of something else is a word.
    if (unit !== undefined && unit !== "wrong") return unit;
  }
  return undefined;
}

/** `wrong`: a unit, and none of this kind. */
export function unitNamed(text: string, kind: KindId): UnitId | "wrong" | undefined {
  const plain = plainHeading(text).replace(/^psi[ag]$/, "psi").replace(/^bar\(?[ag]\)?$/, "bar").replace(/(?<!\s)\s+(abs(olute)?|gauge|rel)$/, "");
  if (plain === "") return undefined;
  const logged = LOGGED[kind]?.[plain];
  if (logged) return logged;
  const unit = unitOfSpelling(plain) ?? unitOfSpelling(text.trim());
  if (unit === undefined) return undefined;
  return unitFits(kind, unit) ? unit : "wrong";
}
