// Which published checks read which formula off a sheet: the list that the page of formulas is written from, held against the tests that do it.
import { FORMULAS } from "../../server/sheet/formulas/index.ts";
import listed from "./formula-checks.json" with { type: "json" };

export const FORMULA_CHECKS: Readonly<Record<string, readonly string[]>> = listed;

const PLACE: Readonly<Record<string, string>> = { side: "(?:intake|exhaust)", fastener: "[\\w-]+" };
const PATTERNS = FORMULAS.map((f) => ({ id: f.id, pattern: new RegExp(`^${f.id.split("{each}").map((text) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")).join(PLACE[f.each ?? ""] ?? "[\\w-]+")}$`) }));

/** The formula that a value of a sheet comes from, by its id. */
export function formulaOf(valueId: string): string {
  const found = PATTERNS.find((p) => p.id === valueId) ?? PATTERNS.find((p) => p.pattern.test(valueId));
  if (!found) throw new Error(`no formula gives ${valueId}`);
  return found.id;
}

/** Pairs of check and formula, as the list has them of these checks: `check formula`, sorted. */
export function listedPairs(checks: ReadonlySet<string>): string[] {
  return Object.entries(FORMULA_CHECKS).flatMap(([formula, ids]) => ids.filter((id) => checks.has(id)).map((id) => `${id} ${formula}`)).sort();
}

/** The pairs that a test goes through, in the same form. */
export function pairsOf(read: ReadonlyMap<string, readonly string[]>): string[] {
  return [...read].flatMap(([check, values]) => [...new Set(values.map(formulaOf))].map((formula) => `${check} ${formula}`)).sort();
}
