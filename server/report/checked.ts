// What a check came to, file by file, and its summary: counts, what was waived, and which critical things no rule could check.
// Knows no output format.
import type { Declaration } from "../model/declaration.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import type { DataFile } from "../model/project.ts";
import type { Finding, Severity, Unchecked } from "../rules/finding.ts";
import type { HeldWaiver } from "../rules/waiver-state.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import type { Atlas } from "./place.ts";

/** One build, or one engine by itself. */
export interface CheckedSubject {
  readonly build: EffectiveBuild;
  readonly sheet: Sheet;
  /** Waived ones among them carry their waiver. */
  readonly findings: readonly Finding[];
  readonly unchecked: readonly Unchecked[];
  /** Tune files that it names, by path. */
  readonly data: ReadonlyMap<string, DataFile>;
  readonly waivers: readonly HeldWaiver[];
}

export interface CheckedFile {
  /** What the shop turned off. */
  readonly off: readonly Finding[];
  readonly uri: string;
  readonly atlas: Atlas;
  readonly findings: readonly Finding[];
  readonly waived: readonly Finding[];
  readonly subjects: readonly CountedSubject[];
}

/** A file with its waivers and how they stand. */
export interface WaivedFile extends CheckedFile {
  readonly waivers: readonly HeldWaiver[];
}

/** As much of a subject as is counted. */
export interface CountedSubject {
  readonly build: Pick<EffectiveBuild, "subject">;
  readonly unchecked: readonly Unchecked[];
}

export interface NotChecked {
  readonly build: string;
  readonly what: string;
  /** Paths of the figures that would let it be checked. */
  readonly missing: readonly string[];
}

export interface Summary extends Readonly<Record<Severity, number>> {
  readonly waived: number;
  /** What the shop turned off, by rule. */
  readonly off: Readonly<Record<string, number>>;
  readonly files: number;
  readonly builds: number;
  /** How many rules were looked at. */
  readonly rules: number;
  /** The day that waivers and due dates were held against. */
  readonly asOf: string;
  readonly notChecked: readonly NotChecked[];
}

export interface Run {
  readonly rules: number;
  readonly asOf: string;
}

export function summaryOf(files: readonly CheckedFile[], run: Run): Summary {
  const count = (severity: Severity) => files.reduce((n, file) => n + file.findings.filter((f) => f.severity === severity).length, 0);
  const builds = files.flatMap((file) => file.subjects).filter((s) => s.build.subject.sort === "build");
  return {
    error: count("error"), warning: count("warning"), advice: count("advice"), waived: files.reduce((n, file) => n + file.waived.length, 0), off: offOf(files),
    files: files.length, builds: builds.length, rules: run.rules, asOf: run.asOf, notChecked: builds.flatMap(notCheckedOf),
  };
}

function offOf(files: readonly CheckedFile[]): Readonly<Record<string, number>> {
  const counts = new Map<string, number>();
  for (const { off } of files) for (const { rule } of off) counts.set(rule, (counts.get(rule) ?? 0) + 1);
  return Object.fromEntries([...counts].sort(([a], [b]) => (a < b ? -1 : 1)));
}

export function notCheckedOf(subject: CountedSubject): NotChecked[] {
  return subject.unchecked.map((u) => ({ build: nameOfSubject(subject.build.subject), what: u.what, missing: u.missing.map((m) => m.path) }));
}

export function nameOfSubject(subject: Declaration): string {
  return subject.name?.text ?? subject.title ?? subject.sort;
}
