// The ready files of samples/git, put into real repositories and run by git itself and by a shell, as whoever copies them would.
import { spawnSync } from "node:child_process";
import { chmodSync, copyFileSync, existsSync, mkdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { afterEach, beforeAll, describe, expect, test } from "vitest";
import { format } from "../../grammar/printer.ts";
import { readSource } from "../../grammar/read.ts";
import { edited } from "../comparison/states.ts";
import { WREN } from "../report/wren.ts";
import { type Repository, repositoryOf } from "./repository.ts";
import { buildCommandLine } from "./tappet.ts";

const SAMPLES = join(import.meta.dirname, "../../samples/git");
const open: Repository[] = [];
const repository = (files: Readonly<Record<string, string>> = CLEAN) => {
  const r = repositoryOf(files);
  open.push(r);
  return r;
};
afterEach(() => {
  for (const r of open.splice(0)) r.remove();
});
beforeAll(buildCommandLine);

const laidOut = (files: Readonly<Record<string, string>>) => Object.fromEntries(Object.entries(files).map(([name, text]) => [name, format(readSource(name, text))]));
/** The same car with its lash in order: nothing at error level. */
const CLEAN = laidOut(edited(WREN, "wren.tappet", "intake: 0.15 mm cold", "intake: 0.20 mm cold"));
const TIGHT = laidOut(WREN)["wren.tappet"] as string;

function copy(r: Repository, sample: string, to: string): void {
  mkdirSync(dirname(join(r.path, to)), { recursive: true });
  copyFileSync(join(SAMPLES, sample), join(r.path, to));
}

describe("the hook before a commit", () => {
  const hooked = (files?: Readonly<Record<string, string>>) => {
    const r = repository(files);
    copy(r, "pre-commit", ".git/hooks/pre-commit");
    chmodSync(join(r.path, ".git/hooks/pre-commit"), 0o755);
    return r;
  };

  test("stops a commit with an error, says which, and lets the mended one pass", () => {
    const r = hooked();
    r.write("wren.tappet", TIGHT);
    r.git("add", "--all");
    const stopped = r.tryGit("commit", "--message", "Tight");
    expect(stopped.code).toBe(1);
    expect(stopped.out + stopped.err).toContain("wren.tappet:");
    expect(stopped.out + stopped.err).toContain("error: lash-tight");
    expect(r.git("log", "--oneline").split("\n")).toHaveLength(1);
    r.write("wren.tappet", `${CLEAN["wren.tappet"]}\n// a remark\n`);
    r.git("add", "--all");
    expect(r.tryGit("commit", "--message", "In order").code).toBe(0);
  });

  test("looks at what is staged, not at what lies in the folder", () => {
    const r = hooked();
    r.write("wren.tappet", TIGHT);
    r.git("add", "--all");
    r.write("wren.tappet", CLEAN["wren.tappet"] as string);
    expect(r.tryGit("commit", "--message", "Staged tight").code).toBe(1);
    r.git("add", "--all");
    r.write("wren.tappet", TIGHT);
    r.write("notes.txt", "x");
    r.git("add", "notes.txt");
    expect(r.tryGit("commit", "--message", "Staged in order").code).toBe(0);
  });

  test("has nothing to say where no build file is staged, even if one has errors", () => {
    const r = repository({ ...CLEAN, "wren.tappet": TIGHT });
    copy(r, "pre-commit", ".git/hooks/pre-commit");
    chmodSync(join(r.path, ".git/hooks/pre-commit"), 0o755);
    r.write("notes.txt", "x");
    r.git("add", "--all");
    expect(r.tryGit("commit", "--message", "Notes").code).toBe(0);
  });

  test("works for the first commit, and for one that takes the last build file away", () => {
    const r = repositoryOf({});
    open.push(r);
    copy(r, "pre-commit", ".git/hooks/pre-commit");
    chmodSync(join(r.path, ".git/hooks/pre-commit"), 0o755);
    r.write("e.tappet", "engine small {\n  cylinders: 1\n}\n");
    r.git("add", "--all");
    expect(r.tryGit("commit", "--message", "First").code).toBe(0);
    r.git("rm", "--quiet", "e.tappet");
    expect(r.tryGit("commit", "--message", "Away").code).toBe(0);
  });
});

describe("the configuration for the pre-commit framework", () => {
  // The framework runs each entry with the staged files' names behind it; these are its lines, run that way.
  const config = readFileSync(join(SAMPLES, "pre-commit-config.yaml"), "utf8");
  const hooks = [...config.matchAll(/- id: (\S+)[\s\S]*?entry: (.+)\n[\s\S]*?files: (.+)\n/g)].map(([, id, entry, files]) => ({ id, entry: entry as string, files: new RegExp(files as string) }));
  const run = (r: Repository, id: string) => {
    const hook = hooks.find((h) => h.id === id);
    const names = r.git("diff", "--cached", "--name-only").split("\n").filter((name) => hook?.files.test(name));
    return spawnSync("sh", ["-c", `${hook?.entry} "$@"`, "sh", ...names], { cwd: r.path, encoding: "utf8", env: { ...process.env, PATH: `${r.bin}:${process.env["PATH"]}` } });
  };

  test("has a hook for errors and one for layout", () => {
    expect(hooks.map((h) => h.id)).toEqual(["tappet-format", "tappet-check"]);
  });

  test("each fails where it should and passes where it should", () => {
    const r = repository();
    r.write("wren.tappet", TIGHT.replace("  fuel:", "      fuel:"));
    r.git("add", "--all");
    expect([run(r, "tappet-format").status, run(r, "tappet-check").status]).toEqual([1, 1]);
    r.write("wren.tappet", `${CLEAN["wren.tappet"]}\n// a remark\n`);
    r.git("add", "--all");
    expect([run(r, "tappet-format").status, run(r, "tappet-check").status]).toEqual([0, 0]);
  });
});

describe("git's own diff", () => {
  const converting = (files?: Readonly<Record<string, string>>) => {
    const r = repository(files);
    copy(r, "gitattributes", ".gitattributes");
    const command = /git config (diff\.tappet\.textconv) "(.*)"/.exec(readFileSync(join(SAMPLES, "gitattributes"), "utf8"));
    r.git("config", command?.[1] as string, command?.[2] as string);
    r.commit("Ask for figures");
    return r;
  };
  const changes = (diff: string) => diff.split("\n").filter((line) => /^[-+](?![-+]{2})/.test(line));

  test("shows the changed figure and what follows from it, and not the lines round it", () => {
    const r = converting();
    r.write("wren.tappet", (CLEAN["wren.tappet"] as string).replace(/intake: +0\.20 mm cold/, "intake: 0.18 mm cold"));
    const lines = changes(r.git("diff"));
    expect(lines).toContain("-build wren-hill-2 lash.intake: 0.2 mm cold");
    expect(lines).toContain("+build wren-hill-2 lash.intake: 0.18 mm cold");
    expect(lines).toContain("-build wren-hill-2 = Intake lash chosen: 0.20 mm");
    expect(lines).toContain("+build wren-hill-2 = Intake lash chosen: 0.18 mm");
    expect(lines.every((line) => /lash|lift|coil|open/i.test(line))).toBe(true);
  });

  test("shows nothing for layout, comments and the same figure in another unit", () => {
    const r = converting();
    r.write("engines/dunlin.tappet", `// a remark\n${(CLEAN["engines/dunlin.tappet"] as string).replace(/bore: +83\.00 mm/, "bore:      8.3 cm")}`);
    expect(changes(r.git("diff"))).toEqual([]);
    expect(changes(r.git("diff", "--no-textconv")).length).toBeGreaterThan(0);
  });

  test("works in the log, where both sides are copies, and in a folder below the top", () => {
    const r = converting();
    r.commit("Less lash", { "wren.tappet": (CLEAN["wren.tappet"] as string).replace(/intake: +0\.20 mm cold/, "intake: 0.18 mm cold") });
    const lines = changes(r.git("-C", "engines", "log", "--patch", "-1"));
    expect(lines).toContain("+build wren-hill-2 = Intake lash chosen: 0.18 mm");
  });

  test("two files of one name cannot be told apart: both sides show their figures alone", () => {
    const r = converting({ ...CLEAN, "other/wren.tappet": "engine small {\n  cylinders: 1\n}\n" });
    r.write("wren.tappet", (CLEAN["wren.tappet"] as string).replace(/intake: +0\.20 mm cold/, "intake: 0.18 mm cold"));
    expect(changes(r.git("diff"))).toEqual(["-build wren-hill-2 lash.intake: 0.2 mm cold", "+build wren-hill-2 lash.intake: 0.18 mm cold"]);
  });

  test("a file that git could not merge is shown as it is", () => {
    const r = converting();
    r.write("wren.tappet", `<<<<<<< HEAD\nuse "a.tappet"\n=======\nuse "b.tappet"\n>>>>>>> x\n`);
    expect(r.run(["textconv", "wren.tappet"]).out).toContain("<<<<<<< HEAD");
  });
});

describe("the workflow for CI", () => {
  // Its commands, run in order by a shell as a runner runs them; what a runner brings itself is left out.
  const text = readFileSync(join(SAMPLES, "ci.yml"), "utf8");
  const steps = [...text.matchAll(/(?:- name: (.+)\n)?(?: +if: (.+)\n)? +(?:- )?run: (.+)\n/g)].map(([, name, when, command]) => ({ name, when, command: command as string })).filter((s) => !s.command.startsWith("npm "));
  const run = (r: Repository, event: "pull_request" | "push") => {
    const summary = join(r.path, ".git", "summary.md");
    let out = "";
    for (const { when, command } of steps) {
      if (when && !when.includes(`'${event}'`)) continue;
      const { status, stdout, stderr } = spawnSync("bash", ["-e", "-c", command.replaceAll("${{ github.base_ref }}", "main")], { cwd: r.path, encoding: "utf8", env: { ...process.env, PATH: `${r.bin}:${process.env["PATH"]}`, GITHUB_STEP_SUMMARY: summary } });
      out += stdout + stderr;
      if (status !== 0) return { status, out, summary: existsSync(summary) ? readFileSync(summary, "utf8") : "" };
    }
    return { status: 0, out, summary: existsSync(summary) ? readFileSync(summary, "utf8") : "" };
  };
  const reviewed = (files: Readonly<Record<string, string>>, change: Readonly<Record<string, string>>) => {
    const r = repository(files);
    r.git("update-ref", "refs/remotes/origin/main", "HEAD");
    r.git("switch", "--quiet", "--create", "change");
    r.commit("A change", change);
    return r;
  };

  test("has the steps that are run here", () => {
    expect(steps.map((s) => s.command.split(" ").slice(0, 2).join(" "))).toEqual(["tappet check", "tappet diff", "tappet diff", "tappet check", "tappet check"]);
  });

  test("stops a change that brings an error, with the finding at its line and the consequences in the summary", () => {
    const { status, out, summary } = run(reviewed(CLEAN, { "wren.tappet": TIGHT }), "pull_request");
    expect(status).toBe(1);
    expect(out).toMatch(/::error file=wren\.tappet,line=\d+,/);
    expect(summary).toContain("# What changed, and what follows");
    expect(summary).toContain("lash");
  });

  test("lets a change pass that leaves an old error as it is", () => {
    expect(run(reviewed({ ...CLEAN, "wren.tappet": TIGHT }, { "engines/dunlin.tappet": (CLEAN["engines/dunlin.tappet"] as string).replace(/138\.5 mm/, "138.6 mm") }), "pull_request").status).toBe(0);
  });

  test("stops the main line while an error stands on it, and else writes a log for the host", () => {
    expect(run(repository({ ...CLEAN, "wren.tappet": TIGHT }), "push").status).toBe(1);
    const r = repository();
    expect(run(r, "push").status).toBe(0);
    expect(JSON.parse(readFileSync(join(r.path, "tappet.sarif"), "utf8")).version).toBe("2.1.0");
  });
});

describe("the revision on a sheet", () => {
  test("stands there only when it is asked for, with a word on what is not committed", () => {
    const r = repository();
    const short = r.git("rev-parse", "--short", "HEAD");
    const sheet = (...args: readonly string[]) => r.run(["sheet", "wren.tappet", "--as-of", "2027-05-01", ...args]).out;
    expect(sheet()).not.toContain(short);
    expect(sheet("--revision")).toMatch(new RegExp(`Revision +${short}\n`));
    expect(JSON.parse(sheet("--revision", "--format", "json")).revision).toBe(short);
    expect(sheet("--revision", "--format", "html")).toContain(short);
    r.write("wren.tappet", `${CLEAN["wren.tappet"]}// more\n`);
    expect(sheet("--revision")).toContain(`${short} and changes that are not committed`);
  });

  test("is refused where there is no repository", () => {
    const r = repository();
    const { code, err } = r.run(["sheet", "wren.tappet", "--revision"], {});
    expect(code).toBe(0);
    expect(err).toBe("");
    const none = repositoryOf({});
    open.push(none);
    none.write("e.tappet", "engine small {\n  cylinders: 1\n}\n");
    expect(none.run(["sheet", "e.tappet", "--revision"]).err).toContain("no commit yet");
  });
});
