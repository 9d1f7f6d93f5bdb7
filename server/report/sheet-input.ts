// What a sheet is made from: one build with all that was worked out and found for it. Knows no wording.
import { keyOfPath } from "../schema/lookup.ts";
import type { SheetValue } from "../sheet/evaluate.ts";
import type { Finding, Severity } from "../rules/finding.ts";
import type { CheckedSubject } from "./checked.ts";
import type { Atlas } from "./place.ts";
import type { SheetDrawing } from "./sheet-model.ts";

export interface SheetInput extends CheckedSubject {
  readonly uri: string;
  readonly atlas: Atlas;
  readonly asOf: string;
  /** The git revision that the files stand on, where the reader asked for it: the same build gives other bytes at another commit. */
  readonly revision?: string;
  /** Open findings in the engine, parts and cards that the build stands on. */
  readonly foundation: readonly Finding[];
  /** True for a sheet that everybody may see: private notes and what was paid are left out; cautions and sources never are. */
  readonly open?: boolean;
  /** Drawings by section. */
  readonly drawings?: ReadonlyMap<string, readonly SheetDrawing[]>;
}

const ORDER: Readonly<Record<Severity, number>> = { error: 0, warning: 1, advice: 2 };

/** What is open, worst first, each once. */
export function openFindings(input: SheetInput): readonly Finding[] {
  const open = [...input.findings.filter((f) => !f.waiver), ...input.foundation].filter((f) => !input.open || f.path === undefined || keyOfPath(f.path)?.private !== true);
  const seen = new Set<string>();
  const once = open.filter((f) => {
    const at = input.atlas.placeOf(f.at);
    const key = `${f.rule} ${at?.uri} ${at?.range.start.line}:${at?.range.start.column} ${f.message}`;
    return !seen.has(key) && seen.add(key);
  });
  return once.map((f, i) => ({ f, i })).sort((a, b) => ORDER[a.f.severity] - ORDER[b.f.severity] || a.i - b.i).map(({ f }) => f);
}

/** The values that this sheet may show: on an open one none that rests on a private figure. */
export function shownValues(input: SheetInput): readonly SheetValue[] {
  return input.open ? input.sheet.values.filter((v) => !v.provided.some((p) => p.fact.key.private)) : input.sheet.values;
}

export function worse(a: Severity | undefined, b: Severity): Severity {
  return a !== undefined && ORDER[a] <= ORDER[b] ? a : b;
}
