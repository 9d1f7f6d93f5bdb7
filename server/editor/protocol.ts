// Findings, spans and answers as the language-server protocol spells them: the only file that knows severities as numbers.
import type { CompletionItem, CompletionItemKind, Diagnostic, DocumentSymbol, Range, TextEdit, WorkspaceEdit } from "vscode-languageserver";
import { lineStarts, lineStartsOf, offsetAt, positionAt } from "../../grammar/source-file.ts";
import type { Position } from "../../grammar/source-file.ts";
import type { Span } from "../../grammar/tree.ts";
import type { Finding, Severity } from "../rules/finding.ts";
import type { Analysis } from "../workspace/analyse.ts";
import type { Change } from "./change.ts";
import type { Completion } from "./completion.ts";
import type { FileEdit } from "./fixes.ts";
import type { OutlineItem, PlacedItem } from "./outline.ts";

export interface Lines {
  range(span: Span): Range;
  offset(position: Position): number;
}

const known = new WeakMap<object, Lines>();

/** Lines of a file in an analysis; kept as long as the file's source lives. */
export function linesOf(analysis: Analysis, uri: string): Lines {
  const source = analysis.project.files.get(uri)?.source;
  if (!source) return linesOfText("");
  let lines = known.get(source);
  if (!lines) {
    lines = linesFrom(lineStartsOf(source), source.text.length);
    known.set(source, lines);
  }
  return lines;
}

export function linesOfText(text: string): Lines {
  return linesFrom(lineStarts(text), text.length);
}

function linesFrom(starts: readonly number[], length: number): Lines {
  return {
    range: (span) => ({ start: positionAt(starts, span.start), end: positionAt(starts, Math.max(span.start, span.end)) }),
    offset: (position) => offsetAt(starts, length, position),
  };
}

const SEVERITY_NUMBERS: Readonly<Record<Severity, 1 | 2 | 3>> = { error: 1, warning: 2, advice: 3 };

/** How the client writes the URI of a file that it has opened. */
export type Spell = (uri: string) => string;

export function diagnosticOf(analysis: Analysis, uri: string, finding: Finding, withRelated: boolean, spell: Spell): Diagnostic | undefined {
  const place = analysis.places.placeOf(finding.at.tree);
  if (place?.uri !== uri) return undefined;
  const range = linesOf(analysis, uri).range(moved(finding.at.span, place.start));
  const related = withRelated
    ? finding.related.flatMap((r) => {
        const at = analysis.places.placeOf(r.at.tree);
        return at ? [{ message: r.message, location: { uri: spell(at.uri), range: linesOf(analysis, at.uri).range(moved(r.at.span, at.start)) } }] : [];
      })
    : [];
  return {
    range, severity: SEVERITY_NUMBERS[finding.severity], code: finding.rule, source: "tappet", message: finding.message,
    ...(related.length > 0 && { relatedInformation: related }),
    ...(finding.rule === "waiver-unused" || finding.rule === "unused-part" ? { tags: [1 as const] } : {}),
  };
}

/** More than this in one file is damage, which an editor need not list line by line. */
const MOST_DIAGNOSTICS = 1000;

/** The findings of a file as an editor lists them; of very many the first, and how many more there are. */
export function diagnosticsOf(analysis: Analysis, uri: string, withRelated: boolean, spell: Spell): Diagnostic[] {
  const findings = analysis.fileResult(uri)?.findings ?? [];
  const shown = findings.slice(0, MOST_DIAGNOSTICS).flatMap((f) => diagnosticOf(analysis, uri, f, withRelated, spell) ?? []);
  const next = findings[MOST_DIAGNOSTICS];
  const at = next && diagnosticOf(analysis, uri, next, false, spell);
  if (!at) return shown;
  const rest = findings.length - MOST_DIAGNOSTICS;
  return [...shown, { range: at.range, severity: 3, source: "tappet", message: `${rest} more ${rest === 1 ? "finding is" : "findings are"} not listed from here on. Put the first ones right: others may go with them.` }];
}

export function moved(span: Span, by: number): Span {
  return { start: span.start + by, end: span.end + by };
}

const SYMBOL_KINDS: Readonly<Record<OutlineItem["sort"], 5 | 8 | 7 | 18>> = { declaration: 5, block: 8, figure: 7, table: 18 };

export function symbolOf(lines: Lines, { start, item }: PlacedItem): DocumentSymbol {
  return {
    name: item.name || "…", detail: item.detail, kind: SYMBOL_KINDS[item.sort], range: lines.range(moved(item.span, start)), selectionRange: lines.range(moved(item.nameSpan, start)),
    children: item.children.map((child) => symbolOf(lines, { start, item: child })),
  };
}

export function workspaceEditOf(analysis: Analysis, edits: readonly FileEdit[], spell: Spell): WorkspaceEdit {
  const changes: Record<string, TextEdit[]> = {};
  for (const edit of edits) (changes[spell(edit.uri)] ??= []).push({ range: linesOf(analysis, edit.uri).range(edit.span), newText: edit.text });
  return { changes };
}

/** A change that makes files too; only for clients that can make them. */
export function workspaceChangeOf(analysis: Analysis, change: Change, spell: Spell): WorkspaceEdit {
  if (change.creates.length === 0) return workspaceEditOf(analysis, change.edits, spell);
  const start = { line: 0, character: 0 };
  return {
    documentChanges: [
      ...change.creates.flatMap(({ uri, text }) => [{ kind: "create" as const, uri, options: { overwrite: false, ignoreIfExists: false } }, { textDocument: { uri, version: null }, edits: [{ range: { start, end: start }, newText: text }] }]),
      ...Object.entries(workspaceEditOf(analysis, change.edits, spell).changes ?? {}).map(([uri, edits]) => ({ textDocument: { uri, version: null }, edits })),
    ],
  };
}

const COMPLETION_KINDS: Readonly<Record<Completion["sort"], CompletionItemKind>> = { key: 10, block: 9, statement: 14, unit: 11, word: 20, name: 18, value: 12, file: 17, folder: 19 };

export function completionItemOf(lines: Lines, completion: Completion, withSnippets: boolean): CompletionItem {
  const also = completion.also;
  const snippet = withSnippets ? completion.snippet : undefined;
  return {
    label: completion.label, kind: COMPLETION_KINDS[completion.sort], detail: completion.detail, ...(completion.documentation !== undefined && { documentation: completion.documentation }),
    sortText: `${String(Math.round((completion.rank + 10) * 100)).padStart(6, "0")}${completion.label}`, filterText: completion.label,
    insertTextFormat: snippet === undefined ? 1 : 2, textEdit: { range: lines.range(completion.span), newText: snippet ?? completion.text },
    ...(also && { additionalTextEdits: [{ range: lines.range(also.span), newText: also.text }] }),
  };
}
