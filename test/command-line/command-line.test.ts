// The command line as scripts meet it: exit codes, streams, published JSON, files written whole.
import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, readFileSync, readdirSync, statSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterEach, beforeAll, describe, expect, test } from "vitest";
import findingsSchema from "../../server/report/schemas/findings.schema.json" with { type: "json" };
import partsSchema from "../../server/report/schemas/parts.schema.json" with { type: "json" };
import waiversSchema from "../../server/report/schemas/waivers.schema.json" with { type: "json" };
import sheetSchema from "../../server/report/schemas/sheet.schema.json" with { type: "json" };
import { WREN } from "../report/wren.ts";
import { type Folder, buildCommandLine, folderOf } from "./tappet.ts";

const CLEAN = 'engine small {\n  source:    "manual"\n  cylinders: 1\n  bore:      52.0 mm\n  stroke:    49.0 mm\n}\n';
const BROKEN = CLEAN.replace("52.0 mm", "52.0");

const folders: Folder[] = [];
const folder = (files: Readonly<Record<string, string | Uint8Array>>, git = true): Folder => {
  const made = folderOf(files, git);
  folders.push(made);
  return made;
};
afterEach(() => {
  for (const f of folders.splice(0)) f.remove();
});
beforeAll(buildCommandLine);

const ajv = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true });
const findings = ajv.compile(findingsSchema);
const sheet = ajv.compile(sheetSchema);
const parts = ajv.compile(partsSchema);
const waivers = ajv.compile(waiversSchema);
const one = /^tappet: [^\n]+\n$/;

const LASH = `engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm cold } }
}
build wren on dunlin-18 {
  lash { intake: 0.15 mm cold }
  waive lash-tight at 0.15 mm because "maker confirmed by letter" until 2027-09-01
}
`;

const TUNED = `engine dunlin-18 { source: "workshop manual"; cylinders: 4; bore: 83.00 mm }
build wren on dunlin-18 {
  octane: 98 RON
  tune "tunes/wren.bin" { date: 2027-04-05; file-print: #b5bb9d8014a0 }
}
`;

describe("a tune file", () => {
  const found = (files: Readonly<Record<string, string | Uint8Array>>, path = "a.tappet"): readonly string[] => {
    const { out } = folder(files).run(["check", path, "--format", "json"]);
    return (JSON.parse(out) as { findings: { rule: string; severity: string }[] }).findings.map((f) => `${f.severity} ${f.rule}`);
  };

  test("is told by what is in it: the digest is that of any other program", () => {
    // SHA-256 of "foo" and a line end, as sha256sum prints it, begins so.
    expect(found({ "a.tappet": TUNED, "tunes/wren.bin": "foo\n" })).toEqual([]);
    expect(found({ "a.tappet": TUNED, "tunes/wren.bin": "foo" })).toEqual(["warning tune-file-changed"]);
    expect(found({ "a.tappet": TUNED, "tunes/wren.bin": new Uint8Array([0, 255, 0]) })).toEqual(["warning tune-file-changed"]);
  });

  test("that is gone, is a folder, is too large or lies outside is said to be, and is not read", () => {
    expect(found({ "a.tappet": TUNED })).toEqual(["warning tune-file-missing"]);
    expect(found({ "a.tappet": TUNED, "tunes/wren.bin/part": "foo\n" })).toEqual(["advice tune-file-missing"]);
    expect(found({ "a.tappet": TUNED, "tunes/wren.bin": new Uint8Array(33 * 1024 * 1024) })).toEqual(["advice tune-file-missing"]);
    expect(found({ "a.tappet": TUNED.replace("tunes/wren.bin", "../../etc/hostname") })).toEqual(["advice tune-file-missing"]);
  });

  test("is told on the sheet for programs", () => {
    const { out } = folder({ "a.tappet": TUNED, "tunes/wren.bin": "bar\n" }).run(["sheet", "a.tappet", "--format", "json"]);
    const json = JSON.parse(out) as { tune: unknown };
    expect(sheet(json), JSON.stringify(sheet.errors)).toBe(true);
    expect(json.tune).toEqual({ file: "tunes/wren.bin", date: "2027-04-05", state: "unrecorded", fileState: "changed", scheme: null, changes: [] });
  });
});

const PARTS = `engine dunlin-18 { source: "workshop manual"; cylinders: 4 }
part camshaft ridgeway-272 "Ridgeway 272" for dunlin-18 { source: "cam card"; needs retainer }
build wren on dunlin-18 {
  fit ridgeway-272 { cost: 240.00 GBP; bought-from: "A. Petch" }
  fit valve-spring "Marlpit 400" { status: ordered; cost: 96.50 GBP }
}
`;

describe("parts", () => {
  test("are listed with what is still needed and the sum", () => {
    const { code, out, err } = folder({ "a.tappet": PARTS }).run(["parts", "a.tappet"]);
    expect([code, err]).toEqual([0, ""]);
    expect(out).toBe('Fitted\n  Ridgeway 272: camshaft, from A. Petch; 240.00 GBP\n\nOrdered\n  Marlpit 400: valve spring; 96.50 GBP\n\nAsked for and not there\n  Retainer: asked for by Ridgeway 272, and none is fitted (a.tappet:2)\n\nCost\n  336.50 GBP: 240.00 paid, 96.50 ordered\n');
  });
  test("as JSON have the form that is published", () => {
    const whole = folder({ "a.tappet": PARTS });
    for (const more of [[], ["--public"]]) {
      const json: unknown = JSON.parse(whole.run(["parts", "a.tappet", "--format", "json", ...more]).out);
      expect(parts(json), JSON.stringify(parts.errors)).toBe(true);
      expect(JSON.stringify(json).includes("240.00")).toBe(more.length === 0);
    }
  });
  test("as rows open with a heading", () => {
    expect(folder({ "a.tappet": PARTS }).run(["parts", "a.tappet", "--format", "csv"]).out.split("\n")[0]).toBe("part,kind,side,status,quantity,condition,maker,part number,serial,bought,fitted,cost,currency,from,source,asked for by,file,line");
  });
  test("of a file without a build are refused like its sheet", () => {
    expect(folder({ "a.tappet": 'part camshaft x { source: "card" }\n' }).run(["parts", "a.tappet"])).toMatchObject({ code: 2, err: expect.stringMatching(one) });
  });
});

describe("waivers", () => {
  const files = { "a.tappet": LASH, "b/b.tappet": `use "../a.tappet"\n${LASH.slice(LASH.indexOf("build")).replace("wren on", "wren-b on").replace("at 0.15 mm ", "")}` };

  test("are listed over folders with their state, and are no failure while they hold", () => {
    const { code, out, err } = folder(files).run(["waivers", ".", "--as-of", "2027-06-01"]);
    expect([code, err]).toEqual([0, ""]);
    expect(out).toContain('a.tappet:8:9: active\n  lash-tight at 0.15 mm (now 0.15 mm) on wren, until 2027-09-01, because "maker confirmed by letter"\n  silences: The intake lash is chosen as 0.15 mm cold');
    expect(out).toMatch(/2 waivers as of 2027-06-01: 2 active\.\n$/);
  });

  test("that end within the month are said to", () => {
    const { code, out } = folder(files).run(["waivers", "a.tappet", "--as-of", "2027-08-15"]);
    expect([code, out.split("\n")[0]]).toEqual([0, "a.tappet:8:9: ends soon"]);
  });

  test("that expired or were outgrown fail it and fail a check, worst first", () => {
    const outgrown = folder({ "a.tappet": LASH.replace("intake: 0.15 mm", "intake: 0.12 mm") });
    const listed = outgrown.run(["waivers", ".", "--as-of", "2027-06-01", "--format", "json"]);
    expect(listed.code).toBe(1);
    expect(waivers(JSON.parse(listed.out)), JSON.stringify(waivers.errors)).toBe(true);
    expect(JSON.parse(listed.out)).toMatchObject({ waivers: [{ rule: "lash-tight", state: "outgrown", accepts: "0.15 mm", now: "0.12 mm", in: "wren", silences: [], file: "a.tappet", line: 8 }], summary: { outgrown: 1, active: 0, asOf: "2027-06-01" } });
    const late = folder(files).run(["waivers", ".", "--as-of", "2027-09-02"]);
    expect(late.code).toBe(1);
    expect(late.out).toMatch(/2 expired\.\n$/);
    // No error is left to fail by: a dish that is not filled in is advice, and its waiver ended.
    const advice = folder({ "c.tappet": CLEAN.replace("  bore: ", '  waive not-filled-in because "at the machinist" until 2027-05-01\n  stated-compression: …\n  bore: ') });
    expect(advice.run(["check", ".", "--as-of", "2027-05-01"]).code).toBe(0);
    expect(advice.run(["check", ".", "--as-of", "2027-05-02"]).code).toBe(1);
  });

  test("say nothing but that there are none, where there are none", () => {
    expect(folder({ "a.tappet": CLEAN }).run(["waivers", "a.tappet", "--as-of", "2027-06-01"])).toMatchObject({ code: 0, out: "0 waivers as of 2027-06-01.\n" });
  });
});

describe("check", () => {
  test("is 0 and says what ran when nothing is at error level", () => {
    const { code, out, err } = folder({ "a.tappet": CLEAN }).run(["check", "a.tappet"]);
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^Checked 1 file and 0 builds against \d+ rules, as of \d{4}-\d{2}-\d{2}: nothing found\.\n$/);
  });

  test("is 1 when an error is found", () => {
    const { code, out } = folder({ "a.tappet": BROKEN }).run(["check", "a.tappet"]);
    expect(code).toBe(1);
    expect(out).toContain("a.tappet:4:14: error: unit-missing:");
  });

  test("is 0 for advice alone", () => {
    const { code, out } = folder({ "a.tappet": CLEAN.replace('  source:    "manual"\n', '  source:    "manual"\n  rod-length: …\n') }).run(["check", "a.tappet"]);
    expect(out).toContain("advice: not-filled-in");
    expect(code).toBe(0);
  });

  test("searches folders, leaving out node_modules and folders that begin with a dot", () => {
    const f = folder({ "a.tappet": CLEAN, "sub/b.tappet": CLEAN, "node_modules/c.tappet": BROKEN, ".hidden/d.tappet": BROKEN, "e.txt": "no" });
    const { code, out } = f.run(["check", "."]);
    expect(code).toBe(0);
    expect(out).toContain("Checked 2 files");
  });

  test("follows what a file uses, and circles end", () => {
    const f = folder({ "a.tappet": `use "b.tappet"\n\n${CLEAN}`, "b.tappet": 'use "a.tappet"\n' });
    const json = JSON.parse(f.run(["check", "a.tappet", "--format", "json"]).out);
    expect(json.summary.files).toBe(2);
  });

  test("JSON is as the schema publishes it, and nothing else is on standard output", () => {
    const f = folder(WREN);
    const { code, out, err } = f.run(["check", ".", "--format", "json", "--as-of", "2027-05-01"]);
    const json: unknown = JSON.parse(out);
    expect(findings(json), JSON.stringify(findings.errors)).toBe(true);
    expect([code, err]).toEqual([1, ""]);
    expect(json).toMatchObject({ summary: { files: 3, builds: 1, waived: 1, asOf: "2027-05-01" } });
  });

  test("gives the same bytes twice", () => {
    const f = folder(WREN);
    const args = ["check", ".", "--format", "json", "--as-of", "2027-05-01"];
    expect(f.run(args).out).toBe(f.run(args).out);
  });

  test("the day decides whether a waiver still holds", () => {
    const f = folder(WREN);
    expect(f.run(["check", "wren.tappet", "--as-of", "2027-09-01"]).out).not.toContain("waiver-expired");
    expect(f.run(["check", "wren.tappet", "--as-of", "2027-09-02"]).out).toContain("waiver-expired");
  });

  test("names files from where it runs, with forward slashes", () => {
    const f = folder({ "sub/a.tappet": BROKEN });
    expect(f.run(["check", "sub"]).out).toContain("sub/a.tappet:4:14");
    expect(f.run(["check", "a.tappet"], { in: "sub" }).out).toContain("\na.tappet:4:14".slice(1));
    mkdirSync(join(f.path, "other"));
    expect(f.run(["check", "../sub/a.tappet"], { in: "other" }).out).toContain("../sub/a.tappet:4:14");
  });

  test("a byte-order mark and CRLF move no finding", () => {
    const f = folder({ "a.tappet": `\ufeff${BROKEN.replaceAll("\n", "\r\n")}` });
    expect(f.run(["check", "a.tappet"]).out).toContain("a.tappet:4:14: error: unit-missing");
  });

  test("reads standard input under the name it is given, with what that uses", () => {
    const f = folder(WREN);
    const { out } = f.run(["check", "-", "--stdin-filename", "wren.tappet", "--format", "json", "--as-of", "2027-05-01"], { input: WREN["wren.tappet"] as string });
    const whole = f.run(["check", "wren.tappet", "--format", "json", "--as-of", "2027-05-01"]).out;
    expect(out).toBe(whole);
    const alone = folder({}).run(["check", "-"], { input: BROKEN });
    expect(alone.code).toBe(1);
    expect(alone.out).toContain("stdin.tappet:4:14");
  });

  test("stops quietly when the reader closes the pipe", () => {
    const f = folder(Object.fromEntries(Array.from({ length: 400 }, (_, i) => [`${i}.tappet`, BROKEN])));
    const program = join(import.meta.dirname, "../../dist/command-line.cjs");
    const { stderr } = spawnSync("sh", ["-c", `"${process.execPath}" "${program}" check . | head -c 100 >/dev/null`], { cwd: f.path, encoding: "utf8" });
    expect(stderr).toBe("");
  });
});

describe("what cannot run is 2 and one sentence", () => {
  test.each([
    [["check", "nowhere.tappet"], 'There is no file or folder "nowhere.tappet".'],
    [["check", "a.tappet/deeper"], 'There is no file or folder "a.tappet/deeper".'],
    [["check", "empty"], 'There is no .tappet file in "empty".'],
    [["check"], "missing required argument 'path'; --help lists what there is."],
    [["check", ".", "--frobnicate"], "unknown option '--frobnicate'; --help lists what there is."],
    [["check", ".", "--format", "xml"], "argument 'xml' is invalid. Allowed choices are text, plain, json, sarif, github; --help lists what there is."],
    [["check", ".", "--as-of", "2027-02-30"], "Write a day of the calendar, year first: 2027-03-14; --help lists what there is."],
    [["frobnicate"], "unknown command 'frobnicate'; --help lists what there is."],
    [["sheet", "empty"], '"empty" is a folder: name one build file in it.'],
    [["sheet", "a.tappet", "--build", "other"], "a.tappet has no build called other: it has small."],
    [["sheet", "none.tappet"], "none.tappet has neither a build nor an engine to make a sheet of."],
    [["check", "a.tappet", "--output", "no/such/folder.txt"], 'There is no folder to write "no/such/folder.txt" into.'],
    [["check", "a.tappet", "--output", "empty"], '"empty" is a folder, and a file is to be written.'],
    [["explain", "lash-tigth"], 'There is no rule or value called "lash-tigth". Did you mean lash-tight?'],
    [["check", "a\u202eb"], 'There is no file or folder "a⟨U+202E⟩b".'],
  ])("%j", (args, sentence) => {
    const f = folder({ "a.tappet": CLEAN, "none.tappet": "// nothing yet\n" });
    mkdirSync(join(f.path, "empty"));
    const { code, out, err } = f.run(args);
    expect(err).toMatch(one);
    expect(err).toContain(sentence);
    expect([code, out]).toEqual([2, ""]);
  });

  test.each([
    ["binary", new Uint8Array([0x65, 0x6e, 0x67, 0x00, 0xff, 0xfe])],
    ["not UTF-8", new Uint8Array([0x65, 0x6e, 0x67, 0xe9, 0x20])],
    ["a zero byte in text", new TextEncoder().encode("engine a {\0}\n")],
  ])("a file that is %s", (_, bytes) => {
    const { code, err } = folder({ "a.tappet": bytes }).run(["check", "a.tappet"]);
    expect([code, err]).toEqual([2, "tappet: a.tappet is not UTF-8 text.\n"]);
  });

  test("one unreadable file in a folder hides none of the others", () => {
    const { code, out, err } = folder({ "a.tappet": new Uint8Array([0xff]), "b.tappet": BROKEN }).run(["check", ".", "--format", "json"]);
    expect(code).toBe(2);
    expect(err).toBe("tappet: a.tappet is not UTF-8 text.\n");
    expect(JSON.parse(out).findings.map((x: { file: string }) => x.file)).toEqual(["b.tappet"]);
  });

  test("a file larger than any build file, before it is read", () => {
    const { code, err } = folder({ "a.tappet": new Uint8Array(5 * 1024 * 1024).fill(0x20) }).run(["check", "a.tappet"]);
    expect([code, err]).toEqual([2, "tappet: a.tappet is larger than 4 MB, which no build file is.\n"]);
  });

  test("a pipe is refused and never waited for", () => {
    const f = folder({});
    expect(spawnSync("mkfifo", [join(f.path, "a.tappet")]).status).toBe(0);
    expect(f.run(["check", "a.tappet"])).toMatchObject({ code: 2, err: "tappet: a.tappet is no file that can be read.\n" });
  });

  test("standard input that is no text", () => {
    expect(folder({}).run(["check", "-"], { input: new Uint8Array([0xff, 0x00]) })).toMatchObject({ code: 2, out: "", err: "tappet: Standard input is not UTF-8 text.\n" });
  });
});

describe("files outside the project", () => {
  test("a use that leads out of the folder with .git is a finding, and what lies there is not told", () => {
    const outer = folder({ "secret.tappet": 'engine secret { source: "x"; cylinders: 1 }\n', "project/a.tappet": 'use "../secret.tappet"\nuse "../not-there.tappet"\n' }, false);
    mkdirSync(join(outer.path, "project", ".git"));
    const { out, code } = outer.run(["check", "a.tappet", "--format", "json"], { in: "project" });
    const json = JSON.parse(out);
    expect(code).toBe(1);
    expect(json.findings.map((f: { rule: string }) => f.rule)).toEqual(["missing-file", "missing-file"]);
    const [there, not] = json.findings.map((f: { message: string }) => f.message.replace(/secret|not-there/, ""));
    expect(there).toBe(not);
    expect(json.summary.files).toBe(1);
  });

  test("a link that leads out is outside too", () => {
    const outer = folder({ "secret.tappet": CLEAN, "project/a.tappet": 'use "link.tappet"\n' }, false);
    mkdirSync(join(outer.path, "project", ".git"));
    symlinkSync(join(outer.path, "secret.tappet"), join(outer.path, "project", "link.tappet"));
    const json = JSON.parse(outer.run(["check", "a.tappet", "--format", "json"], { in: "project" }).out);
    expect(json.findings.map((f: { rule: string }) => f.rule)).toEqual(["missing-file"]);
    expect(json.summary.files).toBe(1);
  });

  test("without .git, the working folder is the bound, and a file elsewhere has its own folder", () => {
    const f = folder({ "work/a.tappet": 'use "../b.tappet"\n', "b.tappet": CLEAN, "far/c.tappet": 'use "d.tappet"\n', "far/d.tappet": CLEAN }, false);
    expect(f.run(["check", "work/a.tappet"]).out).toContain("Checked 2 files");
    expect(f.run(["check", "a.tappet"], { in: "work" }).out).toContain("missing-file");
    expect(f.run(["check", "../far/c.tappet"], { in: "work" }).out).toContain("Checked 2 files");
  });

  test("a folder that is named elsewhere is the bound of what is found in it", () => {
    const f = folder({ "work/a.tappet": CLEAN, "far/builds/c.tappet": 'use "../engines/d.tappet"\nuse "../../secret.tappet"\n', "far/engines/d.tappet": CLEAN, "secret.tappet": CLEAN }, false);
    const json = JSON.parse(f.run(["check", "../far", "--format", "json"], { in: "work" }).out);
    expect(json.summary.files).toBe(2);
    expect(json.findings.map((found: { rule: string; message: string }) => [found.rule, found.message.includes("secret")])).toEqual([["missing-file", true]]);
  });
});

describe("sheet", () => {
  test("JSON is as the schema publishes it", () => {
    const { code, out } = folder(WREN).run(["sheet", "wren.tappet", "--format", "json", "--as-of", "2027-05-01"]);
    const json: unknown = JSON.parse(out);
    expect(sheet(json), JSON.stringify(sheet.errors?.slice(0, 3))).toBe(true);
    expect(code).toBe(1);
    expect(json).toMatchObject({ build: "wren-hill-2", engine: "dunlin-18" });
  });

  test("the schemas refuse what they do not publish", () => {
    const good = JSON.parse(folder(WREN).run(["sheet", "wren.tappet", "--format", "json"]).out);
    expect(sheet({ ...good, extra: 1 })).toBe(false);
    expect(sheet({ ...good, values: [{ ...good.values[0], nominal: "1775" }] })).toBe(false);
    expect(sheet({ ...good, values: [{ ...good.values[0], nominal: null }] })).toBe(false);
    expect(findings({ findings: [], summary: {} })).toBe(false);
  });

  test.each(["text", "html", "markdown", "json"])("gives the same bytes twice as %s", (format) => {
    const f = folder(WREN);
    const args = ["sheet", "wren.tappet", "--format", format, "--as-of", "2027-05-01"];
    const { out } = f.run(args);
    expect(out.length).toBeGreaterThan(1000);
    expect(f.run(args).out).toBe(out);
  });

  test("writes a file whole and leaves nothing beside it", () => {
    const f = folder({ ...WREN, "out/sheet.html": "old" });
    chmodSync(join(f.path, "out/sheet.html"), 0o640);
    const { out } = f.run(["sheet", "wren.tappet", "--format", "html", "--output", "out/sheet.html"]);
    expect(out).toBe("");
    expect(readFileSync(join(f.path, "out/sheet.html"), "utf8")).toMatch(/^<!doctype html>[^]*<\/html>\n$/);
    expect(readdirSync(join(f.path, "out"))).toEqual(["sheet.html"]);
    expect(statSync(join(f.path, "out/sheet.html")).mode & 0o777).toBe(0o640);
  });

  test("an engine by itself has a sheet", () => {
    const { code, out } = folder({ "a.tappet": CLEAN }).run(["sheet", "a.tappet"]);
    expect(code).toBe(0);
    expect(out).toMatch(/^small\n=====\nNothing found that stops it/);
  });
});

describe("format", () => {
  const LOOSE = CLEAN.replace("  bore:      52.0 mm", "bore:52.0 mm");

  test("lays a file out, and then has nothing to do", () => {
    const f = folder({ "a.tappet": LOOSE });
    expect(f.run(["format", "."])).toMatchObject({ code: 0, out: "a.tappet laid out.\n1 file looked at, 1 changed.\n" });
    expect(readFileSync(join(f.path, "a.tappet"), "utf8")).toBe(CLEAN);
    expect(f.run(["format", "."])).toMatchObject({ code: 0, out: "1 file looked at, 0 changed.\n" });
  });

  test("--check changes nothing and is 1 when something would change", () => {
    const f = folder({ "a.tappet": LOOSE, "b.tappet": CLEAN });
    expect(f.run(["format", "--check", "."])).toMatchObject({ code: 1, out: "a.tappet would be laid out anew.\n2 files looked at, 1 would change.\n" });
    expect(readFileSync(join(f.path, "a.tappet"), "utf8")).toBe(LOOSE);
    expect(f.run(["format", "--check", "b.tappet"]).code).toBe(0);
  });

  test("prints standard input laid out", () => {
    expect(folder({}).run(["format", "-"], { input: LOOSE })).toMatchObject({ code: 0, out: CLEAN, err: "" });
  });

  test("keeps a byte-order mark", () => {
    const f = folder({ "a.tappet": `\ufeff${LOOSE}` });
    f.run(["format", "a.tappet"]);
    expect(readFileSync(join(f.path, "a.tappet"), "utf8")).toBe(`\ufeff${CLEAN}`);
  });

  test("a link stays a link", () => {
    const f = folder({ "real/a.tappet": LOOSE });
    symlinkSync(join(f.path, "real/a.tappet"), join(f.path, "a.tappet"));
    f.run(["format", "a.tappet"]);
    expect(readFileSync(join(f.path, "real/a.tappet"), "utf8")).toBe(CLEAN);
    expect(existsSync(join(f.path, "a.tappet"))).toBe(true);
  });
});

describe("explain", () => {
  test("prints a rule's page, and the same as JSON", () => {
    const f = folder({});
    const { code, out } = f.run(["explain", "lash-tight"]);
    expect(code).toBe(0);
    for (const title of ["Why it matters", "How the limit is worked out", "Source", "What to do"]) expect(out).toContain(`\n${title}\n`);
    const json = JSON.parse(f.run(["explain", "lash-tight", "--format", "json"]).out);
    expect(json).toMatchObject({ is: "rule", id: "lash-tight", severity: "error" });
    expect(out).toContain(json.summary);
  });

  test("explains a value by its own name, for one side too", () => {
    const f = folder({});
    expect(f.run(["explain", "displacement.total"]).out).toContain("π/4 · bore² · stroke · cylinders");
    expect(f.run(["explain", "lift.intake.gross"]).out).toMatch(/^lift\.\{each\}\.gross: /);
  });

  test("lists every rule and value without a name", () => {
    const f = folder({});
    const { out } = f.run(["explain"]);
    const json = JSON.parse(f.run(["explain", "--format", "json"]).out);
    expect(json.rules.length).toBeGreaterThan(30);
    for (const { id } of [...json.rules, ...json.values]) expect(out).toContain(`  ${id} `);
  });
});

test("--help and --version are 0", () => {
  const f = folder({});
  expect(f.run(["--version"])).toMatchObject({ code: 0, err: "" });
  expect(f.run(["--help"]).out).toContain("Exit codes: 0 nothing at error level");
  expect(f.run(["check", "--help"]).code).toBe(0);
});
