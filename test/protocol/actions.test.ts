/** What may be done at a place besides a finding's own fixes: each action is made as an editor would, and what it leaves must hold. */
import type { CodeAction, Range } from "vscode-languageserver/node";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { readSource } from "../../grammar/read.ts";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, FILES } from "./world.ts";

let folder: Folder;
let client: Client;
let build: string;
const opened = new Set<string>();

const RESOLVES = {
  workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ["create" as const] } },
  textDocument: { codeAction: { dataSupport: true, resolveSupport: { properties: ["edit"] } } },
};

beforeAll(async () => {
  folder = folderOf(FILES);
  client = await startServer({ folders: [folder.uri], pulls: true, capabilities: RESOLVES });
  build = folder.uriOf("builds/wren-hill-2.tappet");
});
afterEach(() => {
  for (const uri of opened) client.close(uri);
  opened.clear();
  expect(client.complaints()).toEqual([]);
});
afterAll(async () => {
  await client.stop();
  folder.remove();
});

function open(uri: string, text: string): void {
  client.open(uri, text);
  opened.add(uri);
}

function rangeOf(uri: string, words: string): Range {
  return { start: client.at(uri, words), end: client.at(uri, words) };
}

async function offered(uri: string, words: string): Promise<readonly CodeAction[]> {
  return client.actions(uri, rangeOf(uri, words));
}

/** Chooses an action as an editor does: its edit is asked for when it is not there. */
async function choose(action: CodeAction | undefined): Promise<void> {
  if (!action) throw new Error("there is no such action");
  const whole = action.edit ? action : await client.request<CodeAction>("codeAction/resolve", action);
  if (!whole.edit) throw new Error(`${action.title} has no edit`);
  for (const change of whole.edit.documentChanges ?? []) if ("kind" in change && change.kind === "create") opened.add(change.uri);
  client.apply(whole.edit);
}

const rulesOf = async (uri: string) => (await client.pull(uri)).map((d) => d.code);
const damageOf = (uri: string) => readSource(uri, client.textOf(uri)).declarations.flatMap((d) => d.tree.problems);

describe("a waiver", () => {
  test("is the last thing offered, beside what it is about, and silences nothing until its reason is written", async () => {
    open(build, BUILD);
    const actions = await offered(build, "ridgeway-272\n");
    const waive = actions.at(-1);
    expect(waive?.title).toMatch(/^Waive need-unmet(?: until \d{4}-\d\d-\d\d)?: write the reason between the quotes$/);
    await choose(waive);
    expect(client.textOf(build)).toMatch(/ {2}fit ridgeway-272\n {2}waive need-unmet because ""(?: until \d{4}-\d\d-\d\d)?\n {2}fit vernier-18/);
    expect(damageOf(build)).toEqual([]);
    expect(await rulesOf(build)).toEqual(expect.arrayContaining(["need-unmet", "waiver-without-reason"]));
    client.replace(build, 'because ""', 'because "the stock ones were weighed and will do"');
    const after = await rulesOf(build);
    expect(after).not.toContain("need-unmet");
    expect(after.filter((r) => String(r).startsWith("waiver"))).toEqual([]);
  });

  test("says for what it is where several are offered", async () => {
    const uri = folder.uriOf("builds/needy.tappet");
    open(uri, 'engine e { source: "book"; cylinders: 4 }\npart camshaft c for e { source: "card"; needs retainer; needs cam-gear }\nbuild b on e {\n  fit c\n}\n');
    const titles = (await offered(uri, "c\n}")).flatMap(({ title }) => (title.startsWith("Waive need-unmet") ? [/need-unmet(?: for ([a-z-]+))?/.exec(title)?.[1]] : []));
    expect(titles).toEqual(["retainer", "cam-gear"]);
  });

  test("has a day on which it ends where what was found breaks engines", async () => {
    const text = BUILD.replace("follow gear-bolt", 'fit retainer { mass: 11 g }\n  fit valve-spring "stiff" { seat-load: 240 N; rate: 32 N/mm; solid-height: 36.0 mm }\n  follow gear-bolt');
    open(build, text);
    const found = (await client.pull(build)).find((d) => d.code === "coil-bind-margin");
    expect(found).toBeDefined();
    const actions = await client.actions(build, found?.range as Range);
    const waive = actions.find((a) => a.title.startsWith("Waive coil-bind-margin"));
    expect(waive?.title).toMatch(/until \d{4}-\d\d-\d\d: write/);
    await choose(waive);
    expect(client.textOf(build)).toMatch(/waive coil-bind-margin(?: for \S+)? at -?[\d.]+ mm because "" until \d{4}-\d\d-\d\d\n/);
  });

  test("is not offered for what the text gets wrong, nor for a waiver", async () => {
    open(build, BUILD.replace("redline: 7300 rpm", 'redlin: 7300 rpm\n  waive lash-spread because "none"'));
    expect(await rulesOf(build)).toEqual(expect.arrayContaining(["unknown-key", "waiver-unused"]));
    for (const words of ["redlin:", "lash-spread"]) expect((await offered(build, words)).filter((a) => a.title.startsWith("Waive"))).toEqual([]);
  });

  test("asks for its reason in an editor that can, and is written from the answer", async () => {
    const asking = await startServer({ folders: [folder.uri], pulls: true, capabilities: RESOLVES, initialize: { initializationOptions: { asksReasons: true } } });
    asking.open(build, BUILD);
    const at = { start: asking.at(build, "ridgeway-272\n"), end: asking.at(build, "ridgeway-272\n") };
    const action = (await asking.actions(build, at)).at(-1);
    expect(action?.command?.command).toBe("tappet.waive");
    const [asked] = action?.command?.arguments as [Record<string, unknown>];
    expect(asked).toMatchObject({ uri: build, rule: "need-unmet", needsDate: expect.any(Boolean), message: expect.stringContaining("retainer") });
    expect(await asking.request("tappet/waivable", { uri: build, range: at })).toEqual([asked]);
    const edit = await asking.request<never>("tappet/waive", { ...asked, because: 'the "old" ones\nwill do', until: "2099-01-31" });
    asking.apply(edit);
    expect(asking.textOf(build)).toContain(`waive need-unmet because "the 'old' ones will do" until 2099-01-31\n`);
    expect((await asking.pull(build)).map((d) => d.code)).not.toContain("need-unmet");
    expect(await asking.request("tappet/waive", { uri: 3 })).toBeNull();
    await asking.stop();
  });

  test("that states no figure is bound to the one that it silences, from the waiver itself", async () => {
    const text = `engine e { source: "book"; cylinders: 4; valve-gear { intake { lash: 0.20 ± 0.02 mm cold } } }
build b on e {
  lash { intake: 0.15 mm cold }
  waive lash-tight because "maker confirmed by letter" until 2099-01-01
}
`;
    const uri = folder.uriOf("builds/bound.tappet");
    open(uri, text);
    const bind = (await offered(uri, "waive lash-tight")).find((a) => /accept it at 0\.15 mm, and nothing worse/.test(a.title));
    await choose(bind);
    expect(client.textOf(uri)).toContain('waive lash-tight at 0.15 mm because "maker');
    expect((await offered(uri, "waive lash-tight")).some((a) => /nothing worse/.test(a.title))).toBe(false);
    expect(await rulesOf(uri)).not.toContain("lash-tight");
    client.replace(uri, "intake: 0.15 mm", "intake: 0.14 mm");
    expect(await rulesOf(uri)).toEqual(expect.arrayContaining(["lash-tight", "waiver-outgrown"]));
  });
});

describe("missing parts", () => {
  test("are laid out together, every figure open, from the head of the build", async () => {
    open(folder.uriOf("parts/ridgeway.tappet"), FILES["parts/ridgeway.tappet"]?.replace("  needs retainer\n", "  needs valve-spring where coil-bind-margin >= 1.5 mm\n  needs retainer\n  needs pushrod\n") ?? "");
    open(build, BUILD);
    const action = (await offered(build, "wren-hill-2")).find((a) => a.title.startsWith("Lay out the"));
    expect(action?.title).toMatch(/^Lay out the \d missing parts to fill in: .*retainer/);
    expect(action?.edit).toBeUndefined();
    await choose(action);
    const text = client.textOf(build);
    expect(text).toMatch(/fit retainer \{\n( {4}[a-z-]+: …( [a-zA-Z/·]+)?\n)+ {2}\}/);
    expect(text).toMatch(/fit pushrod \{\n( {4}[a-z-]+: …( [a-zA-Z/·]+)?\n)+ {2}\}/);
    expect(damageOf(build)).toEqual([]);
    expect(await rulesOf(build)).not.toContain("need-unmet");
  });

  test("of an engine are its figures, in the blocks that they belong in", async () => {
    const engine = folder.uriOf("engines/new.tappet");
    open(engine, 'engine moss-14 {\n  source: "manual"\n  cylinders: 4\n}\n');
    await choose((await offered(engine, "moss-14")).find((a) => a.title.startsWith("Lay out")));
    expect(client.textOf(engine)).toContain("  bore: … mm\n");
    expect(client.textOf(engine)).toMatch(/ {2}valve-gear \{\n(.|\n)* {4}intake \{ .*lash: … mm \}\n/);
    expect(damageOf(engine)).toEqual([]);
    expect(new Set(await rulesOf(engine))).toEqual(new Set(["not-filled-in"]));
    expect((await offered(engine, "moss-14")).filter((a) => a.title.startsWith("Lay out"))).toEqual([]);
  });
});

describe("a part described on the spot", () => {
  const withPart = BUILD.replace("  follow gear-bolt", '  /// Weighed.\n  fit retainer "Ridgeway light" { condition: new; mass: 11 g; to-guide: 13.6 mm }\n  follow gear-bolt');

  test("moves to a file of its own beside the other parts, with the use that finds it, and keeps how it is set", async () => {
    open(build, withPart);
    const action = (await offered(build, 'retainer "Ridgeway')).find((a) => a.title.startsWith("Move this retainer"));
    expect(action?.title).toBe("Move this retainer to a file of its own, as ridgeway-light");
    expect(action?.kind).toBe("refactor.extract");
    const before = await client.request<{ html: string }>("tappet/sheet", { uri: build });
    await choose(action);
    const file = folder.uriOf("parts/ridgeway-light.tappet");
    expect(client.textOf(file)).toBe('use "../engines/dunlin-18.tappet"\n\npart retainer ridgeway-light "Ridgeway light" for dunlin-18 {\n  source:   …\n  mass:     11   g\n  to-guide: 13.6 mm\n}\n');
    expect(client.textOf(build)).toContain('use "../parts/ridgeway.tappet"\nuse "../parts/ridgeway-light.tappet"\n');
    expect(client.textOf(build)).toContain("  fit ridgeway-light { condition: new }\n");
    expect(await rulesOf(build)).not.toContain("need-unmet");
    expect(await rulesOf(file)).toEqual(["not-filled-in"]);
    const figure = (html: string) => /data-value="displacement.total"[\s\S]*?<td class="figure">(.*?)<\/td>/.exec(html)?.[1]?.replace(/<[^>]*>/g, "");
    expect(figure((await client.request<{ html: string }>("tappet/sheet", { uri: build })).html)).toBe(figure(before.html));
  });

  test("is declared above the build where a file of its own is not wanted", async () => {
    open(build, withPart);
    await choose((await offered(build, 'retainer "Ridgeway')).find((a) => a.title.startsWith("Declare this retainer")));
    expect(client.textOf(build)).toMatch(/part retainer ridgeway-light "Ridgeway light" for dunlin-18 \{\n(.|\n)*\}\n\nbuild wren-hill-2/);
    expect(damageOf(build)).toEqual([]);
    expect(await rulesOf(build)).not.toContain("unresolved-name");
  });

  test("is not moved where nothing is known of it, or by a client that cannot make files", async () => {
    open(build, BUILD.replace("  follow", "  fit retainer\n  follow"));
    expect((await offered(build, "retainer\n")).filter((a) => a.kind === "refactor.extract")).toEqual([]);
    const plain = await startServer({ folders: [folder.uri], pulls: true });
    plain.open(build, withPart);
    const at = plain.at(build, 'retainer "Ridgeway');
    const titles = (await plain.actions(build, { start: at, end: at }, { only: ["refactor"] })).map((a) => [a.title, a.edit !== undefined]);
    expect(titles).toEqual([["Declare this retainer above the build, as ridgeway-light", true]]);
    await plain.stop();
  });
});

describe("what shares its file with a build", () => {
  const together = `/// From the book.
engine heron-16 "Heron 1.6" { source: "book"; cylinders: 4; bore: 76.2 mm; stroke: 87.5 mm }

part camshaft kestrel-282 "Kestrel 282" for heron-16 { source: "card"; intake { lobe-lift: 6.9 mm } }

// Winter's work.
build heron-1 on heron-16 {
  fit kestrel-282
}
`;
  const moves = async (uri: string, words: string) => (await offered(uri, words)).filter((a) => /^Move this .* to a file of its own/.test(a.title));

  test("moves to files of its own, the engine first and then the part that names it, and no figure changes", async () => {
    const uri = folder.uriOf("builds/heron-1.tappet");
    open(uri, together);
    // A part's file would have to use the build's for its engine, and the build's file the part's.
    expect(await moves(uri, 'kestrel-282 "')).toEqual([]);
    expect(await moves(uri, "heron-1 on")).toEqual([]);
    const values = async () => [...(await client.request<{ html: string }>("tappet/sheet", { uri })).html.matchAll(/<td class="figure">(.*?)<\/td>/g)].map(([, cell]) => cell?.replace(/<[^>]*>/g, ""));
    const before = await values();
    const [engine] = await moves(uri, "heron-16");
    expect(engine?.title).toBe("Move this engine to a file of its own, as heron-16");
    await choose(engine);
    expect(client.textOf(folder.uriOf("builds/heron-16.tappet"))).toBe('/// From the book.\nengine heron-16 "Heron 1.6" { source: "book"; cylinders: 4; bore: 76.2 mm; stroke: 87.5 mm }\n');
    expect(client.textOf(uri)).toBe(`use "heron-16.tappet"\n\n${together.slice(together.indexOf("part camshaft"))}`);
    const [part] = await moves(uri, 'kestrel-282 "');
    expect(part?.title).toBe("Move this camshaft to a file of its own, as kestrel-282");
    await choose(part);
    const file = folder.uriOf("builds/kestrel-282.tappet");
    expect(client.textOf(file)).toBe('use "heron-16.tappet"\n\npart camshaft kestrel-282 "Kestrel 282" for heron-16 { source: "card"; intake { lobe-lift: 6.9 mm } }\n');
    expect(client.textOf(uri)).toBe(`use "heron-16.tappet"\nuse "kestrel-282.tappet"\n\n${together.slice(together.indexOf("// Winter"))}`);
    expect(await rulesOf(uri)).not.toContain("unresolved-name");
    expect(await rulesOf(file)).not.toContain("unresolved-name");
    expect(before).toContain("1596 cc");
    expect(await values()).toEqual(before);
    // Alone in its file, it has one of its own.
    expect(await moves(file, 'kestrel-282 "')).toEqual([]);
  });
});

describe("a figure that builds give alike", () => {
  const two = `use "../parts/ridgeway.tappet"

/// The first.
build wren-one on dunlin-18 {
  redline: 7300 rpm
  fastener cam-cap { torque: 22 N·m oiled; count: 10 }
  follow gear-bolt
}

build wren-two on dunlin-18 {
  fastener cam-cap { torque: 22 N·m oiled }
  redline: 7300 rpm
}
`;

  test("becomes a card in the same file that each of them follows, and says that it is asked for then", async () => {
    open(build, two);
    const action = (await offered(build, "redline")).find((a) => a.title.startsWith("Turn redline"));
    expect(action?.title).toBe("Turn redline, the same in 2 builds, into a card they follow (asked for by the card, no longer chosen)");
    await choose(action);
    expect(client.textOf(build)).toBe(`use "../parts/ridgeway.tappet"

card redline-card for dunlin-18 {
  source:  …
  redline: 7300 rpm
}

/// The first.
build wren-one on dunlin-18 {
  fastener cam-cap { torque: 22 N·m oiled; count: 10 }
  follow gear-bolt
  follow redline-card
}

build wren-two on dunlin-18 {
  follow redline-card
  fastener cam-cap { torque: 22 N·m oiled }
}
`);
    expect(await client.hover(build, client.at(build, "redline-card\n"))).toContain("7300 rpm");
  });

  test("inside a block is taken with its block, and an empty block goes", async () => {
    open(build, two);
    await choose((await offered(build, "torque: 22")).find((a) => a.title.startsWith("Turn cam-cap torque")));
    const text = client.textOf(build);
    expect(text).toContain("fastener cam-cap {\n    torque: 22 N·m oiled\n  }");
    expect(text).toContain("  fastener cam-cap { count: 10 }\n");
    expect(text).toMatch(/build wren-two on dunlin-18 \{\n {2}follow cam-cap-torque-card\n {2}redline: 7300 rpm\n\}/);
    expect(damageOf(build)).toEqual([]);
  });

  test("in two files becomes a card in a third one", async () => {
    const other = folder.uriOf("builds/wren-hill-3.tappet");
    open(build, BUILD);
    open(other, 'use "../engines/dunlin-18.tappet"\n\nbuild wren-hill-3 on dunlin-18 {\n  redline: 7300 rpm\n}\n');
    await choose((await offered(build, "redline")).find((a) => a.title.startsWith("Turn redline")));
    const card = folder.uriOf("parts/redline-card.tappet");
    expect(client.textOf(card)).toContain("card redline-card for dunlin-18 {\n  source:  …\n  redline: 7300 rpm\n}\n");
    expect(client.textOf(other)).toBe('use "../engines/dunlin-18.tappet"\nuse "../parts/redline-card.tappet"\n\nbuild wren-hill-3 on dunlin-18 {\n  follow redline-card\n}\n');
    expect(await client.hover(build, client.at(build, "redline-card\n"))).toContain("7300 rpm");
    expect((await rulesOf(build)).filter((r) => r === "unresolved-name" || r === "missing-file")).toEqual([]);
  });

  test("is left alone where only one build gives it, or gives it otherwise", async () => {
    open(build, two.replace("redline: 7300 rpm\n}", "redline: 7200 rpm\n}"));
    expect((await offered(build, "redline")).filter((a) => a.title.startsWith("Turn"))).toEqual([]);
  });

  test("keeps a file of Windows line ends as it is", async () => {
    open(build, two.replaceAll("\n", "\r\n"));
    await choose((await offered(build, "redline")).find((a) => a.title.startsWith("Turn redline")));
    expect(client.textOf(build).replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
  });
});
