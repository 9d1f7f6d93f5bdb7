// Build files on a disk: which may be read, and how a path and a URI name the same file. Knows Node; knows no language.
import { type Stats, constants } from "node:fs";
import { type FileHandle, open, readdir, realpath, stat } from "node:fs/promises";
import { dirname, isAbsolute, join, relative, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";
import type { Unreadable } from "../model/project.ts";
import { BUILD_FILE, type DataReading, type FolderListing, type Host, LARGEST_DATA, LARGEST_FILE, type Listing, MOST_ENTRIES, type Opened, type Piece, type Reading, byCodePoint, withoutMark } from "./host.ts";

/** The URI of an absolute path, spelt as `resolveUse` spells those it makes, so that one file has one name. */
export function uriOfPath(path: string): string {
  const slashed = sep === "\\" ? `/${path.replaceAll("\\", "/")}` : path;
  return `file://${slashed.split("/").map((s) => encodeURIComponent(s.toWellFormed()).replaceAll("%2B", "+").replaceAll("%40", "@")).join("/")}`;
}

/** The path of a file's URI; absent for other schemes and for what no path can be. */
export function pathOfUri(uri: string): string | undefined {
  if (!uri.startsWith("file:")) return undefined;
  try {
    const path = fileURLToPath(uri);
    return path.includes("\0") ? undefined : path;
  } catch {
    return undefined;
  }
}

/**
 * The folder that a file may read from: the nearest one above it that holds `.git`, else the working folder when the file
 * lies in it, else the folder that was named and that it was found in, else its own.
 */
export async function rootOf(path: string, workingFolder: string, named?: string): Promise<string> {
  const own = dirname(path);
  for (let folder = own; ; folder = dirname(folder)) {
    if (await statOf(join(folder, ".git"))) return folder;
    if (dirname(folder) === folder) break;
  }
  return isInside(path, workingFolder) ? workingFolder : (named ?? own);
}

/** A host that reads below these folders and nowhere else, wherever links lead. */
export function diskHost(roots: readonly string[]): Host {
  const given = roots.map((root) => resolve(root));
  let real: Promise<readonly string[]> | undefined;
  const realRoots = () => (real ??= Promise.all(given.map((root) => realpath(root).catch(() => root))));
  // The path a link ends at, where that is below a root. What lies outside is never touched, so that nobody learns what is there.
  const admit = async (uri: string): Promise<{ readonly path: string; readonly stats: Stats } | { readonly problem: Unreadable }> => {
    const path = pathOfUri(uri);
    if (path === undefined || !isAbsolute(path)) return { problem: "unreadable" };
    const roots = await realRoots();
    if (![...given, ...roots].some((root) => isInside(path, root))) return { problem: "outside" };
    try {
      const end = await realpath(path);
      if (!roots.some((root) => isInside(end, root))) return { problem: "outside" };
      return { path: end, stats: await stat(end) };
    } catch (error) {
      return { problem: problemOf(error) };
    }
  };
  return {
    async read(uri): Promise<Reading> {
      const admitted = await admit(uri);
      if ("problem" in admitted) return admitted;
      if (!admitted.stats.isFile()) return { problem: "unreadable" };
      if (admitted.stats.size > LARGEST_FILE) return { problem: "too-large" };
      const reading = await readText(admitted.path);
      return "text" in reading ? { text: withoutMark(reading.text) } : reading;
    },
    async readData(uri): Promise<DataReading> {
      const admitted = await admit(uri);
      if ("problem" in admitted) return admitted;
      if (!admitted.stats.isFile()) return { problem: "unreadable" };
      return admitted.stats.size > LARGEST_DATA ? { problem: "too-large" } : readBytes(admitted.path, LARGEST_DATA);
    },
    async folder(uri): Promise<FolderListing> {
      const admitted = await admit(uri);
      if ("problem" in admitted) return admitted;
      if (!admitted.stats.isDirectory()) return { problem: "unreadable" };
      const found = await readdir(admitted.path, { withFileTypes: true }).catch(() => []);
      return { entries: found.filter((e) => !e.name.startsWith(".") && (e.isFile() || e.isDirectory())).slice(0, MOST_ENTRIES).map((e) => ({ name: e.name, folder: e.isDirectory() })) };
    },
    async list(uri): Promise<Listing> {
      const admitted = await admit(uri);
      if ("problem" in admitted) return admitted;
      if (admitted.stats.isFile()) return { uris: [uri] };
      if (!admitted.stats.isDirectory()) return { problem: "unreadable" };
      const found: string[] = [];
      await walk(pathOfUri(uri) as string, found);
      return { uris: found.map(uriOfPath) };
    },
    async open(uri): Promise<Opened> {
      const admitted = await admit(uri);
      if ("problem" in admitted) return admitted;
      if (!admitted.stats.isFile()) return { problem: "unreadable" };
      return { size: admitted.stats.size, pieces: piecesOf(admitted.path) };
    },
  };
}

/** The text of a file, its byte-order mark kept; read no further than the largest a build file may be, however the file grows. */
export async function readText(path: string): Promise<Reading> {
  const reading = await readBytes(path, LARGEST_FILE);
  return "problem" in reading ? reading : textOfBytes(reading.bytes);
}

async function readBytes(path: string, most: number): Promise<DataReading> {
  let handle: FileHandle | undefined;
  try {
    // Without waiting: a file that has just become a pipe must not hold the reader.
    handle = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    if (!(await handle.stat()).isFile()) return { problem: "unreadable" };
    const pieces: Uint8Array[] = [];
    for (let size = 0; ; ) {
      const { bytesRead, buffer } = await handle.read({ buffer: Buffer.allocUnsafe(64 * 1024), length: 64 * 1024 });
      if (bytesRead === 0) break;
      size += bytesRead;
      if (size > most) return { problem: "too-large" };
      pieces.push(buffer.subarray(0, bytesRead));
    }
    return { bytes: Buffer.concat(pieces) };
  } catch (error) {
    return { problem: problemOf(error) };
  } finally {
    await handle?.close();
  }
}

const PIECE = 128 * 1024;

/** A file's text in pieces, each as soon as it is read; the file is closed however the loop ends. */
async function* piecesOf(path: string): AsyncIterable<Piece> {
  let handle: FileHandle | undefined;
  try {
    handle = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    if (!(await handle.stat()).isFile()) {
      yield { problem: "unreadable" };
      return;
    }
    const decoder = new TextDecoder("utf-8", { fatal: true });
    const buffer = Buffer.allocUnsafe(PIECE);
    for (let first = true; ; first = false) {
      const { bytesRead } = await handle.read({ buffer, length: PIECE });
      const bytes = buffer.subarray(0, bytesRead);
      if (first && ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff))) {
        yield { problem: "utf-16" };
        return;
      }
      const text = pieceOf(decoder, bytes, bytesRead > 0);
      yield text === undefined ? { problem: "not-text" } : { text, bytes: bytesRead };
      if (text === undefined || bytesRead === 0) return;
    }
  } catch (error) {
    yield { problem: problemOf(error) };
  } finally {
    await handle?.close();
  }
}

/** The letters that these bytes complete; nothing where they are no UTF-8, or hold a zero. */
function pieceOf(decoder: TextDecoder, bytes: Uint8Array, more: boolean): string | undefined {
  try {
    const text = decoder.decode(bytes, { stream: more });
    return text.includes("\0") ? undefined : text;
  } catch {
    return undefined;
  }
}

/** Bytes as text, where they are UTF-8. A byte-order mark is kept; a zero byte is no text. */
export function textOfBytes(bytes: Uint8Array): Reading {
  try {
    const text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
    return text.includes("\0") ? { problem: "not-text" } : { text };
  } catch {
    return { problem: "not-text" };
  }
}

/** Build files below a folder, folders and files in one order of names. Links to folders are not followed: they may lead in circles. */
async function walk(folder: string, found: string[]): Promise<void> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  for (const entry of entries.sort((a, b) => byCodePoint(a.name, b.name))) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) {
      if (entry.name !== "node_modules" && !entry.name.startsWith(".")) await walk(path, found);
    } else if (entry.name.endsWith(BUILD_FILE) && !entry.name.startsWith(".")) found.push(path);
  }
}

function isInside(path: string, folder: string): boolean {
  const way = relative(folder, path);
  return way === "" || (way !== ".." && !way.startsWith(`..${sep}`) && !isAbsolute(way));
}

async function statOf(path: string): Promise<Stats | undefined> {
  return stat(path).catch(() => undefined);
}

function problemOf(error: unknown): Unreadable {
  const code = (error as { code?: unknown }).code;
  return code === "ENOENT" || code === "ENOTDIR" ? "missing" : "unreadable";
}
