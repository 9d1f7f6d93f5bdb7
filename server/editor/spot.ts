// What lies under the caret, by the facts of the declaration it is in: the one query that hover, definition and references share.
import type { Phrase, Span, Text } from "../../grammar/tree.ts";
import type { CheckFact, Condition, Declaration, FigureFact, FitFact, NeedFact, Reference, WaiverFact } from "../model/declaration.ts";
import type { ProjectFile } from "../model/project.ts";
import type { Reading } from "../model/reading.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { phrasesAt } from "./steps.ts";

export interface Here {
  readonly analysis: Analysis;
  readonly file: ProjectFile;
  readonly declaration: Declaration;
  /** Offset of the declaration's text in the file. */
  readonly start: number;
  /** The caret, from the start of the declaration's text. */
  readonly offset: number;
}

export type Spot =
  | { readonly on: "key"; readonly fact: FigureFact; readonly span: Span }
  | { readonly on: "value"; readonly fact: FigureFact; readonly span: Span }
  | { readonly on: "reading"; readonly what: string; readonly reading: Reading; readonly span: Span }
  | { readonly on: "reference"; readonly reference: Reference; readonly span: Span }
  | { readonly on: "name"; readonly name: Text; readonly span: Span }
  | { readonly on: "kind"; readonly name: Text; readonly span: Span }
  | { readonly on: "need"; readonly need: NeedFact; readonly span: Span }
  | { readonly on: "condition"; readonly condition: Condition; readonly span: Span }
  | { readonly on: "rule"; readonly waiver: WaiverFact; readonly span: Span }
  | { readonly on: "statement"; readonly path: readonly Phrase[]; readonly span: Span }
  | { readonly on: "word"; readonly word: string; readonly span: Span };

/** The declaration that an offset of a file lies in. */
export function hereAt(analysis: Analysis, uri: string, offset: number): Here | undefined {
  const file = analysis.project.files.get(uri);
  if (!file) return undefined;
  const placed = file.source.declarations;
  let low = 0;
  let high = placed.length;
  while (low + 1 < high) {
    const mid = (low + high) >> 1;
    if ((placed[mid]?.start ?? 0) <= offset) low = mid;
    else high = mid;
  }
  const declaration = file.declarations[low];
  const start = placed[low]?.start;
  return declaration && start !== undefined ? { analysis, file, declaration, start, offset: offset - start } : undefined;
}

export function spotAt(here: Here): Spot | undefined {
  const d = here.declaration;
  const on = (span: Span | undefined): span is Span => span !== undefined && here.offset >= span.start && here.offset <= span.end;
  for (const fact of allFigures(d)) {
    if (on(fact.keySpan)) return { on: "key", fact, span: fact.keySpan };
    if (on(fact.span)) return { on: "value", fact, span: fact.span };
  }
  for (const measured of d.measured) {
    const reading = on(measured.span) ? measured.readings.find((r) => on(r.span)) : undefined;
    if (reading) return { on: "reading", what: measured.what.text, reading, span: reading.span };
  }
  for (const need of d.needs) {
    const condition = need.where.find((c) => on(c.span));
    if (condition) return { on: "condition", condition, span: condition.span };
    if (on(need.what.span)) return { on: "need", need, span: need.what.span };
  }
  for (const check of d.checks as readonly CheckFact[]) if (on(check.condition.span)) return { on: "condition", condition: check.condition, span: check.condition.span };
  for (const waiver of d.waivers) if (on(waiver.rule.span)) return { on: "rule", waiver, span: waiver.rule.span };
  for (const reference of d.references) if (on(reference.name.span)) return { on: "reference", reference, span: reference.name.span };
  for (const fit of d.fits as readonly FitFact[]) if (fit.inline?.kindName && on(fit.inline.kindName.span)) return { on: "kind", name: fit.inline.kindName, span: fit.inline.kindName.span };
  if (d.name && on(d.name.span)) return { on: "name", name: d.name, span: d.name.span };
  if (d.kindName && on(d.kindName.span)) return { on: "kind", name: d.kindName, span: d.kindName.span };
  const path = phrasesAt(d.tree.phrase, here.offset);
  const inner = path[path.length - 1];
  if (inner && on(inner.word.span)) return { on: "statement", path, span: inner.word.span };
  return wordAt(d, here.offset);
}

/** Every figure a declaration gives, wherever it stands in it. */
export function allFigures(d: Declaration): readonly FigureFact[] {
  return [...d.figures, ...d.fits.flatMap((f) => [...f.figures, ...(f.inline?.figures ?? [])]), ...d.measured.flatMap((m) => m.figures), ...d.records.flatMap((r) => r.figures)];
}

function wordAt(d: Declaration, offset: number): Spot | undefined {
  const text = d.tree.text;
  let start = offset;
  let end = offset;
  const inWord = (i: number) => /[A-Za-z0-9_.-]/.test(text.charAt(i));
  while (start > 0 && inWord(start - 1)) start--;
  while (end < text.length && inWord(end)) end++;
  return end > start ? { on: "word", word: text.slice(start, end), span: { start, end } } : undefined;
}
