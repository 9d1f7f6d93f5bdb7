/** Findings of every file of the opened folders, open or not. */
import { type Diagnostic, ProgressType, type WorkspaceDiagnosticReport, type WorkspaceDiagnosticReportPartialResult, type WorkspaceDocumentDiagnosticReport } from "vscode-languageserver/node";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, ENGINE, FILES, PARTS } from "./world.ts";

let folder: Folder;
let client: Client;
let build: string;
let engine: string;
let parts: string;

beforeEach(async () => {
  folder = folderOf(FILES);
  build = folder.uriOf("builds/wren-hill-2.tappet");
  engine = folder.uriOf("engines/dunlin-18.tappet");
  parts = folder.uriOf("parts/ridgeway.tappet");
  client = await startServer({ folders: [folder.uri], pulls: true });
});
afterEach(async () => {
  expect(client.complaints()).toEqual([]);
  await client.stop();
  folder.remove();
});

const PIECES = new ProgressType<WorkspaceDiagnosticReportPartialResult>();
let asked = 0;

/** Asks in pieces, as an editor does that already has these results. */
async function ask(previous: readonly WorkspaceDocumentDiagnosticReport[] = []): Promise<WorkspaceDocumentDiagnosticReport[]> {
  const token = `pieces-${++asked}`;
  const found: WorkspaceDocumentDiagnosticReport[] = [];
  const listening = client.connection.onProgress(PIECES, token, ({ items }) => void found.push(...items));
  const previousResultIds = previous.flatMap(({ uri, resultId }) => (resultId === undefined ? [] : [{ uri, value: resultId }]));
  const last = await client.request<WorkspaceDiagnosticReport>("workspace/diagnostic", { previousResultIds, partialResultToken: token });
  listening.dispose();
  return [...found, ...last.items];
}

const rulesIn = (reports: readonly WorkspaceDocumentDiagnosticReport[], uri: string) => {
  const report = reports.findLast((r) => r.uri === uri);
  return report?.kind === "full" ? report.items.map((d: Diagnostic) => d.code) : report?.kind;
};

describe("a workspace in which nothing is open", () => {
  test("has the findings of all its files, in one answer or in pieces", async () => {
    const whole = await client.request<WorkspaceDiagnosticReport>("workspace/diagnostic", { previousResultIds: [] });
    expect(whole.items.map((r) => r.uri).sort()).toEqual([build, engine, parts].sort());
    expect(rulesIn(whole.items, build)).toEqual(["need-unmet"]);
    expect(whole.items.every((r) => r.version === null && r.resultId !== undefined)).toBe(true);
    expect((await ask()).map((r) => [r.uri, rulesIn([r], r.uri)]).sort()).toEqual(whole.items.map((r) => [r.uri, rulesIn([r], r.uri)]).sort());
  });

  test("gives the findings that an open file has", async () => {
    const before = await ask();
    client.open(build, BUILD);
    const items = await client.pull(build);
    expect(before.find((r) => r.uri === build)).toMatchObject({ items });
  });

  test("says nothing new until something is, and then only what is new: an engine that changes on disk under a build", async () => {
    const before = await ask();
    let answered = false;
    const waiting = ask(before).then((reports) => {
      answered = true;
      return reports;
    });
    // Whatever is asked after it is answered first: the question waits.
    await client.request("tappet/verdict", { uri: build });
    expect(answered).toBe(false);
    folder.write("engines/dunlin-18.tappet", ENGINE.replace("solid-height: 24.4 mm", "solid-height: 27.4 mm"));
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: engine, type: 2 }] });
    const after = await waiting;
    expect(rulesIn(after, build)).toContain("coil-bind-margin");
    expect(after.filter((r) => r.kind === "full").map((r) => r.uri)).not.toContain(parts);
  });

  test("hears of a file that came and of one that went", async () => {
    const before = await ask();
    folder.write("builds/other.tappet", 'use "../engines/dunlin-18.tappet"\n\nbuild other on dunlin-18 { redlin: 6000 rpm }\n');
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("builds/other.tappet"), type: 1 }] });
    const came = await ask(before);
    expect(rulesIn(came, folder.uriOf("builds/other.tappet"))).toEqual(["unknown-key"]);
    folder.remove("builds/other.tappet");
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("builds/other.tappet"), type: 3 }] });
    const went = await ask(came);
    expect(went.find((r) => r.uri === folder.uriOf("builds/other.tappet"))).toMatchObject({ kind: "full", items: [] });
  });

  test("stops when the question is taken back, and answers the next one", async () => {
    const before = await ask();
    const { CancellationTokenSource } = await import("vscode-languageserver/node");
    const source = new CancellationTokenSource();
    const waiting = client.connection.sendRequest("workspace/diagnostic", { previousResultIds: before.map((r) => ({ uri: r.uri, value: r.resultId })), partialResultToken: "taken-back" }, source.token).catch(() => undefined);
    source.cancel();
    await waiting;
    expect(rulesIn(await ask(), build)).toEqual(["need-unmet"]);
  });
});

describe("an open file in a workspace", () => {
  test("is answered for as it stands in the editor, with its version", async () => {
    client.open(build, BUILD.replace("7300 rpm", "7300"));
    const found = (await ask()).find((r) => r.uri === build);
    expect(found).toMatchObject({ version: client.versionOf(build) });
    expect(rulesIn(found ? [found] : [], build)).toEqual(["unit-missing", "need-unmet"]);
  });

  test("once closed has its findings told again, from the disk", async () => {
    client.open(build, BUILD);
    const before = await ask();
    client.close(build);
    const after = await ask(before);
    expect(after.find((r) => r.uri === build)).toMatchObject({ kind: "full", version: null });
    expect(rulesIn(after, build)).toEqual(["need-unmet"]);
  });

  test("that is an engine has the builds on it looked at again while it is typed in", async () => {
    client.open(engine, ENGINE);
    const before = await ask();
    client.replace(engine, "solid-height: 24.4 mm", "solid-height: 27.4 mm");
    expect(rulesIn(await ask(before), build)).toContain("coil-bind-margin");
  });

  test("is answered with the name of its result, and with nothing more where the client has it", async () => {
    client.open(build, BUILD);
    const first = await client.request<{ resultId: string }>("textDocument/diagnostic", { textDocument: { uri: build } });
    expect(await client.request("textDocument/diagnostic", { textDocument: { uri: build }, previousResultId: first.resultId })).toEqual({ kind: "unchanged", resultId: first.resultId });
    client.replace(build, "7300 rpm", "7300");
    expect(await client.request("textDocument/diagnostic", { textDocument: { uri: build }, previousResultId: first.resultId })).toMatchObject({ kind: "full" });
  });
});

describe("a workspace of several folders", () => {
  test("has the findings of each, and of those that are added or taken away", async () => {
    const second = folderOf({ "lone.tappet": "engine lone { redlin: 6000 rpm }\n" });
    const before = await ask();
    client.notify("workspace/didChangeWorkspaceFolders", { event: { added: [{ uri: second.uri, name: "second" }], removed: [] } });
    const both = await ask(before);
    expect(rulesIn(both, second.uriOf("lone.tappet"))).toContain("unknown-key");
    client.notify("workspace/didChangeWorkspaceFolders", { event: { added: [], removed: [{ uri: folder.uri, name: "first" }] } });
    const one = await ask([...before, ...both].filter((r) => r.kind === "full"));
    expect(one.find((r) => r.uri === build)).toMatchObject({ kind: "full", items: [] });
    second.remove();
  });

  test("finds a name in the other folder only through use, as everywhere", async () => {
    const second = folderOf({ "b.tappet": "build b on dunlin-18 {\n}\n" });
    client.notify("workspace/didChangeWorkspaceFolders", { event: { added: [{ uri: second.uri, name: "second" }], removed: [] } });
    expect(rulesIn(await ask(), second.uriOf("b.tappet"))).toContain("unresolved-name");
    second.remove();
  });
});

test("a client that can watch files is asked to watch build files", async () => {
  const watching = await startServer({ folders: [folder.uri], pulls: true, capabilities: { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } } });
  const registered = new Promise((resolve) => watching.connection.onRequest("client/registerCapability", (params: unknown) => {
    resolve(params);
    return null;
  }));
  await watching.request("tappet/verdict", { uri: build });
  expect(PARTS).not.toBe("");
  expect(await registered).toMatchObject({ registrations: expect.arrayContaining([expect.objectContaining({ method: "workspace/didChangeWatchedFiles", registerOptions: { watchers: [{ globPattern: expect.stringContaining("tappet") }] } })]) });
  await watching.stop();
});
