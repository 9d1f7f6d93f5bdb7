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

function lacksText(file: DataFile | undefined): boolean {
  return file !== undefined && "print" in file && file.text === undefined;
}

export function createWorkspace(host: Host): Workspace {
  let files: ReadonlyMap<string, ProjectFile> = new Map();
  let unreadable: ReadonlyMap<string, Unreadable> = new Map();
  let data: ReadonlyMap<string, DataFile> = new Map();
  let recordings: ReadonlyMap<string, Outcome> = new Map();
  const open = new Set<string>();
  let kept: readonly string[] = [];
  let latest: Analysis | undefined;
  let wholly: Analysis | undefined;

  let stale = true;

  const put = (uri: string, text: string) => {
    const before = files.get(uri);
    if (before?.source.text === text) return;
    const file = projectFileOf(readSource(uri, text, before?.source), before);
    files = new Map(files).set(uri, file);
    if (unreadable.has(uri)) {
      const rest = new Map(unreadable);
      rest.delete(uri);
      unreadable = rest;
    }
    stale = true;
  };

  const drop = (uri: string) => {
    const rest = new Map(files);
    rest.delete(uri);
    files = rest;
    const bad = new Map(unreadable);
    bad.delete(uri);
    unreadable = bad;
    const prints = new Map(data);
    prints.delete(uri);
    data = prints;
    // A recording's key begins with its file.
    if ([...recordings.keys()].some((key) => key.startsWith(`${uri}\n`))) recordings = new Map([...recordings].filter(([key]) => !key.startsWith(`${uri}\n`)));
    stale = true;
  };

  const missing = (besides: readonly string[] = []): string[] => {
    const out = new Set<string>();
    const want = (uri: string) => {
      if (!files.has(uri) && !unreadable.has(uri)) out.add(uri);
    };
    for (const file of files.values()) for (const use of usesOf(file)) want(use.uri);
    for (const uri of besides) want(uri);
    return [...out];
  };

  /** Tune files and files of figures that are named and were not looked at yet. */
  const unlooked = (): string[] => {
    const out = new Set<string>();
    for (const file of files.values()) {
      for (const uri of dataOfFile(file)) if (!data.has(uri)) out.add(uri);
      // One that was a tune before has a print and no text.
      for (const { uri } of figuresOf(file)) if (lacksText(data.get(uri))) out.add(uri);
    }
    return [...out];
  };

  const lookAt = async (uris: readonly string[]): Promise<void> => {
    const figures = new Set([...files.values()].flatMap((file) => figuresOf(file).map((f) => f.uri)));
    const found = await Promise.all(uris.map(async (uri) => [uri, await dataFile(host, uri, figures.has(uri))] as const));
    // What nobody names any more (a path half typed) is let go.
    const named = new Set([...files.values()].flatMap(dataOfFile));
    data = new Map([...data, ...found].filter(([uri]) => named.has(uri)));
    stale = true;
  };

  const readIn = async (uris: readonly string[]): Promise<void> => {
    const read = await Promise.all(uris.map(async (uri) => ({ uri, result: await host.read(uri) })));
    for (const { uri, result } of read) {
      // An editor may have opened the file meanwhile: its text counts.
      if (open.has(uri)) continue;
      if ("text" in result) put(uri, result.text);
      else {
        unreadable = new Map(unreadable).set(uri, result.problem);
        stale = true;
      }
    }
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
      for (const use of usesOf(file)) {
        if (seen.has(use.uri)) continue;
        seen.add(use.uri);
        queue.push(use.uri);
      }
    }
    return found;
  };

  /** Recordings of open builds first, then those of files that were only looked through. */
  const named = () => recordingsOf({ files, unreadable }, [...open, ...kept.filter((uri) => !open.has(uri))]);

  return {
    setText(uri, text) {
      // A file that was read before it is opened has the same text, and is looked at from now on.
      if (!open.has(uri)) stale = true;
      open.add(uri);
      put(uri, text);
    },
    close(uri) {
      open.delete(uri);
      drop(uri);
    },
    forget(uri) {
      if (!open.has(uri)) drop(uri);
    },
    forgetUnopened() {
      files = new Map([...files].filter(([uri]) => open.has(uri)));
      unreadable = new Map();
      data = new Map();
      recordings = new Map();
      stale = true;
      return [...open];
    },
    analysis(asOf) {
      if (!stale && latest && latest.asOf === asOf) return latest;
      latest = analyse(reachable(), asOf);
      stale = false;
      return latest;
    },
    pending: () => missing().length > 0 || unlooked().length > 0,
    async settle() {
      for (let round = missing(); round.length > 0; round = missing()) await readIn(round);
      for (let round = unlooked(); round.length > 0; round = unlooked()) await lookAt(round.slice(0, MOST_AT_ONCE));
    },
    unheard: () => named().filter((r) => !recordings.has(r.key)),
    hear(recording, outcome) {
      const all = new Map(recordings);
      all.delete(recording.key);
      all.set(recording.key, outcome);
      // Questions that nobody asks any more (a limit half typed) are let go, the oldest first; the last few stay, for an undo.
      const asked = new Set(named().map((r) => r.key));
      for (const key of [...all.keys()].slice(0, -MOST_KEPT)) if (!asked.has(key)) all.delete(key);
      recordings = all;
      stale = true;
    },
    keep(uris) {
      kept = uris;
    },
    async whole(asOf) {
      // A few at a time: a folder may hold thousands.
      for (let round = missing(kept); round.length > 0; round = missing(kept)) await readIn(round.slice(0, MOST_AT_ONCE));
      for (let round = unlooked(); round.length > 0; round = unlooked()) await lookAt(round.slice(0, MOST_AT_ONCE));
      if (wholly && wholly.asOf === asOf && wholly.project.files === files && wholly.project.unreadable === unreadable && wholly.project.data === data && wholly.project.recordings === recordings) return wholly;
      wholly = analyse({ files, unreadable, data, recordings }, asOf);
      return wholly;
    },
    isOpen: (uri) => open.has(uri),
    dataNames: () => [...data.keys()],
    usersOf(uri) {
      const users = new Set([uri]);
      for (const file of files.values()) if (dataOfFile(file).includes(uri) || logsNamedBy(file).includes(uri)) users.add(file.uri);
      for (let grown = true; grown; ) {
        grown = false;
        for (const file of files.values()) {
          if (users.has(file.uri) || !usesOf(file).some((use) => users.has(use.uri))) continue;
          users.add(file.uri);
          grown = true;
        }
      }
      return [...users];
    },
  };
}
