// While a text cannot be read in places, the sheet keeps what those places decided as it was last worked out, marked as such, so that a page
// does not empty itself under a person who is typing. Exports never keep anything: they say what the text says now.
import type { SheetModel, SheetSection, ValueRow } from "./sheet-model.ts";
import { listed } from "./wording.ts";

/** The sheet with what the last readable text gave where this one gives nothing. `troubles` says in words where the text cannot be read. */
export function keepingLast(model: SheetModel, last: SheetModel, troubles: readonly string[]): SheetModel {
  let kept = 0;
  const sections = model.sections.map((section) => {
    const before = last.sections.find((s) => s.id === section.id);
    const merged = before ? sectionWithLast(section, before) : section;
    kept += merged.values.filter((v) => v.kept).length;
    return merged;
  });
  return kept === 0 ? model : { ...model, sections, kept: keptWords(troubles) };
}

/** The last sheet as a whole, for a text in which what it was of can no longer be found. */
export function nothingButLast(last: SheetModel, troubles: readonly string[]): SheetModel {
  return { ...last, findings: last.findings.map((f) => ({ ...f, fixes: [] })), sections: last.sections.map((s) => ({ ...s, values: s.values.map(asKept) })), kept: keptWords(troubles) };
}

function keptWords(troubles: readonly string[]): string {
  const where = troubles.length > 0 ? ` (${listed(troubles)})` : "";
  return `The text cannot be read in ${troubles.length === 1 ? "one place" : `${troubles.length} places`}${where}, or says what cannot be: what hangs on it is shown as it was last worked out, in grey.`;
}

/** Values that the text no longer gives stand where they stood before. */
function sectionWithLast(section: SheetSection, last: SheetSection): SheetSection {
  const gone = new Set(section.missing.map((m) => m.id));
  const now = new Map(section.values.map((v) => [v.id, v]));
  const was = new Set(last.values.map((v) => v.id));
  const values = [...last.values.flatMap((v) => now.get(v.id) ?? (gone.has(v.id) ? [asKept(v)] : [])), ...section.values.filter((v) => !was.has(v.id))];
  return { ...section, values, missing: section.missing.filter((m) => !was.has(m.id)) };
}

function asKept(row: ValueRow): ValueRow {
  // Its limit and its lines belong to the text as it was: neither is judged by nor leads into the text as it is.
  const { limit: _limit, mark: _mark, ...rest } = row;
  return { ...rest, kept: true, trace: { ...row.trace, inputs: row.trace.inputs.map(({ place: _place, ...input }) => input) } };
}
