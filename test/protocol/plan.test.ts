/** The order of work over the wire: the action at a build's head, the request of an editor's command, and a public export. */
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import type { WorkspaceEdit } from "vscode-languageserver/node";
import { format } from "../../grammar/printer.ts";
import { readSource } from "../../grammar/read.ts";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, FILES } from "./world.ts";

let folder: Folder;
let client: Client;
let build: string;

beforeAll(async () => {
  folder = folderOf(FILES);
  client = await startServer({ folders: [folder.uri], pulls: true });
  build = folder.uriOf("builds/wren-hill-2.tappet");
});
afterEach(() => {
  client.close(build);
  expect(client.complaints()).toEqual([]);
});
afterAll(async () => {
  await client.stop();
  folder.remove();
});

const TITLE = "Lay out the usual order of work for what this build fits";
const at = (words: string, into = 2) => {
  const start = client.at(build, words, into);
  return { start, end: start };
};

describe("the action at the head of a build", () => {
  test("lays the plan out in one edit that raises nothing and is laid out as the formatter would", async () => {
    client.open(build, format(readSource("", BUILD)));
    const before = (await client.pull(build)).map((d) => `${d.code} ${d.message}`);
    const actions = await client.actions(build, at("build wren-hill-2"));
    const action = actions.find((a) => a.title === TITLE);
    expect(action?.kind).toBe("refactor.rewrite");
    expect(action?.isPreferred).toBeUndefined();
    if (!action?.edit) throw new Error("the action has no edit");
    client.apply(action.edit);
    const text = client.textOf(build);
    expect(text).toMatch(/\n\n {2}plan \{\n {4}step baseline /);
    expect(text).toContain("step gear-on");
    expect(format(readSource("", text))).toBe(text);
    expect((await client.pull(build)).map((d) => `${d.code} ${d.message}`).filter((d) => !before.includes(d))).toEqual([]);
    expect((await client.actions(build, at("build wren-hill-2"))).map((a) => a.title)).not.toContain(TITLE);
  });

  test("is not offered where the work is told already, nor inside the build", async () => {
    client.open(build, BUILD.replace("  redline", "  plan { done baseline on 2027-03-01 }\n  redline"));
    expect((await client.actions(build, at("build wren-hill-2"))).map((a) => a.title)).not.toContain(TITLE);
    client.close(build);
    client.open(build, BUILD);
    expect((await client.actions(build, at("7300 rpm"))).map((a) => a.title)).not.toContain(TITLE);
  });
});

describe("the editor's command", () => {
  test("gets the same edit from anywhere in the build, and nothing outside one", async () => {
    client.open(build, BUILD);
    const edit = await client.request<WorkspaceEdit | null>("tappet/plan", { uri: build, range: at("7300 rpm") });
    if (!edit) throw new Error("no edit came");
    client.apply(edit);
    expect(client.textOf(build)).toContain("step shaft-in");
    client.close(build);
    client.open(build, BUILD);
    expect(await client.request("tappet/plan", { uri: build, range: at('use "', 1) })).toBeNull();
    for (const nonsense of [null, 3, {}, { uri: build }, { uri: build, range: { start: 1 } }, { uri: 7, range: at("7300 rpm") }]) expect(await client.request("tappet/plan", nonsense)).toBeNull();
  });
});

describe("an export for everybody", () => {
  const PRIVATE = BUILD.replace("  redline", '  note private "bought from a neighbour"\n  note "seen by two"\n  redline');
  test("leaves private notes out of every form and keeps cautions and sources; the builder's own has all", async () => {
    client.open(build, PRIVATE);
    for (const form of ["html", "markdown", "json"]) {
      const open = await client.request<string>("tappet/export", { uri: build, format: form, public: true });
      const own = await client.request<string>("tappet/export", { uri: build, format: form });
      expect(own).toContain("bought from a neighbour");
      expect(open).not.toContain("bought from a neighbour");
      for (const text of [open, own]) {
        expect(text).toContain("seen by two");
        expect(text).toContain("workshop manual, section 6A");
        expect(text).toContain("arithmetic, not permission");
      }
    }
  });
});
