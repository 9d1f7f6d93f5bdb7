// Paths as a person gives them, turned into loaded projects, one for each root folder; and files written whole. Knows Node; knows no report.
import { chmod, realpath, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import type { Recording } from "./model/effective.ts";
import type { Project, Unreadable } from "./model/project.ts";
import { visible } from "../grammar/visible.ts";
import { diskHost, pathOfUri, readText, rootOf, uriOfPath } from "./workspace/disk-host.ts";
import { type Host, LARGEST_FILE, withoutMark } from "./workspace/host.ts";
import { loadProject } from "./workspace/load.ts";
import { type Watching, withRecordings } from "./workspace/recordings.ts";

/** Files below one root folder, with all they use. */
export interface LoadedProject {
  readonly project: Project;
  /** The files that were asked for, in order. */
  readonly given: readonly string[];
}

export interface Loaded {
  readonly projects: readonly LoadedProject[];
  readonly nameOf: (uri: string) => string;
  /** A sentence for each file that was asked for and could not be read. */
  readonly unread: readonly string[];
}

export interface FoundFile {
  readonly path: string;
  readonly uri: string;
  readonly root: string;
  /** Relative to the working folder, with forward slashes. */
  readonly name: string;
}

export interface Refused {
  /** One sentence. */
  readonly refusal: string;
}

/** The build files that paths name. `only` refuses folders. */
export async function findFiles(paths: readonly string[], workingFolder: string, only?: "file"): Promise<{ readonly files: readonly FoundFile[] } | Refused> {
  const files = new Map<string, FoundFile>();
  // The files of a folder have one root.
  const roots = new Map<string, string>();
  const add = async (path: string, named?: string) => {
    const uri = uriOfPath(path);
    if (files.has(uri)) return;
    const folder = dirname(path);
    const root = roots.get(folder) ?? (await rootOf(path, workingFolder, named));
    roots.set(folder, root);
    files.set(uri, { path, uri, root, name: nameOfPath(path, workingFolder) });
  };
  for (const given of paths) {
    let path: string;
    let isFolder: boolean;
    try {
      path = await realpath(resolve(workingFolder, given));
      isFolder = (await stat(path)).isDirectory();
    } catch (error) {
      const code = (error as { code?: unknown }).code;
      return { refusal: code === "ENOENT" || code === "ENOTDIR" ? `There is no file or folder ${quoted(given)}.` : `${quoted(given)} could not be opened.` };
    }
    if (!isFolder) {
      await add(path);
      continue;
    }
    if (only === "file") return { refusal: `${quoted(given)} is a folder: name one build file in it.` };
    const listing = await diskHost([path]).list(uriOfPath(path));
    const found = "uris" in listing ? listing.uris.flatMap((uri) => pathOfUri(uri) ?? []) : [];
    if (found.length === 0) return { refusal: `There is no .tappet file in ${quoted(given)}.` };
    for (const one of found) await add(one, path);
  }
  return { files: [...files.values()] };
}

/** What was asked for, by the root folder that each file may read from. */
export interface Asked {
  readonly byRoot: ReadonlyMap<string, readonly string[]>;
  /** Reads below a root, and the input as the file that it is called. */
  readonly hostOf: (root: string) => Host;
}

/** Finds what paths name. `-` is the text given as `input`. */
export async function filesAsked(paths: readonly string[], workingFolder: string, input?: { readonly text: string; readonly filename: string }, only?: "file"): Promise<Asked | Refused> {
  const found = await findFiles(paths.filter((p) => p !== "-"), workingFolder, only);
  if ("refusal" in found) return found;
  const files = [...found.files];
  let inputUri: string | undefined;
  if (input) {
    const path = resolve(workingFolder, input.filename);
    inputUri = uriOfPath(path);
    files.push({ path, uri: inputUri, root: await rootOf(path, workingFolder), name: nameOfPath(path, workingFolder) });
  }
  const byRoot = new Map<string, Set<string>>();
  for (const file of files) byRoot.set(file.root, (byRoot.get(file.root) ?? new Set()).add(file.uri));
  return {
    byRoot: new Map([...byRoot].map(([root, uris]) => [root, [...uris]])),
    hostOf(root) {
      const disk = diskHost([root]);
      return { ...disk, read: (uri) => (input && uri === inputUri ? Promise.resolve({ text: withoutMark(input.text) }) : disk.read(uri)) };
    },
  };
}

/** Loads what paths name, and everything that is used. `-` is the text given as `input`. */
export async function loadFiles(paths: readonly string[], workingFolder: string, input?: { readonly text: string; readonly filename: string }, only?: "file"): Promise<Loaded | Refused> {
  const asked = await filesAsked(paths, workingFolder, input, only);
  if ("refusal" in asked) return asked;
  const nameOf = namesFrom(workingFolder);
  const projects: LoadedProject[] = [];
  const unread: string[] = [];
  for (const [root, given] of asked.byRoot) {
    const host = asked.hostOf(root);
    const project = await withRecordings(host, await loadProject(host, given), process.stderr.isTTY ? tellProgress : undefined);
    projects.push({ project, given });
    for (const uri of given) {
      const problem = project.unreadable.get(uri);
      if (problem) unread.push(unreadSentence(nameOf(uri), problem));
    }
  }
  return { projects, nameOf, unread };
}

export function unreadSentence(name: string, problem: Unreadable): string {
  return `${visible(name)} ${UNREAD[problem]}.`;
}

/** Smaller recordings are read before anybody could look. In bytes. */
const WORTH_TELLING = 16 * 1024 * 1024;

/** On a terminal a person sees how far a long recording is read; the line is gone when it is. */
export function tellProgress({ path }: Recording): Watching {
  let shown = -1;
  return {
    progress(share, _read, size) {
      if (share === undefined || (size ?? 0) < WORTH_TELLING) return;
      const percent = Math.floor(share * 100);
      if (percent === shown) return;
      shown = percent;
      process.stderr.write(`\rReading ${visible(path.text)}: ${percent} %`);
    },
    done: () => {
      if (shown >= 0) process.stderr.write("\r\u001b[K");
    },
  };
}

const UNREAD: Readonly<Record<Unreadable, string>> = {
  missing: "is not there",
  outside: "leads outside the folder that files are read from",
  "not-text": "is not UTF-8 text",
  "too-large": `is larger than ${LARGEST_FILE / 1024 / 1024} MB, which no build file is`,
  unreadable: "is no file that can be read",
};

/** A file's own text, byte-order mark included. The refusal is the rest of a sentence that begins with the file's name. */
export async function readWholeFile(path: string): Promise<{ readonly text: string } | Refused> {
  const reading = await readText(path);
  return "problem" in reading ? { refusal: `${UNREAD[reading.problem]}.` } : reading;
}

/** Writes beside the file and moves it into place; its permissions stay. The sentence says why it could not be done. */
export async function writeWholeFile(path: string, text: string): Promise<string | undefined> {
  const end = await realpath(path).catch(() => resolve(path));
  const beside = join(dirname(end), `.${basename(end)}.${process.pid}.new`);
  try {
    const before = await stat(end).catch(() => undefined);
    if (before && !before.isFile()) {
      if (before.isDirectory()) return `${quoted(path)} is a folder, and a file is to be written.`;
      // A pipe or a terminal has no old text to keep whole.
      await writeFile(end, text);
      return undefined;
    }
    await writeFile(beside, text, { flag: "wx" });
    if (before) await chmod(beside, before.mode);
    await rename(beside, end);
    return undefined;
  } catch (error) {
    await rm(beside, { force: true }).catch(() => {});
    const code = (error as { code?: unknown }).code;
    return code === "ENOENT" ? `There is no folder to write ${quoted(path)} into.` : `${quoted(path)} could not be written.`;
  }
}

/** How files are called, seen from a folder. */
export function namesFrom(workingFolder: string): (uri: string) => string {
  const names = new Map<string, string>();
  return (uri) => {
    let name = names.get(uri);
    if (name === undefined) {
      const path = pathOfUri(uri);
      names.set(uri, (name = path === undefined ? uri : nameOfPath(path, workingFolder)));
    }
    return name;
  };
}

function nameOfPath(path: string, workingFolder: string): string {
  return relative(workingFolder, path).replaceAll(sep, "/");
}

function quoted(text: string): string {
  return `"${visible(text)}"`;
}

