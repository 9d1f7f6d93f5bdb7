// `tappet diff` on files, folders and real git repositories made here: branches, renames, merges, and everything that git may lack.
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { afterEach, beforeAll, describe, expect, test } from "vitest";
import schema from "../../server/report/schemas/comparison.schema.json" with { type: "json" };
import { WREN } from "../report/wren.ts";
import { edited } from "../comparison/states.ts";
import { type Repository, repositoryOf } from "./repository.ts";
import { type Folder, buildCommandLine, folderOf } from "./tappet.ts";

const open: Folder[] = [];
const repository = (files: Readonly<Record<string, string>> = WREN): Repository => {
  const made = repositoryOf(files);
  open.push(made);
  return made;
};
const folder = (files: Readonly<Record<string, string>>): Folder => {
  const made = folderOf(files, false);
  open.push(made);
  return made;
};
afterEach(() => {
  for (const f of open.splice(0)) f.remove();
});
beforeAll(buildCommandLine);

const ajv = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true });
addFormats.default(ajv);
const valid = ajv.compile(schema);
const one = /^tappet: [^\n]+\n$/;
const AS_OF = ["--as-of", "2027-05-01"];
const LASH = edited(WREN, "wren.tappet", "intake: 0.15 mm cold", "intake: 0.20 mm cold")["wren.tappet"] as string;
const BINDS = edited(WREN, "engines/dunlin.tappet", "solid-height: 24.0 mm", "solid-height: 27.4 mm")["engines/dunlin.tappet"] as string;

function jsonOf(out: string) {
  const json = JSON.parse(out);
  expect(valid(json), JSON.stringify(valid.errors)).toBe(true);
  return json;
}

describe("files and folders", () => {
  test("two files are each other's counterpart, whatever they are called", () => {
    const f = folder({ ...WREN, "other.tappet": LASH });
    const { code, out, err } = f.run(["diff", "wren.tappet", "other.tappet", ...AS_OF]);
    expect([code, err]).toEqual([0, ""]);
    expect(out).toContain("valve-gear.intake.lash: 0.15 mm cold → 0.20 mm cold");
  });

  test("two folders are compared file by file", () => {
    const f = folder({ ...Object.fromEntries(Object.entries(WREN).map(([n, t]) => [`spring/${n}`, t])), ...Object.fromEntries(Object.entries(WREN).map(([n, t]) => [`autumn/${n}`, t])), "autumn/wren.tappet": LASH });
    const json = jsonOf(f.run(["diff", "spring", "autumn", "--format", "json", ...AS_OF]).out);
    expect([json.counts.changed, json.counts.causes, json.elsewhere]).toEqual([1, 1, []]);
    expect([json.builds[0].from, json.builds[0].to]).toEqual(["spring/wren.tappet", "autumn/wren.tappet"]);
  });

  test("one side may come from standard input", () => {
    const { code, out } = folder(WREN).run(["diff", "wren.tappet", "-", "--stdin-filename", "typed.tappet", ...AS_OF], { input: LASH });
    expect(code).toBe(0);
    expect(out).toContain("0.15 mm cold → 0.20 mm cold");
  });

  test("is 1 only where an error is new", () => {
    const before = Object.fromEntries(Object.entries(WREN).map(([n, t]) => [`a/${n}`, t]));
    const after = Object.fromEntries(Object.entries({ ...WREN, "engines/dunlin.tappet": BINDS }).map(([n, t]) => [`b/${n}`, t]));
    const f = folder({ ...before, ...after });
    expect(f.run(["diff", "a", "b", ...AS_OF]).code).toBe(1);
    expect(f.run(["diff", "b", "a", ...AS_OF]).code).toBe(0);
    expect(f.run(["diff", "b", "b", ...AS_OF]).code).toBe(0);
  });

  test.each([
    [["diff"], "Name two files or two folders"],
    [["diff", "wren.tappet"], "Name two files or two folders"],
    [["diff", "wren.tappet", "missing.tappet"], 'There is no file or folder "missing.tappet"'],
    [["diff", "-", "-"], "Only one of the two"],
    [["diff", "wren.tappet", "wren.tappet", "--merge-base"], "--merge-base is for revisions"],
    [["diff", "--git", "HEAD"], "There is no git repository here"],
  ])("%j is refused in one sentence", (args, sentence) => {
    const { code, err } = folder(WREN).run(args);
    expect(code).toBe(2);
    expect(err).toMatch(one);
    expect(err).toContain(sentence);
  });
});

describe("git", () => {
  test("the files as they are against the last commit, untracked files among them", () => {
    const r = repository();
    r.write("wren.tappet", LASH);
    r.write("new.tappet", 'use "engines/dunlin.tappet"\n\nbuild second on dunlin-18 {\n  fuel: petrol\n}\n');
    r.write(".gitignore", "ignored.tappet\n");
    r.write("ignored.tappet", "engine nobody { cylinders: 1 }\n");
    const json = jsonOf(r.run(["diff", "--git", "HEAD", "--format", "json", ...AS_OF]).out);
    expect([json.counts.changed, json.counts.added, json.loose]).toEqual([1, 1, []]);
    expect(json.before).toEqual({ label: expect.stringMatching(/^HEAD \([0-9a-f]{7}\)$/), revision: r.git("rev-parse", "HEAD") });
    expect(json.after).toEqual({ label: "the files as they are", revision: null });
  });

  test("two revisions, from a folder below the top, without touching the files", () => {
    const r = repository();
    r.commit("Set the lash", { "wren.tappet": LASH });
    r.write("wren.tappet", "half typed {");
    const json = jsonOf(r.run(["diff", "--git", "HEAD~1", "HEAD", "--format", "json", ...AS_OF], { in: "engines" }).out);
    expect(json.builds[0].causes.map((c: { path: string }) => c.path)).toEqual(["valve-gear.intake.lash"]);
    expect(json.builds[0].to).toBe("../wren.tappet");
    expect(readFileSync(join(r.path, "wren.tappet"), "utf8")).toBe("half typed {");
    expect(r.git("status", "--porcelain")).toBe("M wren.tappet".padStart(14));
  });

  test("a figure that a part's file changes is told with the build that fits it", () => {
    const r = repository();
    r.commit("Another spring", { "engines/dunlin.tappet": BINDS });
    const { code, out } = r.run(["diff", "--git", "HEAD~1", "HEAD", ...AS_OF]);
    expect(code).toBe(1);
    expect(out).toContain("valve-gear.valve-spring.solid-height: 24.0 mm → 27.4 mm");
    expect(out).toMatch(/new: error: coil-bind.*\[by 1\]/);
  });

  test("a renamed file and a renamed build are followed", () => {
    const r = repository();
    r.git("mv", "wren.tappet", "third-season.tappet");
    r.write("third-season.tappet", LASH.replace("build wren-hill-2", "build wren-hill-3"));
    r.commit("The next season");
    const json = jsonOf(r.run(["diff", "--git", "HEAD~1", "HEAD", "--format", "json", ...AS_OF]).out);
    expect([json.counts.changed, json.counts.added, json.counts.removed]).toEqual([1, 0, 0]);
    const [b] = json.builds;
    expect([b.from, b.to, b.renamed, b.causes.length]).toEqual(["wren.tappet", "third-season.tappet", [{ sort: "build", from: "wren-hill-2", to: "wren-hill-3" }], 1]);
  });

  test("against the merge base, what the other branch did since counts for nothing", () => {
    const r = repository();
    r.git("switch", "--quiet", "--create", "springs");
    r.commit("Another spring", { "engines/dunlin.tappet": BINDS });
    r.git("switch", "--quiet", "main");
    r.commit("Set the lash", { "wren.tappet": LASH });
    const whole = jsonOf(r.run(["diff", "--git", "main", "springs", "--format", "json", ...AS_OF]).out);
    expect(whole.builds[0].causes).toHaveLength(2);
    const own = jsonOf(r.run(["diff", "--git", "main", "springs", "--merge-base", "--format", "json", ...AS_OF]).out);
    expect(own.builds[0].causes.map((c: { path: string }) => c.path)).toEqual(["valve-gear.valve-spring.solid-height"]);
    expect(own.before.label).toMatch(/^where springs left main \([0-9a-f]{7}\)$/);
    r.git("switch", "--quiet", "springs");
    expect(jsonOf(r.run(["diff", "--git", "main", "--merge-base", "--format", "json", ...AS_OF]).out).builds[0].causes).toHaveLength(1);
  });

  test("what is staged can be named as the tree that git writes of it", () => {
    const r = repository();
    r.write("wren.tappet", LASH);
    r.git("add", "wren.tappet");
    r.write("wren.tappet", "not staged {");
    const json = jsonOf(r.run(["diff", "--git", "HEAD", r.git("write-tree"), "--format", "json", ...AS_OF]).out);
    expect(json.builds[0].causes).toHaveLength(1);
    expect(json.notes).toEqual([]);
  });

  test("only the files and folders named before --git are looked at", () => {
    const r = repository({ ...WREN, "b/e.tappet": "engine small {\n  cylinders: 1\n  bore: 52.0 mm\n  stroke: 49.0 mm\n}\n" });
    r.commit("Two changes", { "wren.tappet": LASH, "b/e.tappet": "engine small {\n  cylinders: 1\n  bore: 53.0 mm\n  stroke: 49.0 mm\n}\n" });
    const json = jsonOf(r.run(["diff", "b", "--git", "HEAD~1", "HEAD", "--format", "json", ...AS_OF]).out);
    expect(json.builds.map((b: { name: string }) => b.name)).toEqual(["small"]);
  });

  test("a detached head, a tag and a short id are revisions like any other", () => {
    const r = repository();
    r.git("tag", "spring");
    const id = r.commit("Set the lash", { "wren.tappet": LASH });
    r.git("checkout", "--quiet", "--detach", id);
    for (const name of ["spring", "HEAD~1", r.git("rev-parse", "--short", "HEAD~1"), "main~1"]) {
      const { code, out } = r.run(["diff", "--git", name, ...AS_OF]);
      expect([code, out.includes("0.15 mm cold → 0.20 mm cold")]).toEqual([0, true]);
    }
  });

  test("a revision whose spec does not parse is named and compared as far as it can be read", () => {
    const r = repository({ ...WREN, "wren.tappet": `${LASH.slice(0, LASH.indexOf("  measured"))}  fuel petrol ]]\n` });
    r.commit("Whole again", { "wren.tappet": LASH });
    const { code, out } = r.run(["diff", "--git", "HEAD~1", "HEAD", ...AS_OF]);
    expect(code).not.toBe(2);
    expect(out).toMatch(/Note: wren\.tappet in HEAD~1 \([0-9a-f]{7}\) has \d+ places? that cannot be read: it is compared as far as it can be\./);
  });

  test("a file that is no text in a revision is named and left out", () => {
    const r = repository();
    writeFileSync(join(r.path, "bad.tappet"), new Uint8Array([0xff, 0xfe, 0, 1]));
    r.commit("A stray file");
    expect(r.run(["diff", "--git", "HEAD~1", "HEAD", ...AS_OF]).out).toContain("Note: bad.tappet in HEAD");
  });

  test("names of files with spaces, umlauts and quotes are read", () => {
    const r = repository({ 'wren ä "one".tappet': "engine small {\n  cylinders: 1\n  bore: 52.0 mm\n  stroke: 49.0 mm\n}\n" });
    r.write('wren ä "one".tappet', "engine small {\n  cylinders: 1\n  bore: 53.0 mm\n  stroke: 49.0 mm\n}\n");
    const json = jsonOf(r.run(["diff", "--git", "HEAD", "--format", "json"]).out);
    expect(json.builds.map((b: { from: string; causes: unknown[] }) => [b.from, b.causes.length])).toEqual([['wren ä "one".tappet', 1]]);
  });

  test("a bare repository compares two revisions", () => {
    const r = repository();
    r.commit("Set the lash", { "wren.tappet": LASH });
    const bare = folder({});
    execFileSync("git", ["clone", "--quiet", "--bare", r.path, join(bare.path, "copy.git")]);
    const json = jsonOf(bare.run(["diff", "--git", "HEAD~1", "HEAD", "--format", "json", ...AS_OF], { in: "copy.git" }).out);
    expect(json.builds[0].causes).toHaveLength(1);
    expect(bare.run(["diff", "--git", "HEAD"], { in: "copy.git" }).err).toContain("has no files of its own");
  });
});

describe("git, refused in one sentence", () => {
  const refused = (f: Folder, args: readonly string[], into?: string) => {
    const { code, out, err } = f.run(args, into === undefined ? {} : { in: into });
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(one);
    return err;
  };

  test("no commit yet", () => {
    expect(refused(repository({}), ["diff", "--git", "HEAD"])).toContain("no commit yet");
  });

  test("an unknown revision, with the branch that was probably meant", () => {
    const r = repository();
    r.git("branch", "springs");
    expect(refused(r, ["diff", "--git", "spring"])).toContain('git knows no revision "spring" here. Did you mean springs?');
    expect(refused(r, ["diff", "--git", "--output=/tmp/x"])).toMatch(/revision|unknown option/);
  });

  test("a shallow clone that does not reach", () => {
    const r = repository();
    r.commit("Set the lash", { "wren.tappet": LASH });
    r.git("branch", "old", "HEAD~1");
    const clone = folder({});
    execFileSync("git", ["clone", "--quiet", "--depth=1", `file://${r.path}`, join(clone.path, "copy")]);
    expect(refused(clone, ["diff", "--git", "HEAD~1"], "copy")).toContain("This clone is shallow and does not reach");
  });

  test("no common commit", () => {
    const r = repository();
    r.git("switch", "--quiet", "--orphan", "other");
    r.commit("Another start", { "e.tappet": "engine e { cylinders: 1 }\n" });
    expect(refused(r, ["diff", "--git", "main", "other", "--merge-base"])).toBe("tappet: main and other have no commit in common.\n");
  });

  test("too many revisions, a path outside, a path with nothing in it", () => {
    const r = repository();
    expect(refused(r, ["diff", "--git", "HEAD", "HEAD", "HEAD"])).toContain("Name one revision");
    expect(refused(r, ["diff", "..", "--git", "HEAD"])).toContain("lies outside this repository");
    expect(refused(r, ["diff", "nothing", "--git", "HEAD"])).toContain('There is no .tappet file in "nothing"');
  });

  test("git that is not there", () => {
    const r = repository();
    const path = process.env["PATH"];
    try {
      process.env["PATH"] = r.bin;
      expect(refused(r, ["diff", "--git", "HEAD"])).toContain("git is not on this machine");
    } finally {
      process.env["PATH"] = path;
    }
  });
});
