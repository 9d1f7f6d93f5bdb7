// Findings as a SARIF 2.1.0 log, for code hosts and viewers: rules with their pages, places, fixes, and waivers as suppressions in the source.
// The standard is OASIS "Static Analysis Results Interchange Format (SARIF) Version 2.1.0"; section numbers below are its own.
import type { Fix as SarifFix, Location as SarifLocation, Log, ReportingDescriptor, Result } from "sarif";
import type { Finding, Fix, Severity } from "../rules/finding.ts";
import { RULES } from "../rules/index.ts";
import type { Rule } from "../rules/rule.ts";
import type { CheckedFile } from "./checked.ts";
import { nameOfSubject } from "./checked.ts";
import type { Atlas, Place, Range } from "./place.ts";

export interface SarifTool {
  readonly version: string;
  /** A sentence for each file that was asked for and could not be read. */
  readonly unread: readonly string[];
}

const LEVEL: Readonly<Record<Severity, Result.level>> = { error: "error", warning: "warning", advice: "note" };

/** The same files give the same bytes: no time, no machine's paths. */
export function checkSarif(files: readonly CheckedFile[], tool: SarifTool): Log {
  const all = files.flatMap((file) => [...file.findings, ...file.waived].map((finding) => ({ finding, file })));
  const ids = new Set(all.map(({ finding }) => finding.rule));
  const rules = RULES.filter((r) => ids.has(r.id));
  const indexOf = new Map(rules.map((r, i) => [r.id, i]));
  const counts = new Map<string, number>();
  return {
    $schema: "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
    version: "2.1.0",
    runs: [{
      tool: { driver: { name: "tappet", semanticVersion: tool.version, rules: rules.map(ruleOf) } },
      invocations: [{ executionSuccessful: tool.unread.length === 0, ...(tool.unread.length > 0 && { toolExecutionNotifications: tool.unread.map((sentence) => ({ level: "error" as const, message: message(sentence) })) }) }],
      columnKind: "utf16CodeUnits",
      originalUriBaseIds: { SRCROOT: { description: { text: "The folder that the check was started in." } } },
      results: all.map(({ finding, file }) => resultOf(finding, file, indexOf.get(finding.rule) ?? -1, counts)),
    }],
  };
}

function ruleOf({ id, severity, page, breaksEngines, aliases }: Rule): ReportingDescriptor {
  return {
    id, ...(aliases && aliases.length > 0 && { deprecatedIds: [...aliases] }), shortDescription: { text: braces(page.summary) }, fullDescription: { text: braces(page.why) },
    help: {
      text: braces([page.why, `How the limit is worked out: ${page.limit}`, `Source: ${page.source}`, `What to do: ${page.remedy}`].join("\n\n")),
      markdown: braces([page.why, `**How the limit is worked out.** ${page.limit}`, `**Source.** ${page.source}`, `**What to do.** ${page.remedy}`, "**An example that it finds**", fenced(page.bad), "**An example in order**", fenced(page.good)].join("\n\n")),
    },
    defaultConfiguration: { level: LEVEL[severity] },
    ...(breaksEngines && { properties: { tags: ["breaks-engines"] } }),
  };
}

function fenced(example: string): string {
  return `\`\`\`tappet\n${example.trim()}\n\`\`\``;
}

function resultOf(finding: Finding, file: CheckedFile, ruleIndex: number, counts: Map<string, number>): Result {
  const { atlas } = file;
  const at = atlas.placeOf(finding.at);
  const subject = finding.subject && nameOfSubject(finding.subject);
  const related = finding.related.flatMap((r, i): SarifLocation[] => {
    const place = atlas.placeOf(r.at);
    return place ? [{ id: i, ...physical(place), message: message(r.message) }] : [];
  });
  const logical = [subject, finding.path].filter((step) => step !== undefined).join(".");
  return {
    ruleId: finding.rule, ...(ruleIndex >= 0 && { ruleIndex }), level: LEVEL[finding.severity], message: message(finding.message),
    locations: at ? [{ ...physical(at), ...(logical !== "" && { logicalLocations: [{ fullyQualifiedName: logical, kind: "member" }] }) }] : [],
    ...(related.length > 0 && { relatedLocations: related }),
    partialFingerprints: { "figure/v1": fingerprint(finding, subject ?? at?.file ?? "", counts) },
    ...(finding.fixes.length > 0 && { fixes: finding.fixes.map((f) => fixOf(f, atlas)) }),
    ...(finding.waiver && { suppressions: [{ kind: "inSource" as const, status: "accepted" as const, justification: finding.waiver.because ?? "" }] }),
  };
}

/** Rule, build and figure, never a line: the same finding is known again wherever its line moves. What is found twice is told apart by its order. */
function fingerprint(finding: Finding, home: string, counts: Map<string, number>): string {
  const own = [finding.rule, home, finding.path ?? ""].join("|");
  const n = (counts.get(own) ?? 0) + 1;
  counts.set(own, n);
  return `${own}|${n}`;
}

function fixOf(fix: Fix, atlas: Atlas): SarifFix {
  const byFile = new Map<string, { place: Place; text: string }[]>();
  for (const edit of fix.edits) {
    const place = atlas.placeOf(edit);
    if (!place) continue;
    const own = byFile.get(place.file);
    if (own) own.push({ place, text: edit.text });
    else byFile.set(place.file, [{ place, text: edit.text }]);
  }
  return {
    description: message(fix.title),
    artifactChanges: [...byFile].map(([file, edits]) => ({ artifactLocation: artifact(file), replacements: edits.map(({ place, text }) => ({ deletedRegion: region(place.range), insertedContent: { text } })) })),
  };
}

function physical({ file, range }: Place): Pick<SarifLocation, "physicalLocation"> {
  return { physicalLocation: { artifactLocation: artifact(file), region: region(range) } };
}

function artifact(file: string): { uri: string; uriBaseId: string } {
  return { uri: file.split("/").map((step) => encodeURIComponent(step.toWellFormed())).join("/"), uriBaseId: "SRCROOT" };
}

function region({ start, end }: Range): { startLine: number; startColumn: number; endLine: number; endColumn: number } {
  return { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column };
}

function message(text: string): { text: string } {
  return { text: braces(text) };
}

/** Section 3.11.5: a brace that is meant is written twice. */
function braces(text: string): string {
  return text.replaceAll("{", "{{").replaceAll("}", "}}");
}
