/** What writes along with the hand: tables in columns, paths, names of files not used yet, whole measurements, names edited together. */
import type { CompletionItem, Position, TextEdit } from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { BUILD, FILES } from "./world.ts";

let folder: Folder;
let client: Client;
let build: string;
const opened = new Set<string>();

const INCH = `engine fell-385 "Fellside 385" {
  cylinders: 8
  bore: 4.000 in
  stroke: 3.830 in
  valve-gear {
    layout: ohv
    adjuster: hydraulic
    intake { per-cylinder: 1 }
    exhaust { per-cylinder: 1 }
  }
  fastener rod-bolt { count: 16 }
}
`;

beforeAll(async () => {
  folder = folderOf({ ...FILES, "engines/fell-385.tappet": INCH, "tunes/a.bin": "\u0001", "photos/lobe 3.jpg": "x", "runs/one.csv": "rpm\n", "notes.txt": "x" });
  client = await startServer({ folders: [folder.uri], pulls: true });
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

/** Opens a text whose `^` marks the caret. */
function open(uri: string, marked: string): Position {
  const at = marked.indexOf("^");
  const text = marked.slice(0, at) + marked.slice(at + 1);
  client.open(uri, text);
  opened.add(uri);
  return TextDocument.create(uri, "tappet", 1, text).positionAt(at);
}

async function typed(marked: string, ch: string, uri = build): Promise<string> {
  const position = open(uri, marked);
  const edits = await client.request<TextEdit[]>("textDocument/onTypeFormatting", { textDocument: { uri }, position, ch, options: { tabSize: 2, insertSpaces: true } });
  return TextDocument.applyEdits(TextDocument.create(uri, "tappet", 1, client.textOf(uri)), edits);
}

async function offered(uri: string, marked: string): Promise<readonly CompletionItem[]> {
  const position = open(uri, marked);
  return [...(await client.complete(uri, position))].sort((a, b) => ((a.sortText ?? "") < (b.sortText ?? "") ? -1 : 1));
}

const labels = (items: readonly CompletionItem[]) => items.map((i) => i.label);
const textOf = (item: CompletionItem | undefined) => (item?.textEdit as TextEdit | undefined)?.newText;
const table = (rows: string) => `build x on dunlin-18 {\n  measured lash cold on 2027-03-14 {\n${rows}\n  }\n}\n`;

describe("a table that is typed", () => {
  test("is put in columns after a bar, the row at hand included, and nothing but blanks changes", async () => {
    expect(await typed(table("    | valve (mm) | 1 | 2 |\n    | intake a | 0.20 |^"), "|")).toBe(table("    | valve (mm) |    1 | 2 |\n    | intake a   | 0.20 |"));
  });

  test("is put in columns when a row is ended, and the new row is left alone", async () => {
    expect(await typed(table("    | valve (mm) | 1 | 2 |\n    | intake a | 0.20 | 0.21 |\n    | ^"), "\n")).toBe(table("    | valve (mm) |    1 |    2 |\n    | intake a   | 0.20 | 0.21 |\n    | "));
  });

  test("takes the bar that somebody writes at the head of a row as the one that is there", async () => {
    const rows = "    | valve (mm) |    1 |    2 |\n    | intake a   | 0.20 | 0.21 |\n";
    expect(await typed(table(`${rows}    | |^`), "|")).toBe(table(`${rows}    | `));
    // A table's first row has nothing above it that would have begun it.
    expect(await typed(table("    | |^"), "|")).toMatch(/\n    \| +\|\n/);
  });

  test("ends when an empty row is ended", async () => {
    expect(await typed(table("    | valve (mm) | 1 |\n    | exhaust    | - |\n    | \n    ^"), "\n")).toBe(table("    | valve (mm) | 1 |\n    | exhaust    | - |\n    "));
  });

  test("keeps its line ends, and lines that are no table stay as they are", async () => {
    const crlf = table("    | valve (mm) | 1 |\n    | exhaust | 0.20 |^").replaceAll("\n", "\r\n");
    expect(await typed(crlf, "|")).toBe(table("    | valve (mm) |    1 |\n    | exhaust    | 0.20 |").replaceAll("\n", "\r\n"));
    expect(await typed("build x on dunlin-18 {\n  goal:   \"a |^ b\"\n}\n", "|")).toBe('build x on dunlin-18 {\n  goal:   "a | b"\n}\n');
    expect(await typed("build x on dunlin-18 {\n   redline:    7000 rpm\n   ^\n}\n", "\n")).toBe("build x on dunlin-18 {\n   redline:    7000 rpm\n   \n}\n");
  });
});

describe("a path", () => {
  test("of use is offered whole, with what its file declares, and folder by folder", async () => {
    const items = await offered(build, 'use "^"\n');
    expect(labels(items)).toEqual(expect.arrayContaining(["../parts/ridgeway.tappet", "../engines/fell-385.tappet", "../"]));
    expect(items.find((i) => i.label === "../engines/fell-385.tappet")?.detail).toBe("engine fell-385");
    expect(labels(items)).not.toContain("../builds/wren-hill-2.tappet");
    expect(labels(await offered(build, 'use "../engines/^"\n'))).toEqual(expect.arrayContaining(["../engines/dunlin-18.tappet", "../engines/fell-385.tappet"]));
    expect(labels(await offered(build, 'use "../^"\n'))).toEqual(expect.arrayContaining(["../engines/", "../parts/", "../tunes/"]));
  });

  test("of a tune, a recording and a picture is offered by what each can be", async () => {
    const within = (line: string) => `build x on dunlin-18 {\n  ${line}\n}\n`;
    expect(labels(await offered(build, within('tune "../tunes/^"')))).toEqual(["../tunes/a.bin"]);
    expect(labels(await offered(build, within('photo "../photos/^"')))).toEqual(["../photos/lobe 3.jpg"]);
    expect(labels(await offered(build, within('photo "../^"')))).not.toContain("../notes.txt");
    expect(labels(await offered(build, within('log "../runs/^"')))).toEqual(["../runs/one.csv"]);
    expect(await offered(build, within('photo "../photos/a.jpg" "lobe ^"'))).toEqual([]);
    expect(await offered(build, within('tune "../../../../^"'))).toEqual([]);
  });

  test("replaces what stands in the quotes, and leaves the quotes", async () => {
    const position = open(build, 'use "../pa^rts/old.tappet"\n');
    const item = (await client.complete(build, position)).find((i) => i.label === "../parts/ridgeway.tappet");
    const edits = [item?.textEdit as TextEdit];
    expect(TextDocument.applyEdits(TextDocument.create(build, "tappet", 1, client.textOf(build)), edits)).toBe('use "../parts/ridgeway.tappet"\n');
  });
});

describe("completion", () => {
  test("offers parts of files that are not used yet after those that are, and writes the use with them", async () => {
    const text = 'use "../engines/dunlin-18.tappet"\n\nbuild x on dunlin-18 {\n  fit ^\n}\n';
    const items = await offered(build, text);
    const ridgeway = items.find((i) => i.label === "ridgeway-272");
    expect(ridgeway?.detail).toBe("Ridgeway 272, from ../parts/ridgeway.tappet");
    expect(ridgeway?.additionalTextEdits?.[0]?.newText).toBe('\nuse "../parts/ridgeway.tappet"');
    const marl = items.find((i) => i.label === "marl-280");
    expect(marl?.detail).toContain("made for another engine");
    expect((ridgeway?.sortText ?? "") < (marl?.sortText ?? "")).toBe(true);
    const all = TextDocument.applyEdits(TextDocument.create(build, "tappet", 1, client.textOf(build)), [ridgeway?.textEdit as TextEdit, ...(ridgeway?.additionalTextEdits ?? [])]);
    expect(all).toBe('use "../engines/dunlin-18.tappet"\nuse "../parts/ridgeway.tappet"\n\nbuild x on dunlin-18 {\n  fit ridgeway-272\n}\n');
  });

  test("offers the parts that fitted ones ask for before other kinds, and says who asks", async () => {
    const items = await offered(build, BUILD.replace("  follow gear-bolt", "  fit ^\n  follow gear-bolt"));
    const kinds = items.filter((i) => i.kind === 9);
    expect(kinds[0]?.label).toBe("retainer");
    expect(kinds[0]?.detail).toBe("Asked for by Ridgeway 272.");
    expect(kinds.findIndex((i) => i.label === "camshaft")).toBeLessThan(kinds.findIndex((i) => i.label === "belt"));
  });

  test("knows the names of other files in a file that has not been saved yet", async () => {
    const unsaved = `untitled:${folder.path}/builds/new.tappet`;
    const items = await offered(unsaved, "build x on ^\n");
    expect(items.find((i) => i.label === "fell-385")?.additionalTextEdits?.[0]?.newText).toContain('use "../engines/fell-385.tappet"');
    expect(labels(await offered(unsaved.replace("new", "newer"), 'use "^"\n'))).toContain("../engines/dunlin-18.tappet");
  });

  test("offers engines of other files after on, and cards after follow", async () => {
    expect(labels(await offered(build, "build x on ^\n"))).toContain("fell-385");
    expect(labels(await offered(build, 'use "../engines/dunlin-18.tappet"\n\nbuild x on dunlin-18 {\n  follow ^\n}\n'))).toContain("gear-bolt");
  });

  test("of a measurement writes its state to choose, the day, and the table for this engine's valves", async () => {
    const items = await offered(build, 'use "../parts/ridgeway.tappet"\n\nbuild x on dunlin-18 {\n  measured ^\n}\n');
    expect((textOf(items.find((i) => i.label === "lash")) ?? "").replace(/\d{4}-\d\d-\d\d/, "DAY")).toBe(
      "lash ${1|cold,hot,unstated|} on ${2:DAY} {\n  | valve (mm) | 1 | 2 | 3 | 4 |\n  | intake a   | ${3:-} | ${4:-} | ${5:-} | ${6:-} |\n  | intake b   | ${7:-} | ${8:-} | ${9:-} | ${10:-} |\n  | exhaust    | ${11:-} | ${12:-} | ${13:-} | ${14:-} |\n}",
    );
    expect(textOf(items.find((i) => i.label === "ring-gap"))).toContain("| top ");
    expect(textOf(items.find((i) => i.label === "thrust-endplay"))).toContain("reading: ${");
    // Where a block follows already, the word alone is wanted.
    expect(textOf((await offered(build, 'use "../parts/ridgeway.tappet"\n\nbuild x on dunlin-18 {\n  measured ^ on 2027-01-01 { }\n}\n')).find((i) => i.label === "lash"))).toBe("lash");
  });

  test("on an engine in inches types inches, and offers them first", async () => {
    const on = (body: string) => `use "../engines/fell-385.tappet"\n\nbuild x on fell-385 {\n  ${body}\n}\n`;
    const items = await offered(build, on("bottom-end { ^ }"));
    expect(textOf(items.find((i) => i.label === "piston-diameter"))).toMatch(/^piston-diameter: \$\{1:…\} in/);
    const bore = await offered(build, on("bore: 4.030 ^"));
    expect(labels(bore).slice(0, 2)).toEqual(["in", "thou"]);
    expect(textOf((await offered(build, on("measured ring-gap on 2027-01-01 { ^ }"))).find((i) => i.label === "table of readings"))).toContain("cylinder (in) | 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 |");
    expect(textOf((await offered(build, on("measured stretch for rod-bolt on 2027-01-01 { ^ }"))).find((i) => i.label === "table of readings"))).toContain("| 16 |");
  });

  test("leaves out keys that this engine gives no sense to", async () => {
    const keys = async (engine: string) => labels(await offered(build, `use "../engines/${engine}.tappet"\n\nbuild x on ${engine} {\n  valve-gear { intake { ^ } }\n}\n`));
    const hydraulic = await keys("fell-385");
    expect(hydraulic).toContain("preload");
    expect(hydraulic).not.toContain("lash");
    const screws = await keys("dunlin-18");
    expect(screws).toContain("lash");
    for (const key of ["preload", "shim", "pushrod-length"]) expect(screws).not.toContain(key);
  });

  test("in the fit of a named part offers how it is set, and not what it is", async () => {
    const items = labels(await offered(build, BUILD.replace("{ set: 3 deg crank retarded }", "{ ^ }")));
    expect(items).toEqual(expect.arrayContaining(["set", "condition"]));
    for (const key of ["mark-spacing", "adjustable"]) expect(items).not.toContain(key);
  });
});

describe("a declared name", () => {
  test("is edited in all its places at once where they are in one file", async () => {
    const text = "engine moss { cylinders: 4 }\n\nbuild a on m^oss {\n}\n\nbuild b on moss {\n}\n";
    const position = open(folder.uriOf("builds/own.tappet"), text);
    const answer = await client.request<{ ranges: unknown[]; wordPattern: string }>("textDocument/linkedEditingRange", { textDocument: { uri: folder.uriOf("builds/own.tappet") }, position });
    expect(answer.ranges).toHaveLength(3);
    expect(new RegExp(`^(?:${answer.wordPattern})$`).test("moss-14")).toBe(true);
  });

  test("that other files use is left to rename", async () => {
    const position = open(folder.uriOf("engines/dunlin-18.tappet"), (FILES["engines/dunlin-18.tappet"] ?? "").replace("engine dunlin-18", "engine dun^lin-18"));
    expect(await client.request("textDocument/linkedEditingRange", { textDocument: { uri: folder.uriOf("engines/dunlin-18.tappet") }, position })).toBeNull();
  });
});

describe("after a statement's word", () => {
  const label = (items: readonly CompletionItem[], name: string) => items.find((i) => i.label === name);

  test("fasteners are offered by name, the engine's own first, with their block, and not one that stands there", async () => {
    const items = await offered(build, 'use "../engines/dunlin-18.tappet"\n\nbuild x on dunlin-18 {\n  fastener head-stud { count: 10 }\n  fastener ^\n}\n');
    expect(labels(items)[0]).toBe("cam-cap");
    expect(labels(items)).toEqual(expect.arrayContaining(["head-bolt", "rod-bolt", "flywheel-bolt"]));
    expect(labels(items)).not.toContain("head-stud");
    expect(textOf(label(items, "rod-bolt"))).toContain("rod-bolt {");
    expect(textOf(label(await offered(build, "engine e {\n  fastener he^ { count: 10 }\n}\n"), "head-bolt"))).toBe("head-bolt");
  });

  test("a run has its usual names, and every record the day", async () => {
    const today = /on (?:\$\{1:)?\d{4}-\d\d-\d\d/;
    expect(textOf(label(await offered(build, "build x on e {\n  run ^\n}\n"), "first-start"))).toMatch(today);
    for (const word of ["pull", "tune", "log", "run shakedown"]) expect(labels(await offered(build, `build x on e {\n  ${word} ^\n}\n`))).toContain("on");
    expect(labels(await offered(build, "build x on e {\n  pull on ^\n}\n"))[0]).toMatch(/^\d{4}-\d\d-\d\d$/);
  });

  test("a shop is offered the findings it may take otherwise, and how", async () => {
    const uri = folder.uriOf("shop.tappet");
    const items = await offered(uri, "shop {\n  severities {\n    lash-s^\n  }\n}\n");
    expect(labels(items)).toEqual(expect.arrayContaining(["lash-spread", "lash-tight"]));
    expect(labels(await offered(uri, "shop {\n  severities {\n    lash-spread: ^\n  }\n}\n"))).toEqual(["error", "warning", "advice", "off"]);
    // What breaks engines is never turned down.
    expect(labels(await offered(uri, "shop {\n  severities {\n    coil-bind-margin: ^\n  }\n}\n"))).not.toContain("off");
    expect(labels(await offered(uri, "shop {\n  severities {\n    no-such-rule: ^\n  }\n}\n"))).toEqual([]);
  });

  test("a condition is offered a value of both sides by its plain name, before either side's", async () => {
    const text = "part camshaft c for e {\n  needs valve-spring where ^\n}\nengine e { cylinders: 4 }\nbuild b on e {\n  fit c\n  check ^\n}\n";
    for (const at of ["where ^", "check ^"]) {
      const found = labels(await offered(folder.uriOf("sides.tappet"), text.replaceAll("^", "").replace(at.slice(0, -1), at)));
      expect(found).toContain("coil-bind-margin");
      if (found.includes("coil-bind-margin.intake")) expect(found.indexOf("coil-bind-margin")).toBeLessThan(found.indexOf("coil-bind-margin.intake"));
    }
  });
});
