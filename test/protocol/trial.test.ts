/** Figures tried without touching the file: the sheet moves, the file and its findings do not, and applying is one edit. */
import type { Position, Range, WorkspaceEdit } from "vscode-languageserver/node";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, ENGINE, FILES } from "./world.ts";

interface TrialAnswer {
  readonly figures: readonly { readonly uri: string; readonly range: Range; readonly words: string; readonly from: string; readonly to: string }[];
  readonly refusal?: string;
}
interface Sheet {
  readonly html: string;
  readonly trial?: { readonly figures: readonly { words: string; from: string; to: string }[]; readonly values: number; readonly come: readonly string[]; readonly gone: readonly string[] };
}

let folder: Folder;
let client: Client;
let build: string;
let engine: string;

beforeAll(async () => {
  folder = folderOf(FILES);
  client = await startServer({ folders: [folder.uri], pulls: true });
  build = folder.uriOf("builds/wren-hill-2.tappet");
  engine = folder.uriOf("engines/dunlin-18.tappet");
});
afterEach(async () => {
  await client.request("tappet/putBack", {});
  for (const uri of [build, engine]) client.close(uri);
  expect(client.complaints()).toEqual([]);
});
afterAll(async () => {
  await client.stop();
  folder.remove();
});

const step = (uri: string, position: Position, by: number) => client.request<TrialAnswer>("tappet/try", { uri, position, by });
const sheet = () => client.request<Sheet>("tappet/sheet", { uri: build });
const figureOf = ({ html }: Sheet, id: string) => new RegExp(`data-value="${id}"[\\s\\S]*?<td class="figure">(.*?)</td>`).exec(html)?.[1]?.replace(/<[^>]*>/g, "").trim();
const rowOf = ({ html }: Sheet, id: string) => (new RegExp(`<tbody data-value="${id}"[\\s\\S]*?</tbody>`).exec(html)?.[0] ?? "").replace(/<[^>]*>/g, "").replace(/\s+/g, " ");

describe("a figure tried", () => {
  test("a step higher moves the sheet by one unit of its last digit, and neither the file nor its findings", async () => {
    client.open(build, BUILD);
    const findings = await client.pull(build);
    const before = await sheet();
    expect(before.trial).toBeUndefined();
    const answer = await step(build, client.at(build, "7300 rpm", 1), 1);
    const start = client.at(build, "7300 rpm");
    expect(answer).toEqual({ figures: [{ uri: build, range: { start, end: { ...start, character: start.character + 4 } }, words: "redline", from: "7300 rpm", to: "7301 rpm" }] });
    await step(build, client.at(build, "redline", 2), 99);
    const after = await sheet();
    // 2 · 82 mm · 7400/60 s⁻¹, worked out by hand: 20.2 m/s; before, at 7300, 20.0 m/s.
    expect([figureOf(before, "piston-speed.mean"), figureOf(after, "piston-speed.mean")]).toEqual(["20.0 m/s", "20.2 m/s"]);
    expect(rowOf(after, "piston-speed.mean")).toContain("trial: 20.0 m/s → to 20.2 m/s".replace("→ to", "→to"));
    expect(after.trial?.figures).toEqual([{ words: "redline", from: "7300 rpm", to: "7400 rpm" }]);
    expect(after.trial?.values).toBeGreaterThan(0);
    expect(after.html.match(/class="tried"/g)?.length).toBe(after.trial?.values);
    expect(await client.pull(build)).toEqual(findings);
    expect(client.textOf(build)).toBe(BUILD);
  });

  test("shows what is found then and was not, and what no longer is", async () => {
    client.open(build, BUILD);
    await step(build, client.at(build, "7300 rpm"), 200);
    const higher = await sheet();
    expect(higher.trial?.come.some((m) => m.includes("cast pistons"))).toBe(true);
    expect(higher.trial?.gone).toEqual([]);
    expect(higher.html).not.toContain("data-fix");
    client.replace(build, "7300 rpm", "7500 rpm");
    await step(build, client.at(build, "7500 rpm"), -200);
    const lower = await sheet();
    expect(lower.trial?.gone.some((m) => m.includes("cast pistons"))).toBe(true);
    expect(lower.trial?.come).toEqual([]);
  });

  test("is over when it is stepped back to what is written, put back, or its file is edited", async () => {
    client.open(build, BUILD);
    const at = client.at(build, "0.20 mm cold");
    expect((await step(build, at, 2)).figures.map((f) => f.to)).toEqual(["0.22 mm"]);
    expect((await step(build, at, -1)).figures.map((f) => f.to)).toEqual(["0.21 mm"]);
    expect((await step(build, at, -1)).figures).toEqual([]);
    await step(build, at, 1);
    expect((await client.request<TrialAnswer>("tappet/putBack", {})).figures).toEqual([]);
    expect((await sheet()).trial).toBeUndefined();
    await step(build, at, 1);
    client.edit(build, { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, "// one\n");
    expect((await client.request<TrialAnswer>("tappet/trial", {})).figures).toEqual([]);
  });

  test("stands beside others, in the engine's file too, and all are applied by one edit", async () => {
    client.open(build, BUILD);
    client.open(engine, ENGINE);
    await step(build, client.at(build, "0.20 mm cold"), 2);
    const both = await step(engine, client.at(engine, "82.00 mm"), -100);
    expect(both.figures.map((f) => [f.uri, f.words, f.from, f.to])).toEqual([[build, "lash intake", "0.20 mm", "0.22 mm"], [engine, "stroke", "82.00 mm", "81.00 mm"]]);
    expect((await sheet()).trial?.figures).toHaveLength(2);
    const edit = await client.request<WorkspaceEdit>("tappet/applyTrial", {});
    expect(Object.values(edit.changes ?? {}).map((edits) => edits.length)).toEqual([1, 1]);
    client.apply(edit);
    expect(client.textOf(build)).toBe(BUILD.replace("intake: 0.20 mm cold", "intake: 0.22 mm cold"));
    expect(client.textOf(engine)).toBe(ENGINE.replace("82.00 mm", "81.00 mm"));
    expect((await client.request<TrialAnswer>("tappet/trial", {})).figures).toEqual([]);
    expect(await client.request("tappet/applyTrial", {})).toBeNull();
  });

  test("keeps the form it was written in: a leading point, a ratio, the centre of a tolerance, a reading in a table", async () => {
    const text = BUILD.replace("  lash {", '  stated-compression: 9.4:1\n  fit retainer { height-change: .007 in }\n  measured lash cold on 2027-03-14 {\n    | valve (mm) |    1 |\n    | intake a   | 0.20 |\n  }\n  fastener cam-cap { torque: 20 ± 2 N·m oiled }\n  lash {');
    client.open(build, text);
    const to = async (words: string, into = 0, by = 1) => (await step(build, client.at(build, words, into), by)).figures.at(-1);
    expect((await to("9.4:1"))?.to).toBe("9.5:1");
    expect((await to(".007 in"))?.to).toBe(".008 in");
    expect((await to("torque: 20", 2))?.to).toBe("21");
    expect((await to("± 2 N·m", 2))?.to).toBe("3 N·m");
    expect(await to("| 0.20 |", 3, 5)).toMatchObject({ to: "0.25", words: "lash intake a, 1" });
    expect((await to("0.35 mm", 0, 100))?.to).toBe("1.35 mm");
  });

  test("is refused in one sentence where there is none, where it has no last digit, and below nothing", async () => {
    client.open(build, BUILD.replace("3 deg crank", "1/2 deg crank"));
    for (const [words, refusal] of [["build wren", /no figure here/], ["1/2 deg", /no last digit/]] as const) expect((await step(build, client.at(build, words), 1)).refusal).toMatch(refusal);
    expect((await step(build, client.at(build, "0.20 mm"), -21)).refusal).toMatch(/below nothing/);
    expect(await client.request("tappet/try", { uri: build, by: 0.5 })).toBeNull();
    expect((await sheet()).trial).toBeUndefined();
  });
});
