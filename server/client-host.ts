// What the language server may touch everywhere, in a browser too: files through the client, and the calendar.
import type { Connection } from "vscode-languageserver";
import { type DataReading, type FolderEntry, type FolderListing, type Host, LARGEST_DATA, type Listing, type Opened, type Piece, type Reading } from "./workspace/host.ts";

/** Today in this machine's calendar, year first. */
export function localDate(now = new Date()): string {
  const two = (n: number) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** Reads through the client: in a browser, or in a folder that lies on no disk. */
export function clientHost(connection: Connection): Host {
  const ask = async (uri: string): Promise<Reading> => {
    try {
      const reading: unknown = await connection.sendRequest("tappet/read", { uri });
      return isReading(reading) ? reading : { problem: "unreadable" };
    } catch {
      return { problem: "unreadable" };
    }
  };
  const askData = async (uri: string): Promise<DataReading> => {
    try {
      const reading: unknown = await connection.sendRequest("tappet/readData", { uri, most: LARGEST_DATA });
      if (isRecord(reading) && typeof reading["base64"] === "string") return { bytes: bytesOf(reading["base64"]) };
      return isReading(reading) && "problem" in reading ? reading : { problem: "unreadable" };
    } catch {
      return { problem: "unreadable" };
    }
  };
  const list = async (uri: string): Promise<Listing> => {
    try {
      const listing: unknown = await connection.sendRequest("tappet/list", { uri });
      return isListing(listing) ? listing : { problem: "unreadable" };
    } catch {
      return { problem: "unreadable" };
    }
  };
  const folder = async (uri: string): Promise<FolderListing> => {
    try {
      const listing: unknown = await connection.sendRequest("tappet/folder", { uri });
      const entries = isRecord(listing) && Array.isArray(listing["entries"]) ? listing["entries"] : [];
      return { entries: entries.filter((e): e is FolderEntry => isRecord(e) && typeof e["name"] === "string" && typeof e["folder"] === "boolean") };
    } catch {
      return { problem: "unreadable" };
    }
  };
  // The client hands the file over whole: a larger one than it may hand over is read by the command line.
  const open = async (uri: string): Promise<Opened> => {
    const reading = await askData(uri);
    return "problem" in reading ? reading : { size: reading.bytes.length, pieces: piecesOf(reading.bytes) };
  };
  return { read: ask, readData: askData, list, folder, open };
}

const PIECE = 128 * 1024;

async function* piecesOf(bytes: Uint8Array): AsyncIterable<Piece> {
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) {
    yield { problem: "utf-16" };
    return;
  }
  const decoder = new TextDecoder("utf-8", { fatal: true });
  for (let i = 0; i < bytes.length; i += PIECE) {
    // Messages that came meanwhile are answered first.
    await new Promise((resolve) => setTimeout(resolve, 0));
    const piece = bytes.subarray(i, i + PIECE);
    let text: string | undefined;
    try {
      text = decoder.decode(piece, { stream: i + PIECE < bytes.length });
    } catch {
      text = undefined;
    }
    yield text === undefined || text.includes("\0") ? { problem: "not-text" } : { text, bytes: piece.length };
    if (text === undefined) return;
  }
}

/** Files as they were in a revision, read through the client's own git. */
export function revisionHost(connection: Connection, ref: string): Host {
  const ask = async (question: object): Promise<unknown> => connection.sendRequest("tappet/readAt", question).then((answer) => answer, () => undefined);
  return {
    async read(uri) {
      const reading = await ask({ uri, ref });
      return isReading(reading) ? reading : { problem: "unreadable" };
    },
    async readData(uri) {
      const reading = await ask({ uri, ref, most: LARGEST_DATA });
      if (isRecord(reading) && typeof reading["base64"] === "string") return { bytes: bytesOf(reading["base64"]) };
      return isReading(reading) && "problem" in reading ? reading : { problem: "unreadable" };
    },
    list: () => Promise.resolve({ problem: "unreadable" }),
  };
}

function bytesOf(base64: string): Uint8Array {
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  return bytes;
}

function isRecord(x: unknown): x is Record<string, unknown> {
  return typeof x === "object" && x !== null;
}

function isListing(x: unknown): x is Listing {
  return typeof x === "object" && x !== null && (("uris" in x && Array.isArray(x.uris) && x.uris.every((u) => typeof u === "string")) || ("problem" in x && typeof x.problem === "string"));
}

function isReading(x: unknown): x is Reading {
  return typeof x === "object" && x !== null && (("text" in x && typeof x.text === "string") || ("problem" in x && typeof x.problem === "string"));
}
