// The one door to the core: a project of files in, findings and sheets out. The only place where the phases are put in order. Knows no
// clock, file or protocol; every stage is remembered by the identity of what it was given, so an edit costs what it touches.
import type { DeclarationTree } from "../../grammar/tree.ts";
import type { Declaration, Location, WaiverFact } from "../model/declaration.ts";
import { type EffectiveBuild, effectiveOf } from "../model/effective.ts";
import { type Places, type Project, type ProjectFile, type Scope, placesOf, scopeOf } from "../model/project.ts";
import type { Finding, Severity, Unchecked } from "../rules/finding.ts";
import { RULES } from "../rules/index.ts";
import type { Report, Rule } from "../rules/rule.ts";
import { keyOfPath } from "../schema/lookup.ts";
import { type Sheet, evaluate } from "../sheet/evaluate.ts";
import { FORMULAS } from "../sheet/formulas/index.ts";

/** What was worked out for one build or engine. */
export interface SubjectResult {
  readonly uri: string;
  readonly build: EffectiveBuild;
  readonly sheet: Sheet;
  readonly scope: Scope;
  /** Waived ones among them carry their waiver. */
  readonly findings: readonly Finding[];
  readonly unchecked: readonly Unchecked[];
}

export interface FileResult {
  readonly uri: string;
  readonly file: ProjectFile;
  readonly subjects: readonly SubjectResult[];
  /** All findings of the file, in the order of the text; waived ones apart. */
  readonly findings: readonly Finding[];
  readonly waived: readonly Finding[];
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

/**
 * Analyses a project. Results are worked out when asked for.
 * @param asOf today's date, year first; only waivers and due dates look at it.
 */
export function analyse(project: Project, asOf: string): Analysis {
  const places = placesOf(project);
  const results = new Map<string, FileResult | undefined>();
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
      if (results.has(uri)) return results.get(uri);
      const file = project.files.get(uri);
      const result = file && analyseFile(project, file, places, asOf, scope(uri));
      results.set(uri, result);
      return result;
    },
  };
  return analysis;
}

function analyseFile(project: Project, file: ProjectFile, places: Places, asOf: string, scope: Scope): FileResult {
  const all: Finding[] = [];
  for (const declaration of file.declarations) all.push(...declarationFindings(declaration));
  for (const rule of RULES) {
    if (rule.scope !== "file") continue;
    rule.check({ project, file, scope, report: (r) => all.push(findingOf(rule, r)) });
  }
  const subjects = file.declarations.filter((d) => d.sort === "build" || d.sort === "engine").map((d) => analyseSubject(d, file.uri, scope));
  for (const subject of subjects) all.push(...subject.findings);
  const { open, waived } = applyWaivers(file.declarations, all, asOf);
  const startOf = (tree: DeclarationTree) => places.placeOf(tree)?.start ?? 0;
  const inOrder = (a: Finding, b: Finding) =>
    startOf(a.at.tree) + a.at.span.start - startOf(b.at.tree) - b.at.span.start || SEVERITY_ORDER[a.severity] - SEVERITY_ORDER[b.severity] || (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0);
  const sorted = open.sort(inOrder);
  const bySubject = (d: Declaration) => ({ open: sorted.filter((f) => f.subject === d || f.at.tree === d.tree), waived: waived.filter((f) => f.subject === d || f.at.tree === d.tree) });
  return {
    uri: file.uri, file, findings: sorted, waived: waived.sort(inOrder),
    subjects: subjects.map((s) => ({ ...s, findings: [...bySubject(s.build.subject).open, ...bySubject(s.build.subject).waived] })),
  };
}

export const SEVERITY_ORDER: Readonly<Record<Severity, number>> = { error: 0, warning: 1, advice: 2 };

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
      rule: rule.id, severity: rule.severity, message: p.message, at: { tree: declaration.tree, span: p.span }, related: [],
      fixes: p.fixes.map((f) => ({ title: f.title, safe: f.safe, edits: f.edits.map((e) => ({ tree: declaration.tree, span: e.span, text: e.text })) })),
      ...(p.path !== undefined && { path: p.path }),
    });
  }
  for (const rule of RULES) if (rule.scope === "declaration") rule.check(declaration, (r) => found.push(findingOf(rule, r)));
  declarationMemo.set(declaration, found);
  return found;
}

function analyseSubject(subject: Declaration, uri: string, scope: Scope): SubjectResult {
  const build = effectiveOf(subject, scope);
  const sheet = evaluate(build, FORMULAS, (path) => keyOfPath(path)?.words ?? path);
  const findings: Finding[] = [];
  const unchecked: Unchecked[] = [];
  const sort = subject.sort === "build" ? "build" : "engine";
  for (const rule of RULES) {
    const check = rule.scope === "build" && rule.on.includes(sort) ? rule.check : rule.scope === "declaration" ? rule.checkBuild : undefined;
    check?.({
      build, sheet, scope,
      report: (r) => findings.push(anchored({ ...findingOf(rule, r), subject }, build)),
      unchecked: (what, missing) => unchecked.push({ rule: rule.id, what, missing }),
    });
  }
  return { uri, build, sheet, scope, findings, unchecked };
}

function findingOf(rule: Rule, r: Report): Finding {
  return { rule: rule.id, severity: r.severity ?? rule.severity, message: r.message, at: r.at, related: r.related ?? [], fixes: r.fixes ?? [], ...(r.path !== undefined && { path: r.path }) };
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

function applyWaivers(declarations: readonly Declaration[], findings: readonly Finding[], asOf: string): { open: Finding[]; waived: Finding[] } {
  const waivers = declarations.flatMap((d) => d.waivers.map((waiver) => ({ declaration: d, waiver })));
  if (waivers.length === 0) return { open: [...findings], waived: [] };
  const used = new Set<WaiverFact>();
  const open: Finding[] = [];
  const waived: Finding[] = [];
  for (const finding of findings) {
    const match = waivers.find(({ declaration, waiver }) => covers(declaration, waiver, finding) && granted(waiver, finding, asOf));
    if (match) {
      used.add(match.waiver);
      waived.push({ ...finding, waiver: match.waiver });
    } else open.push(finding);
  }
  const add = (id: string, at: Location, message: string) => {
    const rule = byId.get(id);
    if (rule) open.push(findingOf(rule, { message, at }));
  };
  for (const { declaration, waiver } of waivers) {
    const at = { tree: declaration.tree, span: waiver.rule.span };
    const rule = byId.get(waiver.rule.text);
    if (!rule) {
      add("waiver-unknown-rule", at, `There is no finding called \`${waiver.rule.text}\`. Use the name that the finding itself shows.`);
      continue;
    }
    if (!waiver.because?.trim()) add("waiver-without-reason", at, `This waiver of \`${rule.id}\` gives no reason, so it silences nothing. Add because "…" in your own words.`);
    else if (rule.breaksEngines && !waiver.until) add("waiver-without-date", at, `\`${rule.id}\` breaks engines: waiving it needs a date as well as a reason. Add until and a date.`);
    else if (waiver.until && waiver.until.text < asOf) add("waiver-expired", at, `This waiver of \`${rule.id}\` ended on ${waiver.until.text}. Put the matter right, or look at it again and set a new date.`);
    else if (!used.has(waiver)) add("waiver-unused", at, `Nothing here needs this waiver of \`${rule.id}\` any more. Take it out.`);
  }
  return { open, waived };
}

function covers(declaration: Declaration, waiver: WaiverFact, finding: Finding): boolean {
  if (byId.get(waiver.rule.text)?.id !== finding.rule) return false;
  if (finding.at.tree !== declaration.tree && finding.subject !== declaration) return false;
  if (waiver.path && finding.path !== waiver.path.text && !finding.path?.endsWith(`.${waiver.path.text}`)) return false;
  const whole = waiver.within.start === declaration.span.start && waiver.within.end === declaration.span.end;
  return whole || (finding.at.tree === declaration.tree && finding.at.span.start >= waiver.within.start && finding.at.span.end <= waiver.within.end);
}

function granted(waiver: WaiverFact, finding: Finding, asOf: string): boolean {
  if (!waiver.because?.trim()) return false;
  const rule = byId.get(finding.rule);
  if (rule?.breaksEngines && !waiver.until) return false;
  return !waiver.until || waiver.until.text >= asOf;
}
