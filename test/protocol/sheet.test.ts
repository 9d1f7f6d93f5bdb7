/** The sheet for the editor's page: shown, exported, and fixed from. */
import type { WorkspaceEdit } from "vscode-languageserver/node";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, ENGINE, FILES } from "./world.ts";

interface Sheet {
  readonly title: string;
  readonly html: string;
  readonly build: string;
  readonly builds: readonly string[];
}

let folder: Folder;
let client: Client;
let build: string;

beforeAll(async () => {
  folder = folderOf(FILES);
  client = await startServer({ folders: [folder.uri], pulls: true });
  build = folder.uriOf("builds/wren-hill-2.tappet");
});
afterEach(() => expect(client.complaints()).toEqual([]));
afterAll(async () => {
  await client.stop();
  folder.remove();
});

describe("the sheet", () => {
  test("of a build has its name, its values and its findings", async () => {
    client.open(build, BUILD);
    const sheet = await client.request<Sheet>("tappet/sheet", { uri: build });
    expect(sheet).toMatchObject({ title: "Sheet: Wren hill-climb car", build: "wren-hill-2", builds: ["wren-hill-2"] });
    expect(sheet.html).toContain('data-value="displacement.total"');
    expect(sheet.html).toContain("data-finding");
    expect(sheet.html).toContain(`data-file="${build}"`);
    client.close(build);
  });

  test("follows every edit, also one of the engine", async () => {
    client.open(build, BUILD);
    const engine = folder.uriOf("engines/dunlin-18.tappet");
    client.open(engine, ENGINE);
    const volume = async () => /data-value="displacement.total".*?(\d+ cc)/s.exec((await client.request<Sheet>("tappet/sheet", { uri: build })).html)?.[1];
    // π/4 · 83.00² · 82.00 · 4 = 1774.7 cc, and with a bore of 84.00 mm 1817.7 cc.
    expect(await volume()).toBe("1775 cc");
    client.replace(engine, "bore: 83.00 mm", "bore: 84.00 mm");
    expect(await volume()).toBe("1818 cc");
    client.close(engine);
    client.close(build);
  });

  test("keeps in grey what a half-typed line decided, says where the text cannot be read, and lets go of it when the line is whole", async () => {
    client.open(build, BUILD);
    const engine = folder.uriOf("engines/dunlin-18.tappet");
    client.open(engine, ENGINE);
    const shown = async () => (await client.request<Sheet>("tappet/sheet", { uri: build })).html;
    const row = (html: string) => /<tbody data-value="displacement.total".*?<\/tbody>/s.exec(html)?.[0] ?? "";
    expect(row(await shown())).toMatch(/^<tbody data-value="displacement.total">.*1775 cc/s);
    client.replace(engine, "bore: 83.00 mm", "bore:");
    const broken = await shown();
    expect(row(broken)).toMatch(/class="kept".*as last worked out.*1775 cc/s);
    // Nothing in a kept row leads to a line of the text as it was.
    expect(row(broken)).not.toContain("data-line");
    expect(broken).toMatch(/cannot be read in one place \(engines\/dunlin-18\.tappet:\d+\)/);
    client.replace(engine, "bore:", "bore: 84.00 mm");
    const whole = await shown();
    expect(row(whole)).toContain("1818 cc");
    expect(whole).not.toContain('class="kept"');
    // Taken out on purpose, the figure leaves nothing behind.
    client.replace(engine, "  bore: 84.00 mm\n", "");
    expect(row(await shown())).toBe("");
    client.close(engine);
    client.close(build);
  });

  test("stays as it was while the heading of its build is being typed, without fixes that belong to the text as it was", async () => {
    client.open(build, BUILD);
    await client.request<Sheet>("tappet/sheet", { uri: build });
    client.replace(build, "build wren-hill-2", "buil wren-hill-2");
    const broken = await client.request<Sheet>("tappet/sheet", { uri: build, build: "wren-hill-2" });
    expect(broken.build).toBe("wren-hill-2");
    expect(broken.html).toContain("as last worked out");
    expect(broken.html).not.toContain("data-fix");
    client.close(build);
    client.open(build, "// nothing yet\n");
    expect(await client.request<Sheet | null>("tappet/sheet", { uri: build })).toBeNull();
    client.close(build);
  });

  test("of a file with several builds is the first, or the one asked for", async () => {
    client.open(build, `${BUILD}\nbuild other on dunlin-18 {\n  bore: 84.00 mm\n}\n`);
    expect((await client.request<Sheet>("tappet/sheet", { uri: build })).builds).toEqual(["wren-hill-2", "other"]);
    const other = await client.request<Sheet>("tappet/sheet", { uri: build, build: "other" });
    expect(other.build).toBe("other");
    expect(other.html).toContain("1818 cc");
    client.close(build);
  });

  test("of an engine's file is the engine's; of a file with neither there is none", async () => {
    const engine = folder.uriOf("engines/dunlin-18.tappet");
    client.open(engine, ENGINE);
    expect((await client.request<Sheet>("tappet/sheet", { uri: engine })).build).toBe("dunlin-18");
    client.replace(engine, "engine dunlin-18", "card dunlin-18");
    expect(await client.request("tappet/sheet", { uri: engine })).toBeNull();
    client.close(engine);
  });

  test("keeps what a file says as text", async () => {
    client.open(build, BUILD.replace("Wren hill-climb car", "<script>alert(1)</script>\u202e"));
    const { html } = await client.request<Sheet>("tappet/sheet", { uri: build });
    expect(html).not.toContain("<script>");
    expect(html).not.toContain("\u202e");
    client.close(build);
  });
});

describe("an export", () => {
  test("is a whole page, markdown, or the published JSON, the same bytes each time", async () => {
    client.open(build, BUILD);
    const exported = async (format: string) => client.request<string>("tappet/export", { uri: build, format });
    const page = await exported("html");
    expect(page).toMatch(/^<!doctype html>/i);
    expect(page).toContain("</html>");
    expect(page).not.toContain("<script");
    expect(page).not.toContain(folder.path);
    expect(await exported("markdown")).toContain("# ");
    const json = JSON.parse(await exported("json")) as { build: string; engine: string; findings: { rule: string; file: string }[] };
    expect(json).toMatchObject({ build: "wren-hill-2", engine: "dunlin-18" });
    expect(json.findings.map((f) => [f.rule, f.file])).toEqual([["need-unmet", "builds/wren-hill-2.tappet"]]);
    for (const format of ["html", "markdown", "json"]) expect(await exported(format)).toBe(await exported(format));
    client.close(build);
  });
});

describe("a fix on the sheet", () => {
  test("edits the file, and the finding goes", async () => {
    client.open(build, BUILD);
    const edit = await client.request<WorkspaceEdit>("tappet/fix", { uri: build, finding: "0", fix: 0 });
    client.apply(edit);
    expect(client.textOf(build)).toContain("  fit retainer {\n");
    expect((await client.pull(build)).map((d) => d.code)).not.toContain("need-unmet");
    client.close(build);
  });

  test("that is not there any more edits nothing", async () => {
    client.open(build, BUILD);
    for (const place of [{ finding: "7", fix: 0 }, { finding: "0", fix: 9 }, { finding: "-1", fix: 0 }, { finding: "x", fix: 0 }, { finding: {}, fix: "0" }, {}])
      expect(await client.request<WorkspaceEdit>("tappet/fix", { uri: build, ...place })).toEqual({ changes: {} });
    client.close(build);
  });
});
