// Two states of a set of build files, analysed and paired: each build by its name, else by its renamed file, else by its engine. Knows no disk
// and no git; what could not be read stands as a note.
import type { Declaration } from "../model/declaration.ts";
import { type Project, type Unreadable, dataOfFile, scopeOf } from "../model/project.ts";
import type { Finding } from "../rules/finding.ts";
import { declarationChanges, sameContent } from "../sheet/changes.ts";
import { type ComparedState, type Comparison, type LooseComparison, countsOf } from "../report/comparison.ts";
import { causeOf, comparedBuild, findingSide, matchFindings } from "../report/compared-build.ts";
import { nameOfSubject } from "../report/checked.ts";
import { type Atlas, type NameOf, atlasOf } from "../report/place.ts";
import type { SheetInput } from "../report/sheet-input.ts";
import { counted } from "../report/wording.ts";
import { type Analysis, type SubjectResult, analyse } from "./analyse.ts";
import { foundationOf } from "./build-sheet.ts";
import { byCodePoint } from "./host.ts";

/** One state: projects with the files that were asked for in each. */
export interface State extends ComparedState {
  readonly projects: readonly { readonly project: Project; readonly given: readonly string[] }[];
  readonly nameOf: NameOf;
  /** The same for one file on both sides where it was not renamed: its path within what is compared. */
  readonly keyOf: (uri: string) => string;
  /** How the reader opens a file of this state. */
  readonly spell?: (uri: string) => string;
}

export interface CompareWish {
  readonly asOf: string;
  /** Files that go by another name now, by their keys. */
  readonly renames?: ReadonlyMap<string, string>;
  /** Only this build, where it is asked for. */
  readonly build?: string;
}

interface Found {
  readonly uri: string;
  readonly key: string;
  readonly analysis: Analysis;
  readonly atlas: Atlas;
  readonly result: SubjectResult;
}

export function compareStates(before: State, after: State, wish: CompareWish): Comparison {
  // Most files of a workspace are the same on both sides: they are told from the others by their texts, and nothing is worked out for them.
  const same = unchangedKeys(before, after);
  const [old, now] = [readState(before, wish.asOf, same), readState(after, wish.asOf, same)];
  const renamed = (key: string) => wish.renames?.get(key) ?? key;
  const builds = pairUp(old.subjects.filter(isBuild), now.subjects.filter(isBuild), renamed).filter(({ a, b }) => wish.build === undefined || [a, b].some((f) => f?.result.build.subject.name?.text === wish.build));
  // An engine that a compared build stands on is told of there.
  const underBuilds = new Set(builds.flatMap(({ a, b }) => [a, b].flatMap((f) => f?.result.build.engine ?? [])));
  const free = (f: Found) => !isBuild(f) && !underBuilds.has(f.result.build.subject);
  const engines = wish.build === undefined ? pairUp(old.subjects.filter(free), now.subjects.filter(free), renamed) : [];
  const pairs = [...builds, ...engines];
  const comparisons = pairs.flatMap((pair) => {
    const comparison = comparedBuild({ ...(pair.a && { before: inputOf(pair.a) }), ...(pair.b && { after: inputOf(pair.b) }) });
    return comparison ?? [];
  });
  const loose = wish.build === undefined ? looseOf(old, now, pairs) : [];
  const elsewhere = wish.build === undefined ? elsewhereOf(old, now, pairs) : [];
  const notes = [...old.notes, ...now.notes];
  const state = ({ label, revision }: State): ComparedState => ({ label, ...(revision !== undefined && { revision }) });
  return {
    before: state(before), after: state(after), asOf: wish.asOf, counts: countsOf(comparisons, loose, elsewhere, now.left + builds.length - comparisons.filter((c) => c.is === "build").length),
    builds: comparisons, loose, elsewhere, notes,
  };
}

interface ReadState {
  readonly subjects: readonly Found[];
  /** Every file, each with the analysis it counts in. */
  readonly files: ReadonlyMap<string, { readonly uri: string; readonly analysis: Analysis; readonly atlas: Atlas }>;
  readonly notes: readonly string[];
  /** Builds of the files that were left out. */
  readonly left: number;
}

function readState(state: State, asOf: string, leftOut: ReadonlySet<string>): ReadState {
  const files = new Map<string, { uri: string; analysis: Analysis; atlas: Atlas }>();
  const subjects: Found[] = [];
  const notes: string[] = [];
  let left = 0;
  for (const { project, given } of state.projects) {
    const analysis = analyse(project, asOf);
    const atlas = atlasOf(project, analysis.places, state.nameOf, state.spell);
    for (const uri of given) {
      const key = state.keyOf(uri);
      if (leftOut.has(key)) {
        left += project.files.get(uri)?.declarations.filter((d) => d.sort === "build").length ?? 0;
        continue;
      }
      files.set(key, { uri, analysis, atlas });
      for (const result of analysis.fileResult(uri)?.subjects ?? []) subjects.push({ uri, key, analysis, atlas, result });
    }
    for (const uri of project.files.keys()) {
      const key = state.keyOf(uri);
      if (leftOut.has(key)) continue;
      if (!files.has(key)) files.set(key, { uri, analysis, atlas });
      const unread = analysis.fileResult(uri)?.findings.filter((f) => UNREAD_TEXT.has(f.rule)).length ?? 0;
      if (unread > 0) notes.push(`${state.nameOf(uri)} in ${state.label} has ${counted(unread, "place")} that cannot be read: it is compared as far as it can be.`);
    }
    for (const [uri, problem] of project.unreadable) if (given.includes(uri)) notes.push(`${state.nameOf(uri)} in ${state.label} ${UNREADABLE[problem]}, and is left out.`);
  }
  return { subjects: subjects.sort((a, b) => byCodePoint(a.key, b.key)), files, notes: [...new Set(notes)], left };
}

/** Findings that mean that a stretch of text was not understood at all. */
const UNREAD_TEXT: ReadonlySet<string> = new Set(["syntax", "stray", "unclosed-block", "unclosed-string", "merge-conflict"]);

const UNREADABLE: Readonly<Record<Unreadable, string>> = {
  missing: "is not there", outside: "leads outside the folder that files are read from", "not-text": "is not UTF-8 text", "too-large": "is larger than a build file may be", unreadable: "cannot be read",
};

function isBuild({ result }: Found): boolean {
  return result.build.subject.sort === "build";
}

type Pair = { readonly a?: Found; readonly b?: Found };

/** Each once: by file and name, by name alone, by order in a renamed or the same file where the engine is the same, else apart. */
function pairUp(before: readonly Found[], after: readonly Found[], renamed: (key: string) => string): readonly Pair[] {
  const left = new Set(after);
  const waiting = new Set(before);
  const pairs: Pair[] = [];
  const name = ({ result }: Found) => result.build.subject.name?.text;
  const engine = ({ result }: Found) => result.build.subject.on?.text ?? result.build.engine?.name?.text;
  const sort = ({ result }: Found) => result.build.subject.sort;
  const rounds: readonly ((a: Found, b: Found) => boolean)[] = [
    (a, b) => renamed(a.key) === b.key && name(a) === name(b),
    (a, b) => name(a) !== undefined && name(a) === name(b),
    (a, b) => renamed(a.key) === b.key && engine(a) === engine(b),
    (a, b) => renamed(a.key) === b.key && sameContent(a.result.build.subject, b.result.build.subject),
    (a, b) => isBuild(a) && engine(a) !== undefined && engine(a) === engine(b) && only(waiting, a, engine) && only(left, b, engine),
    (a, b) => isBuild(a) && waiting.size === 1 && left.size === 1 && renamed(a.key) === b.key,
  ];
  for (const matches of rounds)
    for (const a of [...waiting]) {
      const b = [...left].find((one) => sort(one) === sort(a) && matches(a, one));
      if (!b) continue;
      waiting.delete(a);
      left.delete(b);
      pairs.push({ a, b });
    }
  const all: Pair[] = [...pairs, ...[...waiting].map((a) => ({ a })), ...[...left].map((b) => ({ b }))];
  return all.sort((x, y) => byCodePoint(titleOf(x), titleOf(y)));
}

function only(set: ReadonlySet<Found>, one: Found, of: (f: Found) => string | undefined): boolean {
  return [...set].filter((f) => of(f) === of(one)).length === 1;
}

function titleOf({ a, b }: Pair): string {
  const f = (b ?? a) as Found;
  return nameOfSubject(f.result.build.subject);
}

/** Files that are there on both sides with the same text, as is everything that they use and name: nothing about them can differ. */
function unchangedKeys(before: State, after: State): ReadonlySet<string> {
  const seen = ({ projects, keyOf }: State) => new Map(projects.flatMap(({ project, given }) => given.filter((uri) => project.files.has(uri)).map((uri) => [keyOf(uri), { project, uri }] as const)));
  const [old, now] = [seen(before), seen(after)];
  return new Set([...now].flatMap(([key, b]) => {
    const a = old.get(key);
    return a && alike(a, b) ? [key] : [];
  }));
}

interface Standing {
  readonly project: Project;
  readonly uri: string;
}

function alike(a: Standing, b: Standing): boolean {
  const [x, y] = [scopeOf(a.project, a.uri).files, scopeOf(b.project, b.uri).files];
  const beside = ({ project }: Standing, files: typeof x) => JSON.stringify(files.flatMap((file) => dataOfFile(file).map((uri) => project.data?.get(uri) ?? null)));
  return x.length === y.length && x.every((file, i) => file.source.text === y[i]?.source.text) && beside(a, x) === beside(b, y);
}

function inputOf({ analysis, atlas, result }: Found): SheetInput {
  return { uri: result.uri, build: result.build, sheet: result.sheet, findings: result.findings, unchecked: result.unchecked, data: result.data, waivers: result.waivers, atlas, asOf: analysis.asOf, foundation: foundationOf(analysis, result) };
}

/** Engines, parts and cards of the compared files that no compared build stands on, by sort and name. */
function looseOf(old: ReadState, now: ReadState, pairs: readonly Pair[]): readonly LooseComparison[] {
  const used = new Set<Declaration>(pairs.flatMap(({ a, b }) => [a, b]).flatMap((f) => (f ? [f.result.build.subject, ...f.result.build.parts.map((p) => p.declaration), ...f.result.build.cards.map((c) => c.declaration), ...(f.result.build.engine ? [f.result.build.engine] : [])] : [])));
  const listed = (state: ReadState) => {
    const all = new Map<string, { declaration: Declaration; uri: string; atlas: Atlas }>();
    for (const { uri, analysis, atlas } of state.files.values())
      for (const declaration of analysis.project.files.get(uri)?.declarations ?? [])
        if ((declaration.sort === "part" || declaration.sort === "card" || declaration.sort === "engine") && declaration.name && !used.has(declaration)) all.set(`${declaration.sort} ${declaration.name.text}`, { declaration, uri, atlas });
    return all;
  };
  const [a, b] = [listed(old), listed(now)];
  const anywhere = (state: ReadState, key: string) => [...state.files.values()].some(({ uri, analysis }) => analysis.project.files.get(uri)?.declarations.some((d) => d.name && `${d.sort} ${d.name.text}` === key));
  return [...new Set([...a.keys(), ...b.keys()])].sort(byCodePoint).flatMap((key): LooseComparison[] => {
    const [from, to] = [a.get(key), b.get(key)];
    // Used on one side, it is told of with the build there.
    if ((!from && anywhere(old, key)) || (!to && anywhere(now, key))) return [];
    const one = (to ?? from) as NonNullable<typeof to>;
    const changes = from && to ? declarationChanges(from.declaration, to.declaration) : [];
    if (from && to && changes.length === 0) return [];
    return [{
      sort: one.declaration.sort as LooseComparison["sort"], name: one.declaration.name?.text ?? "", fate: from && to ? "changed" : to ? "added" : "removed",
      ...(from && { from: from.atlas.nameOf(from.uri) }), ...(to && { to: to.atlas.nameOf(to.uri) }), causes: from && to ? changes.map((c, i) => causeOf(c, i + 1, from.atlas, to.atlas)) : [],
    }];
  });
}

/** Findings of the files that no compared build carries: of parts that nobody fits, of text outside every declaration. */
function elsewhereOf(old: ReadState, now: ReadState, pairs: readonly Pair[]): Comparison["elsewhere"] {
  const carried = new Set<Finding>(pairs.flatMap(({ a, b }) => [a, b]).flatMap((f) => (f ? [...f.result.findings, ...foundationOf(f.analysis, f.result)] : [])));
  const rest = (state: ReadState) => {
    const open: Finding[] = [];
    const waived: Finding[] = [];
    const home = new Map<Finding, Atlas>();
    for (const { uri, analysis, atlas } of state.files.values()) {
      const result = analysis.fileResult(uri);
      for (const f of result?.findings ?? []) if (!carried.has(f)) open.push(f);
      for (const f of result?.waived ?? []) if (!carried.has(f)) waived.push(f);
      for (const f of [...(result?.findings ?? []), ...(result?.waived ?? [])]) home.set(f, atlas);
    }
    return { open, waived, home };
  };
  const [a, b] = [rest(old), rest(now)];
  return matchFindings(a, b).map(({ change, a: from, b: to }) => {
    const f = (to ?? from) as Finding;
    const side = (finding: Finding | undefined, home: ReadonlyMap<Finding, Atlas>) => {
      const atlas = finding && home.get(finding);
      return finding && atlas ? findingSide(finding, atlas) : undefined;
    };
    const [was, is] = [side(from, a.home), side(to, b.home)];
    return { change, rule: f.rule, ...(f.path !== undefined && { path: f.path }), ...(was && { from: was }), ...(is && { to: is }), causes: [] };
  });
}
