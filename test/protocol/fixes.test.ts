/** Fixes: each is applied to the text as an editor would, and its finding must be gone from a file that still reads. */
import type { CodeAction, Diagnostic } from "vscode-languageserver/node";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
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

const written = (body: string, engine = "dunlin-18") => `use "../parts/ridgeway.tappet"\n\nbuild wren on ${engine} {\n  ${body}\n}\n`;

/** Opens a text and gives the first finding of a rule, with the fixes offered for it. */
async function fixesOf(text: string, rule: string): Promise<{ finding: Diagnostic; actions: readonly CodeAction[] }> {
  client.open(build, text);
  const finding = (await client.pull(build)).find((d) => d.code === rule);
  if (!finding) throw new Error(`${rule} is not found: ${(await client.pull(build)).map((d) => d.code).join(", ")}`);
  const actions = await client.actions(build, finding.range, { diagnostics: [finding] });
  return { finding, actions: actions.filter((a) => a.diagnostics?.some((d) => d.code === rule) && !a.title.startsWith("Waive ")) };
}

/** Applies a fix and gives the text and the rules that are found in it then. */
async function applied(action: CodeAction | undefined): Promise<{ text: string; rules: unknown[]; damage: number }> {
  if (!action?.edit) throw new Error("there is no such fix");
  client.apply(action.edit);
  const text = client.textOf(build);
  return { text, rules: (await client.pull(build)).map((d) => d.code), damage: readSource(build, text).declarations.flatMap((d) => d.tree.problems).length };
}

describe("a fix", () => {
  test("of need-unmet lays the part out to be filled in, and leaves the figures open", async () => {
    const { actions } = await fixesOf(BUILD, "need-unmet");
    expect(actions.map((a) => a.title)).toEqual(["Lay out a retainer to fill in"]);
    expect(actions[0]?.isPreferred).toBeUndefined();
    const { text, rules, damage } = await applied(actions[0]);
    expect(text).toMatch(/fit vernier-18 \{ set: 3 deg crank retarded \}\n {2}fit retainer \{\n( {4}[a-z-]+: …( [a-zA-Z/·]+)?\n)+ {2}\}\n {2}follow/);
    expect(damage).toBe(0);
    expect(new Set(rules)).toEqual(new Set(["not-filled-in"]));
  });

  test("of a key whose words stand apart writes it in one", async () => {
    const { finding, actions } = await fixesOf("engine e {\n  source: \"book\"\n  cylinders: 4\n  valve-gear { gear teeth: 38 }\n}\n", "unknown-key");
    expect(finding.message).toContain("`gear-teeth`");
    expect(actions.map((a) => a.title)).toEqual(["Change to gear-teeth"]);
    const { text, rules } = await applied(actions[0]);
    expect(text).toContain("valve-gear { gear-teeth: 38 }");
    expect(rules).toEqual([]);
  });

  test("of a figure written over a hole takes out what is left of the hole, or of its unit", async () => {
    const engine = (bore: string) => `engine e {\n  source: "book"\n  cylinders: 4\n  bore: ${bore}\n}\n`;
    const left = await fixesOf(engine("83.00 mm…"), "not-filled-in");
    expect(await applied(left.actions.find((a) => a.title === "Take … out"))).toMatchObject({ text: engine("83.00 mm"), rules: [] });
    client.close(build);
    const twice = await fixesOf(engine("83.00 mm mm"), "unknown-word");
    expect(twice.finding.message).toContain("has its unit already");
    expect(await applied(twice.actions[0])).toMatchObject({ text: engine("83.00 mm"), rules: [] });
    client.close(build);
    const { actions } = await fixesOf(engine("…"), "not-filled-in");
    expect(actions).toEqual([]);
  });

  test("of a figure that is said to be two things leaves one of them", async () => {
    const { actions } = await fixesOf("engine e {\n  source: \"book\"\n  cylinders: 4\n  valve-gear { intake { lash: 0.20 mm hot cold } }\n}\n", "unknown-word");
    expect(actions.map((a) => a.title)).toEqual(["Take cold out"]);
    const { text, rules } = await applied(actions[0]);
    expect(text).toContain("lash: 0.20 mm hot }");
    expect(rules).not.toContain("unknown-word");
  });

  test("of decimal-slip moves the point back", async () => {
    const { finding, actions } = await fixesOf(written("redline: 65000 rpm"), "decimal-slip");
    expect(finding.message).toContain("6500");
    const { text, rules, damage } = await applied(actions[0]);
    expect(text).toContain("redline: 6500.0 rpm\n");
    expect(damage).toBe(0);
    expect(rules).not.toContain("decimal-slip");
  });

  test("of unit-missing adds one of the units that the figure can have", async () => {
    const { actions } = await fixesOf(written("redline: 7300"), "unit-missing");
    const { text, rules, damage } = await applied(actions[0]);
    expect(text).toContain("redline: 7300 rpm\n");
    expect(damage).toBe(0);
    expect(rules).toEqual([]);
  });

  test("of qualifier-missing offers every word and that the source does not say", async () => {
    const { actions } = await fixesOf(written("fit ridgeway-272\n  fit retainer { mass: 11 g }\n  lash { intake: 0.20 mm; exhaust: 0.35 mm cold }"), "qualifier-missing");
    expect(actions.map((a) => a.title)).toEqual(["Add cold", "Add hot", "Add unstated"]);
    const { text, rules, damage } = await applied(actions[0]);
    expect(text).toContain("intake: 0.20 mm cold;");
    expect(damage).toBe(0);
    expect(rules).toEqual([]);
  });

  test("of unit-mixed takes the unit in which the figure fits", async () => {
    const { actions } = await fixesOf(written("follow gear-bolt\n  fastener cam-gear { torque: 40 N·m oiled }"), "unit-mixed");
    expect(actions.map((a) => a.title)).toEqual(["Change to 40 ft-lb"]);
    const { text, rules, damage } = await applied(actions[0]);
    expect(text).toContain("torque: 40 ft-lb oiled");
    expect(damage).toBe(0);
    expect(rules).not.toContain("unit-mixed");
  });

  test("of a misspelt key writes the key that was meant", async () => {
    const { actions } = await fixesOf(written("redlin: 7300 rpm"), "unknown-key");
    const { text, rules } = await applied(actions[0]);
    expect(text).toContain("redline: 7300 rpm");
    expect(rules).toEqual([]);
  });

  test("of a name that another open file declares uses that file", async () => {
    const other = folder.uriOf("parts/more.tappet");
    client.open(other, "card head-gasket for dunlin-18 { source: \"leaflet\" }\n");
    const { actions } = await fixesOf(written("follow head-gasket"), "unresolved-name");
    const { text, rules } = await applied(actions.find((a) => a.title === 'Use "../parts/more.tappet"'));
    expect(text).toContain('use "../parts/ridgeway.tappet"\nuse "../parts/more.tappet"\n');
    expect(rules).not.toContain("unresolved-name");
    client.close(other);
  });

  test("stands where its finding stands, also after lines above it have changed", async () => {
    client.open(build, written("redline: 7300"));
    client.edit(build, { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, "// one\n// two 𝛑\n\n");
    const [finding] = await client.pull(build);
    const [action] = await client.actions(build, finding?.range ?? { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } });
    const { text } = await applied(action);
    expect(text).toContain("redline: 7300 rpm\n");
    expect(await client.actions(build, { start: { line: 0, character: 0 }, end: { line: 1, character: 0 } })).toEqual([]);
  });

  test("is not offered to a client that asks for another kind", async () => {
    const { finding } = await fixesOf(written("redline: 7300"), "unit-missing");
    expect(await client.actions(build, finding.range, { only: ["refactor"] })).toEqual([]);
    expect((await client.actions(build, finding.range, { only: ["quickfix"] })).length).toBeGreaterThan(0);
  });
});

describe("all fixes at once", () => {
  test("make only those that change no figure, and leave the rest to the builder", async () => {
    client.open(build, written("redline 7300 rpm\n  lash { intake: 0,20 mm cold; exhaust: 0.35 mm }"));
    const before = (await client.pull(build)).map((d) => d.code);
    expect(before).toContain("unknown-key");
    const actions = await client.actions(build, { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } }, { only: ["source.fixAll"] });
    expect(actions.map((a) => a.kind)).toEqual(["source.fixAll.tappet"]);
    const { text, rules, damage } = await applied(actions[0]);
    expect(text).toContain("redline: 7300 rpm\n");
    expect(text).toContain("0.35 mm }");
    expect(damage).toBe(0);
    expect(rules).toContain("qualifier-missing");
  });

  test("are nothing where nothing is safe", async () => {
    client.open(build, written("redline: 7300"));
    expect(await client.actions(build, { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } }, { only: ["source.fixAll.tappet"] })).toEqual([]);
  });
});
