/** The chain behind a figure, walked by the protocol's own questions. */
import type { Location, TypeHierarchyItem } from "vscode-languageserver/node";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, ENGINE, FILES } from "./world.ts";

let folder: Folder;
let client: Client;
let build: string;
let engine: string;
let parts: string;

const MEASURED = BUILD.replace("  measured piston-valve", "  measured lash cold on 2027-03-14 {\n    | valve (mm) |    1 |    2 |\n    | intake a   | 0.21 | 0.20 |\n  }\n  measured piston-valve");

beforeAll(async () => {
  folder = folderOf(FILES);
  client = await startServer({ folders: [folder.uri], pulls: true });
  build = folder.uriOf("builds/wren-hill-2.tappet");
  engine = folder.uriOf("engines/dunlin-18.tappet");
  parts = folder.uriOf("parts/ridgeway.tappet");
});
afterEach(() => {
  for (const uri of [build, engine]) client.close(uri);
  expect(client.complaints()).toEqual([]);
});
afterAll(async () => {
  await client.stop();
  folder.remove();
});

const prepare = async (uri: string, words: string) => (await client.request<TypeHierarchyItem[] | null>("textDocument/prepareTypeHierarchy", { textDocument: { uri }, position: client.at(uri, words, 1) }))?.[0];
const beside = (item: TypeHierarchyItem | undefined, way: "supertypes" | "subtypes") => client.request<TypeHierarchyItem[]>(`typeHierarchy/${way}`, { item });
const told = (items: readonly TypeHierarchyItem[]) => items.map((i) => [i.name, i.detail]);

describe("the hierarchy of a figure", () => {
  test("leads from the build through the part to the engine, and back", async () => {
    client.open(build, BUILD);
    const lash = await prepare(build, "0.20 mm cold");
    expect([lash?.name, lash?.detail, lash?.uri]).toEqual(["lash intake: 0.20 mm cold", "Wren hill-climb car", build]);
    const card = await beside(lash, "supertypes");
    expect(told(card)).toEqual([["intake lash: 0.20 ± 0.02 mm cold", "asked for by Ridgeway 272"]]);
    expect(card[0]?.uri).toBe(parts);
    const stock = await beside(card[0], "supertypes");
    expect(told(stock)).toEqual([["intake lash: 0.15 ± 0.03 mm cold", "asked for by Ashdown Dunlin 1.8, 12-valve"]]);
    expect(await beside(stock[0], "supertypes")).toEqual([]);
    expect(told(await beside(stock[0], "subtypes"))).toEqual([["intake lash: 0.20 ± 0.02 mm cold", "asked for by Ridgeway 272"]]);
  });

  test("ends with what was measured", async () => {
    client.open(build, MEASURED);
    const found = await beside(await prepare(build, "0.20 mm cold"), "subtypes");
    expect(told(found)).toEqual([["intake lash: 0.20 mm to 0.21 mm", "measured on 2027-03-14, 2 places"]]);
    expect(found[0]?.range.start).toEqual(client.at(build, "0.21 | 0.20"));
  });

  test("of the engine's figure finds every build that takes another, open or not", async () => {
    client.open(engine, ENGINE);
    const found = await beside(await prepare(engine, "redline: 6500 rpm"), "subtypes");
    expect(told(found)).toEqual([["redline: 7300 rpm", "chosen by Wren hill-climb car"]]);
    expect(found[0]?.uri).toBe(build);
  });

  test("is not there where there is no figure", async () => {
    client.open(build, BUILD);
    expect(await prepare(build, "build wren")).toBeUndefined();
  });
});

describe("going to", () => {
  test("the declaration of a figure is to who said it first, to its implementation is to what took its place", async () => {
    client.open(build, BUILD);
    client.open(engine, ENGINE);
    const go = (what: string, uri: string, words: string) => client.request<Location[]>(`textDocument/${what}`, { textDocument: { uri }, position: client.at(uri, words, 1) });
    expect((await go("declaration", build, "7300 rpm"))[0]).toMatchObject({ uri: engine, range: { start: client.at(engine, "6500 rpm") } });
    expect((await go("implementation", engine, "6500 rpm"))[0]).toMatchObject({ uri: build, range: { start: client.at(build, "7300 rpm") } });
    expect(await go("declaration", build, "follow gear-bolt")).toEqual([]);
  });
});

describe("the chain as a list", () => {
  test("has every link newest first with what became of it, from the figure and from a reading of it", async () => {
    client.open(build, MEASURED);
    const ask = (words: string) => client.request<{ value: string; words: string; fate: string }[]>("tappet/chain", { uri: build, position: client.at(build, words, 1) });
    const chain = await ask("intake: 0.20 mm cold");
    expect(chain.map((l) => `${l.fate}: ${l.value}, ${l.words}`)).toEqual([
      "measured: 0.20 mm to 0.21 mm, measured on 2027-03-14, 2 places", "counts: 0.20 mm cold, chosen by Wren hill-climb car",
      "replaced: 0.20 ± 0.02 mm cold, asked for by Ridgeway 272", "taken off: 0.15 ± 0.03 mm cold, asked for by Ashdown Dunlin 1.8, 12-valve",
    ]);
    expect(await ask("0.21 |")).toEqual(chain);
    expect(await ask("build wren")).toEqual([]);
    expect(await client.request("tappet/chain", { uri: build })).toEqual([]);
  });

  test("stands in a hover with a link to each place", async () => {
    client.open(build, BUILD);
    expect(await client.hover(build, client.at(build, "0.20 mm cold", 1))).toContain(`- asked for by Ridgeway 272: [0.20 ± 0.02 mm cold](${parts}#L6) (replaced)`);
  });
});
