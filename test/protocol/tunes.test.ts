/** A tune over the protocol: recorded when somebody says that it fits, held against the engine as it is typed, and against its file on disk. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";

const BUILD = `engine dunlin-20 {
  source: "workshop manual, supplement 2"
  cylinders: 4
  bore: 84.00 mm
  stroke: 90.00 mm
}
build wren-hill-2 on dunlin-20 {
  octane: 98 RON
  tune "tunes/wren-2a.bin" { date: 2027-04-05 }
}
`;

let folder: Folder;
let client: Client;
let build: string;

beforeAll(async () => {
  folder = folderOf({ "build.tappet": BUILD, "tunes/wren-2a.bin": "main 118\n" });
  client = await startServer({ folders: [folder.uri], pulls: true });
  build = folder.uriOf("build.tappet");
  client.open(build, BUILD);
});
afterAll(async () => {
  await client.stop();
  folder.remove();
});

const warned = async () => (await client.pull(build)).filter((d) => d.severity !== 3).map((d) => d.code);
const actionsAt = (words: string) => client.actions(build, { start: client.at(build, words, words.length), end: client.at(build, words, words.length) });

test("a tune is recorded, goes stale with a keystroke, is recorded again, and its file is watched over", async () => {
  expect(await warned()).toEqual([]);
  const record = (await actionsAt('tune "tunes')).find((a) => /made for the engine as it now is/.test(a.title));
  expect(record?.diagnostics).toBeUndefined();
  if (!record?.edit) throw new Error("nothing records the tune");
  client.apply(record.edit);
  expect(client.textOf(build)).toMatch(/made-for: #[0-9a-f]{12}\n.*file-print: #[0-9a-f]{12}\n.*based-on \{/s);
  expect(await warned()).toEqual([]);
  expect((await actionsAt('tune "tunes')).some((a) => /made for the engine/.test(a.title))).toBe(false);
  expect(await client.hover(build, client.at(build, 'tune "tunes'))).toMatch(/Made for the engine as it now is: 4 figures recorded/);

  client.replace(build, "  bore: 84.00 mm", "  bore: 84.50 mm");
  const [stale] = (await client.pull(build)).filter((d) => d.code === "tune-stale");
  expect(stale?.message).toContain("bore was 84.00 mm and is 84.50 mm");
  expect(await client.hover(build, client.at(build, 'tune "tunes'))).toMatch(/Made for other figures: 1 figure changed/);
  expect(await client.hover(build, client.at(build, "made-for: #", 11))).toMatch(/Made for other figures: 1 figure changed/);
  const again = (await actionsAt("made-for: #")).find((a) => /I have tuned it again/.test(a.title));
  if (!again?.edit) throw new Error("nothing records the tune again");
  expect(again.isPreferred).toBeUndefined();
  client.apply(again.edit);
  expect(await warned()).toEqual([]);
  expect(client.textOf(build)).toMatch(/\| bore +\| 84\.50 mm/);

  folder.write("tunes/wren-2a.bin", "main 125\n");
  client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("tunes/wren-2a.bin"), type: 2 }] });
  expect(await warned()).toEqual(["tune-file-changed"]);
  const meant = (await actionsAt("file-print: #")).find((a) => /is the tune meant here/.test(a.title));
  if (!meant?.edit) throw new Error("nothing takes the file as it is");
  client.apply(meant.edit);
  expect(await warned()).toEqual([]);
  expect(client.complaints()).toEqual([]);
});

test("a client that can watch is asked to watch tune files by name", async () => {
  const watching = await startServer({ folders: [folder.uri], pulls: true, capabilities: { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } } });
  const asked: unknown[] = [];
  const both = new Promise<void>((resolve) => watching.connection.onRequest("client/registerCapability", (params: unknown) => {
    asked.push(params);
    if (JSON.stringify(asked).includes("wren-2a.bin")) resolve();
    return null;
  }));
  watching.open(build, BUILD);
  await watching.pull(build);
  await both;
  expect(JSON.stringify(asked)).toContain('"globPattern":"**/wren-2a.bin"');
  await watching.stop();
});

test("a tune outside the opened folder is not looked at", async () => {
  const far = folderOf({ "inside/build.tappet": BUILD.replace("tunes/wren-2a.bin", "../tunes/wren-2a.bin"), "tunes/wren-2a.bin": "main 118\n" });
  const inner = await startServer({ folders: [far.uriOf("inside")], pulls: true });
  inner.open(far.uriOf("inside/build.tappet"), BUILD.replace("tunes/wren-2a.bin", "../tunes/wren-2a.bin"));
  const found = await inner.pull(far.uriOf("inside/build.tappet"));
  expect(found.filter((d) => d.code === "tune-file-missing").map((d) => d.message)).toEqual([expect.stringContaining("lies outside the opened folder")]);
  await inner.stop();
  far.remove();
});
