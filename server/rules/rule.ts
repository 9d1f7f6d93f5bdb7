// What a rule is: one file with its page, its limit's origin, its examples and its check. Knows findings, not where they are shown.
import type { Declaration, Location } from "../model/declaration.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import type { DataFile, Project, ProjectFile, Scope } from "../model/project.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import type { Amount, Finding, Fix, Related, Severity } from "./finding.ts";

/** The page a person reads: hover, `explain`, the docs. */
export interface RulePage {
  /** One sentence: what it checks. */
  readonly summary: string;
  /** Why it matters at the bench. */
  readonly why: string;
  /** How the limit is worked out and in which order it is looked for. */
  readonly limit: string;
  /** A standard, a table, or "common practice, no source". */
  readonly source: string;
  /** What to do about it. */
  readonly remedy: string;
  /** Files that fire it exactly once and not at all. A line `--- name.tappet` starts another file; the first unnamed one is checked. Executed as tests. */
  readonly bad: string;
  readonly good: string;
  /** Ids of schema/cautions.ts shown with it. */
  readonly cautions?: readonly string[];
}

export interface Report {
  readonly message: string;
  readonly at: Location;
  readonly severity?: Severity;
  readonly related?: readonly Related[];
  readonly fixes?: readonly Fix[];
  readonly path?: string;
  readonly amount?: Amount;
}

export interface BuildContext {
  readonly build: EffectiveBuild;
  readonly sheet: Sheet;
  /** Tune files that the build names, by the path it names them with; those not looked for are absent. */
  readonly data: ReadonlyMap<string, DataFile>;
  /** The day that due dates are held against, year first. */
  readonly asOf: string;
  readonly report: (finding: Report) => void;
  /** Says that something critical could not be checked for want of these figures. */
  readonly unchecked: (what: string, missing: readonly { readonly path: string; readonly words: string }[]) => void;
  /** Does a part of the rule's work that stands for itself: after an edit it is done again only where something that it looks at changed. Names are the rule's own. */
  readonly apart: (name: string, work: () => void) => void;
}

export interface FileContext {
  /** For what the file sees; what is looked for further off is looked for `everywhere`. */
  readonly project: Project;
  readonly file: ProjectFile;
  readonly scope: Scope;
  /** Every file there is. What was found is then found again whenever any of them changes. */
  readonly everywhere: () => Project;
  readonly report: (finding: Report) => void;
}

interface RuleBase {
  readonly id: string;
  readonly severity: Severity;
  readonly page: RulePage;
  /** Earlier ids that still mean this rule. */
  readonly aliases?: readonly string[];
  /** True where what it finds breaks engines: a waiver then needs a date as well as a reason. */
  readonly breaksEngines?: boolean;
  /** True where a check fails by it though it stops no engine: a promise that was not kept. */
  readonly failsCheck?: true;
}

/** Reports what lowering noted under this id; it needs no check of its own. */
export interface TextRule extends RuleBase {
  readonly scope: "text";
}

export interface DeclarationRule extends RuleBase {
  readonly scope: "declaration";
  readonly check: (declaration: Declaration, report: (finding: Report) => void) => void;
  /** What shows only once the declaration is laid over what it stands on; looked at for engines by themselves and for builds. */
  readonly checkBuild?: (context: BuildContext) => void;
}

export interface FileRule extends RuleBase {
  readonly scope: "file";
  readonly check: (context: FileContext) => void;
}

export interface BuildRule extends RuleBase {
  readonly scope: "build";
  /** Looked at for engines by themselves, for builds, or both. */
  readonly on: readonly ("engine" | "build")[];
  readonly check: (context: BuildContext) => void;
}

/** Rules about waivers, worked out after all others. Dates are compared with `asOf`. */
export interface WaiverRule extends RuleBase {
  readonly scope: "waiver";
}

/** Rules about what a shop says of other rules, worked out where that is laid over findings. */
export interface ShopRule extends RuleBase {
  readonly scope: "shop";
}

export type Rule = TextRule | DeclarationRule | FileRule | BuildRule | WaiverRule | ShopRule;

export type { Finding };
