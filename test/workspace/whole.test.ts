/** Whoever asks for the findings of a workspace again and again, and keeps what he was told, knows what somebody learns who asks for the first time. */
import { PassThrough } from "node:stream";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Diagnostic, type WorkspaceDiagnosticReport, StreamMessageReader, StreamMessageWriter, createConnection, createMessageConnection } from "vscode-languageserver/node";
import { serve } from "../../server/service.ts";
import { type Host, memoryHost } from "../../server/workspace/host.ts";

const FOLDER = "file:///shop";

/** What may stand in each file: names that come and go, uses that lead elsewhere, in circles, or to nothing; the first is what it begins with. */
const WORLD: Readonly<Record<string, readonly string[]>> = {
  "engine": [
    'engine dunlin {\n  cylinders: 4\n  redline: 7000 rpm\n}\n', 'engine dunlin {\n  cylinders: 4\n  redline: 65000 rpm\n}\n', '// a remark\n\nengine dunlin {\n  cylinders: 4\n  redline: 65000 rpm\n}\n',
    'engine petrel {\n  cylinders: 4\n}\n', 'use "parts.tappet"\n\nengine dunlin {\n  cylinders: 4\n}\n',
  ],
  "parts": [
    'use "engine.tappet"\n\npart camshaft ridgeway for dunlin {\n  source: "card"\n}\n', 'part camshaft ridgeway for dunlin {\n  source: "card"\n}\n',
    'use "engine.tappet"\n\npart camshaft hollow for dunlin {\n  source: "card"\n  intake { lobe { file: "lift.csv" } }\n}\n', 'use "other.tappet"\n\npart camshaft ridgeway for petrel {\n  redlin: 6 rpm\n}\n',
  ],
  "build": [
    'use "engine.tappet"\nuse "parts.tappet"\n\nbuild one on dunlin {\n  fit ridgeway\n  redline: 7300 rpm\n}\n', 'use "parts.tappet"\n\nbuild one on dunlin {\n  fit ridgeway\n}\n',
    'build one on petrel {\n  fit hollow\n}\n', 'use "engine.tappet"\nuse "shelf.tappet"\n\nbuild one on dunlin {\n  fit light\n  tune "one.bin"\n}\n',
    'use "engine.tappet"\n\nbuild one on dunlin {\n<<<<<<< ours\n  redline: 7000 rpm\n=======\n  redline: 7500 rpm\n>>>>>>> theirs\n}\n',
  ],
  "shelf": [
    'use "engine.tappet"\n\npart retainer light for dunlin {\n  source: "box"\n}\n\nbuild two on dunlin {\n}\n', 'use "engine.tappet"\n\npart retainer light for dunlin {\n  source: "box"\n}\n\nbuild two on dunlin {\n  fit light\n}\n',
    'use "other.tappet"\n\npart retainer light for any {\n  source: "box"\n}\n',
  ],
  "other": ['engine petrel {\n  cylinders: 6\n}\n', 'use "shelf.tappet"\n', 'use "engine.tappet"\nuse "nowhere.tappet"\n\nbuild three on dunlin {\n}\n', 'shop club {\n  advice: off decimal-slip\n}\n'],
};
const NAMES = Object.keys(WORLD);
const uriOf = (name: string) => `${FOLDER}/${name}.tappet`;

type Step =
  | { readonly does: "write" | "open" | "type"; readonly file: number; readonly text: number }
  | { readonly does: "remove" | "close"; readonly file: number }
  | { readonly does: "move"; readonly file: number; readonly to: number }
  | { readonly does: "put"; readonly name: "lift.csv" | "one.bin"; readonly there: boolean };

const file = fc.nat(NAMES.length - 1);
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 6, arbitrary: fc.record({ does: fc.constantFrom("write" as const, "open" as const, "type" as const), file, text: fc.nat(4) }) },
  { weight: 3, arbitrary: fc.record({ does: fc.constantFrom("remove" as const, "close" as const), file }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("move" as const), file, to: file }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("put" as const), name: fc.constantFrom("lift.csv" as const, "one.bin" as const), there: fc.boolean() }) },
);

/** A service of its own, and a client that keeps what it is told. */
async function started(host: Host) {
  const [there, back] = [new PassThrough(), new PassThrough()];
  serve(createConnection(new StreamMessageReader(there), new StreamMessageWriter(back)), { host, today: () => "2027-06-01", setRoots: () => undefined });
  const client = createMessageConnection(new StreamMessageReader(back), new StreamMessageWriter(there));
  const complaints: string[] = [];
  client.onNotification("window/logMessage", ({ message }: { message: string }) => void complaints.push(message));
  client.onRequest("client/registerCapability", () => null);
  client.onUnhandledNotification(() => {});
  client.listen();
  await client.sendRequest("initialize", {
    processId: null, rootUri: null, workspaceFolders: [{ uri: FOLDER, name: "shop" }],
    capabilities: { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } }, textDocument: { diagnostic: {}, publishDiagnostics: { relatedInformation: true } } },
  });
  void client.sendNotification("initialized", {});
  let version = 0;
  const known = new Map<string, { readonly id: string | undefined; readonly items: readonly Diagnostic[] }>();
  return {
    complaints,
    open: (uri: string, text: string) => void client.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: "tappet", version: ++version, text } }),
    type: (uri: string, text: string) => void client.sendNotification("textDocument/didChange", { textDocument: { uri, version: ++version }, contentChanges: [{ text }] }),
    close: (uri: string) => void client.sendNotification("textDocument/didClose", { textDocument: { uri } }),
    changed: (uri: string, type: 1 | 2 | 3) => void client.sendNotification("workspace/didChangeWatchedFiles", { changes: [{ uri, type }] }),
    /** Asks, and says what it knows then: the findings of every file that has any. */
    async ask(): Promise<Readonly<Record<string, readonly Diagnostic[]>>> {
      const previousResultIds = [...known].flatMap(([uri, { id }]) => (id === undefined ? [] : [{ uri, value: id }]));
      const { items } = await client.sendRequest<WorkspaceDiagnosticReport>("workspace/diagnostic", { previousResultIds });
      for (const report of items) if (report.kind === "full") known.set(report.uri, { id: report.resultId, items: report.items });
      return Object.fromEntries([...known].filter(([, { items }]) => items.length > 0).map(([uri, { items }]) => [uri, items] as const).sort());
    },
    stop: () => client.dispose(),
  };
}

async function holds(steps: readonly Step[]): Promise<void> {
  const disk = new Map(NAMES.map((name) => [uriOf(name), WORLD[name]?.[0] as string]));
  const beside = new Map<string, Uint8Array>();
  const now = () => memoryHost(Object.fromEntries(disk), Object.fromEntries(beside));
  const host: Host = { read: (uri) => now().read(uri), readData: (uri) => now().readData(uri), list: (uri) => now().list(uri) };
  const open = new Map<string, string>();
  const one = await started(host);
  await one.ask();
  for (const s of steps) {
    if (s.does === "put") {
      const uri = `${FOLDER}/${s.name}`;
      const before = disk.has(uri) || beside.has(uri);
      for (const map of [disk, beside]) map.delete(uri);
      if (s.there && s.name === "lift.csv") disk.set(uri, "angle,lift\n-60,0\n-30,4\n0,7\n30,4\n60,0\n");
      else if (s.there) beside.set(uri, new Uint8Array([1, 2, 3]));
      one.changed(uri, s.there ? (before ? 2 : 1) : 3);
    } else {
      const name = NAMES[s.file] as string;
      const uri = uriOf(name);
      if (s.does === "write" || s.does === "open" || s.does === "type") {
        const texts = WORLD[name] as readonly string[];
        const text = texts[s.text % texts.length] as string;
        if (s.does === "write") {
          const type = disk.has(uri) ? 2 : 1;
          disk.set(uri, text);
          one.changed(uri, type);
        } else {
          if (open.has(uri)) one.type(uri, text);
          else one.open(uri, s.does === "open" ? (disk.get(uri) ?? text) : text);
          open.set(uri, open.has(uri) || s.does === "type" ? text : (disk.get(uri) ?? text));
        }
      } else if (s.does === "close") {
        if (open.delete(uri)) one.close(uri);
      } else {
        const text = disk.get(uri);
        if (disk.delete(uri)) one.changed(uri, 3);
        const target = s.does === "move" ? uriOf(NAMES[s.to] as string) : undefined;
        if (target !== undefined && text !== undefined) {
          const type = disk.has(target) ? 2 : 1;
          disk.set(target, text);
          one.changed(target, type);
        }
      }
    }
    const told = await one.ask();
    const fresh = await started(host);
    for (const [uri, text] of open) fresh.open(uri, text);
    expect(told).toEqual(await fresh.ask());
    expect([...one.complaints, ...fresh.complaints]).toEqual([]);
    fresh.stop();
  }
  one.stop();
}

describe("the findings of a workspace, asked for again and again", () => {
  test("are those of a first question after whatever was done to its files", async () => {
    await fc.assert(fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 14 }), holds), { numRuns: 25, examples: [
      [[{ does: "remove", file: 0 }, { does: "write", file: 0, text: 1 }, { does: "write", file: 0, text: 2 }]],
      // A file that fits no part of its own is told so once no other uses it.
      [[{ does: "write", file: 2, text: 3 }, { does: "write", file: 2, text: 0 }]],
      [[{ does: "write", file: 2, text: 2 }, { does: "write", file: 1, text: 2 }, { does: "put", name: "lift.csv", there: true }, { does: "put", name: "lift.csv", there: false }]],
      [[{ does: "open", file: 0, text: 0 }, { does: "type", file: 0, text: 1 }, { does: "close", file: 0 }, { does: "write", file: 4, text: 2 }]],
    ] });
  });
});
