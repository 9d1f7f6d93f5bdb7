// Runs a door's code, and keeps what the runtime made of it between two starts, in the user's own cache folder. Knows no door; a folder that
// cannot be written, or holds what is damaged or of another runtime, costs a start nothing but the time it would have saved.
// The runtime's own cache is not used: it is filled as soon as the code is read, when none of the functions that are going to run have been
// compiled yet.
import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { homedir } from "node:os";
import { dirname, isAbsolute, join } from "node:path";
import { Script } from "node:vm";

/** What the build makes of the body that this starter runs: a mark of its content, since the runtime tells code apart by its length alone. */
declare const BODY_MARK: string;

/** A body is one function, called with these. Its text is ASCII, which is the quickest to read. */
type Body = (require: NodeJS.Require, filename: string, dirname: string) => void;

/** The checksum at the end of an entry, in bytes: the runtime itself would run what is damaged. */
const CHECKSUM = 4;

/** One word of so many counts in the checksum, which is eight of every page that a file system can lose: to look at each would cost what the entry saves. */
const STRIDE = 128;

/** Where a user's programs keep what can be made again; nothing where the system does not say. */
export function cacheFolder(platform: NodeJS.Platform, env: NodeJS.ProcessEnv, home: string): string | undefined {
  const given = platform === "win32" ? env["LOCALAPPDATA"] : env["XDG_CACHE_HOME"];
  // A relative path would put the cache into whatever folder a command is run in.
  if (given !== undefined && isAbsolute(given)) return join(given, "tappet");
  if (!isAbsolute(home)) return undefined;
  return platform === "win32" ? undefined : platform === "darwin" ? join(home, "Library", "Caches", "tappet") : join(home, ".cache", "tappet");
}

/**
 * Runs a file that lies beside this one, and gives what keeps its code: called when the work is done, it keeps every function that the work
 * has used. `part` keeps apart what different commands use of the same code.
 */
export function runBody(name: string, part: string): () => void {
  const path = join(__dirname, name);
  const source = readFileSync(path, "latin1");
  const entry = entryOf(part);
  const script = scriptOf(source, path, entry === undefined ? undefined : readEntry(entry));
  (script.runInThisContext() as Body)(require, path, __dirname);
  return () => {
    if (entry !== undefined && script.cachedDataRejected !== false) writeEntry(entry, () => script.createCachedData());
  };
}

/** By itself, so that the bytes of an entry are not held for as long as the code runs. `cachedDataRejected` is false only where they served. */
function scriptOf(source: string, filename: string, cachedData: Buffer | undefined): Script {
  return new Script(source, { filename, ...(cachedData && { cachedData }) });
}

function entryOf(part: string): string | undefined {
  // A home that cannot be asked for is no reason not to run.
  const folder = attempt(() => cacheFolder(process.platform, process.env, homedir()));
  return folder && join(folder, "code", `${part}-${BODY_MARK}-${process.versions.v8}-${process.arch}`);
}

function readEntry(entry: string): Buffer | undefined {
  return attempt(() => {
    const bytes = readFileSync(entry);
    const code = bytes.subarray(0, -CHECKSUM);
    return checksumOf(code) === bytes.readUInt32LE(code.length) ? code : undefined;
  });
}

function checksumOf(code: Buffer): number {
  const words = new Uint32Array(code.buffer, code.byteOffset, code.length >> 2);
  let sum = code.length;
  for (let i = 0; i < words.length; i += STRIDE) sum = (Math.imul(sum, 31) + (words[i] ?? 0)) >>> 0;
  return sum;
}

/** Whole or not at all: another start may be reading. */
function writeEntry(entry: string, code: () => Buffer): void {
  const unfinished = `${entry}.${process.pid}`;
  attempt(() => {
    mkdirSync(dirname(entry), { recursive: true, mode: 0o700 });
    const bytes = code();
    const checksum = Buffer.alloc(CHECKSUM);
    checksum.writeUInt32LE(checksumOf(bytes));
    writeFileSync(unfinished, Buffer.concat([bytes, checksum]), { mode: 0o600 });
    renameSync(unfinished, entry);
  });
  attempt(() => rmSync(unfinished, { force: true }));
}

function attempt<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch {
    return undefined;
  }
}
