/** Names across files, folding, selections, links, colours, hints, lenses and signatures, over the protocol. */
import type {
  CodeLens, DocumentLink, FoldingRange, InlayHint, Location, SelectionRange, SemanticTokens, SemanticTokensDelta, SignatureHelp, WorkspaceEdit, WorkspaceSymbol,
} from "vscode-languageserver/node";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, ENGINE, FILES, PARTS } from "./world.ts";

let folder: Folder;
let client: Client;
let build: string;
let engine: string;
let parts: string;
let opened: string[] = [];

beforeAll(async () => {
  folder = folderOf(FILES);
  client = await startServer({ folders: [folder.uri], pulls: true });
  build = folder.uriOf("builds/wren-hill-2.tappet");
  engine = folder.uriOf("engines/dunlin-18.tappet");
  parts = folder.uriOf("parts/ridgeway.tappet");
});
afterEach(() => {
  for (const uri of opened) client.close(uri);
  opened = [];
  expect(client.complaints()).toEqual([]);
});
afterAll(async () => {
  await client.stop();
  folder.remove();
});

function open(uri: string, text: string): void {
  client.open(uri, text);
  opened.push(uri);
}
const document = (uri: string) => ({ textDocument: { uri } });
const lineOf = (text: string, words: string) => text.slice(0, text.indexOf(words)).split("\n").length - 1;

describe("names across files", () => {
  test("references to an engine are found in every file of the folder, open or not", async () => {
    open(engine, ENGINE);
    const found = await client.request<Location[]>("textDocument/references", { ...document(engine), position: client.at(engine, "dunlin-18", 2), context: { includeDeclaration: true } });
    expect(new Set(found.map((f) => f.uri))).toEqual(new Set([engine, parts, build]));
    expect(found).toContainEqual({ uri: build, range: { start: client_at(BUILD, "on dunlin-18", 3), end: client_at(BUILD, "on dunlin-18", 12) } });
    const without = await client.request<Location[]>("textDocument/references", { ...document(engine), position: client.at(engine, "dunlin-18", 2), context: { includeDeclaration: false } });
    expect(without).toHaveLength(found.length - 1);
  });

  test("a rename reaches every file, and refuses what is no name, a word of the language, or taken", async () => {
    open(build, BUILD);
    const at = client.at(build, "ridgeway-272", 3);
    expect(await client.request("textDocument/prepareRename", { ...document(build), position: at })).toMatchObject({ placeholder: "ridgeway-272" });
    const edit = await client.request<WorkspaceEdit>("textDocument/rename", { ...document(build), position: at, newName: "ridgeway-280" });
    expect(Object.keys(edit.changes ?? {}).sort()).toEqual([build, parts].sort());
    for (const edits of Object.values(edit.changes ?? {})) expect(edits.every((e) => e.newText === "ridgeway-280")).toBe(true);
    for (const [name, words] of [["2 words", "is no name"], ["fit", "word of the language"], ["vernier-18", "already"]] as const)
      await expect(client.request("textDocument/rename", { ...document(build), position: at, newName: name })).rejects.toThrow(words);
  });

  test("a figure is no name: nothing is offered to rename", async () => {
    open(build, BUILD);
    expect(await client.request("textDocument/prepareRename", { ...document(build), position: client.at(build, "7300 rpm", 1) })).toBeNull();
  });

  test("workspace symbols are found by name and by title", async () => {
    const byName = await client.request<WorkspaceSymbol[]>("workspace/symbol", { query: "ridge" });
    expect(byName.map((s) => s.name)).toContain("ridgeway-272");
    const byTitle = await client.request<WorkspaceSymbol[]>("workspace/symbol", { query: "12-valve" });
    expect(byTitle.map((s) => s.name)).toEqual(["dunlin-18"]);
  });

  test("a file that moves keeps every path right", async () => {
    open(build, BUILD);
    const to = folder.uriOf("stock/engines/dunlin.tappet");
    const edit = await client.request<WorkspaceEdit>("workspace/willRenameFiles", { files: [{ oldUri: engine, newUri: to }] });
    expect(edit.changes?.[parts]?.map((e) => e.newText)).toEqual(["../stock/engines/dunlin.tappet"]);
    expect(edit.changes?.[build] ?? []).toEqual(BUILD.includes("engines/dunlin-18.tappet") ? [expect.objectContaining({ newText: "../stock/engines/dunlin.tappet" })] : []);
  });
});

test("a file that was read for a search is looked at when it is opened", async () => {
  await client.request<WorkspaceSymbol[]>("workspace/symbol", { query: "" });
  open(build, BUILD);
  expect((await client.pull(build)).length).toBeGreaterThan(0);
});

describe("reading a file", () => {
  test("blocks fold with their closing brace in sight", async () => {
    open(engine, ENGINE);
    const folds = await client.request<FoldingRange[]>("textDocument/foldingRange", document(engine));
    expect(folds).toContainEqual(expect.objectContaining({ startLine: lineOf(ENGINE, "valve-gear {"), endLine: lineOf(ENGINE, "  fastener cam-cap") - 3 }));
    for (const fold of folds) expect(fold.endLine).toBeGreaterThan(fold.startLine);
  });

  test("a selection grows from the digits to the figure, the entry, the block and the file", async () => {
    open(engine, ENGINE);
    const [first] = await client.request<SelectionRange[]>("textDocument/selectionRange", { ...document(engine), positions: [client.at(engine, "0.15 ±", 2)] });
    const texts: string[] = [];
    for (let range = first; range; range = range.parent) {
      const lines = ENGINE.split("\n");
      const { start, end } = range.range;
      texts.push(start.line === end.line ? (lines[start.line] ?? "").slice(start.character, end.character) : `lines ${end.line - start.line + 1}`);
    }
    expect(texts.slice(0, 3)).toEqual(["0.15", "0.15 ± 0.03 mm", "0.15 ± 0.03 mm cold"]);
    expect(texts.some((t) => t.startsWith("lash: 0.15"))).toBe(true);
    expect(texts.at(-1)).toBe(`lines ${ENGINE.split("\n").length}`);
  });

  test("a used file is a link", async () => {
    open(parts, PARTS);
    const links = await client.request<DocumentLink[]>("textDocument/documentLink", document(parts));
    expect(links.map((l) => l.target)).toContain(engine);
    expect(links[0]?.range).toEqual({ start: client_at(PARTS, "../engines", 0), end: client_at(PARTS, 'tappet"', 6) });
  });

  test("words are coloured by what they are, and an edit sends only the difference", async () => {
    open(build, BUILD);
    const legend = client.initialized.capabilities.semanticTokensProvider?.legend.tokenTypes ?? [];
    const full = await client.request<SemanticTokens>("textDocument/semanticTokens/full", document(build));
    const sorts = tokensOf(full.data, BUILD, legend);
    expect(sorts).toContainEqual(["fit", "keyword"]);
    expect(sorts).toContainEqual(["ridgeway-272", "class"]);
    expect(sorts).toContainEqual(["redline", "property"]);
    expect(sorts).toContainEqual(["7300", "number"]);
    expect(sorts).toContainEqual(["rpm", "type"]);
    expect(sorts).toContainEqual(["cold", "enumMember"]);
    client.replace(build, "7300 rpm", "73000 rpm");
    const delta = await client.request<SemanticTokensDelta>("textDocument/semanticTokens/full/delta", { ...document(build), previousResultId: full.resultId });
    expect(delta.edits.length).toBeGreaterThan(0);
    expect(delta.edits.reduce((n, e) => n + (e.data?.length ?? 0), 0)).toBeLessThan(20);
  });

  test("hints give the other system's figure and what a setting comes to", async () => {
    open(build, BUILD);
    const hints = await client.request<InlayHint[]>("textDocument/inlayHint", { ...document(build), range: { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } } });
    const labels = hints.map((h) => String(h.label));
    expect(labels).toContain("7.9 thou");
    if (BUILD.includes("set: 3 deg crank retarded")) expect(labels.some((l) => l.includes("3 retarded"))).toBe(true);
  });

  test("a lens above a build of which hardly anything is written says so", async () => {
    const begun = folder.uriOf("builds/begun.tappet");
    client.open(begun, "engine moss { cylinders: 2 }\n\nbuild begun on moss {\n}\n");
    const [lens] = await client.request<{ command?: { title: string } }[]>("textDocument/codeLens", { textDocument: { uri: begun } });
    expect(lens?.command?.title).toContain("nothing found that stops it in the little that is written");
    client.close(begun);
  });

  test("a lens above a build gives its verdict, never that it is ready", async () => {
    open(build, BUILD);
    const lenses = await client.request<CodeLens[]>("textDocument/codeLens", document(build));
    expect(lenses).toHaveLength(1);
    expect(lenses[0]?.command?.title).toMatch(/(stops? this engine|to look at|nothing found that stops it).*1775 cc/);
    expect(lenses[0]?.command?.title).not.toMatch(/ready/i);
    expect(lenses[0]?.range.start.line).toBe(lineOf(BUILD, "build wren-hill-2"));
  });

  test("writing a condition, the statement says what comes next", async () => {
    open(build, BUILD);
    const end = BUILD.lastIndexOf("}");
    const text = `${BUILD.slice(0, end)}  check "x" piston-speed.mean \n}\n`;
    client.edit(build, { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } }, text);
    const help = await client.request<SignatureHelp>("textDocument/signatureHelp", { ...document(build), position: client.at(build, "piston-speed.mean ", 18) });
    expect(help.signatures[0]?.label).toMatch(/^check \["name"\] VALUE >= FIGURE/);
    expect(help.activeParameter).toBeGreaterThanOrEqual(1);
  });
});

function client_at(text: string, words: string, into: number): { line: number; character: number } {
  const before = text.slice(0, text.indexOf(words) + into).split("\n");
  return { line: before.length - 1, character: before.at(-1)?.length ?? 0 };
}

function tokensOf(data: readonly number[], text: string, legend: readonly string[]): [string, string][] {
  const lines = text.split("\n");
  const out: [string, string][] = [];
  let line = 0;
  let character = 0;
  for (let i = 0; i + 4 < data.length; i += 5) {
    const [dl, dc, length, type] = data.slice(i, i + 4) as [number, number, number, number];
    character = dl === 0 ? character + dc : dc;
    line += dl;
    out.push([(lines[line] ?? "").slice(character, character + length), legend[type] ?? ""]);
  }
  return out;
}
