// What the language server may touch everywhere, in a browser too: files through the client, and the calendar.
import type { Connection } from "vscode-languageserver";
import { type DataReading, type FolderEntry, type FolderListing, type Host, LARGEST_DATA, type Listing, type Reading } from "./workspace/host.ts";

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
  return { read: ask, readData: askData, list, folder };
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
