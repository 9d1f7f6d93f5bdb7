// The fixes that findings offer at a place, as edits by file. Knows findings; knows no protocol.
import type { Span } from "../../grammar/tree.ts";
import type { Finding, Fix } from "../rules/finding.ts";
import type { Analysis } from "../workspace/analyse.ts";

export interface FileEdit {
  readonly uri: string;
  readonly span: Span;
  readonly text: string;
}

export interface PlacedFix {
  readonly title: string;
  readonly safe: boolean;
  readonly finding: Finding;
  readonly edits: readonly FileEdit[];
}

export function fixesAt(analysis: Analysis, uri: string, span: Span): PlacedFix[] {
  const result = analysis.fileResult(uri);
  if (!result) return [];
  return result.findings.flatMap((finding) => {
    const place = analysis.places.placeOf(finding.at.tree);
    if (place?.uri !== uri) return [];
    const start = finding.at.span.start + place.start;
    const end = finding.at.span.end + place.start;
    if (end < span.start || start > span.end) return [];
    return finding.fixes.map((fix) => ({ title: fix.title, safe: fix.safe, finding, edits: editsOf(analysis, fix) }));
  });
}

/** A fix's edits where its declarations lie now. */
export function editsOf(analysis: Analysis, fix: Fix): FileEdit[] {
  return fix.edits.flatMap((edit) => {
    const place = analysis.places.placeOf(edit.tree);
    return place ? [{ uri: place.uri, span: { start: edit.span.start + place.start, end: edit.span.end + place.start }, text: edit.text }] : [];
  });
}

/** Edits of every safe fix of a file that can be made together: of fixes that touch the same text, only the first. */
export function safeFixes(analysis: Analysis, uri: string): FileEdit[] {
  const taken: FileEdit[] = [];
  for (const finding of analysis.fileResult(uri)?.findings ?? []) {
    const fix = finding.fixes.find((f) => f.safe);
    const edits = fix ? editsOf(analysis, fix) : [];
    if (edits.length > 0 && edits.every((e) => e.uri === uri && !taken.some((t) => e.span.start <= t.span.end && t.span.start <= e.span.end))) taken.push(...edits);
  }
  return taken;
}
