// Two people change one build, on real branches: different figures merge by themselves, the same figure is shown with both sides.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeAll, expect, test } from "vitest";
import { edited } from "../comparison/states.ts";
import { WREN } from "../report/wren.ts";
import { type Repository, repositoryOf } from "./repository.ts";
import { buildCommandLine } from "./tappet.ts";

const open: Repository[] = [];
afterEach(() => {
  for (const r of open.splice(0)) r.remove();
});
beforeAll(buildCommandLine);

const AS_OF = ["--as-of", "2027-05-01"];
const wren = (from: string, to: string) => edited(WREN, "wren.tappet", from, to)["wren.tappet"] as string;

/** One branch for each text of the build. */
function branches(main: string, other: string, otherName: string): Repository {
  const r = repositoryOf(WREN);
  open.push(r);
  r.git("switch", "--quiet", "--create", otherName);
  r.commit("The other's change", { "wren.tappet": other });
  r.git("switch", "--quiet", "main");
  r.commit("Own change", { "wren.tappet": main });
  return r;
}

test("different figures merge, and the check finds both in the engine", () => {
  const r = branches(wren("intake: 0.15 mm cold", "intake: 0.20 mm cold"), wren("<= 20 m/s", "<= 21 m/s"), "pistons");
  r.git("merge", "--quiet", "--no-edit", "pistons");
  const { code, out } = r.run(["check", ".", ...AS_OF]);
  expect(out).not.toContain("merge-conflict");
  expect(code).toBe(0);
  const diff = JSON.parse(r.run(["diff", "--git", "HEAD~1", "HEAD", "--format", "json", ...AS_OF]).out);
  expect(diff.builds[0].causes.map((c: { sort: string }) => c.sort)).toEqual(["check"]);
});

test("the same figure is one finding with both sides, and the rest of the file is checked", () => {
  const r = branches(wren("intake: 0.15 mm cold", "intake: 0.20 mm cold"), wren("intake: 0.15 mm cold", "intake: 0.10 mm cold"), "quiet-valves");
  expect(r.tryGit("merge", "--quiet", "quiet-valves").code).toBe(1);
  const { code, out } = r.run(["check", "wren.tappet", "--format", "json", ...AS_OF]);
  expect(code).toBe(1);
  const { findings, summary } = JSON.parse(out);
  const conflicts = findings.filter((f: { rule: string }) => f.rule === "merge-conflict");
  expect(conflicts).toHaveLength(1);
  expect(conflicts[0].message).toContain("HEAD has `lash { intake: 0.20 mm cold; exhaust: 0.35 mm cold }`, quiet-valves has `lash { intake: 0.10 mm cold; exhaust: 0.35 mm cold }`");
  expect(conflicts[0].related[0].message).toMatch(/^With what quiet-valves has, wren-hill-2: .*0\.20 mm → 0\.10 mm/);
  // The plan, the readings and the tune below the marks were read all the same.
  expect(findings.filter((f: { rule: string }) => ["syntax", "unclosed-block", "stray"].includes(f.rule))).toEqual([]);
  expect(summary.builds).toBe(1);
  // Laying it out would lose a side.
  const before = readFileSync(join(r.path, "wren.tappet"), "utf8");
  r.run(["format", "wren.tappet"]);
  expect(readFileSync(join(r.path, "wren.tappet"), "utf8")).toBe(before);
});

test("the two sides are compared as two builds, from the marks and from git", () => {
  const r = branches(wren("intake: 0.15 mm cold", "intake: 0.20 mm cold"), wren("intake: 0.15 mm cold", "intake: 0.10 mm cold"), "quiet-valves");
  r.tryGit("merge", "--quiet", "quiet-valves");
  const marks = r.run(["diff", "--conflicts", ...AS_OF]);
  expect(marks.out).toContain("Between what HEAD has and what quiet-valves has: 1 build changed.");
  expect(marks.out).toContain("valve-gear.intake.lash: 0.20 mm cold → 0.10 mm cold");
  expect(marks.out).toMatch(/new: error: lash-tight/);
  expect(marks.code).toBe(1);
  const git = r.run(["diff", "--git", "HEAD", "MERGE_HEAD", "--format", "json", ...AS_OF]);
  const json = JSON.parse(git.out);
  expect(json.builds[0].causes.map((c: { from: { text: string }; to: { text: string } }) => [c.from.text, c.to.text])).toEqual([["0.20 mm cold", "0.10 mm cold"]]);
});

test("a settled merge has nothing left to compare", () => {
  const r = branches(wren("intake: 0.15 mm cold", "intake: 0.20 mm cold"), wren("<= 20 m/s", "<= 21 m/s"), "pistons");
  expect(r.run(["diff", "--conflicts"]).err).toBe("tappet: There is no place here that git could not merge.\n");
});
