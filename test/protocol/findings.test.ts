/** Findings as they reach an editor: pushed or asked for, at their place, as typed. */
import { type Diagnostic, DiagnosticSeverity } from "vscode-languageserver/node";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, ENGINE, FILES, PARTS } from "./world.ts";

let folder: Folder;
let client: Client;
let build: string;
let engine: string;

beforeEach(() => {
  folder = folderOf(FILES);
  build = folder.uriOf("builds/wren-hill-2.tappet");
  engine = folder.uriOf("engines/dunlin-18.tappet");
});
afterEach(async () => {
  await client.stop();
  folder.remove();
});

/** Rule and the text it underlines. */
function underlined(diagnostics: readonly Diagnostic[], text: string): string[] {
  const lines = text.split("\n");
  return diagnostics.map((d) => `${d.code}: ${d.range.start.line === d.range.end.line ? lines[d.range.start.line]?.slice(d.range.start.character, d.range.end.character) : "several lines"}`);
}

describe("a client that is pushed to", () => {
  beforeEach(async () => {
    client = await startServer({ folders: [folder.uri] });
  });

  test("hears of findings when a file is opened, for the version that it opened", async () => {
    client.open(build, BUILD);
    const [finding, ...more] = await client.pushed(build);
    expect(more).toEqual([]);
    expect(finding).toMatchObject({
      code: "need-unmet", severity: DiagnosticSeverity.Error, source: "tappet",
      message: "Ridgeway 272 needs a `retainer`, and none is fitted. Fit one.",
      range: { start: client.at(build, "ridgeway-272"), end: client.at(build, "ridgeway-272", "ridgeway-272".length) },
    });
    expect(finding?.relatedInformation?.[0]).toMatchObject({ message: "It is asked for here.", location: { uri: folder.uriOf("parts/ridgeway.tappet"), range: { start: { line: 7, character: 2 } } } });
  });

  test("hears of every edit, and of the finding's going", async () => {
    client.open(build, BUILD);
    await client.pushed(build);
    client.replace(build, "7300 rpm", "7300");
    expect(underlined(await client.pushed(build), client.textOf(build))).toContain("unit-missing: 7300");
    client.replace(build, "7300", "7300 rpm");
    expect(underlined(await client.pushed(build), client.textOf(build))).toEqual(["need-unmet: ridgeway-272"]);
    client.replace(build, "  follow", "  fit retainer { mass: 11 g }\n  follow");
    expect(await client.pushed(build)).toEqual([]);
  });

  test("hears that a closed file has none", async () => {
    client.open(build, BUILD);
    await client.pushed(build);
    client.close(build);
    expect(await client.pushedWhere(build, (d) => d.length === 0)).toEqual([]);
  });

  test("hears of an open build when the engine under it is edited", async () => {
    client.open(build, BUILD);
    client.open(engine, ENGINE);
    await client.pushed(build);
    client.replace(engine, "solid-height: 24.4 mm", "solid-height: 27.4 mm");
    const now = await client.pushedWhere(build, (d) => d.some((x) => x.code === "coil-bind-margin"));
    expect(underlined(now, BUILD)).toContain("coil-bind-margin: ridgeway-272");
    expect(client.changes().some((uris) => uris.includes(build) && uris.includes(engine))).toBe(true);
    client.close(engine);
    expect(underlined(await client.pushedWhere(build, (d) => d.every((x) => x.code !== "coil-bind-margin")), BUILD)).toEqual(["need-unmet: ridgeway-272"]);
  });

  test("hears of an open build when a used file changes on disk, goes and comes back", async () => {
    client.open(build, BUILD);
    await client.pushed(build);
    folder.write("parts/ridgeway.tappet", PARTS.replace("  needs retainer\n", ""));
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("parts/ridgeway.tappet"), type: 2 }] });
    await client.pushedWhere(build, (d) => d.length === 0);
    folder.remove("parts/ridgeway.tappet");
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("parts/ridgeway.tappet"), type: 3 }] });
    const gone = await client.pushedWhere(build, (d) => d.some((x) => x.code === "missing-file"));
    expect(underlined(gone, BUILD)).toEqual(['missing-file: "../parts/ridgeway.tappet"']);
    folder.write("parts/ridgeway.tappet", PARTS);
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("parts/ridgeway.tappet"), type: 1 }] });
    expect(underlined(await client.pushedWhere(build, (d) => d.some((x) => x.code === "need-unmet")), BUILD)).toEqual(["need-unmet: ridgeway-272"]);
  });
});

describe("a client that asks", () => {
  beforeEach(async () => {
    client = await startServer({ folders: [folder.uri], pulls: true });
  });

  test("gets findings for the text as it stands when it asks, however fast it types", async () => {
    client.open(build, BUILD);
    const seen: Promise<string[]>[] = [];
    for (let i = 0; i < 20; i++) {
      client.replace(build, "7300 rpm", "7300");
      const text = client.textOf(build);
      seen.push(client.pull(build).then((found) => underlined(found, text)));
      client.replace(build, "7300", "7300 rpm");
    }
    // An answer may be for a newer text than the question, never for an older one or a mixture.
    for (const found of await Promise.all(seen)) expect([["unit-missing: 7300", "need-unmet: ridgeway-272"], ["need-unmet: ridgeway-272"]]).toContainEqual(found);
    expect(underlined(await client.pull(build), client.textOf(build))).toEqual(["need-unmet: ridgeway-272"]);
    expect(client.textOf(build)).toBe(BUILD);
  });

  test("keeps line and column right through edits of several lines, in the middle and at both ends", async () => {
    client.open(build, BUILD);
    client.edit(build, { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, "// the hill-climb car, µ and 𝛑 before the text\n\n");
    client.replace(build, "  redline: 7300 rpm\n\n", "");
    client.replace(build, "cold; exhaust", "cold\n    exhaust");
    client.replace(build, "0.35 mm cold", "0.35 mm");
    const end = client.textOf(build).split("\n").length;
    client.edit(build, { start: { line: end, character: 0 }, end: { line: end, character: 0 } }, "\npart cam-gear x for dunlin-18 { set }\n");
    const found = underlined(await client.pull(build), client.textOf(build));
    expect(found).toContain("need-unmet: ridgeway-272");
    expect(found).toContain("qualifier-missing: 0.35 mm");
    expect(found.some((f) => f.startsWith("unknown-key: set"))).toBe(true);
  });

  test("is told to ask again for an open build when the engine under it is edited, and only then", async () => {
    client.open(build, BUILD);
    expect((await client.pull(build)).map((d) => d.code)).toEqual(["need-unmet"]);
    client.replace(build, "7300", "7301");
    await client.pull(build);
    expect(client.refreshes()).toBe(0);
    client.open(engine, ENGINE);
    const asked = client.refreshes();
    client.replace(engine, "solid-height: 24.4 mm", "solid-height: 27.4 mm");
    await client.refreshed(asked);
    expect((await client.pull(build)).map((d) => d.code)).toContain("coil-bind-margin");
  });

  test("sees the text of an open file, not of its file on disk", async () => {
    client.open(build, BUILD);
    client.open(engine, ENGINE.replace("engine dunlin-18", "engine dunlin-19"));
    expect(underlined(await client.pull(build), BUILD)[0]).toBe("unresolved-name: dunlin-18");
    client.close(engine);
    expect((await client.pull(build)).map((d) => d.code)).toEqual(["need-unmet"]);
  });

  test("is never sent findings unasked", async () => {
    const heard: unknown[] = [];
    client.connection.onNotification("textDocument/publishDiagnostics", (params: unknown) => {
      heard.push(params);
    });
    client.open(build, BUILD);
    await client.pull(build);
    client.close(build);
    await client.pull(build);
    expect(heard).toEqual([]);
  });

  test("sees a waived finding neither here nor as a problem, and a waiver that is not needed as faded", async () => {
    client.open(build, BUILD.replace("  follow", '  waive need-unmet because "the head is at the machinist" until 2099-01-01\n  waive lash-tight because "for no reason" until 2099-01-01\n  follow'));
    const found = await client.pull(build);
    expect(found.map((d) => [d.code, d.tags])).toEqual([["waiver-unused", [1]]]);
  });
});
