/** What the server says it can do, held against what the contributors' guide lists as offered and as left out. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, PROJECT, startServer } from "../support/client.ts";

const guide = readFileSync(join(PROJECT, "DEVELOPERS.md"), "utf8");
/** What a server may say of itself, from the protocol library's own types. */
const known = /interface ServerCapabilities<[^{]*\{([\s\S]*?)\n\}/.exec(readFileSync(join(PROJECT, "node_modules/vscode-languageserver-protocol/lib/common/protocol.d.ts"), "utf8"))?.[1] ?? "";

const rowsOf = (head: string) => {
  const at = guide.indexOf(`| ${head} |`);
  expect(at, head).toBeGreaterThan(0);
  return (guide.slice(at).split("\n\n")[0] ?? "").split("\n").slice(2).flatMap((row) => /^\| `(\w+)` \| \S/.exec(row)?.[1] ?? []);
};

let client: Client;
beforeAll(async () => {
  client = await startServer({ pulls: true });
});
afterAll(() => client.stop());

test("everything that is offered is listed as offered, and nothing else", () => {
  expect(rowsOf("offered").sort()).toEqual(Object.keys(client.initialized.capabilities).sort());
});

test("everything else that the protocol knows is listed as left out, with its reason", () => {
  const names = [...known.matchAll(/^ {4}(\w+)\?:/gm)].map(([, name]) => name as string);
  expect(names.length).toBeGreaterThan(30);
  expect([...rowsOf("offered"), ...rowsOf("left out")].sort()).toEqual(names.sort());
});
