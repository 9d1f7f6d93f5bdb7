// Findings one to a line, for programs that read logs: plain for editors and terminals, workflow commands for code hosts that annotate a change.
import { visible } from "../../grammar/visible.ts";
import type { Finding, Severity } from "../rules/finding.ts";
import { type CheckedFile, type Run, summaryOf } from "./checked.ts";
import { type Atlas, type Place, pointWords } from "./place.ts";
import { summaryLine } from "./findings-text.ts";

/** `path:line:column: severity rule: message`, and nothing else. */
export function checkPlain(files: readonly CheckedFile[]): string {
  return everyFinding(files, (f, at) => `${at ? visible(pointWords(at)) : "-:1:1"}: ${f.severity} ${f.rule}: ${visible(f.message)}`);
}

const COMMAND: Readonly<Record<Severity, string>> = { error: "error", warning: "warning", advice: "notice" };

/** A workflow command for each finding, which a code host shows beside its line, and the summary for the log. */
export function checkAnnotations(files: readonly CheckedFile[], run: Run): string {
  const commands = everyFinding(files, (f, at) => {
    const { start, end } = at?.range ?? {};
    const columns = start && end && start.line === end.line ? { col: start.column, endColumn: end.column } : {};
    const properties = { ...(at && { file: at.file, line: start?.line, endLine: end?.line }), ...columns, title: f.rule };
    return `::${COMMAND[f.severity]} ${Object.entries(properties).map(([key, value]) => `${key}=${escapedProperty(String(value))}`).join(",")}::${escaped(visible(f.message))}`;
  });
  return `${commands}${summaryLine(summaryOf(files, run))}\n`;
}

function everyFinding(files: readonly CheckedFile[], line: (f: Finding, at: Place | undefined) => string): string {
  return files.flatMap((file) => file.findings.map((f) => `${line(f, placeIn(file.atlas, f))}\n`)).join("");
}

function placeIn(atlas: Atlas, f: Finding): Place | undefined {
  return atlas.placeOf(f.at);
}

/** What a command would end at. */
function escaped(text: string): string {
  return text.replaceAll("%", "%25").replaceAll("\r", "%0D").replaceAll("\n", "%0A");
}

function escapedProperty(text: string): string {
  return escaped(text).replaceAll(":", "%3A").replaceAll(",", "%2C");
}
