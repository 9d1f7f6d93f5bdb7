// The port through which files are read and found, and a host that holds them in memory. Knows no disk and no protocol.
import type { Unreadable } from "../model/project.ts";

export type Reading = { readonly text: string } | { readonly problem: Unreadable };
export type DataReading = { readonly bytes: Uint8Array } | { readonly problem: Unreadable };
export type Listing = { readonly uris: readonly string[] } | { readonly problem: Unreadable };

/** Why a recording could not be read. */
export type Unopened = Unreadable | "utf-16";
/** A piece of a long text as it comes off the disk: its letters, and how many bytes they were. */
export type Piece = { readonly text: string; readonly bytes: number } | { readonly problem: Unopened };
/** A long text read piece by piece; leaving the loop early closes the file. Its iterator never rejects. */
export type Opened = { readonly size: number | undefined; readonly pieces: AsyncIterable<Piece> } | { readonly problem: Unopened };
export type FolderListing = { readonly entries: readonly FolderEntry[] } | { readonly problem: Unreadable };

export interface FolderEntry {
  readonly name: string;
  readonly folder: boolean;
}

/** A folder may hold thousands; nobody reads further than this. */
export const MOST_ENTRIES = 1000;

export interface Host {
  /** A file's text without byte-order mark, or why there is none. Never rejects. */
  read(uri: string): Promise<Reading>;
  /** The bytes of a file that stands beside a build file and is none itself, such as a tune; no larger than `LARGEST_DATA`. Never rejects. */
  readData(uri: string): Promise<DataReading>;
  /** What lies in a folder, for a path that is being typed; a host that cannot say has no such answer. Never rejects. */
  folder?(uri: string): Promise<FolderListing>;
  /** The build files of a folder and the folders below it, in the order of their names; of a file, itself. Never rejects. */
  list(uri: string): Promise<Listing>;
  /** A text of any length, for recordings; a host that can read none has no such door. Never rejects. */
  open?(uri: string): Promise<Opened>;
}

/** The ending of build files. */
export const BUILD_FILE = ".tappet";

/** More than this is no build file: it is refused before it is read. In bytes. */
export const LARGEST_FILE = 4 * 1024 * 1024;

/** More than this is no tune file. In bytes. */
export const LARGEST_DATA = 32 * 1024 * 1024;

/** A host over texts by URI, and over the bytes of other files: for tests and for pages without a disk. */
export function memoryHost(texts: Readonly<Record<string, string>>, data: Readonly<Record<string, Uint8Array>> = {}): Host {
  return {
    readData(uri) {
      const bytes = data[uri];
      return Promise.resolve(bytes ? { bytes } : { problem: "missing" });
    },
    read(uri) {
      const text = texts[uri];
      if (text === undefined) return Promise.resolve({ problem: "missing" });
      return Promise.resolve(text.length > LARGEST_FILE ? { problem: "too-large" } : { text: withoutMark(text) });
    },
    folder(uri) {
      const inside = uri.endsWith("/") ? uri : `${uri}/`;
      const steps = [...Object.keys(texts), ...Object.keys(data)].flatMap((u) => (u.startsWith(inside) ? [u.slice(inside.length)] : []));
      const names = new Map(steps.map((step) => [decodeURIComponent(step.split("/")[0] ?? ""), step.includes("/")]));
      return Promise.resolve({ entries: [...names].map(([name, folder]) => ({ name, folder })) });
    },
    list(uri) {
      if (texts[uri] !== undefined) return Promise.resolve({ uris: [uri] });
      const folder = uri.endsWith("/") ? uri : `${uri}/`;
      const uris = Object.keys(texts).filter((u) => u.startsWith(folder) && u.endsWith(BUILD_FILE)).sort(byCodePoint);
      return Promise.resolve(uris.length > 0 ? { uris } : { problem: "missing" });
    },
    open(uri) {
      const text = texts[uri];
      return Promise.resolve(text === undefined ? { problem: "missing" } : { size: text.length, pieces: piecesOf(text) });
    },
  };
}

const PIECE = 64 * 1024;

async function* piecesOf(text: string): AsyncIterable<Piece> {
  for (let i = 0; i < text.length; i += PIECE) {
    const piece = text.slice(i, i + PIECE);
    yield await Promise.resolve({ text: piece, bytes: piece.length });
  }
}

/** A host that has nothing. */
export const EMPTY_HOST: Host = memoryHost({});

/** Text that begins with a byte-order mark, without it. */
export function withoutMark(text: string): string {
  return text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
}

/** The same order on every machine, whatever its language. */
export function byCodePoint(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
