// One build before and after, worded: its changed figures numbered, and the values, margins, findings and tune that differ in consequence,
// each with the numbers of its causes. Knows no file that was not read and no format.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import type { Location } from "../model/declaration.ts";
import { wordsFor } from "../model/effective.ts";
import { fromKindBase, kindOf } from "../quantity/kinds.ts";
import type { Finding, Severity } from "../rules/finding.ts";
import type { Change, Renamed, Stated } from "../sheet/changes.ts";
import { type ChangedValue, type SheetComparison, compareSheets } from "../sheet/comparison.ts";
import type { SheetValue } from "../sheet/evaluate.ts";
import { tunesOf } from "../sheet/tune.ts";
import { nameOfSubject } from "./checked.ts";
import type { BuildComparison, Cause, CauseSide, ComparedFinding, ComparedMargin, ComparedTune, ComparedUnchecked, ComparedValue, Ends, FindingChange, FindingSide } from "./comparison.ts";
import type { Atlas } from "./place.ts";
import { type SheetInput, openFindings } from "./sheet-input.ts";
import { tuneText } from "./sheet-opening.ts";
import { limitText, tightestLimit } from "./sheet-values.ts";

/** One state of a build, or neither where it is not there. At least one is. */
export interface ComparedPair {
  readonly before?: SheetInput;
  readonly after?: SheetInput;
}

/** Nothing where the two say and come to the same. */
export function comparedBuild({ before, after }: ComparedPair): BuildComparison | undefined {
  const one = (after ?? before) as SheetInput;
  const { subject } = one.build;
  const head = {
    name: nameOfSubject(subject), title: wordsFor(subject), is: subject.sort === "engine" ? ("engine" as const) : ("build" as const),
    ...(before && { from: before.atlas.nameOf(before.uri) }), ...(after && { to: after.atlas.nameOf(after.uri) }),
  };
  const none = { renamed: [], causes: [], respelt: [], values: [], margins: [], unchecked: [] };
  if (!before || !after) {
    const findings = openFindings(one).map((f): ComparedFinding => {
      const side = findingSide(f, one.atlas);
      return { change: after ? "new" : "gone", rule: f.rule, ...(f.path !== undefined && { path: f.path }), ...(after ? { to: side } : { from: side }), causes: [] };
    });
    return { ...head, ...none, fate: after ? "added" : "removed", findings };
  }
  const sheets = compareSheets(before.sheet, after.sheet);
  const compared = { ...sheets, changes: [...sheets.changes, ...fileChanges(before, after)] };
  const numbers = new Map(compared.changes.map((change, i) => [change, i + 1]));
  const numbered = (changes: readonly Change[]) => changes.flatMap((c) => numbers.get(c) ?? []);
  const margins = marginsOf(compared, before, after, numbered);
  const findings = matchFindings(partsOf(before), partsOf(after), (a, b) => againstLimit(a, b, before, after)).map(({ change, a, b }): ComparedFinding => {
    const f = (b ?? a) as Finding;
    return {
      change, rule: f.rule, ...(f.path !== undefined && { path: f.path }), ...(a && { from: findingSide(a, before.atlas) }), ...(b && { to: findingSide(b, after.atlas) }),
      causes: numbered(causesOfFinding(compared, [a, b].flatMap((x) => x ?? []))),
    };
  });
  const tune = tuneOf(before, after);
  const renamed: Renamed[] = before.build.subject.name?.text === after.build.subject.name?.text ? [...compared.renamed] : [{ sort: "build", from: nameOfSubject(before.build.subject), to: nameOfSubject(subject) }, ...compared.renamed];
  const result: BuildComparison = {
    ...head, fate: "changed", renamed,
    causes: compared.changes.map((c, i) => causeOf(c, i + 1, before.atlas, after.atlas)), respelt: compared.respelt.map((c, i) => causeOf(c, i + 1, before.atlas, after.atlas)),
    values: compared.values.map((v) => valueOf(v, numbered)), margins, findings, unchecked: uncheckedOf(before, after), ...(tune && { tune }),
  };
  return result.renamed.length + result.causes.length + result.respelt.length + result.values.length + result.margins.length + result.findings.length + result.unchecked.length === 0 ? undefined : result;
}

export function causeOf(change: Change, number: number, before: Atlas, after: Atlas): Cause {
  const side = (stated: Stated | undefined, atlas: Atlas): CauseSide | undefined => {
    const place = stated && atlas.placeOf(stated.location);
    return stated && { text: stated.text, origin: stated.origin, ...(place && { place }) };
  };
  const [from, to] = [side(change.from, before), side(change.to, after)];
  return { number, sort: change.sort, path: change.path, label: change.label, ...(from && { from }), ...(to && { to }) };
}

function valueOf(v: ChangedValue, numbered: (changes: readonly Change[]) => readonly number[]): ComparedValue {
  const { formula, label } = (v.after ?? v.before) as SheetValue;
  const measured = v.place !== undefined;
  const seen = (value: SheetValue | undefined) => (measured ? value?.measured.find((m) => m.place === v.place)?.value : value);
  return {
    id: v.id, label, section: formula.section, measured, at: v.place ?? "", from: v.from, to: v.to, fromNumbers: endsOf(seen(v.before)), toNumbers: endsOf(seen(v.after)),
    unit: formula.unit !== undefined ? spellingOfUnit(formula.unit) : kindOf(formula.kind).base, unseen: v.unseen, causes: numbered(v.causes),
  };
}

function endsOf(value: SheetValue | undefined): Ends | null {
  if (!value?.interval) return null;
  const { formula, interval } = value;
  const told = (x: number) => {
    const y = fromKindBase(x, formula.unit, formula.kind);
    return Number.isFinite(y) ? Number(y.toPrecision(12)) : y;
  };
  return { low: told(interval.low), nominal: told(interval.nominal), high: told(interval.high) };
}

/** Values with a limit on either side, where the limit or what it leaves is another. */
function marginsOf(compared: SheetComparison, before: SheetInput, after: SheetInput, numbered: (changes: readonly Change[]) => readonly number[]): ComparedMargin[] {
  const ids = new Set([...after.sheet.byId.keys(), ...before.sheet.byId.keys()]);
  return [...ids].flatMap((id): ComparedMargin[] => {
    const [a, b] = [before.sheet.byId.get(id), after.sheet.byId.get(id)];
    const value = b ?? a;
    if (!value || value.formula.quiet) return [];
    const [old, now] = [a && tightestLimit(a, before.build), b && tightestLimit(b, after.build)];
    if (!old && !now) return [];
    const unit = value.formula.unit ?? kindOf(value.formula.kind).metric;
    const [was, is] = [a && limitText(a, unit, old), b && limitText(b, unit, now)];
    const limit = (t: typeof was) => (t ? `${t.text}, ${t.origin}` : "");
    if (was?.margin === is?.margin && limit(was) === limit(is)) return [];
    const moved = compared.values.find((v) => v.id === id && v.place === undefined);
    const conditions = compared.changes.filter((c) => c.sort === "need" || c.sort === "check" || c.path.startsWith("limits.") || c.path.startsWith("shop limits"));
    const causes = moved?.causes ?? (limit(was) !== limit(is) ? conditions : []);
    const margin = (t: typeof was) => (t ? (t.kept ? t.margin : `${t.margin.replace(/^[-\u2212]/, "")} short`.trim()) : "");
    return [{
      id, label: value.label, fromLimit: limit(was), toLimit: limit(is), from: margin(was), to: margin(is),
      lost: now !== undefined && (old === undefined ? !now.kept : now.margin < old.margin), kept: now?.kept ?? true, causes: numbered(causes),
    }];
  });
}

/** Open findings and waived ones of a build, each once. */
function partsOf(input: SheetInput): { readonly open: readonly Finding[]; readonly waived: readonly Finding[] } {
  return { open: openFindings(input), waived: input.findings.filter((f) => f.waiver) };
}

/** Which of two findings about one value is the worse, where a limit tells. */
function againstLimit(a: Finding, b: Finding, before: SheetInput, after: SheetInput): "worse" | "better" | undefined {
  if (b.path === undefined || a.path !== b.path) return undefined;
  const [x, y] = [before.sheet.byId.get(b.path), after.sheet.byId.get(b.path)];
  const [old, now] = [x && tightestLimit(x, before.build), y && tightestLimit(y, after.build)];
  if (!old || !now || old.margin === now.margin) return undefined;
  return now.margin < old.margin ? "worse" : "better";
}

export interface MatchedFinding {
  readonly change: FindingChange;
  readonly a?: Finding;
  readonly b?: Finding;
}

const RANK: Readonly<Record<Severity, number>> = { error: 0, warning: 1, advice: 2 };

/** Findings of two states by rule and by what they are about; where they stand makes no difference. Those that say the same are left out. */
export function matchFindings(
  before: { readonly open: readonly Finding[]; readonly waived: readonly Finding[] }, after: { readonly open: readonly Finding[]; readonly waived: readonly Finding[] },
  compare: (a: Finding, b: Finding) => "worse" | "better" | undefined = () => undefined,
): readonly MatchedFinding[] {
  const result: MatchedFinding[] = [];
  const old = [...before.open];
  const [oldWaived, nowWaived] = [[...before.waived], [...after.waived]];
  const take = (from: Finding[], wanted: (f: Finding) => boolean) => {
    const i = from.findIndex(wanted);
    return i < 0 ? undefined : from.splice(i, 1)[0];
  };
  const about = (f: Finding) => (g: Finding) => g.rule === f.rule && g.path === f.path;
  const changed = after.open.filter((b) => !take(old, (a) => about(b)(a) && a.severity === b.severity && a.message === b.message));
  const unmatched = changed.filter((b) => {
    const others = changed.filter(about(b));
    // Without a path only the one finding of a rule can be said to be the same one.
    const a = b.path === undefined && (others.length > 1 || old.filter(about(b)).length > 1) ? undefined : take(old, about(b));
    if (!a) return true;
    const change = RANK[b.severity] < RANK[a.severity] ? "worse" : RANK[b.severity] > RANK[a.severity] ? "better" : (compare(a, b) ?? "changed");
    result.push({ change, a, b });
    return false;
  });
  for (const b of unmatched) {
    const a = take(oldWaived, about(b));
    result.push(a ? { change: "unwaived", a, b } : { change: "new", b });
  }
  for (const a of old) {
    const b = take(nowWaived, about(a));
    result.push(b ? { change: "waived", a, b } : { change: "gone", a });
  }
  return result.sort((x, y) => ORDER.indexOf(x.change) - ORDER.indexOf(y.change) || RANK[(x.b ?? (x.a as Finding)).severity] - RANK[(y.b ?? (y.a as Finding)).severity]);
}

const ORDER: readonly FindingChange[] = ["new", "unwaived", "worse", "changed", "waived", "better", "gone"];

export function findingSide(f: Finding, atlas: Atlas): FindingSide {
  const place = atlas.placeOf(f.at);
  return { severity: f.severity, message: f.message, ...(place && { place }) };
}

function causesOfFinding(compared: SheetComparison, findings: readonly Finding[]): readonly Change[] {
  const found = new Set<Change>();
  for (const f of findings) {
    for (const v of compared.values) if (v.id === f.path) for (const c of v.causes) found.add(c);
    const places = [f.at, ...f.related.map((r) => r.at)];
    for (const c of compared.changes) {
      if (c.path === f.path) found.add(c);
      if ([c.from, c.to].some((side) => side !== undefined && places.some((at) => meets(at, side.location)))) found.add(c);
    }
  }
  return compared.changes.filter((c) => found.has(c));
}

function meets(a: Location, b: Location): boolean {
  return a.tree === b.tree && a.span.start < b.span.end && b.span.start < a.span.end;
}

function uncheckedOf(before: SheetInput, after: SheetInput): ComparedUnchecked[] {
  const missing = (input: SheetInput) => new Map(input.unchecked.map((u) => [u.what, u.missing.map((m) => m.path)]));
  const [old, now] = [missing(before), missing(after)];
  return [
    ...[...now].flatMap(([what, paths]): ComparedUnchecked[] => (old.has(what) ? [] : [{ change: "no longer checked", what, missing: paths }])),
    ...[...old].flatMap(([what]): ComparedUnchecked[] => (now.has(what) ? [] : [{ change: "checked now", what, missing: [] }])),
  ];
}

/** Tune files whose bytes are others, though the build names them as before. */
function fileChanges(before: SheetInput, after: SheetInput): readonly Change[] {
  const files = (input: SheetInput) => new Map(tunesOf(input.sheet, input.data).flatMap((look) => {
    const print = look.file && look.file.is !== "unreadable" ? look.file.print : undefined;
    return look.path !== undefined && print !== undefined ? [[look.path, { text: print, origin: "", location: { tree: input.build.subject.tree, span: look.record.span } }] as const] : [];
  }));
  const [old, now] = [files(before), files(after)];
  return [...now].flatMap(([path, to]): Change[] => {
    const from = old.get(path);
    return from && from.text !== to.text ? [{ sort: "record", path: `file ${path}`, label: `what "${path}" holds`, from, to, respelt: false, facts: [] }] : [];
  });
}

/** The finding that says that a tune was made for other figures. */
const STALE = "tune-stale";

function tuneOf(before: SheetInput, after: SheetInput): ComparedTune | undefined {
  const stale = (input: SheetInput) => openFindings(input).some((f) => f.rule === STALE);
  const [from, to] = [tuneText(before), tuneText(after)];
  return from === to && stale(before) === stale(after) ? undefined : { from, to, stale: stale(after) };
}
