// Git as the machine has it, asked and never told: revisions, their files, what was renamed. Reads through `git` itself and writes nothing;
// knows no build.
import { type ChildProcessWithoutNullStreams, execFile, spawn } from "node:child_process";
import { join, resolve } from "node:path";
import { textOfBytes, uriOfPath } from "./workspace/disk-host.ts";
import { BUILD_FILE, type DataReading, type Host, LARGEST_DATA, LARGEST_FILE, type Reading, byCodePoint, withoutMark } from "./workspace/host.ts";

export interface Refused {
  /** One sentence. */
  readonly refusal: string;
}

export interface Repository {
  /** The top folder of the files; of a repository without files of its own, the repository itself. */
  readonly top: string;
  readonly bare: boolean;
}

export interface Revision {
  /** As a person calls it: `main (3f9c21d)`. */
  readonly label: string;
  /** The full id of the commit, or of the tree where a tree was named. */
  readonly id: string;
}

/** What no answer may do: wait for a password, fetch what a partial clone lacks, run a program that the repository names, write an index. */
const QUIET = { GIT_TERMINAL_PROMPT: "0", GIT_NO_LAZY_FETCH: "1", GIT_OPTIONAL_LOCKS: "0", LC_ALL: "C" };
const SAFE = ["-c", "core.fsmonitor=false", "-c", "core.quotePath=false"];
const MOST_OUTPUT = 256 * 1024 * 1024;

interface Said {
  readonly ok: boolean;
  readonly out: string;
  readonly err: string;
  readonly absent: boolean;
}

function git(folder: string, args: readonly string[]): Promise<Said> {
  return new Promise((answer) => {
    execFile("git", [...SAFE, ...args], { cwd: folder, env: { ...process.env, ...QUIET }, maxBuffer: MOST_OUTPUT, encoding: "utf8" }, (error, out, err) => {
      answer({ ok: !error, out, err, absent: (error as NodeJS.ErrnoException | null)?.code === "ENOENT" });
    });
  });
}

/** The repository that a folder lies in. */
export async function repositoryOf(folder: string): Promise<Repository | Refused> {
  const said = await git(folder, ["rev-parse", "--is-bare-repository", "--absolute-git-dir"]);
  if (said.absent) return { refusal: "git is not on this machine, or not in its path: install it, or compare two files by their names." };
  if (!said.ok) {
    // Git says itself how a folder that belongs to somebody else is trusted.
    if (said.err.includes("dubious ownership")) return { refusal: `git does not trust this repository because it belongs to another user: ${firstLine(said.err)}.` };
    return { refusal: "There is no git repository here: run this inside one, or compare two files by their names." };
  }
  const [bare = "", folderOfGit = ""] = said.out.split("\n");
  if (bare === "true") return { top: resolve(folderOfGit), bare: true };
  const top = await git(folder, ["rev-parse", "--show-toplevel"]);
  return top.ok ? { top: resolve(top.out.trim()), bare: false } : { top: resolve(folderOfGit), bare: true };
}

/** What a revision names: a commit, or a tree such as `git write-tree` prints. */
export async function revisionOf({ top }: Repository, name: string): Promise<Revision | Refused> {
  const commit = await git(top, ["rev-parse", "--verify", "--quiet", "--end-of-options", `${name}^{commit}`]);
  if (commit.ok) return labelled(top, name, commit.out.trim());
  const tree = await git(top, ["rev-parse", "--verify", "--quiet", "--end-of-options", `${name}^{tree}`]);
  if (tree.ok) return { label: `tree ${tree.out.trim().slice(0, 7)}`, id: tree.out.trim() };
  if (!(await git(top, ["rev-parse", "--verify", "--quiet", "HEAD"])).ok && name === "HEAD") return { refusal: "This repository has no commit yet, so there is nothing to compare with." };
  if (await isShallow(top)) return { refusal: `This clone is shallow and does not reach "${name}": fetch the rest with git fetch --unshallow, or have CI fetch the whole history.` };
  return { refusal: `git knows no revision "${name}" here.${await nearNames(top, name)}` };
}

async function labelled(top: string, name: string, id: string): Promise<Revision> {
  const short = await git(top, ["rev-parse", "--short", id]);
  const brief = short.ok ? short.out.trim() : id.slice(0, 7);
  return { label: id.startsWith(name) ? brief : `${name} (${brief})`, id };
}

async function isShallow(top: string): Promise<boolean> {
  return (await git(top, ["rev-parse", "--is-shallow-repository"])).out.trim() === "true";
}

async function nearNames(top: string, name: string): Promise<string> {
  const refs = await git(top, ["for-each-ref", "--format=%(refname:short)", "refs/heads", "refs/tags"]);
  const near = refs.out.split("\n").filter((ref) => ref !== "" && (ref.includes(name) || name.includes(ref) || ref.toLowerCase() === name.toLowerCase())).slice(0, 3);
  return near.length > 0 ? ` Did you mean ${near.join(" or ")}?` : "";
}

/** Where two lines of work parted: what a change is rightly compared with. */
export async function mergeBase(repository: Repository, a: Revision, b: Revision, names: readonly [string, string]): Promise<Revision | Refused> {
  const said = await git(repository.top, ["merge-base", a.id, b.id]);
  const id = said.out.trim().split("\n")[0] ?? "";
  if (said.ok && id !== "") return { label: `where ${names[1]} left ${names[0]} (${id.slice(0, 7)})`, id };
  if (await isShallow(repository.top)) return { refusal: `This clone is shallow and does not reach where ${names[1]} left ${names[0]}: fetch the rest with git fetch --unshallow, or have CI fetch the whole history.` };
  return { refusal: `${names[0]} and ${names[1]} have no commit in common.` };
}

/** Files that go by another name in the later state, old path to new. Without a later revision the files as they are count. */
export async function renamesBetween({ top }: Repository, from: Revision, to: Revision | undefined): Promise<ReadonlyMap<string, string>> {
  const said = await git(top, ["diff", "--no-ext-diff", "--no-textconv", "--name-status", "--find-renames", "--diff-filter=R", "-z", from.id, ...(to ? [to.id] : []), "--"]);
  const fields = said.out.split("\0");
  const renames = new Map<string, string>();
  for (let i = 0; i + 2 < fields.length; i += 3) renames.set(fields[i + 1] as string, fields[i + 2] as string);
  return renames;
}

/** Build files in the working tree that git tracks or would offer to: paths below the top, in order. */
export async function workingFiles({ top }: Repository): Promise<readonly string[]> {
  const said = await git(top, ["ls-files", "--cached", "--others", "--exclude-standard", "-z", "--", `*${BUILD_FILE}`]);
  return [...new Set(said.out.split("\0").filter((path) => path !== ""))].sort(byCodePoint);
}

/** The revision that the working tree stands on, and whether a build file differs from it. */
export async function revisionHere(folder: string): Promise<{ readonly short: string; readonly changed: boolean } | Refused> {
  const repository = await repositoryOf(folder);
  if ("refusal" in repository) return repository;
  const head = await revisionOf(repository, "HEAD");
  if ("refusal" in head) return head;
  const status = await git(folder, ["status", "--porcelain", "--", `:(top)*${BUILD_FILE}`]);
  return { short: /\(([0-9a-f]+)\)/.exec(head.label)?.[1] ?? head.id.slice(0, 7), changed: status.out.trim() !== "" };
}

/** The tracked files of a name, wherever they lie: paths below the top. */
export async function trackedPaths({ top }: Repository, name: string): Promise<readonly string[]> {
  const said = await git(top, ["ls-files", "-z", "--full-name", "--", `:(top,glob)**/${name.replace(/[[\]*?\\]/g, "\\$&")}`]);
  return [...new Set(said.out.split("\0").filter((path) => path !== ""))];
}

export interface RevisionFiles {
  /** Files by their URI as if the revision lay in the working tree. */
  readonly host: Host;
  /** Build files, as paths below the top. */
  readonly paths: readonly string[];
  close(): void;
}

interface TreeEntry {
  readonly id: string;
  readonly size: number;
  readonly link: boolean;
}

/** A revision's files, read through one `git cat-file` when they are asked for. */
export async function filesOf({ top }: Repository, revision: Revision): Promise<RevisionFiles | Refused> {
  const said = await git(top, ["ls-tree", "-r", "-z", "--long", "--full-tree", revision.id]);
  if (!said.ok) return { refusal: `The files of ${revision.label} could not be listed: ${firstLine(said.err)}.` };
  const entries = new Map<string, TreeEntry>();
  for (const line of said.out.split("\0")) {
    const found = /^(\d{6}) blob ([0-9a-f]+) +(\d+|-)\t(.*)$/s.exec(line);
    if (found) entries.set(uriOfPath(join(top, found[4] as string)), { id: found[2] as string, size: Number(found[3]), link: found[1] === "120000" });
  }
  const root = `${uriOfPath(top)}/`;
  const paths = [...entries.keys()].filter((uri) => uri.endsWith(BUILD_FILE)).map((uri) => decodeURIComponent(uri.slice(root.length))).filter((path) => !path.split("/").some((step) => step.startsWith(".") || step === "node_modules")).sort(byCodePoint);
  const blobs = blobReader(top);
  const bytesOf = async (uri: string, most: number): Promise<DataReading> => {
    const entry = entries.get(uri);
    if (!entry) return { problem: uri.startsWith(root) ? "missing" : "outside" };
    // A link is a short text in a tree; what it leads to is another file, which a build may name itself.
    if (entry.link) return { problem: "unreadable" };
    if (entry.size > most) return { problem: "too-large" };
    const bytes = await blobs.read(entry.id);
    return bytes ? { bytes } : { problem: "unreadable" };
  };
  const read = async (uri: string): Promise<Reading> => {
    const found = await bytesOf(uri, LARGEST_FILE);
    if ("problem" in found) return found;
    const reading = textOfBytes(found.bytes);
    return "text" in reading ? { text: withoutMark(reading.text) } : reading;
  };
  const host: Host = {
    read,
    readData: (uri) => bytesOf(uri, LARGEST_DATA),
    list(uri) {
      if (entries.has(uri)) return Promise.resolve({ uris: [uri] });
      const below = uri.endsWith("/") ? uri : `${uri}/`;
      const uris = paths.map((path) => uriOfPath(join(top, path))).filter((one) => one.startsWith(below));
      return Promise.resolve(uris.length > 0 ? { uris } : { problem: "missing" });
    },
  };
  return { host, paths, close: blobs.close };
}

/** One process for all files of a revision. Answers come in the order of the questions. */
function blobReader(top: string): { readonly read: (id: string) => Promise<Buffer | undefined>; readonly close: () => void } {
  let child: ChildProcessWithoutNullStreams | undefined;
  let pending = Buffer.alloc(0);
  const waiting: ((bytes: Buffer | undefined) => void)[] = [];
  const answer = () => {
    while (waiting.length > 0) {
      const end = pending.indexOf(10);
      if (end < 0) return;
      const size = /^[0-9a-f]+ blob (\d+)$/.exec(pending.subarray(0, end).toString("latin1"))?.[1];
      if (size === undefined) {
        pending = pending.subarray(end + 1);
        waiting.shift()?.(undefined);
        continue;
      }
      const from = end + 1;
      const to = from + Number(size);
      if (pending.length < to + 1) return;
      const bytes = Buffer.from(pending.subarray(from, to));
      pending = pending.subarray(to + 1);
      waiting.shift()?.(bytes);
    }
  };
  const start = () => {
    const started = spawn("git", [...SAFE, "cat-file", "--batch"], { cwd: top, env: { ...process.env, ...QUIET }, stdio: ["pipe", "pipe", "pipe"] });
    started.stdout.on("data", (piece: Buffer) => {
      pending = Buffer.concat([pending, piece]);
      answer();
    });
    started.stdin.on("error", () => {});
    started.stderr.resume();
    const end = () => {
      for (const one of waiting.splice(0)) one(undefined);
    };
    started.on("error", end);
    started.on("close", end);
    return started;
  };
  return {
    read: (id) =>
      new Promise((done) => {
        child ??= start();
        waiting.push(done);
        child.stdin.write(`${id}\n`);
      }),
    close: () => child?.stdin.end(),
  };
}

function firstLine(text: string): string {
  return (text.trim().split("\n")[0] ?? "").replace(/^fatal: /, "").replace(/(?<![.\s])[.\s]+$/, "");
}
