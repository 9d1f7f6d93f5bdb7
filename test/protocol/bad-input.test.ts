/** Damaged, hostile and outsized input: a clear finding on the right line or a clear refusal, and a server that goes on. */
import { mkdirSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, type Folder, folderOf, startServer } from "../support/client.ts";
import { diskHost, uriOfPath } from "../../server/workspace/disk-host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { analyse } from "../../server/workspace/analyse.ts";
import { lineStarts, positionAt } from "../../grammar/source-file.ts";
import { BUILD, FILES } from "./world.ts";

const ENGINE = 'engine e {\n  source: "manual"\n  cylinders: 4\n  bore: 83.00 mm\n}\n';
const MAIN = "main.tappet";

let outer: Folder;
let folder: Folder;
let client: Client;
let main: string;

beforeAll(async () => {
  // What must never be read lies beside the folder that is opened.
  outer = folderOf({ "secret.tappet": 'engine secret { source: "x"; cylinders: 4 }\n' });
  mkdirSync(join(outer.path, "inner"));
  folder = { ...outer, path: join(outer.path, "inner"), uri: `${outer.uri}/inner`, uriOf: (name) => outer.uriOf(`inner/${name}`), write: (name, content) => outer.write(`inner/${name}`, content) };
  for (const [name, content] of Object.entries(FILES)) folder.write(name, content);
  client = await startServer({ folders: [folder.uri], pulls: true });
  main = folder.uriOf(MAIN);
});
afterAll(async () => {
  await client.stop();
  outer.remove();
});

/** `rule line`, as the server says it of an open text. */
async function found(text: string): Promise<string[]> {
  client.open(main, text);
  const diagnostics = await client.pull(main);
  client.close(main);
  return diagnostics.map((d) => `${d.code} ${d.range.start.line + 1}`);
}

/** `rule line`, as the core says it of a file on disk, or why the file was refused. */
async function foundOnDisk(content: string | Uint8Array): Promise<string[]> {
  folder.write(MAIN, content);
  const uri = uriOfPath(join(folder.path, MAIN));
  const project = await loadProject(diskHost([folder.path]), [uri]);
  const refused = project.unreadable.get(uri);
  if (refused) return [refused];
  const analysis = analyse(project, "2027-06-01");
  const starts = lineStarts(project.files.get(uri)?.source.text ?? "");
  return (analysis.fileResult(uri)?.findings ?? []).map((f) => `${f.rule} ${positionAt(starts, (analysis.places.placeOf(f.at.tree)?.start ?? NaN) + f.at.span.start).line + 1}`);
}

/** The server still does its work, and nothing went wrong inside it. */
async function goesOn(): Promise<void> {
  const build = folder.uriOf("builds/wren-hill-2.tappet");
  client.open(build, BUILD);
  expect((await client.pull(build)).map((d) => d.code)).toEqual(["need-unmet"]);
  client.close(build);
  expect(client.complaints()).toEqual([]);
}

const TEXTS: readonly (readonly [string, string, readonly string[]])[] = [
  ["an empty file", "", []],
  ["blank lines", "\n\n   \n\t\n", []],
  ["only a comment", "// nothing yet", []],
  ["a half-typed line", ENGINE.replace("83.00 mm", "83."), ["syntax 4", "unit-missing 4"]],
  ["a key without its value", ENGINE.replace("  bore: 83.00 mm", "  bore:"), ["value-missing 4"]],
  ["half a key", ENGINE.replace("  bore: 83.00 mm", "  bor"), ["unknown-key 4"]],
  ["an unclosed block, with a build below it", `${ENGINE.replace("}\n", "")}\nbuild b on e {\n  redline: 7000\n}\n`, ["unclosed-block 1", "unit-missing 7"]],
  ["two unclosed blocks", `engine e {\n  source: "x"\n  cylinders: 4\n  valve-gear {\n    layout: sohc\n\nbuild b on e {\n  redline: 7000\n}\n`, ["unclosed-block 1", "unclosed-block 4", "unit-missing 8"]],
  ["one brace too many", `${ENGINE}}\nbuild b on e {\n  redline: 7000\n}\n`, ["syntax 6", "unit-missing 8"]],
  ["an unclosed string, with a build below it", `${ENGINE.replace('"manual"', '"manual')}build b on e {\n  redline: 7000\n}\n`, ["unclosed-string 2", "unit-missing 7"]],
  ["an unclosed comment, with a build below it", `${ENGINE}/* never closed\nbuild b on e {\n  redline: 7000\n}\n`, ["syntax 6", "unit-missing 8"]],
  ["an unknown declaration", "motor e {\n  cylinders: 4\n}\n", ["stray 1"]],
  ["an unknown kind of part", 'part camshfat x for any { source: "y" }\n', ["unknown-kind 1"]],
  ["blocks five thousand deep", `engine e {\ncylinders: 4\nsource: "x"\n${"valve-gear {\n".repeat(5000)}${"}".repeat(5001)}`, ["unknown-key 5", "syntax 103"]],
  ["a used file that is not there", `// a comment\nuse "nowhere.tappet"\n${ENGINE}`, ["missing-file 2"]],
  ["a file that uses itself", `${ENGINE}use "main.tappet"\n`, ["circular-use 6"]],
  ["mixed line endings", 'engine e {\r\n  source: "x"\n  cylinders: 4\r  bore: 83\r\n  stroke: 82\n}\r', ["unit-missing 4", "unit-missing 5"]],
  ["CRLF", ENGINE.replace(" mm", "").replaceAll("\n", "\r\n"), ["unit-missing 4"]],
  ["lone carriage returns", ENGINE.replace(" mm", "").replaceAll("\n", "\r"), ["unit-missing 4"]],
  ["characters outside the basic plane before a mistake", `// 𝛑𝛑𝛑\n/* 🏁 */ ${ENGINE.replace(" mm", "")}`, ["unit-missing 5"]],
];

describe.each(TEXTS)("%s", (_, text, expected) => {
  test("is answered by the server with findings on their lines", async () => {
    expect(await found(text)).toEqual(expected);
    await goesOn();
  });
  test("is answered alike from a file", async () => {
    expect(await foundOnDisk(text)).toEqual(expected);
  });
});

describe("a circle of files", () => {
  test("is said in each of them, once", async () => {
    folder.write("a.tappet", `use "b.tappet"\n${ENGINE}`);
    folder.write("b.tappet", 'use "a.tappet"\n');
    expect(await found('use "a.tappet"\nbuild b on e {\n  redline: 7000\n}\n')).toEqual(["unit-missing 3"]);
    for (const name of ["a.tappet", "b.tappet"]) {
      const uri = folder.uriOf(name);
      client.open(uri, name === "a.tappet" ? `use "b.tappet"\n${ENGINE}` : 'use "a.tappet"\n');
      expect((await client.pull(uri)).map((d) => [d.code, d.range.start.line])).toEqual([["circular-use", 0]]);
      client.close(uri);
    }
  });
});

describe("a file that leaves the opened folder", () => {
  test.each([["up", "../secret.tappet"], ["up and down again", "builds/../../secret.tappet"], ["by an absolute path", "/etc/hostname"], ["by a URI", "file:///etc/hostname"], ["by an encoded path", "..%2fsecret.tappet"], ["through a link", "link.tappet"], ["with back slashes", "..\\secret.tappet"]])(
    "%s is not read, and is said to be out of reach or missing", async (_, path) => {
      try {
        symlinkSync(join(outer.path, "secret.tappet"), join(folder.path, "link.tappet"));
      } catch {
        // It is there from the case before.
      }
      client.open(main, `use "${path}"\n\nbuild b on secret {\n}\n`);
      const [finding, ...more] = await client.pull(main);
      expect(more).toEqual([]);
      expect(finding?.code).toBe("missing-file");
      expect(finding?.range.start.line).toBe(0);
      expect(finding?.message).toMatch(path === "..%2fsecret.tappet" ? /is not there/ : /lies outside the opened folder, where nothing is read/);
      // Nothing of it is known: no name, no hover, no definition.
      expect(await client.define(main, client.at(main, "secret {"))).toEqual([]);
      client.close(main);
    },
  );
});

describe("a file that is no build file", () => {
  const REFUSED: readonly (readonly [string, Uint8Array, string, RegExp])[] = [
    ["binary", new Uint8Array([0x7f, 0x45, 0x4c, 0x46, 0, 1, 2, 255, 254]), "not-text", /is not a text file/],
    ["text with a zero byte", Buffer.from(`${ENGINE}\0`), "not-text", /is not a text file/],
    ["text that is not UTF-8", Buffer.from(ENGINE.replace("manual", "Prüfstand"), "latin1"), "not-text", /is not a text file/],
    ["UTF-16", Buffer.from(`\ufeff${ENGINE}`, "utf16le"), "not-text", /is not a text file/],
    ["five megabytes", Buffer.from("// a line of text\n".repeat(300_000)), "too-large", /is too large to be a build file/],
  ];
  test.each(REFUSED)("%s is refused, and said where it is used", async (_, content, reason, words) => {
    expect(await foundOnDisk(content)).toEqual([reason]);
    folder.write("odd.tappet", content);
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("odd.tappet"), type: 2 }] });
    client.open(main, `\nuse "odd.tappet"\n${ENGINE}`);
    const [finding, ...more] = await client.pull(main);
    expect(more).toEqual([]);
    expect(finding).toMatchObject({ code: "missing-file", range: { start: { line: 1, character: 4 }, end: { line: 1, character: 16 } }, message: expect.stringMatching(words) });
    client.close(main);
    await goesOn();
  });

  test("a folder and an empty path are said to be unreadable", async () => {
    expect(await found(`use "builds"\nuse ""\nuse "."\n${ENGINE}`)).toEqual(["missing-file 1", "missing-file 2", "missing-file 3"]);
  });

  test("a byte-order mark is no part of the text", async () => {
    expect(await foundOnDisk(`\ufeff${ENGINE.replace(" mm", "")}`)).toEqual(["unit-missing 4"]);
    expect(await found(`\ufeff${ENGINE.replace(" mm", "")}`)).toEqual(["unit-missing 4"]);
  });
});

describe("an outsized text that is open", () => {
  test("of two hundred kilobytes of damage is answered with the first thousand findings and how many more", async () => {
    client.open(main, ENGINE + "bore: 83 mm\n".repeat(20_000));
    const diagnostics = await client.pull(main);
    expect(diagnostics).toHaveLength(1001);
    expect(diagnostics[0]).toMatchObject({ code: "stray", range: { start: { line: 5 } } });
    expect(diagnostics[1000]).toMatchObject({ message: "19000 more findings are not listed from here on. Put the first ones right: others may go with them.", range: { start: { line: 1005 } } });
    client.close(main);
    await goesOn();
  });

  test("of five megabytes of damage is answered with one finding", async () => {
    client.open(main, ENGINE + "bore: 83 mm\n".repeat(430_000));
    expect(await client.pull(main)).toEqual([expect.objectContaining({ code: "syntax", message: expect.stringContaining("longer than 256 KB"), range: { start: { line: 0, character: 0 }, end: { line: 0, character: 10 } } })]);
    client.close(main);
    await goesOn();
  });

  test("of a million declarations is read as far as a file may go, and says so where it stops", async () => {
    client.open(main, "card c{}\n".repeat(1_000_000));
    const diagnostics = await client.pull(main);
    expect(diagnostics.length).toBeLessThanOrEqual(1001);
    client.close(main);
    await goesOn();
  });

  test("of one line of a quarter of a megabyte is answered", async () => {
    client.open(main, `engine e { cylinders: 4; source: "x"; ${"bore: 83.00 mm; ".repeat(16_000)}}`);
    const diagnostics = await client.pull(main);
    expect(diagnostics[0]).toMatchObject({ code: "repeated-key", range: { start: { line: 0 } } });
    expect(await client.hover(main, { line: 0, character: 200_003 })).toBeTypeOf("string");
    client.close(main);
    await goesOn();
  });

  test("with a name, a title and a value of fifty thousand characters is answered in messages that can be read", async () => {
    const long = "x".repeat(50_000);
    client.open(main, `engine ${long} "${long}" {\n  source: "${long}"\n  cylinders: ${"4".repeat(50_000)}\n  bore: ${"(".repeat(50)}830${")".repeat(50)} mm\n  ${long}: 3\n}\n`);
    for (const d of await client.pull(main)) expect(String(d.message).length).toBeLessThan(600);
    client.close(main);
    await goesOn();
  });

  const INSIDE = 'source: "x"; cylinders: 4; ';
  const readings = (heads: number, rows: number) => `engine e { ${INSIDE}}\nbuild b on e {\n  measured lash cold on 2027-01-01 {\n    | valve (mm) |${Array.from({ length: heads }, (_, i) => i + 1).join("|")}|\n${`    | intake a |${"0.2|".repeat(heads)}\n`.repeat(rows)}  }\n}\n`;
  const BOMBS: readonly (readonly [string, string])[] = [
    ["a sum of a hundred thousand", `engine e { ${INSIDE}bore: 1${" + 1".repeat(60_000)} mm }`],
    ["a hundred thousand brackets", `engine e { ${INSIDE}bore: ${"(".repeat(100_000)}1${")".repeat(100_000)} mm }`],
    ["a hundred thousand signs", `engine e { ${INSIDE}bore: ${"- ".repeat(100_000)}1 mm }`],
    ["a product beyond every number", `engine e { ${INSIDE}bore: ${"9999999 * ".repeat(90)}1 mm; stroke: 9e999 mm; rod-length: ${"9".repeat(100_000)} mm }`],
    ["a range of fifty thousand ends", `engine e { ${INSIDE}bore: 1${" .. 1".repeat(50_000)} mm }`],
    ["a table of two thousand columns", readings(2000, 20)],
    ["a table of five thousand rows", readings(4, 5000)],
    ["a hundred thousand pipes", `engine e {\n${"|".repeat(100_000)}\n}`],
    ["a hundred thousand quotes", `engine e { ${INSIDE}${'"'.repeat(100_000)} }`],
    ["a million slashes", "/".repeat(1_000_000)],
    ["comments opened a hundred thousand times", "/*".repeat(100_000)],
    ["a firing order of fifty thousand", `engine e { ${INSIDE}firing-order: ${"1-".repeat(50_000)}1 }`],
    ["figures without end before a stroke", `engine e { ${INSIDE}bore: ${"1 ".repeat(120_000)}/ }`],
    ["words joined by fifty thousand hyphens", `engine e { ${"a-".repeat(50_000)}! }`],
    ["a hundred thousand lines of comment above one declaration", `${"// a\n".repeat(40_000)}engine e { ${INSIDE}}`],
    ["half a thousand builds on one engine", `engine e { ${INSIDE}bore: 83 mm; stroke: 80 mm }\n${Array.from({ length: 500 }, (_, i) => `build b${i} on e { redline: 7000 rpm }`).join("\n")}`],
    ["a thousand fasteners", `engine e { ${INSIDE}${Array.from({ length: 1000 }, (_, i) => `fastener f${i} { thread: M8x1.25; class: 8.8; torque: 20 N·m oiled }`).join("\n")} }`],
  ];
  test.each(BOMBS)("with %s is answered, laid out, outlined and coloured", async (_, text) => {
    client.open(main, text);
    for (const d of await client.pull(main)) expect(String(d.message).length).toBeLessThan(600);
    await client.outline(main);
    await client.format(main);
    await client.request("textDocument/semanticTokens/full", { textDocument: { uri: main } });
    await client.complete(main, { line: 0, character: 30 });
    client.close(main);
    await goesOn();
  });
});

describe("a file that is lost while it is used", () => {
  test("costs its users a finding, and comes back whole", async () => {
    folder.write("lost.tappet", ENGINE);
    client.open(main, 'use "lost.tappet"\nbuild b on e {\n}\n');
    expect(await client.pull(main)).toEqual([]);
    outer.remove("inner/lost.tappet");
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("lost.tappet"), type: 3 }] });
    expect((await client.pull(main)).map((d) => d.code)).toEqual(["missing-file"]);
    folder.write("lost.tappet", new Uint8Array([0, 255]));
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("lost.tappet"), type: 1 }] });
    expect((await client.pull(main))[0]?.message).toMatch(/is not a text file/);
    folder.write("lost.tappet", ENGINE);
    client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: folder.uriOf("lost.tappet"), type: 2 }] });
    expect(await client.pull(main)).toEqual([]);
    client.close(main);
  });
});
