// The two states that `tappet diff` compares, read from files and folders or from git. Knows Node and git; knows no report.
import { realpath, stat } from "node:fs/promises";
import { dirname, join, relative, resolve, sep } from "node:path";
import { type Side, findConflicts, settledText } from "../grammar/conflicts.ts";
import { visible } from "../grammar/visible.ts";
import { type Loaded, findFiles, loadFiles } from "./command-files.ts";
import { type Repository, type Revision, filesOf, mergeBase, renamesBetween, repositoryOf, revisionOf, workingFiles } from "./git.ts";
import { BUILD_FILE, type Host } from "./workspace/host.ts";
import type { State } from "./workspace/compare.ts";
import { diskHost, pathOfUri, uriOfPath } from "./workspace/disk-host.ts";
import { loadProject } from "./workspace/load.ts";
import { withRecordings } from "./workspace/recordings.ts";

export interface Refused {
  /** One sentence. */
  readonly refusal: string;
}

export interface TwoStates {
  readonly before: State;
  readonly after: State;
  /** Old key to new key. */
  readonly renames: ReadonlyMap<string, string>;
}

export interface Input {
  readonly text: string;
  readonly filename: string;
}

/** Two files, or two folders, as they lie on the disk. */
export async function statesOfPaths(paths: readonly string[], workingFolder: string, input: Input | undefined): Promise<TwoStates | Refused> {
  const [a, b] = paths;
  if (a === undefined || b === undefined || paths.length > 2) return { refusal: "Name two files or two folders to compare, or compare with git: tappet diff --git HEAD." };
  if (a === "-" && b === "-") return { refusal: "Only one of the two can come from standard input." };
  const states: State[] = [];
  for (const path of [a, b]) {
    const loaded = await loadFiles([path], workingFolder, path === "-" ? input : undefined);
    if ("refusal" in loaded) return loaded;
    const [unread] = loaded.unread;
    if (unread !== undefined && loaded.projects.every((p) => p.given.length === 1)) return { refusal: unread };
    states.push(await stateOf(path, loaded, workingFolder));
  }
  return { before: states[0] as State, after: states[1] as State, renames: new Map() };
}

async function stateOf(path: string, loaded: Loaded, workingFolder: string): Promise<State> {
  const whole = path === "-" ? undefined : await realpath(resolve(workingFolder, path)).catch(() => undefined);
  const folder = whole !== undefined && (await stat(whole)).isDirectory() ? whole : undefined;
  const given = new Set(loaded.projects.flatMap((p) => p.given));
  return {
    label: path === "-" ? "standard input" : visible(path), projects: loaded.projects, nameOf: loaded.nameOf,
    // Of two files each is the other's counterpart, whatever they are called.
    keyOf: (uri) => (folder !== undefined ? below(folder, uri) : given.has(uri) ? "" : below(dirname(whole ?? workingFolder), uri)),
  };
}

export interface GitWish {
  /** One revision, compared with the files as they are, or two. */
  readonly revisions: readonly string[];
  /** Compare with where the two parted instead of with the first itself. */
  readonly mergeBase: boolean;
  /** Only files below these; all of the repository where there is none. */
  readonly paths: readonly string[];
}

/** A revision against the files as they are, or against another. Nothing is checked out and nothing is written. */
export async function statesOfGit(wish: GitWish, workingFolder: string): Promise<TwoStates | Refused> {
  const [first, second] = wish.revisions;
  if (first === undefined || wish.revisions.length > 2) return { refusal: "Name one revision to compare the files with, or two to compare with each other; files and folders stand before --git." };
  const repository = await repositoryOf(workingFolder);
  if ("refusal" in repository) return repository;
  if (repository.bare && second === undefined) return { refusal: "This repository has no files of its own: name two revisions." };
  let from = await revisionOf(repository, first);
  if ("refusal" in from) return from;
  const to = second === undefined ? undefined : await revisionOf(repository, second);
  if (to && "refusal" in to) return to;
  if (wish.mergeBase) {
    const head = to ?? (await revisionOf(repository, "HEAD"));
    if ("refusal" in head) return head;
    const parted = await mergeBase(repository, from, head, [visible(first), visible(second ?? "HEAD")]);
    if ("refusal" in parted) return parted;
    from = parted;
  }
  const wanted = wish.paths.map((path) => relative(repository.top, resolve(workingFolder, path)).replaceAll(sep, "/"));
  for (const [i, path] of wanted.entries()) if (path === ".." || path.startsWith("../")) return { refusal: `"${visible(wish.paths[i] ?? "")}" lies outside this repository.` };
  const isWanted = (path: string) => wanted.length === 0 || wanted.some((one) => one === "" || path === one || path.startsWith(`${one}/`));
  const before = await stateOfRevision(repository, from, isWanted, workingFolder);
  if ("refusal" in before) return before;
  const after = to ? await stateOfRevision(repository, to, isWanted, workingFolder) : await stateOfFiles(repository, isWanted, workingFolder);
  if ("refusal" in after) return after;
  if (wanted.length > 0 && [before, after].every((s) => s.projects.every((p) => p.given.length === 0))) return { refusal: `There is no ${BUILD_FILE} file in ${wish.paths.map((p) => `"${visible(p)}"`).join(" or ")}, before or after.` };
  return { before, after, renames: await renamesBetween(repository, from, to) };
}

async function stateOfRevision(repository: Repository, revision: Revision, isWanted: (path: string) => boolean, workingFolder: string): Promise<State | Refused> {
  const files = await filesOf(repository, revision);
  if ("refusal" in files) return files;
  const given = files.paths.filter(isWanted).map((path) => uriOfPath(join(repository.top, path)));
  const loaded = await loadProject(files.host, given);
  files.close();
  // What was recorded does not change with the build: recordings count as they lie there now, on both sides.
  const project = await withRecordings(diskHost([repository.top]), loaded);
  return { label: revision.label, revision: revision.id, projects: [{ project, given }], ...namesIn(repository, workingFolder) };
}

async function stateOfFiles(repository: Repository, isWanted: (path: string) => boolean, workingFolder: string): Promise<State> {
  // A file that git knows and that was deleted is not there, and no trouble.
  const paths = (await workingFiles(repository)).filter(isWanted);
  const there = await Promise.all(paths.map((path) => stat(join(repository.top, path)).then((s) => s.isFile(), () => false)));
  const given = paths.filter((_, i) => there[i]).map((path) => uriOfPath(join(repository.top, path)));
  const host = diskHost([repository.top]);
  const project = await withRecordings(host, await loadProject(host, given));
  return { label: "the files as they are", projects: [{ project, given }], ...namesIn(repository, workingFolder) };
}

/** The two sides of what git could not merge: the files with every conflict settled for the one, and for the other. */
export async function statesOfConflicts(paths: readonly string[], workingFolder: string): Promise<TwoStates | Refused> {
  const found = await findFiles(paths.length > 0 ? paths : ["."], workingFolder);
  if ("refusal" in found) return found;
  const names = { ours: new Set<string>(), theirs: new Set<string>() };
  const stateOfSide = async (side: Side): Promise<State> => {
    const projects = [];
    for (const root of new Set(found.files.map((f) => f.root))) {
      const disk = diskHost([root]);
      const host: Host = {
        ...disk,
        async read(uri) {
          const reading = await disk.read(uri);
          if ("problem" in reading) return reading;
          const conflicts = findConflicts(reading.text);
          for (const c of conflicts) names[side].add(side === "ours" ? c.ourName : c.theirName);
          return { text: settledText(reading.text, conflicts, () => side) };
        },
      };
      const given = found.files.filter((f) => f.root === root).map((f) => f.uri);
      projects.push({ project: await withRecordings(disk, await loadProject(host, given)), given });
    }
    const named = [...names[side]].filter((name) => name !== "").map(visible);
    const name = (uri: string) => below(workingFolder, uri);
    return { label: named.length > 0 ? `what ${named.join(" and ")} has` : side === "ours" ? "the first side" : "the second side", projects, nameOf: name, keyOf: name };
  };
  const [before, after] = [await stateOfSide("ours"), await stateOfSide("theirs")];
  if (names.ours.size + names.theirs.size === 0) return { refusal: "There is no place here that git could not merge." };
  return { before, after, renames: new Map() };
}

function namesIn({ top }: Repository, workingFolder: string): Pick<State, "nameOf" | "keyOf"> {
  return { nameOf: (uri) => below(workingFolder, uri), keyOf: (uri) => below(top, uri) };
}

function below(folder: string, uri: string): string {
  const path = pathOfUri(uri);
  return path === undefined ? uri : relative(folder, path).replaceAll(sep, "/");
}
