// The line above a build: its verdict in a few words and three telling figures. Offsets in the file out; knows no protocol.
import { formattedValue } from "../sheet/trace.ts";
import type { Analysis, SubjectResult } from "../workspace/analyse.ts";
import { counted } from "../report/wording.ts";

export interface Lens {
  readonly at: number;
  readonly text: string;
  /** The build's name, for opening its sheet. */
  readonly build: string;
}

/** With fewer values worked out than this, a sheet is hardly begun. */
const LITTLE_KNOWN = 12;

const TELLING = ["displacement.total", "compression.static", "piston-speed.mean"] as const;

export function lensesOf(analysis: Analysis, uri: string): Lens[] {
  const subjects = analysis.fileResult(uri)?.subjects ?? [];
  return subjects.flatMap((subject) => {
    const d = subject.build.subject;
    const place = analysis.places.placeOf(d.tree);
    return d.sort === "build" && place ? [{ at: place.start + d.wordSpan.start, text: [verdictOf(subject), ...figuresOf(subject)].join("  ·  "), build: d.name?.text ?? "" }] : [];
  });
}

/** The verdict on the build at an offset, else on the file's first build; null for a file without one. */
export function verdictAt(analysis: Analysis, uri: string, offset: number): { readonly text: string; readonly severity: "error" | "warning" | "none"; readonly build: string } | null {
  const builds = (analysis.fileResult(uri)?.subjects ?? []).filter((s) => s.build.subject.sort === "build");
  const at = (s: SubjectResult) => {
    const start = analysis.places.placeOf(s.build.subject.tree)?.start ?? 0;
    return offset >= start && offset <= start + s.build.subject.tree.text.length;
  };
  const subject = builds.find(at) ?? builds[0];
  if (!subject) return null;
  const open = subject.findings.filter((f) => !f.waiver);
  const severity = open.some((f) => f.severity === "error") ? "error" : open.some((f) => f.severity === "warning") ? "warning" : "none";
  return { text: verdictOf(subject), severity, build: subject.build.subject.title ?? subject.build.subject.name?.text ?? "" };
}

/** Never "ready": what was found, and how much could not be checked. */
export function verdictOf(subject: SubjectResult): string {
  const open = subject.findings.filter((f) => !f.waiver);
  const errors = open.filter((f) => f.severity === "error").length;
  const warnings = open.filter((f) => f.severity === "warning").length;
  const unchecked = subject.unchecked.length;
  if (errors > 0) return `${counted(errors, "thing")} ${errors === 1 ? "stops" : "stop"} this engine`;
  if (warnings > 0) return `${counted(warnings, "thing")} to look at`;
  if (unchecked > 0) return `nothing found that stops it; ${counted(unchecked, "critical thing")} not checked`;
  // Of an engine of which hardly anything is written, hardly anything can be found.
  const known = subject.sheet.values.filter((v) => !v.formula.quiet && v.interval).length;
  return known < LITTLE_KNOWN ? "nothing found that stops it in the little that is written" : "nothing found that stops it";
}

function figuresOf(subject: SubjectResult): string[] {
  return TELLING.flatMap((id) => {
    const value = subject.sheet.byId.get(id);
    if (!value?.interval) return [];
    const text = formattedValue(value);
    return [id === "compression.static" ? `${text}:1` : text];
  });
}
