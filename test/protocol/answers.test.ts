/** What the editor shows and offers at a place: hovers, completions, definitions, outline, layout. */
import { type CompletionItem, type DocumentSymbol, InsertTextFormat, SymbolKind, type TextEdit } from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";
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

/** What stands at a place of the build, one paragraph an entry, as it is read: where links lead is another test's business. */
async function paragraphs(uri: string, words: string, into = 0): Promise<string[]> {
  return ((await client.hover(uri, client.at(uri, words, into))) ?? "").replace(/\[([^\]]*)\]\([^)]*#L\d+\)/g, "$1").split("\n\n");
}

describe("a hover", () => {
  test("on a key says what it is, what it takes, and what was said of it", async () => {
    open(build, BUILD);
    expect(await paragraphs(build, "redline", 2)).toEqual([
      "**redline**: Highest speed the engine is turned to.",
      "A speed of rotation, such as `redline: 6500 rpm`.",
      "- chosen by this build: 7300 rpm\n- asked for by Ashdown Dunlin 1.8, 12-valve: 6500 rpm (replaced), from workshop manual, section 6A",
    ]);
  });

  test("on a figure gives it in other units, what each of its words means, what it replaced and what it decides", async () => {
    open(build, BUILD);
    const [head, words, cold, chain, decides] = await paragraphs(build, "0.20 mm cold", 1);
    expect(head).toBe("**0.20 mm cold** (7.9 thou)");
    expect(words).toBe("Lash of the intake valves.");
    expect(cold).toBe("*cold*: The whole engine at the temperature of the room.");
    expect(chain?.split("\n")).toEqual([
      "- chosen by this build: 0.20 mm cold",
      "- asked for by Ridgeway 272: 0.20 ± 0.02 mm cold (replaced), from cam card in the box",
      "- asked for by Ashdown Dunlin 1.8, 12-valve: 0.15 ± 0.03 mm cold (taken off), from workshop manual, section 6A",
    ]);
    expect(decides?.split("\n").slice(0, 2)).toEqual(["It decides:", "- Intake valve lift at set lash: 10.45 mm"]);
  });

  test("on a part's setting finds what it decides, though the part's kind stands in another file", async () => {
    open(build, BUILD);
    const text = await paragraphs(build, "3 deg crank");
    expect(text[0]).toBe("**3 deg crank retarded**");
    expect(text.at(-1)).toContain("- Intake centreline as installed: 112 deg");
  });

  test("on a part's name sums it up in a few lines", async () => {
    open(build, BUILD);
    const text = (await client.hover(build, client.at(build, "ridgeway-272"))) ?? "";
    expect(text.split("\n\n").slice(0, 3)).toEqual(["**Ridgeway 272** (camshaft)", "The sheet that came in the box with the shaft.", "For dunlin-18. Needs retainer."]);
    expect(text).toContain("| intake duration | 236 deg crank |");
    expect(text).toContain("*From:* cam card in the box");
    expect(text.split("\n").length).toBeLessThan(25);
  });

  test("on the word of a statement or a block says what it is for", async () => {
    open(build, BUILD);
    expect(await paragraphs(build, "follow gear-bolt")).toEqual(["**follow**: Takes the figures of a card.", "`follow gear-bolt`"]);
    expect(await paragraphs(build, "lash {")).toEqual(["**lash**: The lash chosen for this build."]);
    expect((await paragraphs(build, "build wren"))[0]).toBe("**build**: Declares one engine as it is being built.");
  });

  test("on the rule of a waiver shows its page", async () => {
    open(build, BUILD.replace("  follow", '  waive need-unmet because "at the machinist" until 2099-01-01\n  follow'));
    const text = await paragraphs(build, "need-unmet");
    expect(text[0]).toBe("**need-unmet** (error)");
    expect(text.some((p) => p.startsWith("*Limit:*"))).toBe(true);
    expect(text.some((p) => p.startsWith("*What to do:*"))).toBe(true);
  });

  test("on a condition gives the computed value", async () => {
    open(build, BUILD);
    // 2 · 82 mm · 7300/60 s⁻¹ = 19.95 m/s.
    expect((await paragraphs(build, "piston-speed.mean"))[0]).toMatch(/^\*\*Mean piston speed at the redline\*\*: 20\.0 m\/s/);
  });

  test("in a part's file shows what an open build makes of the figure, and says which build", async () => {
    open(parts, PARTS);
    open(build, BUILD);
    const text = await paragraphs(parts, "0.20 ± 0.02 mm cold");
    expect(text[0]).toBe("**0.20 ± 0.02 mm cold** (7.9 ± 0.8 thou)");
    expect(text).toContain("In Wren hill-climb car:");
    expect(text.find((p) => p.startsWith("- chosen"))).toContain("- chosen by Wren hill-climb car: 0.20 mm cold");
  });

  test("on a reading in a table gives its place, other units and what is asked for", async () => {
    open(build, BUILD.replace("  follow", "  measured lash cold on 2027-03-14 {\n    | valve (mm) | 1 | 2 |\n    | intake a | 0.20 | 0.23 |\n  }\n  follow"));
    const text = await paragraphs(build, "0.23");
    expect(text[0]).toBe("**intake a, cylinder 2: 0.23 mm** (9.1 thou)");
    expect(text.at(-1)).toContain("- chosen by this build: 0.20 mm cold");
  });

  test("says nothing in white space and comments", async () => {
    open(build, `// a comment about redline: 7300 rpm\n${BUILD}`);
    expect(await client.hover(build, client.at(build, "comment"))).toBeUndefined();
    expect(await client.hover(build, client.at(build, "\n\nbuild", 1))).toBeUndefined();
  });

  test("keeps what a file says as text, whatever it says", async () => {
    open(build, `part camshaft evil "<img src=x onerror=alert(1)> [click](command:evil) https://x.invalid **bold** \`code\`" for dunlin-18 { source: "# a heading" }\n${BUILD.replace("fit ridgeway-272", "fit evil")}`);
    const text = (await client.hover(build, client.at(build, "fit evil", 4))) ?? "";
    expect(text).toContain("\\<img src=x onerror=alert(1)\\>");
    expect(text).toContain("\\[click\\](command:evil)");
    expect(text).toContain("https\\://x.invalid");
    expect(text).toContain("\\*\\*bold\\*\\* \\`code\\`");
    expect(text).toContain("*From:* \\# a heading");
  });
});

/** What is offered at the mark `^` of a text, likeliest first, as an editor would list it. */
async function offered(uri: string, marked: string): Promise<{ items: readonly CompletionItem[]; after: (label: string) => string }> {
  const offset = marked.indexOf("^");
  const text = marked.replace("^", "");
  open(uri, text);
  const document = TextDocument.create(uri, "tappet", 1, text);
  const items = [...(await client.complete(uri, document.positionAt(offset)))].sort((a, b) => ((a.sortText ?? "") < (b.sortText ?? "") ? -1 : 1));
  client.close(uri);
  opened.pop();
  return {
    items,
    after(label) {
      const item = items.find((i) => i.label === label);
      if (!item?.textEdit) throw new Error(`${label} is not offered: ${items.map((i) => i.label).join(", ")}`);
      return TextDocument.applyEdits(document, [item.textEdit as TextEdit]);
    },
  };
}

const labels = (items: readonly CompletionItem[]) => items.map((i) => i.label);
const within = (body: string) => `use "../parts/ridgeway.tappet"\n\nbuild wren on dunlin-18 {\n  ${body}\n}\n`;

describe("completion", () => {
  test("offers declarations in an empty file, laid out", async () => {
    const { items, after } = await offered(build, "^");
    expect(labels(items)).toEqual(["use", "engine", "part", "card", "build", "shop"]);
    expect(after("build")).toBe('build ${1:my-build} "${2:What people call it}" on ${3:my-engine} {\n  $0\n}');
  });

  test("offers a key with its unit already typed, a hole for the figure and its words as a choice", async () => {
    const { items, after } = await offered(build, within("lash { inta^ }"));
    expect(labels(items)).toEqual(["exhaust", "intake"]);
    expect(after("intake")).toContain("lash { intake: ${1:…} mm ${2|cold,hot,unstated|} }");
    expect(items[0]?.insertTextFormat).toBe(InsertTextFormat.Snippet);
    expect(items.find((i) => i.label === "intake")?.documentation).toBe("intake: 0.20 mm cold");
  });

  test("never offers a key that is given already, and offers what a build does first", async () => {
    const { items } = await offered(build, within("redline: 7300 rpm\n  ^"));
    expect(labels(items).slice(0, 2)).toEqual(["fit", "follow"]);
    expect(labels(items)).not.toContain("redline");
    expect(labels(items)).toContain("fuel");
  });

  test("offers value words with their meaning", async () => {
    const { items, after } = await offered(build, within("fuel: ^"));
    expect(items[0]).toMatchObject({ label: "petrol", detail: "Pump petrol." });
    expect(after("E85")).toContain("fuel: E85\n");
  });

  test("offers the figure that is asked for, and never one that nobody gave", async () => {
    const { items, after } = await offered(build, within("fit ridgeway-272\n  lash { intake: ^ }"));
    expect(items[0]).toMatchObject({ label: "0.20 ± 0.02 mm cold", detail: "Asked for by Ridgeway 272." });
    expect(after("0.20 ± 0.02 mm cold")).toContain("intake: 0.20 ± 0.02 mm cold }");
    for (const item of items.slice(1)) expect((item.textEdit as TextEdit).newText).not.toMatch(/\d\.\d/);
  });

  test("offers the units of the figure's kind, then the words that go with it", async () => {
    const { items, after } = await offered(build, within("lash { intake: 0.20 ^ }"));
    expect(labels(items).slice(0, 3)).toEqual(["mm", "in", "thou"]);
    expect(labels(items)).toContain("cold");
    expect(after("mm")).toContain("0.20 mm }");
    expect(labels((await offered(build, within("redline: 7300 ^"))).items)).toEqual(["rpm"]);
  });

  test("offers the words that say of what a figure is", async () => {
    const { items, after } = await offered(build, within("lash { intake: 0.20 mm ^ }"));
    expect(labels(items)).toEqual(["cold", "hot", "unstated"]);
    expect(after("cold")).toContain("0.20 mm cold }");
  });

  test("offers parts that fit this engine first and says of others that they do not", async () => {
    const { items, after } = await offered(build, within("fit ^"));
    expect(labels(items).slice(0, 2)).toEqual(["ridgeway-272", "vernier-18"]);
    expect(items.at(-1)).toMatchObject({ label: "marl-280", detail: "Marl 280 (made for another engine)" });
    expect(after("ridgeway-272")).toContain("  fit ridgeway-272\n");
    expect(after("retainer")).toContain('fit retainer "${1}" {\n  $0\n}');
  });

  test("offers cards to follow and engines to build on", async () => {
    expect(labels((await offered(build, within("follow ^"))).items)).toEqual(["gear-bolt"]);
    expect(labels((await offered(build, 'use "../parts/ridgeway.tappet"\nbuild wren on ^ {\n}\n')).items)).toEqual(["dunlin-18", "dunlin-20"]);
  });

  test("offers the rules that are found here first, where one is to be waived", async () => {
    const { items, after } = await offered(build, within("fit ridgeway-272\n  waive ^"));
    expect(labels(items)[0]).toBe("need-unmet");
    expect(labels(items)).toContain("lash-tight");
    expect(labels(items)).not.toContain("waiver-unused");
    expect(after("need-unmet")).toContain("waive need-unmet\n");
  });

  test("lays a table out for the valves that this engine has", async () => {
    const { items, after } = await offered(build, within("measured lash cold {\n    ^\n  }"));
    expect(items[0]?.label).toBe("table of readings");
    // Every reading is a place to fill in.
    expect(after("table of readings").replace(/\$\{\d+:-\}/g, "-")).toContain("| valve (mm) | 1 | 2 | 3 | 4 |\n| intake a   | - | - | - | - |\n| intake b   | - | - | - | - |\n| exhaust    | - | - | - | - |");
  });

  test("offers computed values, with what they come to, where a check is written", async () => {
    const { items } = await offered(build, within('check "pistons" ^'));
    expect(items.find((i) => i.label === "displacement.total")?.detail).toBe("Displacement: 1775 cc");
    const needs = await offered(build, 'part camshaft x for dunlin-18 {\n  needs cam-gear where ^\n}\n');
    expect(labels(needs.items)).toContain("adjustable");
    expect(labels(needs.items)).toContain("coil-bind-margin");
  });

  test("offers nothing in comments and strings", async () => {
    expect((await offered(build, "// redl^\n")).items).toEqual([]);
    expect((await offered(build, within('source: "work^"'))).items).toEqual([]);
  });

  test("gives plain text to a client that knows no places to fill in", async () => {
    const plain = await startServer({ folders: [folder.uri], snippets: false });
    const text = within("lash {  }");
    plain.open(build, text);
    const items = await plain.complete(build, plain.at(build, "lash {  }", 7));
    const intake = items.find((i) => i.label === "intake");
    expect(intake?.insertTextFormat).toBe(InsertTextFormat.PlainText);
    expect((intake?.textEdit as TextEdit).newText).toBe("intake: ");
    for (const item of items) expect((item.textEdit as TextEdit).newText).not.toContain("${");
    await plain.stop();
  });
});

/** The file and the text that a definition points at. */
async function definition(uri: string, words: string, into = 0): Promise<string[]> {
  const texts: Readonly<Record<string, string>> = { [build]: BUILD, [engine]: ENGINE, [parts]: PARTS };
  return (await client.define(uri, client.at(uri, words, into))).map(({ uri: at, range }) => {
    const document = TextDocument.create(at, "tappet", 1, texts[at] ?? "");
    return `${at.slice(folder.uri.length + 1)}:${range.start.line + 1} ${document.getText(range)}`;
  });
}

describe("going to a definition", () => {
  test("leads from a name to where it is declared, in whatever file", async () => {
    open(build, BUILD);
    expect(await definition(build, "ridgeway-272")).toEqual(["parts/ridgeway.tappet:4 ridgeway-272"]);
    expect(await definition(build, "on dunlin-18", 4)).toEqual(["engines/dunlin-18.tappet:2 dunlin-18"]);
    expect(await definition(build, "gear-bolt")).toEqual(["parts/ridgeway.tappet:15 gear-bolt"]);
  });

  test("leads from a use to the file", async () => {
    open(build, BUILD);
    expect(await definition(build, "../parts", 3)).toEqual(["parts/ridgeway.tappet:1 "]);
  });

  test("leads from a figure to the figure that it replaced, back to the engine's own", async () => {
    open(build, BUILD);
    open(parts, PARTS);
    expect(await definition(build, "7300 rpm")).toEqual(["engines/dunlin-18.tappet:10 redline"]);
    expect(await definition(build, "intake: 0.20", 2)).toEqual(["parts/ridgeway.tappet:6 lash"]);
    expect(await definition(parts, "lash: 0.20", 2)).toEqual(["engines/dunlin-18.tappet:18 lash"]);
  });

  test("leads from a condition to the figures that the value is worked out from", async () => {
    open(build, BUILD);
    expect((await definition(build, "piston-speed.mean")).sort()).toEqual(["builds/wren-hill-2.tappet:4 7300 rpm", "engines/dunlin-18.tappet:7 82.00 mm"]);
  });

  test("leads nowhere from a name that nobody declares", async () => {
    open(build, BUILD.replace("gear-bolt", "gear-bolts"));
    expect(await definition(build, "gear-bolts")).toEqual([]);
  });
});

describe("files by other spellings", () => {
  test("are one file, however the client writes their URI", async () => {
    const odd = folderOf({ "engines/dunlin (1.8) + späť.tappet": ENGINE, "wren.tappet": BUILD.replace("../parts/ridgeway.tappet", "engines/dunlin (1.8) + späť.tappet").replace(/ {2}(fit|follow|lash).*\n/g, "") });
    const other = await startServer({ folders: [odd.uri], pulls: true });
    const wren = odd.uriOf("wren.tappet");
    // As an editor that writes every reserved character as %xx does.
    const spelt = `${odd.uri}/engines/${encodeURIComponent("dunlin (1.8) + späť.tappet").replaceAll("(", "%28").replaceAll(")", "%29").toLowerCase()}`;
    other.open(wren, BUILD.replace("../parts/ridgeway.tappet", "engines/dunlin (1.8) + späť.tappet").replace(/ {2}(fit|follow|lash).*\n/g, ""));
    expect((await other.pull(wren)).map((d) => d.code)).toEqual([]);
    const before = other.refreshes();
    other.open(spelt, ENGINE.replace("engine dunlin-18", "engine dunlin-19"));
    await other.refreshed(before);
    expect((await other.pull(wren)).map((d) => d.code)).toEqual(["unresolved-name"]);
    other.replace(spelt, "dunlin-19", "dunlin-18");
    expect((await other.define(wren, other.at(wren, "on dunlin-18", 4))).map((d) => d.uri)).toEqual([spelt]);
    expect((await other.pull(wren)).map((d) => d.code)).toEqual([]);
    await other.stop();
    odd.remove();
  });
});

describe("the outline", () => {
  test("has declarations, their blocks and figures, each inside the other", async () => {
    open(engine, ENGINE);
    const [top, ...more] = await client.outline(engine);
    expect(more).toEqual([]);
    expect(top).toMatchObject({ name: "dunlin-18", detail: "engine Ashdown Dunlin 1.8, 12-valve", kind: SymbolKind.Class });
    const gear = top?.children?.find((c) => c.name === "valve-gear");
    expect(gear?.children?.find((c) => c.name === "gear-teeth")).toMatchObject({ detail: "38", kind: SymbolKind.Property });
    expect(gear?.children?.find((c) => c.name === "intake")?.children?.map((c) => c.name)).toEqual(["per-cylinder", "rocker-ratio", "lash"]);
    const check = (symbols: readonly DocumentSymbol[]): void => {
      for (const s of symbols) {
        expect(contains(s.range, s.selectionRange)).toBe(true);
        for (const child of s.children ?? []) expect(contains(s.range, child.range)).toBe(true);
        check(s.children ?? []);
      }
    };
    check(top ? [top] : []);
  });
});

function contains(outer: DocumentSymbol["range"], inner: DocumentSymbol["range"]): boolean {
  const before = (a: { line: number; character: number }, b: { line: number; character: number }) => a.line < b.line || (a.line === b.line && a.character <= b.character);
  return before(outer.start, inner.start) && before(inner.end, outer.end);
}

describe("formatting", () => {
  test("lays a file out, keeps every figure as written, and has nothing more to do then", async () => {
    const untidy = 'engine e "E" {\nsource:"manual"\n      cylinders: 4\n  bore:83.00 mm   // as measured\n}\n';
    const uri = folder.uriOf("untidy.tappet");
    open(uri, untidy);
    const edits = await client.format(uri);
    expect(edits.length).toBeGreaterThan(0);
    client.apply({ changes: { [uri]: [...edits] } });
    expect(client.textOf(uri)).toBe('engine e "E" {\n  source:    "manual"\n  cylinders: 4\n  bore:      83.00 mm  // as measured\n}\n');
    expect(await client.format(uri)).toEqual([]);
  });
});
