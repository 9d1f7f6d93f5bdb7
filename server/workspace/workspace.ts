// The files that are open or used, as they stand, and the analysis of exactly that state. Knows documents and a host to read others through;
// knows no protocol, timer or clock.
import { readSource } from "../../grammar/read.ts";
import { type DataFile, type Project, type ProjectFile, type Unreadable, dataOfFile, figuresOf, usesOf } from "../model/project.ts";
import type { Recording } from "../model/effective.ts";
import type { Outcome } from "../recording/summary.ts";
import { type Analysis, analyse } from "./analyse.ts";
import type { Host } from "./host.ts";
import { dataFile, projectFileOf } from "./load.ts";
import { logsNamedBy, recordingsOf } from "./recordings.ts";

export interface Workspace {
  /** An open document's text as it now is. The text in the editor counts, whatever is on disk. */
  setText(uri: string, text: string): void;
  /** A document was closed: what is on disk counts again. */
  close(uri: string): void;
  /** A file was made, changed or removed outside the editor. */
  forget(uri: string): void;
  /** Forgets everything that is not open, to be read again where it is used. Says what is open and may change by it. */
  forgetUnopened(): readonly string[];
  /** The analysis of what is loaded now. */
  analysis(asOf: string): Analysis;
  /** True when some used file has not been looked for yet. */
  pending(): boolean;
  /** Reads what is still missing. Resolves when nothing is; a later edit may make it pending again. */
  settle(): Promise<void>;
  /** Recordings that builds name and that came to nothing yet: those of open files, and of kept ones that were read. */
  unheard(): readonly Recording[];
  /** What a recording came to. */
  hear(recording: Recording, outcome: Outcome): void;
  /** The files of the opened folders, open or not: names are looked for in them, findings of open files do not rest on them. */
  keep(uris: readonly string[]): void;
  /** The analysis of every file there is, the kept ones too. Reads what is missing. */
  whole(asOf: string): Promise<Analysis>;
  isOpen(uri: string): boolean;
  /** The tune files that are named by what is loaded. */
  dataNames(): readonly string[];
  /** Every file that uses this one, directly or through others, and the file itself. */
  usersOf(uri: string): readonly string[];
}

const MOST_AT_ONCE = 64;
const MOST_KEPT = 32;
/** Files that are others since an analysis was last asked for; past them it is worked out anew. */
const MOST_CHANGED = 10_000;

function lacksText(file: DataFile | undefined): boolean {
  return file !== undefined && "print" in file && file.text === undefined;
}

/** The files that a file names, each as what. */
interface Named {
  readonly uses: readonly string[];
  readonly data: readonly string[];
  readonly figures: readonly string[];
  readonly logs: readonly string[];
}
const namedBy = new WeakMap<ProjectFile, Named>();

function namesIn(file: ProjectFile): Named {
  let known = namedBy.get(file);
  if (!known) namedBy.set(file, (known = { uses: usesOf(file).map((use) => use.uri), data: dataOfFile(file), figures: figuresOf(file).map((figures) => figures.uri), logs: logsNamedBy(file) }));
  return known;
}

const NAMES_NOTHING: Named = { uses: [], data: [], figures: [], logs: [] };

export function createWorkspace(host: Host): Workspace {
  let files: ReadonlyMap<string, ProjectFile> = new Map();
  let unreadable: ReadonlyMap<string, Unreadable> = new Map();
  let data: ReadonlyMap<string, DataFile> = new Map();
  let recordings: ReadonlyMap<string, Outcome> = new Map();
  const open = new Set<string>();
  let kept: readonly string[] = [];

  /** An analysis and the files that are others since: the next one takes over what was found in all that see none of them. */
  interface Last {
    analysis?: Analysis | undefined;
    readonly changed: Set<string>;
  }
  const latest: Last = { changed: new Set() };
  const wholly: Last = { changed: new Set() };
  /** True where another set of files is reachable from the open ones. */
  let stale = true;

  /** By what is named: the files that name it, in whichever way. */
  const namers = new Map<string, Set<string>>();
  /** Files that name recordings, with those that they want where that has been found out. */
  const loggers = new Map<string, readonly Recording[] | undefined>();
  /** What is named and was not read yet; found anew when a file comes, goes, or names others. */
  let gaps: { readonly uses: readonly string[]; readonly data: readonly string[]; kept?: readonly string[] } | undefined;

  /** These and every file that sees one of them, directly or through others. */
  const seeing = (uris: Iterable<string>): ReadonlySet<string> => {
    const found = new Set(uris);
    // What is added while a set is gone through is gone through as well.
    for (const uri of found) for (const namer of namers.get(uri) ?? []) found.add(namer);
    return found;
  };

  const change = (uri: string) => {
    for (const last of [latest, wholly]) {
      last.changed.add(uri);
      if (last.changed.size <= MOST_CHANGED) continue;
      // Nobody has asked for long: the next who does looks at everything.
      last.analysis = undefined;
      last.changed.clear();
    }
    if (loggers.size > 0) for (const user of seeing([uri])) if (loggers.has(user)) loggers.set(user, undefined);
  };

  const without = <T>(map: ReadonlyMap<string, T>, uri: string): ReadonlyMap<string, T> => {
    if (!map.has(uri)) return map;
    const rest = new Map(map);
    rest.delete(uri);
    return rest;
  };

  const noteNames = (uri: string, before: Named, after: Named) => {
    for (const names of [before.uses, before.data, before.logs])
      for (const name of names) {
        const own = namers.get(name);
        if (!own?.delete(uri) || own.size > 0) continue;
        namers.delete(name);
        // A path half typed leads nowhere, and is forgotten with the next letter.
        unreadable = without(unreadable, name);
      }
    for (const names of [after.uses, after.data, after.logs])
      for (const name of names) {
        const own = namers.get(name);
        if (own) own.add(uri);
        else namers.set(name, new Set([uri]));
      }
    if (after.logs.length > 0) loggers.set(uri, undefined);
    else loggers.delete(uri);
  };

  const sameNames = (a: Named, b: Named) => JSON.stringify(a) === JSON.stringify(b);

  /** Puts texts in the place of what was there. */
  const put = (texts: Iterable<readonly [uri: string, text: string]>) => {
    const all = new Map(files);
    for (const [uri, text] of texts) {
      const before = all.get(uri);
      if (before?.source.text === text) continue;
      const file = projectFileOf(readSource(uri, text, before?.source), before);
      const names = before ? namesIn(before) : NAMES_NOTHING;
      all.set(uri, file);
      unreadable = without(unreadable, uri);
      if (!before || !sameNames(names, namesIn(file))) {
        noteNames(uri, names, namesIn(file));
        gaps = undefined;
      }
      change(uri);
      stale = true;
    }
    files = all;
  };

  const drop = (uri: string) => {
    const file = files.get(uri);
    if (file) noteNames(uri, namesIn(file), NAMES_NOTHING);
    files = without(files, uri);
    unreadable = without(unreadable, uri);
    data = without(data, uri);
    // A recording's key begins with its file.
    if ([...recordings.keys()].some((key) => key.startsWith(`${uri}\n`))) recordings = new Map([...recordings].filter(([key]) => !key.startsWith(`${uri}\n`)));
    change(uri);
    gaps = undefined;
    stale = true;
  };

  /** What files use, and the tunes and files of figures that they name, where nobody looked for it yet. */
  const missing = () => {
    if (gaps) return gaps;
    const uses = new Set<string>();
    const beside = new Set<string>();
    for (const file of files.values()) {
      const names = namesIn(file);
      for (const uri of names.uses) if (!files.has(uri) && !unreadable.has(uri)) uses.add(uri);
      for (const uri of names.data) if (!data.has(uri)) beside.add(uri);
      // One that was a tune before has a print and no text.
      for (const uri of names.figures) if (lacksText(data.get(uri))) beside.add(uri);
    }
    return (gaps = { uses: [...uses], data: [...beside] });
  };
  const missingOfAll = () => {
    const found = missing();
    return (found.kept ??= [...new Set([...found.uses, ...kept.filter((uri) => !files.has(uri) && !unreadable.has(uri))])]);
  };

  const lookAt = async (uris: readonly string[]): Promise<void> => {
    const figures = new Set([...files.values()].flatMap((file) => namesIn(file).figures));
    const found = await Promise.all(uris.map(async (uri) => [uri, await dataFile(host, uri, figures.has(uri))] as const));
    // What nobody names any more (a path half typed) is let go.
    const named = new Set([...files.values()].flatMap((file) => namesIn(file).data));
    data = new Map([...data, ...found].filter(([uri]) => named.has(uri)));
    for (const [uri] of found) change(uri);
    gaps = undefined;
    stale = true;
  };

  const readIn = async (uris: readonly string[]): Promise<void> => {
    const read = await Promise.all(uris.map(async (uri) => ({ uri, result: await host.read(uri) })));
    // An editor may have opened a file meanwhile: its text counts.
    const closed = read.filter(({ uri }) => !open.has(uri));
    put(closed.flatMap(({ uri, result }) => ("text" in result ? [[uri, result.text] as const] : [])));
    const bad = new Map(unreadable);
    for (const { uri, result } of closed) {
      // Nor does a file count that nobody names any more.
      if ("text" in result || !(namers.has(uri) || kept.includes(uri))) continue;
      bad.set(uri, result.problem);
      change(uri);
      gaps = undefined;
      stale = true;
    }
    unreadable = bad;
  };

  /** What stands open, and everything that is used from there: a file once read and no longer used must not count. */
  const reachable = (): Project => {
    const found = { files: new Map<string, ProjectFile>(), unreadable: new Map<string, Unreadable>(), data, recordings };
    const queue = [...open];
    const seen = new Set(queue);
    for (let i = 0; i < queue.length; i++) {
      const uri = queue[i] as string;
      const file = files.get(uri);
      const problem = unreadable.get(uri);
      if (problem) found.unreadable.set(uri, problem);
      if (!file) continue;
      found.files.set(uri, file);
      for (const use of namesIn(file).uses) {
        if (seen.has(use)) continue;
        seen.add(use);
        queue.push(use);
      }
    }
    return found;
  };

  const next = (last: Last, project: Project, asOf: string): Analysis => {
    const earlier = last.analysis && { analysis: last.analysis, touched: seeing(last.changed) };
    const analysis = analyse(project, asOf, { earlier, keeps: (uri) => open.has(uri) });
    last.analysis = analysis;
    last.changed.clear();
    return analysis;
  };

  /** Recordings of open builds first, then those of files that were only looked through. */
  const named = (): readonly Recording[] => {
    if (loggers.size === 0) return [];
    const wanted = new Map<string, Recording>();
    for (const uri of [...open, ...kept.filter((uri) => !open.has(uri))]) {
      if (!loggers.has(uri)) continue;
      let own = loggers.get(uri);
      if (!own) loggers.set(uri, (own = recordingsOf({ files, unreadable }, [uri])));
      for (const recording of own) wanted.set(recording.key, recording);
    }
    return [...wanted.values()];
  };

  return {
    setText(uri, text) {
      // A file that was read before it is opened has the same text, and is looked at from now on.
      if (!open.has(uri)) stale = true;
      open.add(uri);
      put([[uri, text]]);
    },
    close(uri) {
      open.delete(uri);
      drop(uri);
    },
    forget(uri) {
      if (!open.has(uri)) drop(uri);
    },
    forgetUnopened() {
      for (const [uri, file] of files) if (!open.has(uri)) noteNames(uri, namesIn(file), NAMES_NOTHING);
      files = new Map([...files].filter(([uri]) => open.has(uri)));
      unreadable = new Map();
      data = new Map();
      recordings = new Map();
      for (const uri of loggers.keys()) loggers.set(uri, undefined);
      latest.analysis = wholly.analysis = undefined;
      gaps = undefined;
      stale = true;
      return [...open];
    },
    analysis(asOf) {
      if (!stale && latest.analysis?.asOf === asOf) return latest.analysis;
      stale = false;
      return next(latest, reachable(), asOf);
    },
    pending: () => missing().uses.length > 0 || missing().data.length > 0,
    async settle() {
      while (missing().uses.length > 0) await readIn(missing().uses);
      while (missing().data.length > 0) await lookAt(missing().data.slice(0, MOST_AT_ONCE));
    },
    unheard: () => named().filter((r) => !recordings.has(r.key)),
    hear(recording, outcome) {
      const all = new Map(recordings);
      all.delete(recording.key);
      all.set(recording.key, outcome);
      // Questions that nobody asks any more (a limit half typed) are let go, the oldest first; the last few stay, for an undo.
      const asked = new Set(named().map((r) => r.key));
      for (const key of [...all.keys()].slice(0, -MOST_KEPT)) {
        if (asked.has(key)) continue;
        all.delete(key);
        change(key.slice(0, key.indexOf("\n")));
      }
      recordings = all;
      change(recording.uri);
      stale = true;
    },
    keep(uris) {
      kept = uris;
      gaps = undefined;
    },
    async whole(asOf) {
      // A few at a time: a folder may hold thousands.
      while (missingOfAll().length > 0) await readIn(missingOfAll().slice(0, MOST_AT_ONCE));
      while (missing().data.length > 0) await lookAt(missing().data.slice(0, MOST_AT_ONCE));
      if (wholly.analysis?.asOf === asOf && wholly.changed.size === 0) return wholly.analysis;
      return next(wholly, { files, unreadable, data, recordings }, asOf);
    },
    isOpen: (uri) => open.has(uri),
    dataNames: () => [...data.keys()],
    usersOf: (uri) => [...seeing([uri])],
  };
}
