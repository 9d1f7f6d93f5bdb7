// Findings for programs, in the form that schemas/findings.schema.json publishes. Knows no wording of its own.
import type { Edit, Finding, Fix, Related, Severity } from "../rules/finding.ts";
import { type CheckedFile, type Run, type Summary, summaryOf } from "./checked.ts";
import type { Atlas, Range } from "./place.ts";

export interface FindingJson {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  readonly file: string;
  readonly range: Range;
  readonly related: readonly { readonly message: string; readonly file: string; readonly range: Range }[];
  readonly fixes: readonly { readonly title: string; readonly safe: boolean; readonly edits: readonly { readonly file: string; readonly range: Range; readonly text: string }[] }[];
}

export interface CheckJson {
  readonly findings: readonly FindingJson[];
  readonly summary: Summary;
}

/** The result of a check; file by file, each in the order of its text. */
export function checkJson(files: readonly CheckedFile[], run: Run): CheckJson {
  return { findings: files.flatMap((file) => file.findings.map((f) => findingJson(f, file.atlas))), summary: summaryOf(files, run) };
}

const NOWHERE: Range = { start: { line: 1, column: 1 }, end: { line: 1, column: 1 } };

export function findingJson(finding: Finding, atlas: Atlas): FindingJson {
  const at = atlas.placeOf(finding.at);
  return {
    rule: finding.rule, severity: finding.severity, message: finding.message, file: at?.file ?? "", range: at?.range ?? NOWHERE,
    related: finding.related.flatMap((r) => relatedJson(r, atlas)), fixes: finding.fixes.map((f) => fixJson(f, atlas)),
  };
}

function relatedJson(related: Related, atlas: Atlas): FindingJson["related"] {
  const at = atlas.placeOf(related.at);
  return at ? [{ message: related.message, file: at.file, range: at.range }] : [];
}

function fixJson(fix: Fix, atlas: Atlas): FindingJson["fixes"][number] {
  return { title: fix.title, safe: fix.safe, edits: fix.edits.flatMap((e) => editJson(e, atlas)) };
}

function editJson(edit: Edit, atlas: Atlas): FindingJson["fixes"][number]["edits"] {
  const at = atlas.placeOf({ tree: edit.tree, span: edit.span });
  return at ? [{ file: at.file, range: at.range, text: edit.text }] : [];
}

/** JSON as it is printed: the same data, the same bytes. */
export function printJson(data: unknown): string {
  return `${JSON.stringify(data, undefined, 2)}\n`;
}
