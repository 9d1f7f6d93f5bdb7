/** Recordings over the protocol: read in the background, with progress and cancel, again when the file or the question is another. */
import { ProgressType, type WorkDoneProgressBegin, type WorkDoneProgressEnd, type WorkDoneProgressReport } from "vscode-languageserver/node";
import { afterEach, describe, expect, test } from "vitest";
import { roadTest, written } from "../recording/recordings.ts";
import { type Client, type Folder, folderOf, startServer, startWorker } from "../support/client.ts";

const ENGINE = `engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}
`;
const LOG = `{ time: "Time"; rpm: "Engine Speed"; throttle: "Throttle"; manifold: "Manifold"; oil-pressure: "Oil P"; coolant: "Coolant" }`;
const BUILD = `use "engine.tappet"

build wren-hill-4 on dunlin-18 {
  log "runs/hill.csv" on 2027-06-12 ${LOG}
}
`;
const SHORT = written(roadTest(40));
/** About 20 MB: long enough for a bar to be shown, and left. */
const LONG = (() => {
  const [head, ...lines] = written(roadTest(120)).trimEnd().split("\n");
  const body = `${lines.join("\n")}\n`;
  return `${head}\n${body.repeat(Math.ceil(20e6 / body.length))}`;
})();

let client: Client;
let folder: Folder;
afterEach(async () => {
  expect(client.complaints()).toEqual([]);
  await client.stop();
  folder.remove();
});

type Progress = WorkDoneProgressBegin | WorkDoneProgressReport | WorkDoneProgressEnd;

/** Notes what the server says of its progress, and wakes whoever waits for it. */
function listen(own: Client): { readonly said: Progress[]; until(holds: (said: readonly Progress[]) => boolean): Promise<void>; cancel(): void } {
  const said: Progress[] = [];
  let token: string | number | undefined;
  let waiting: { holds: (said: readonly Progress[]) => boolean; go: () => void }[] = [];
  own.connection.onRequest("window/workDoneProgress/create", (params: { token: string | number }) => {
    token = params.token;
    own.connection.onProgress(new ProgressType<Progress>(), params.token, (value) => {
      said.push(value);
      waiting = waiting.filter((w) => (w.holds(said) ? (w.go(), false) : true));
    });
    return null;
  });
  return {
    said,
    until: (holds) => (holds(said) ? Promise.resolve() : new Promise((go) => waiting.push({ holds, go }))),
    cancel: () => own.notify("window/workDoneProgress/cancel", { token }),
  };
}

const over = (codes: readonly { readonly code?: unknown }[]) => codes.some((d) => d.code === "redline-exceeded");

async function start(recording: string | undefined, options: { readonly pulls?: boolean } = {}): Promise<string> {
  folder = folderOf({ "engine.tappet": ENGINE, "build.tappet": BUILD, ...(recording !== undefined && { "runs/hill.csv": recording }) });
  client = await startServer({ folders: [folder.uri], capabilities: { window: { workDoneProgress: true } }, ...options });
  return folder.uriOf("build.tappet");
}

describe("a recording of an open build", () => {
  test("is read without being asked for, and what it shows is pushed, with time, speed and length", async () => {
    const uri = await start(SHORT);
    client.open(uri, BUILD);
    const [finding] = (await client.pushedWhere(uri, over)).filter((d) => d.code === "redline-exceeded");
    expect(finding?.message).toMatch(/In the recording "runs\/hill\.csv" the engine reached \d{4} rpm at [\d.]+ s, for [\d.]+ s, over the redline of 6500 rpm/);
    expect(finding?.range.start.line).toBe(3);
  });

  test("makes a client that asks for findings ask again", async () => {
    const uri = await start(SHORT, { pulls: true });
    const before = client.refreshes();
    client.open(uri, BUILD);
    await client.refreshed(before);
    expect(over(await client.pull(uri))).toBe(true);
  });

  test("that comes, changes and goes is read again", async () => {
    const uri = await start(undefined);
    client.open(uri, BUILD);
    const code = (wanted: string) => client.pushedWhere(uri, (ds) => ds.some((d) => d.code === wanted));
    expect((await code("recording-unreadable"))[0]?.message).toContain("is not there");
    folder.write("runs/hill.csv", SHORT);
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("runs/hill.csv"), type: 1 }] });
    await code("redline-exceeded");
    folder.write("runs/hill.csv", SHORT.replace("Engine Speed", "n"));
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("runs/hill.csv"), type: 2 }] });
    expect((await code("recording-column-missing")).find((d) => d.code === "recording-column-missing")?.message).toContain('has no column "Engine Speed"');
  });

  test("outside the opened folder is not read", async () => {
    const uri = await start(SHORT);
    client.open(uri, BUILD.replace("runs/hill.csv", "../../etc/hostname"));
    expect((await client.pushedWhere(uri, (ds) => ds.some((d) => d.code === "recording-unreadable")))[0]?.message).toContain("outside the opened folder");
  });

  test("is held against the limit as it is now, when the limit was changed meanwhile", async () => {
    const uri = await start(SHORT);
    client.open(uri, BUILD);
    client.replace(uri, "on dunlin-18 {", "on dunlin-18 {\n  redline: 6000 rpm");
    const found = await client.pushedWhere(uri, (ds) => ds.some((d) => String(d.message).includes("6000 rpm")));
    expect(found.filter((d) => d.code === "redline-exceeded")).toHaveLength(1);
  });
});

describe("a long recording", () => {
  test("shows its progress, answers meanwhile, and ends with its findings", async () => {
    const uri = await start(LONG);
    const progress = listen(client);
    client.open(uri, BUILD);
    await progress.until((said) => said.some((p) => p.kind === "begin"));
    expect(progress.said[0]).toMatchObject({ kind: "begin", cancellable: true, percentage: 0, title: "Reading runs/hill.csv" });
    // Answered while the file is being read.
    expect(await client.hover(uri, client.at(uri, "dunlin-18"))).toContain("dunlin-18");
    expect(progress.said.some((p) => p.kind === "end")).toBe(false);
    await progress.until((said) => said.some((p) => p.kind === "end"));
    const shares = progress.said.flatMap((p) => (p.kind === "report" && p.percentage !== undefined ? [p.percentage] : []));
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(over(await client.pushedWhere(uri, over))).toBe(true);
  });

  test("is left when the person says so, and the sheet says that it was", async () => {
    const uri = await start(LONG);
    const progress = listen(client);
    client.open(uri, BUILD);
    await progress.until((said) => said.some((p) => p.kind === "begin"));
    progress.cancel();
    await progress.until((said) => said.some((p) => p.kind === "end"));
    const sheet = await client.request<string>("tappet/export", { uri, format: "markdown" });
    expect(sheet).toContain('the recording "runs/hill.csv", which was left before its end');
    expect(over(await client.pushed(uri))).toBe(false);
  });

  test("is begun anew when the question changes while it is read", async () => {
    const uri = await start(LONG);
    const progress = listen(client);
    client.open(uri, BUILD);
    await progress.until((said) => said.some((p) => p.kind === "begin"));
    client.replace(uri, "on dunlin-18 {", "on dunlin-18 {\n  redline: 6100 rpm");
    await progress.until((said) => said.some((p) => p.kind === "end"));
    const found = await client.pushedWhere(uri, over);
    expect(found.filter((d) => d.code === "redline-exceeded").map((d) => d.message)).toEqual([expect.stringContaining("over the redline of 6100 rpm")]);
  });

  test("is read to its end before a sheet of it is written", async () => {
    const uri = await start(LONG);
    client.open(uri, BUILD);
    expect(await client.request<string>("tappet/export", { uri, format: "markdown" })).toContain("redline-exceeded");
  });
});

test("in a browser worker a recording comes through the client", async () => {
  folder = folderOf({});
  const texts: Record<string, string> = { "memfs:/w/engine.tappet": ENGINE, "memfs:/w/runs/hill.csv": SHORT };
  client = await startWorker({ folders: ["memfs:/w"], read: (uri) => (texts[uri] === undefined ? { problem: "missing" } : { text: texts[uri] }) });
  client.open("memfs:/w/build.tappet", BUILD);
  expect(over(await client.pushedWhere("memfs:/w/build.tappet", over))).toBe(true);
});
