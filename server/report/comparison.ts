// What changed between two states of build files and what follows from it, as data: counts first, then what was changed, then the values,
// margins and findings that differ in consequence. Every print is made from this. Knows no git and no format.
import type { Severity } from "../rules/finding.ts";
import type { ChangeSort, Renamed } from "../sheet/changes.ts";
import type { Place } from "./place.ts";

export interface Comparison {
  readonly before: ComparedState;
  readonly after: ComparedState;
  readonly asOf: string;
  readonly counts: ComparisonCounts;
  /** Builds, and engines that no build here stands on, in the order of their names. Those without a difference are left out and counted. */
  readonly builds: readonly BuildComparison[];
  /** Engines, parts and cards that differ and that no compared build stands on. */
  readonly loose: readonly LooseComparison[];
  /** Findings that belong to no compared build. */
  readonly elsewhere: readonly ComparedFinding[];
  /** What could not be read on either side, a sentence each. */
  readonly notes: readonly string[];
}

export interface ComparedState {
  /** As a person calls it: "main (3f9c21d)", "the files as they are", "spring/wren.tappet". */
  readonly label: string;
  /** The full id of the revision; absent for files. */
  readonly revision?: string;
}

export interface ComparisonCounts {
  /** Builds that differ, that came, that went, and that are the same. */
  readonly changed: number;
  readonly added: number;
  readonly removed: number;
  readonly same: number;
  readonly causes: number;
  readonly values: number;
  readonly margins: number;
  readonly findings: Readonly<Record<FindingChange, number>>;
  /** Findings at error level that were not there before, or were not errors. */
  readonly newErrors: number;
}

export interface BuildComparison {
  readonly name: string;
  readonly title: string;
  readonly fate: "changed" | "added" | "removed";
  readonly is: "build" | "engine";
  /** The file before and after. */
  readonly from?: string;
  readonly to?: string;
  readonly renamed: readonly Renamed[];
  readonly causes: readonly Cause[];
  /** Figures that were only written in another unit. */
  readonly respelt: readonly Cause[];
  readonly values: readonly ComparedValue[];
  readonly margins: readonly ComparedMargin[];
  readonly findings: readonly ComparedFinding[];
  readonly unchecked: readonly ComparedUnchecked[];
  readonly tune?: ComparedTune;
}

/** Something a person changed. */
export interface Cause {
  /** From one, within its build: consequences name their causes by it. */
  readonly number: number;
  readonly sort: ChangeSort;
  readonly path: string;
  readonly label: string;
  readonly from?: CauseSide;
  readonly to?: CauseSide;
}

export interface CauseSide {
  readonly text: string;
  readonly origin: string;
  readonly place?: Place;
}

export interface Ends {
  readonly low: number;
  readonly nominal: number;
  readonly high: number;
}

export interface ComparedValue {
  readonly id: string;
  readonly label: string;
  readonly section: string;
  /** Of a value as measured: where. Empty for the value as specified. */
  readonly measured: boolean;
  readonly at: string;
  readonly from: string;
  readonly to: string;
  /** In `unit`; null where it could not be worked out. */
  readonly fromNumbers: Ends | null;
  readonly toNumbers: Ends | null;
  readonly unit: string;
  /** True where both read the same in the digits a sheet shows. */
  readonly unseen: boolean;
  readonly causes: readonly number[];
}

export interface ComparedMargin {
  readonly id: string;
  readonly label: string;
  /** The limits that counted, with who set them; empty where there was none. */
  readonly fromLimit: string;
  readonly toLimit: string;
  readonly from: string;
  readonly to: string;
  /** True where less is left than before, also while every rule is kept. */
  readonly lost: boolean;
  /** Whether the limit is kept now. */
  readonly kept: boolean;
  readonly causes: readonly number[];
}

/** `waived` and `unwaived`: still found, and silenced now or no longer. `changed`: the same with other figures. */
export type FindingChange = "new" | "gone" | "worse" | "better" | "changed" | "waived" | "unwaived";

export interface ComparedFinding {
  readonly change: FindingChange;
  readonly rule: string;
  readonly path?: string;
  readonly from?: FindingSide;
  readonly to?: FindingSide;
  readonly causes: readonly number[];
}

export interface FindingSide {
  readonly severity: Severity;
  readonly message: string;
  readonly place?: Place;
}

/** A critical thing that could be checked before and cannot be now, or the other way round. */
export interface ComparedUnchecked {
  readonly change: "no longer checked" | "checked now";
  readonly what: string;
  readonly missing: readonly string[];
}

export interface ComparedTune {
  readonly from: string;
  readonly to: string;
  /** True where the tune that is in the engine was made for other figures than it has now. */
  readonly stale: boolean;
}

export interface LooseComparison {
  readonly sort: "engine" | "part" | "card";
  readonly name: string;
  readonly fate: "changed" | "added" | "removed";
  readonly from?: string;
  readonly to?: string;
  readonly causes: readonly Cause[];
}

/** True where nothing at all is different in what the files say and in what follows. */
export function isEmpty({ builds, loose, elsewhere }: Comparison): boolean {
  return builds.length + loose.length + elsewhere.length === 0;
}

export function countsOf(builds: readonly BuildComparison[], loose: readonly LooseComparison[], elsewhere: readonly ComparedFinding[], same: number): ComparisonCounts {
  const fate = (which: BuildComparison["fate"]) => builds.filter((b) => b.fate === which).length;
  const findings = [...builds.flatMap((b) => b.findings), ...elsewhere];
  const of = (change: FindingChange) => findings.filter((f) => f.change === change).length;
  return {
    changed: fate("changed"), added: fate("added"), removed: fate("removed"), same,
    causes: [...builds, ...loose].reduce((n, b) => n + b.causes.length, 0),
    values: builds.reduce((n, b) => n + new Set(b.values.filter((v) => !v.unseen).map((v) => v.id)).size, 0),
    margins: builds.reduce((n, b) => n + b.margins.length, 0),
    findings: { new: of("new"), gone: of("gone"), worse: of("worse"), better: of("better"), changed: of("changed"), waived: of("waived"), unwaived: of("unwaived") },
    newErrors: findings.filter(isNewError).length,
  };
}

/** At error level now and not before: what stops a merge. */
export function isNewError({ change, from, to }: ComparedFinding): boolean {
  return to?.severity === "error" && (change === "new" || change === "unwaived" || (change === "worse" && from?.severity !== "error"));
}
