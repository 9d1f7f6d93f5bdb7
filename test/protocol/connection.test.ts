/** The life of a connection: what is offered, and what happens when a client asks for nonsense. */
import { spawnSync } from "node:child_process";
import { CancellationTokenSource, ResponseError } from "vscode-languageserver/node";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { BUILT_SERVER, type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, FILES } from "./world.ts";

const BUILD_FILE = "builds/wren-hill-2.tappet";
let folder: Folder;
let client: Client;
let uri: string;

beforeAll(async () => {
  folder = folderOf(FILES);
  client = await startServer({ folders: [folder.uri], pulls: true });
  uri = folder.uriOf(BUILD_FILE);
});
afterAll(async () => {
  await client.stop();
  folder.remove();
});

/** The error that a request ends with. */
async function errorOf(request: Promise<unknown>): Promise<ResponseError> {
  return request.then(
    (answer) => {
      throw new Error(`it was answered: ${JSON.stringify(answer)}`);
    },
    (error: unknown) => {
      if (error instanceof ResponseError) return error;
      throw error;
    },
  );
}

/** Right answers still come. */
async function answersRightly(): Promise<void> {
  if (!client.alive()) throw new Error("the server has ended");
  client.open(uri, BUILD);
  expect((await client.pull(uri)).map((d) => d.code)).toEqual(["need-unmet"]);
  client.close(uri);
}

describe("a connection", () => {
  test("begins with what the server can do and who it is", () => {
    expect(client.initialized.serverInfo).toEqual({ name: "tappet", version: expect.stringMatching(/^\d+\.\d+\.\d+$/) });
    expect(client.initialized.capabilities).toMatchObject({
      textDocumentSync: { openClose: true, change: 2 },
      hoverProvider: true,
      definitionProvider: true,
      documentSymbolProvider: true,
      documentFormattingProvider: true,
      completionProvider: { triggerCharacters: expect.arrayContaining([" "]) },
      codeActionProvider: { codeActionKinds: ["quickfix", "refactor.extract", "refactor.rewrite", "source.fixAll.tappet"] },
      diagnosticProvider: { interFileDependencies: true, workspaceDiagnostics: true },
    });
  });

  test("ends when it is asked to, with nothing left running and nothing complained of", async () => {
    const brief = await startServer({ folders: [folder.uri], pulls: true });
    brief.open(uri, BUILD);
    expect((await brief.pull(uri)).map((d) => d.code)).toEqual(["need-unmet"]);
    expect(brief.complaints()).toEqual([]);
    await brief.stop();
    expect(brief.alive()).toBe(false);
  });

  test("reads below a root that an older client names instead of folders", async () => {
    const older = await startServer({ pulls: true, initialize: { rootUri: folder.uri } });
    older.open(uri, BUILD);
    expect((await older.pull(uri)).map((d) => d.code)).toEqual(["need-unmet"]);
    await older.stop();
  });

  test("started by hand, without saying how to talk, says so and ends", () => {
    const ran = spawnSync(process.execPath, [BUILT_SERVER], { encoding: "utf8" });
    expect(ran.status).toBe(2);
    expect(ran.stderr).toBe("tappet-language-server talks to an editor: start it with --stdio.\n");
  });
});

describe("a folder that comes and goes", () => {
  test("is read from the moment it is added, and no longer when it is removed", async () => {
    const other = folderOf(FILES);
    const there = other.uriOf(BUILD_FILE);
    client.open(there, BUILD);
    expect((await client.pull(there)).map((d) => [d.code, d.range.start.line])).toEqual([["missing-file", 0]]);
    let asked = client.refreshes();
    client.notify("workspace/didChangeWorkspaceFolders", { event: { added: [{ uri: other.uri, name: "other" }], removed: [] } });
    expect((await client.pull(there)).map((d) => d.code)).toEqual(["need-unmet"]);
    await client.refreshed(asked);
    asked = client.refreshes();
    client.notify("workspace/didChangeWorkspaceFolders", { event: { added: [], removed: [{ uri: other.uri, name: "other" }] } });
    expect((await client.pull(there))[0]?.code).toBe("missing-file");
    await client.refreshed(asked);
    client.close(there);
    other.remove();
  });
});

describe("nonsense", () => {
  test("asked by a method that there is not is answered with that error", async () => {
    expect((await errorOf(client.request("tappet/brew", {}))).code).toBe(-32601);
    await answersRightly();
  });

  test("told by a notification that there is not is let pass", async () => {
    client.notify("tappet/brewed", { cups: 2 });
    await answersRightly();
  });

  test.each([
    ["hover without a document", "textDocument/hover", {}],
    ["hover at no position", "textDocument/hover", { textDocument: { uri: "file:///x.tappet" } }],
    ["hover at a position of words", "textDocument/hover", { textDocument: { uri: "file:///x.tappet" }, position: { line: "three", character: null } }],
    ["completion for null", "textDocument/completion", null],
    ["findings of a number", "textDocument/diagnostic", { textDocument: { uri: 12 } }],
    ["actions without a context", "textDocument/codeAction", { textDocument: { uri: "file:///x.tappet" }, range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } } }],
    ["outline of nothing", "textDocument/documentSymbol", {}],
  ])("in a question of the protocol (%s) is answered, and the server stays", async (_, method, params) => {
    await client.request(method, params).catch((error: unknown) => expect(error).toBeInstanceOf(ResponseError));
    await answersRightly();
  });

  test.each([
    ["a sheet of nothing", "tappet/sheet", {}],
    ["a sheet of null", "tappet/sheet", null],
    ["a sheet of a list", "tappet/sheet", [1, 2]],
    ["a sheet of a file that is not known", "tappet/sheet", { uri: "file:///nowhere.tappet" }],
    ["an export in no format", "tappet/export", { uri: "file:///nowhere.tappet" }],
    ["an export in another format", "tappet/export", { uri: "file:///nowhere.tappet", format: "exe" }],
    ["a fix of nothing", "tappet/fix", { fix: "first" }],
  ])("in a question of the sheet's page (%s) is answered with nothing", async (_, method, params) => {
    expect(await client.request(method, params)).toBeNull();
    await answersRightly();
  });

  test.each([
    ["no document", "textDocument/didOpen", {}],
    ["a change of a document that is not open", "textDocument/didChange", { textDocument: { uri: "file:///never-opened.tappet", version: 3 }, contentChanges: [{ text: "engine" }] }],
    ["the closing of a document that is not open", "textDocument/didClose", { textDocument: { uri: "file:///never-opened.tappet" } }],
    ["no changed files", "workspace/didChangeWatchedFiles", {}],
    ["no changed folders", "workspace/didChangeWorkspaceFolders", {}],
  ])("told about %s is let pass", async (_, method, params) => {
    client.notify(method, params);
    await answersRightly();
  });

  test("positions outside the text mean its nearest place", async () => {
    client.open(uri, BUILD);
    const before = client.complaints().length;
    for (const position of [{ line: 4000, character: 0 }, { line: 3, character: 4000 }, { line: 0, character: 1e9 }]) {
      await client.hover(uri, position);
      expect(Array.isArray(await client.complete(uri, position))).toBe(true);
    }
    expect(await client.hover(uri, { line: -1, character: -1 })).toBe(await client.hover(uri, { line: 0, character: 0 }));
    expect(client.complaints().slice(before)).toEqual([]);
    client.close(uri);
  });

  test("an unknown document has no findings, hovers, completions, definitions or outline", async () => {
    const unknown = folder.uriOf("builds/other.tappet");
    const before = client.complaints().length;
    expect(await client.pull(unknown)).toEqual([]);
    expect(await client.hover(unknown, { line: 0, character: 0 })).toBeUndefined();
    expect(await client.complete(unknown, { line: 0, character: 0 })).toEqual([]);
    expect(await client.define(unknown, { line: 0, character: 0 })).toEqual([]);
    expect(await client.outline(unknown)).toEqual([]);
    expect(await client.format(unknown)).toEqual([]);
    expect(client.complaints().slice(before)).toEqual([]);
  });
});

describe("a request that is cancelled", () => {
  test("is answered all the same, with an answer or as cancelled, and so is the next", async () => {
    client.open(uri, BUILD);
    const cancel = new CancellationTokenSource();
    const request = client.connection.sendRequest("textDocument/hover", { textDocument: { uri }, position: client.at(uri, "redline") }, cancel.token);
    cancel.cancel();
    const end = await request.then(() => "answered", (error: unknown) => (error instanceof ResponseError ? error.code : error));
    expect(["answered", -32800]).toContain(end);
    expect(await client.hover(uri, client.at(uri, "redline"))).toContain("**redline**");
  });
});
