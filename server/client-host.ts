// What the language server may touch everywhere, in a browser too: files through the client, and the calendar.
import type { Connection } from "vscode-languageserver";
import type { Host, Listing, Reading } from "./workspace/host.ts";

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
  const list = async (uri: string): Promise<Listing> => {
    try {
      const listing: unknown = await connection.sendRequest("tappet/list", { uri });
      return isListing(listing) ? listing : { problem: "unreadable" };
    } catch {
      return { problem: "unreadable" };
    }
  };
  return { read: ask, list };
}

function isListing(x: unknown): x is Listing {
  return typeof x === "object" && x !== null && (("uris" in x && Array.isArray(x.uris) && x.uris.every((u) => typeof u === "string")) || ("problem" in x && typeof x.problem === "string"));
}

function isReading(x: unknown): x is Reading {
  return typeof x === "object" && x !== null && (("text" in x && typeof x.text === "string") || ("problem" in x && typeof x.problem === "string"));
}
