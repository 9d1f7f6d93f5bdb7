// The one door to the core: a project of files in, findings and sheets out. The only place where the phases are put in order. Knows no
// clock, file or protocol; every stage is remembered by the identity of what it was given, so an edit costs what it touches.
import type { DeclarationTree } from "../../grammar/tree.ts";
import type { Declaration, Location } from "../model/declaration.ts";
import { changedBetween, editsBetween } from "../model/edited.ts";
import { type EffectiveBuild, type Recording, effectiveOf, standsOn, withRecordings } from "../model/effective.ts";
import { type DataFile, type Places, type Project, type ProjectFile, type Scope, dataOf, filesSeenFrom, placesOf, scopeOf } from "../model/project.ts";
import type { Finding, Fix, Severity, Unchecked } from "../rules/finding.ts";
import { RULES } from "../rules/index.ts";
import type { Outcome, Summary } from "../recording/summary.ts";
import { recordingsWanted } from "../rules/recording.ts";
import type { Rule } from "../rules/rule.ts";
import { type Severities, type Taken, severitiesOf, takenSo } from "../rules/severities.ts";
import { type Held, type HeldWaiver, holdWaivers } from "../rules/waiver-state.ts";
import { keyOfPath } from "../schema/lookup.ts";
import { type Sheet, evaluate } from "../sheet/evaluate.ts";
import { FORMULAS } from "../sheet/formulas/index.ts";
import { causesOnly } from "./consequences.ts";
import { findingOf, bounded } from "./finding.ts";
import { judgedBefore } from "./succession.ts";
import { type Verdict, judge, judgeAgain } from "./verdicts.ts";

/** What was worked out for one build or engine. */
export interface SubjectResult {
  readonly uri: string;
  readonly build: EffectiveBuild;
  readonly sheet: Sheet;
  /** Waived ones among them carry their waiver. */
  readonly findings: readonly Finding[];
  readonly unchecked: readonly Unchecked[];
  /** Tune files that it names, by path; those not looked for are absent. */
  readonly data: ReadonlyMap<string, DataFile>;
  /** Its own waivers and how they stand. */
  readonly waivers: readonly HeldWaiver[];
}

export interface FileResult {
  readonly uri: string;
  readonly file: ProjectFile;
  readonly subjects: readonly SubjectResult[];
  /** All findings of the file, in the order of the text; waived ones apart. */
  readonly findings: readonly Finding[];
  readonly waived: readonly Finding[];
  /** Every waiver of the file and how it stands, in the order of the text. */
  readonly waivers: readonly HeldWaiver[];
  /** What the shop turned off. */
  readonly off: readonly Finding[];
  /** Where the rules of files looked at files that this one does not see: all that they said, as text. */
  readonly everywhere: string | undefined;
}

export interface Analysis {
  readonly project: Project;
  readonly places: Places;
  readonly asOf: string;
  fileResult(uri: string): FileResult | undefined;
  /** What a file sees. */
  scope(uri: string): Scope;
}

const byId = new Map<string, Rule>();
for (const rule of RULES) {
  byId.set(rule.id, rule);
  for (const alias of rule.aliases ?? []) byId.set(alias, rule);
}

/** The rule of an id or of an earlier id. */
export function ruleOf(id: string): Rule | undefined {
  return byId.get(id);
}

/** What was found in nearly the same files before, and those of them that see something that is another since. */
export interface Earlier {
  readonly analysis: Analysis;
  readonly touched: ReadonlySet<string>;
}
/** Results by file, and which of them rest on files that theirs does not see. */
interface Results {
  readonly byFile: Map<string, FileResult>;
  readonly everywhere: Set<string>;
}
const resultsOf = new WeakMap<Analysis, Results>();

/** What stands as it was found. */
function carried({ analysis, touched }: Earlier): Map<string, FileResult> {
  const before = resultsOf.get(analysis);
  const results = new Map(before?.byFile);
  for (const uri of touched) results.delete(uri);
  for (const uri of before?.everywhere ?? []) results.delete(uri);
  return results;
}

/**
 * Analyses a project. Results are worked out when asked for.
 * @param asOf today's date, year first; only waivers and due dates look at it.
 * @param earlier spares the files that see no change from being looked at again.
 * @param keeps files whose sheets are likely to be looked at; all where it is not given. Others are worked out again when somebody does.
 */
export function analyse(project: Project, asOf: string, { earlier, keeps = () => true }: { readonly earlier?: Earlier | undefined; readonly keeps?: (uri: string) => boolean } = {}): Analysis {
  const places = placesOf(project);
  const results = earlier && earlier.analysis.asOf === asOf ? carried(earlier) : new Map<string, FileResult>();
  const everywhere = new Set<string>();
  const scopes = new Map<string, Scope>();
  const scope = (uri: string): Scope => {
    let known = scopes.get(uri);
    if (!known) {
      known = scopeOf(project, uri);
      scopes.set(uri, known);
    }
    return known;
  };
  const analysis: Analysis = {
    project, places, asOf, scope,
    fileResult(uri) {
      const file = project.files.get(uri);
      const known = results.get(uri);
      if (!file || known?.file === file) return file && known;
      const result = asBefore(project, file, asOf) ?? analyseFile(project, file, asOf, scope(uri), keeps(uri));
      results.set(uri, result);
      if (result.everywhere !== undefined) everywhere.add(uri);
      return result;
    },
  };
  resultsOf.set(analysis, { byFile: results, everywhere });
  return analysis;
}

/** A file's result with the files it was found beside. */
interface Remembered {
  readonly asOf: string;
  readonly seen: readonly ProjectFile[];
  /** Read for what lies beside its files; those may be others by now. */
  readonly project: Omit<Project, "files" | "unreadable">;
  readonly result: FileResult;
}
const fileMemo = new WeakMap<ProjectFile, Remembered>();

/** What was found in a file before, while nothing that it sees has changed. */
function asBefore(project: Project, file: ProjectFile, asOf: string): FileResult | undefined {
  const known = fileMemo.get(file);
  if (!known || known.asOf !== asOf) return undefined;
  const { files: _files, unreadable: _unreadable, ...beside } = project;
  const before = known.project as Readonly<Record<string, unknown>>;
  if (Object.keys(beside).length !== Object.keys(before).length || Object.entries(beside).some(([what, is]) => before[what] !== is)) return undefined;
  const seen = filesSeenFrom(project, file.uri);
  return seen.length === known.seen.length && seen.every((other, i) => other === known.seen[i]) ? known.result : undefined;
}

const FILE_RULES = RULES.filter((r) => r.scope === "file");
const NONE: readonly Finding[] = [];

/** What was found in one declaration, with what it was worked out from. */
interface Settled {
  readonly asOf: string;
  readonly inFile: readonly Finding[];
  readonly subject: SubjectResult | undefined;
  readonly held: Held;
  readonly shop: Declaration | undefined;
  readonly off: readonly Finding[];
  readonly result: SubjectResult | undefined;
}
const settledMemo = new WeakMap<Declaration, Settled>();

/** What the rules of files say of one, by where it stands; with all of it as text where they looked beyond what it sees. */
function askFileRules(project: Project, file: ProjectFile, scope: Scope): { readonly inFile: ReadonlyMap<DeclarationTree, readonly Finding[]>; readonly everywhere: string | undefined } {
  const inFile = new Map<DeclarationTree, Finding[]>();
  let beyond = false;
  const everywhere = () => {
    beyond = true;
    return project;
  };
  for (const rule of FILE_RULES)
    rule.check({
      project, file, scope, everywhere,
      report: (r) => {
        const list = inFile.get(r.at.tree);
        if (list) list.push(findingOf(rule, r));
        else inFile.set(r.at.tree, [findingOf(rule, r)]);
      },
    });
  return { inFile, everywhere: beyond ? JSON.stringify([...inFile.values()].flat(), (key, value: unknown) => (key === "tree" ? undefined : value)) : undefined };
}

/** True where the rules of files say something else of a file here than they said while other files were in sight. */
export function isOtherwiseHere({ project, scope }: Analysis, uri: string, everywhere: string | undefined): boolean {
  const file = project.files.get(uri);
  return everywhere !== undefined && file !== undefined && askFileRules(project, file, scope(uri)).everywhere !== everywhere;
}

function analyseFile(project: Project, file: ProjectFile, asOf: string, scope: Scope, keeps: boolean): FileResult {
  const { inFile, everywhere } = askFileRules(project, file, scope);
  const findings: Finding[] = [];
  const waived: Finding[] = [];
  const waivers: HeldWaiver[] = [];
  const off: Finding[] = [];
  const shop = scope.shops[0]?.declaration;
  const subjects: SubjectResult[] = [];
  for (const declaration of file.declarations) {
    const subject = declaration.sort === "build" || declaration.sort === "engine" ? analyseSubject(declaration, file.uri, scope, asOf, dataFor(project, file.uri, declaration), project.recordings ?? NO_RECORDINGS, keeps && subjects.length < MOST_SHEETS) : undefined;
    const settled = settle(declaration, inFile.get(declaration.tree) ?? NONE, subject, asOf, shop);
    for (const f of settled.held.open) findings.push(f);
    for (const f of settled.held.waived) waived.push(f);
    waivers.push(...settled.held.waivers);
    off.push(...settled.off);
    if (settled.result) subjects.push(settled.result);
  }
  const result = { uri: file.uri, file, findings, waived, waivers, off, subjects, everywhere };
  // A file that is not there may turn up, one that cannot be read be so for another reason.
  const { files: _files, unreadable: _unreadable, ...beside } = project;
  if (inFile.size === 0 && everywhere === undefined) fileMemo.set(file, { asOf, seen: scope.files, project: beside, result });
  return result;
}

/** All findings of a declaration in the order of its text, with its waivers held against them. */
function settle(declaration: Declaration, inFile: readonly Finding[], subject: SubjectResult | undefined, asOf: string, shop: Declaration | undefined): Settled {
  const known = settledMemo.get(declaration);
  if (known && known.asOf === asOf && known.subject === subject && known.inFile === inFile && known.shop === shop) return known;
  const said = shop ? severities(shop).taken : NOTHING_SAID;
  const { kept: all, off } = takenSo([...declarationFindings(declaration), ...inFile, ...(subject?.findings ?? NONE)], said);
  const report = (id: string, at: Location, message: string, fixes?: readonly Fix[]) => {
    const rule = byId.get(id);
    const found = rule && findingOf(rule, { message, at, ...(fixes && { fixes }) });
    return found && takenSo([found], said).kept[0];
  };
  const { open, waived, waivers } = holdWaivers(declaration, all, asOf, ruleOf, report);
  const held = { open: [...open].sort(inOrder), waived: [...waived].sort(inOrder), waivers };
  const settled: Settled = { asOf, inFile, subject, held, shop, off, result: subject && withFindings(subject, [...held.open, ...held.waived], waivers) };
  settledMemo.set(declaration, settled);
  return settled;
}

/** Without touching the sheet, which may have been let go. */
function withFindings(subject: SubjectResult, findings: readonly Finding[], waivers: readonly HeldWaiver[]): SubjectResult {
  const { uri, build, unchecked, data } = subject;
  return { uri, build, findings, unchecked, data, waivers, get sheet() { return subject.sheet; } };
}

function inOrder(a: Finding, b: Finding): number {
  return a.at.span.start - b.at.span.start || SEVERITY_ORDER[a.severity] - SEVERITY_ORDER[b.severity] || (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0);
}

export const SEVERITY_ORDER: Readonly<Record<Severity, number>> = { error: 0, warning: 1, advice: 2 };

const NOTHING_SAID: ReadonlyMap<string, Taken> = new Map();
const severitiesMemo = new WeakMap<Declaration, Severities>();

function severities(shop: Declaration): Severities {
  let known = severitiesMemo.get(shop);
  if (!known) severitiesMemo.set(shop, (known = severitiesOf(shop, RULES, ruleOf)));
  return known;
}

const declarationMemo = new WeakMap<Declaration, readonly Finding[]>();

/** Findings that need nothing but the declaration itself. */
function declarationFindings(declaration: Declaration): readonly Finding[] {
  const known = declarationMemo.get(declaration);
  if (known) return known;
  const found: Finding[] = [];
  for (const p of declaration.problems) {
    const rule = byId.get(p.code);
    if (!rule) continue;
    found.push({
      rule: rule.id, severity: rule.severity, message: bounded(p.message), at: { tree: declaration.tree, span: p.span }, related: [],
      fixes: p.fixes.map((f) => ({ title: f.title, safe: f.safe, edits: f.edits.map((e) => ({ tree: declaration.tree, span: e.span, text: e.text })) })),
      ...(p.path !== undefined && { path: p.path }),
    });
  }
  if (declaration.sort === "shop")
    for (const { rule: id, message, span, fixes } of severities(declaration).problems) {
      const rule = byId.get(id);
      if (rule) found.push(findingOf(rule, { message, at: { tree: declaration.tree, span }, fixes }));
    }
  for (const rule of RULES) if (rule.scope === "declaration") rule.check(declaration, (r) => found.push(findingOf(rule, r)));
  declarationMemo.set(declaration, found);
  return found;
}

/** Sheets of one file that are kept once its rules have run. A sheet past them, which nobody may ever look at, is worked out again when somebody does. */
const MOST_SHEETS = 200;

const NO_DATA: ReadonlyMap<string, DataFile> = new Map();

function dataFor(project: Project, uri: string, subject: Declaration): ReadonlyMap<string, DataFile> {
  const named = project.data ? dataOf(uri, subject) : [];
  return named.length === 0 ? NO_DATA : new Map(named.flatMap((d) => { const file = project.data?.get(d.uri); return file ? [[d.path, file] as const] : []; }));
}

function sameData(a: ReadonlyMap<string, DataFile>, b: ReadonlyMap<string, DataFile>): boolean {
  return a === b || (a.size === b.size && [...a].every(([path, file]) => b.get(path) === file));
}

type Outcomes = NonNullable<Project["recordings"]>;
const NO_RECORDINGS: Outcomes = new Map();

function unjudged(summary: Summary): Outcome {
  return { summary: { ...summary, judged: {}, unjudged: [] } };
}

/** The build with its recordings, and what those that were read came to. */
function recorded(build: EffectiveBuild, uri: string, outcomes: Outcomes): EffectiveBuild {
  if (!build.subject.records.some((r) => r.word === "log")) return build;
  const recordings = recordingsWanted(build, uri).map((r): Recording => {
    const outcome = outcomes.get(r.key);
    if (outcome) return { ...r, outcome };
    // While only limits change, what was read stands until it has been judged anew.
    const earlier = [...outcomes].findLast(([key, o]) => key.startsWith(r.reading) && "summary" in o)?.[1];
    return earlier && "summary" in earlier ? { ...r, outcome: unjudged(earlier.summary), behind: true } : r;
  });
  return withRecordings(build, recordings);
}

/** A build or engine with what its result was worked out from, and what each rule said of it. */
interface Judged {
  readonly uri: string;
  readonly asOf: string;
  readonly data: ReadonlyMap<string, DataFile>;
  readonly stands: ReturnType<typeof standsOn>;
  readonly result: SubjectResult;
  /** Absent where it was looked at for the first time: most are never edited, and watching costs. */
  readonly verdicts: readonly (Verdict | undefined)[] | undefined;
  readonly sheet: Sheet | undefined;
}
const subjectMemo = new WeakMap<Declaration, Judged>();

/** Works one build or engine out, or takes it as it was when nothing that it stands on has changed. */
function analyseSubject(subject: Declaration, uri: string, scope: Scope, asOf: string, data: ReadonlyMap<string, DataFile>, outcomes: Outcomes, keepSheet: boolean): SubjectResult {
  const stands = standsOn(subject, scope);
  const known = subjectMemo.get(subject);
  if (known && known.uri === uri && known.asOf === asOf && sameData(known.data, data) && known.stands.length === stands.length && known.stands.every((d, i) => d === stands[i]) && (known.result.build.recordings ?? []).every((r) => outcomes.get(r.key) === (r.behind ? undefined : r.outcome))) return known.result;
  const earlier = known ?? subjectMemo.get(judgedBefore(subject) ?? subject);
  const build = recorded(effectiveOf(subject, scope, earlier?.result.build.slots), uri, outcomes);
  const edits = earlier && earlier.uri === uri && earlier.asOf === asOf && sameData(earlier.data, data) ? editsBetween([earlier.result.build.subject, ...earlier.stands], [subject, ...stands]) : undefined;
  const changes = edits && earlier?.verdicts && changedBetween(earlier.result.build, build, edits);
  // The result holds on to how its sheet is worked out; it must not hold on to an earlier state by that.
  const again = edits !== undefined;
  let before = changes && earlier?.sheet && { sheet: earlier.sheet, changes, edits };
  const work = () => evaluate(build, FORMULAS, (path) => keyOfPath(path)?.words ?? path, again ? () => before : undefined);
  const sheet = work();
  const context = { build, sheet, data, asOf };
  const verdicts = edits && judgeAgain(context, changes && earlier?.verdicts && { verdicts: earlier.verdicts, changes, edits });
  // An earlier state is held on to for no longer than this, or each would hold the one before it.
  before = undefined;
  const { findings: raw, unchecked } = verdicts ? { findings: verdicts.flatMap((v) => v?.findings ?? []), unchecked: verdicts.flatMap((v) => v?.unchecked ?? []) } : judge(context);
  const declarations = new Set([subject, ...(build.engine ? [build.engine] : []), ...build.parts.map((p) => p.declaration), ...build.cards.map((c) => c.declaration)]);
  const findings = causesOnly(build, sheet, raw, [...declarations].map((declaration) => ({ declaration, findings: declarationFindings(declaration) })), ruleOf).map((f) => anchored(f, build));
  let kept = keepSheet ? sheet : undefined;
  const result: SubjectResult = { uri, build, findings, unchecked, waivers: [], data, get sheet() { return (kept ??= work()); } };
  subjectMemo.set(subject, { uri, asOf, data, stands, result, verdicts, sheet: kept });
  return result;
}

/** A finding of a build stands in the build: one about a figure elsewhere points at the statement that brought it, with the figure as related place. */
function anchored(finding: Finding, build: EffectiveBuild): Finding {
  const subject = build.subject;
  if (finding.at.tree === subject.tree) return finding;
  const part = build.parts.find((p) => p.declaration.tree === finding.at.tree);
  const card = build.cards.find((c) => c.declaration.tree === finding.at.tree);
  const statement: Location = { tree: subject.tree, span: part?.fit.name?.span ?? part?.fit.span ?? card?.follow.name.span ?? subject.on?.span ?? subject.name?.span ?? subject.wordSpan };
  return { ...finding, at: statement, related: [{ message: "The figure stands here.", at: finding.at }, ...finding.related] };
}
