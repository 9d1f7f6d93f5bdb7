// Edits as hands, editors and accidents make them: keystrokes, pasted statements, moved blocks, halves of things, noise. Knows how the language
// is spelt; knows no server. The same seed makes the same edits.
import fc from "fast-check";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { STATEMENT_WORDS, TOP_WORDS, UNIT_SPELLINGS_LONGEST_FIRST } from "../../grammar/vocabulary.ts";
import { allEffectivePaths } from "../../server/schema/lookup.ts";

const ROOT = join(import.meta.dirname, "../../samples");

/** The samples, by their path below the folder. */
export const TEXTS: Readonly<Record<string, string>> = Object.fromEntries(
  readdirSync(ROOT, { recursive: true, encoding: "utf8" }).filter((n) => n.endsWith(".tappet")).sort().map((n) => [n.replaceAll("\\", "/"), readFileSync(join(ROOT, n), "utf8").replaceAll("\r\n", "\n")]),
);
export const NAMES: readonly string[] = Object.keys(TEXTS);

/** `at` and `to` are shares of the text as it then is; what they come to is the session's business. */
export type Change =
  | { readonly does: "put"; readonly at: number; readonly cut: number; readonly text: string }
  /** One character after the other, at one place. */
  | { readonly does: "type"; readonly at: number; readonly text: string }
  | { readonly does: "move" | "copy"; readonly at: number; readonly lines: number; readonly to: number }
  | { readonly does: "drop"; readonly at: number; readonly lines: number }
  | { readonly does: "digit"; readonly at: number; readonly text: string };

export interface Step {
  readonly file: number;
  readonly change: Change;
  /** Asked afterwards, at a place: an index into the session's questions, or nothing. */
  readonly ask: number | undefined;
  readonly askAt: number;
}

const rows = [...new Map([...allEffectivePaths()].map(([, row]) => [row.key, row])).values()];
const statements: readonly string[] = rows.map((row) => `${row.key}: ${row.example}`);
const words: readonly string[] = [...TOP_WORDS, ...STATEMENT_WORDS, ...UNIT_SPELLINGS_LONGEST_FIRST, ...rows.map((row) => row.key), "cold", "hot", "crank", "cam", "for", "on", "to", "then", "where", "because", "until", "intake", "exhaust", "dunlin-18", "ridgeway-272"];
const declarations: readonly string[] = Object.values(TEXTS).flatMap((text) => text.split(/\n(?=(?:engine|part|card|build|shop|use)\b)/)).filter((t) => t.length < 1500);
const marks = ["{", "}", "(", ")", "|", ":", ";", ",", "..", "±", "+/-", "<=", ">=", "…", "\"", "/*", "*/", "//", "///", "\n", "\r\n", "\r", "\t", " ", "  ", "\u00a0", "\u2028", "\ufeff", "\u0000", "\ud800", "𝛑", "é", "°", "½", "-", "1-3-4-2", "1/2", "M8x1.25", "2027-06-01", "9e999", "1e-320", "0", "-0", ".", "12.5.3", "1,5", "0.1 in", "66000 rpm"];

const place = fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true });
const number = fc.oneof(fc.integer({ min: -10, max: 100000 }).map(String), fc.double({ min: 0, max: 1000, noNaN: true }).map((x) => x.toFixed(2)));
const expression: fc.Arbitrary<string> = fc.letrec<{ sum: string }>((tie) => ({
  sum: fc.oneof({ depthSize: "small" }, number, number.map((n) => `${n} mm`), fc.tuple(tie("sum"), fc.constantFrom(" + ", " - ", " * ", " / ", "..", " ± "), tie("sum")).map((t) => t.join("")), tie("sum").map((s) => `(${s})`)),
})).sum;
const piece = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom(...words).map((w) => ` ${w}`) }, { weight: 4, arbitrary: fc.constantFrom(...marks) }, { weight: 3, arbitrary: fc.constantFrom(...statements).map((s) => `\n${s}\n`) },
  { weight: 2, arbitrary: fc.tuple(fc.constantFrom(...rows), expression).map(([row, e]) => `\n${row.key}: ${e}\n`) }, { weight: 1, arbitrary: fc.constantFrom(...declarations).map((d) => `\n${d}\n`) },
  { weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 8 }) }, { weight: 1, arbitrary: fc.tuple(fc.constantFrom("{", "(", "\"", "intake { ", "/*", "| 1 "), fc.integer({ min: 2, max: 150 })).map(([t, n]) => t.repeat(n)) },
);
const change: fc.Arbitrary<Change> = fc.oneof(
  { weight: 6, arbitrary: fc.record({ does: fc.constant("put" as const), at: place, cut: fc.constantFrom(0, 0, 0, 1, 3, 30, 200), text: piece }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant("type" as const), at: place, text: piece.map((p) => p.slice(0, 24)) }) },
  { weight: 3, arbitrary: fc.record({ does: fc.constant("put" as const), at: place, cut: fc.nat(40), text: fc.constant("") }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constantFrom("move" as const, "copy" as const), at: place, lines: fc.integer({ min: 1, max: 20 }), to: place }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("drop" as const), at: place, lines: fc.integer({ min: 1, max: 12 }) }) },
  { weight: 3, arbitrary: fc.record({ does: fc.constant("digit" as const), at: place, text: fc.constantFrom("0", "9", ".", "5", "-") }) },
);
const step: fc.Arbitrary<Step> = fc.record({ file: fc.nat(NAMES.length - 1), change, ask: fc.option(fc.nat(1000), { nil: undefined, freq: 3 }), askAt: place });

/** Steps without end, a batch at a time. */
export function* stepsFrom(seed: number): Generator<Step, never> {
  for (let batch = 0; ; batch++) yield* fc.sample(step, { seed: seed + batch, numRuns: 500 });
}

/** The edits of a text that a change comes to: `[start, end, text]`, each in the text that the one before it left. */
export function editsOf(change: Change, text: string): readonly (readonly [number, number, string])[] {
  const at = Math.floor(change.at * (text.length + 1));
  switch (change.does) {
    case "put": return [[at, Math.min(text.length, at + change.cut), change.text]];
    case "type": return [...change.text].map((c, i, all) => { const before = all.slice(0, i).join("").length; return [at + before, at + before, c] as const; });
    case "digit": {
      const digit = /\d/g;
      digit.lastIndex = at;
      const found = digit.exec(text)?.index ?? at;
      return [[found, Math.min(text.length, found + 1), change.text]];
    }
    case "drop": case "move": case "copy": {
      const start = text.lastIndexOf("\n", at - 1) + 1;
      let end = start;
      for (let i = 0; i < change.lines && end < text.length; i++) end = (text.indexOf("\n", end) + 1) || text.length;
      const cut = text.slice(start, end);
      if (change.does === "drop") return [[start, end, ""]];
      const rest = change.does === "move" ? text.slice(0, start) + text.slice(end) : text;
      const to = Math.floor(change.to * (rest.length + 1));
      return change.does === "move" ? [[start, end, ""], [to, to, cut]] : [[to, to, cut]];
    }
  }
}
