// The command line on recordings: long ones in little memory, and what is refused.
import { spawnSync } from "node:child_process";
import { closeSync, mkdirSync, openSync, writeSync } from "node:fs";
import { join } from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterEach, beforeAll, expect, test } from "vitest";
import sheetSchema from "../../server/report/schemas/sheet.schema.json" with { type: "json" };
import { roadTest, written } from "../recording/recordings.ts";
import { type Folder, buildCommandLine, folderOf, program } from "./tappet.ts";

const BUILD = `engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  redline: 6500 rpm
}

build wren-hill-4 on dunlin-18 {
  log "runs/hill.csv" on 2027-06-12 { time: "Time"; rpm: "Engine Speed"; throttle: "Throttle"; manifold: "Manifold"; oil-pressure: "Oil P"; coolant: "Coolant" }
}
`;
const ROWS = roadTest(90);

const folders: Folder[] = [];
const folder = (files: Readonly<Record<string, string | Uint8Array>>): Folder => {
  const made = folderOf(files);
  folders.push(made);
  return made;
};
afterEach(() => {
  for (const f of folders.splice(0)) f.remove();
});
beforeAll(buildCommandLine);

test("a recording beside a build is checked with it", () => {
  const { code, out, err } = folder({ "build.tappet": BUILD, "runs/hill.csv": written(ROWS) }).run(["check", "build.tappet"]);
  expect([code, err]).toEqual([0, ""]);
  expect(out).toMatch(/build\.tappet:8:\d+: warning: redline-exceeded: In the recording "runs\/hill\.csv" the engine reached \d+ rpm at [\d.]+ s, for [\d.]+ s/);
});

test("semicolons and decimal commas change nothing", () => {
  const points = folder({ "build.tappet": BUILD, "runs/hill.csv": written(ROWS) }).run(["check", "build.tappet"]).out;
  expect(folder({ "build.tappet": BUILD, "runs/hill.csv": written(ROWS, { delimiter: ";", decimal: ",", newline: "\r\n" }) }).run(["check", "build.tappet"]).out).toBe(points);
});

test("60 MB are read with 48 MB of memory to live in", () => {
  const f = folder({ "build.tappet": BUILD });
  mkdirSync(join(f.path, "runs"));
  const [head, ...lines] = written(ROWS).trimEnd().split("\n");
  const body = `${lines.join("\n")}\n`;
  const file = openSync(join(f.path, "runs/hill.csv"), "w");
  writeSync(file, `${head}\n`);
  let rounds = 0;
  for (let size = 0; size < 60e6; size += body.length, rounds++) writeSync(file, body);
  closeSync(file);
  const ran = spawnSync(process.execPath, ["--max-old-space-size=48", program, "sheet", "build.tappet", "--format", "json"], { cwd: f.path, encoding: "utf8", maxBuffer: 1 << 26 });
  expect(ran.stderr).toBe("");
  const sheet = JSON.parse(ran.stdout);
  const valid = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true }).compile(sheetSchema);
  expect(valid(sheet), JSON.stringify(valid.errors?.slice(0, 3))).toBe(true);
  expect(sheet.recordings[0]).toMatchObject({ problem: null, rows: rounds * ROWS.length });
  // Each round begins its clock anew, and that is said.
  expect(sheet.findings.map((x: { rule: string }) => x.rule)).toContain("recording-doubtful");
});

test("what is no text in UTF-8, is not there or lies outside is refused in a sentence, and the check goes on", () => {
  const utf16 = Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(written(ROWS), "utf16le")]);
  const said = (files: Readonly<Record<string, string | Uint8Array>>, build = BUILD) => folder({ "build.tappet": build, ...files }).run(["check", "build.tappet"]);
  for (const [files, words] of [
    [{}, "is not there"], [{ "runs/hill.csv": utf16 }, "is written in UTF-16. Save it as UTF-8"], [{ "runs/hill.csv": Buffer.from([0x54, 0xb0, 0x2c, 0x00, 0x0a]) }, "is not text in UTF-8"],
    [{ "runs/hill.csv": "" }, "is empty"], [{ "runs/hill.csv": "<html>\n" }, "is no table of comma-separated text"],
  ] as const) {
    const { code, out, err } = said(files);
    expect([code, err]).toEqual([0, ""]);
    expect(out).toContain(`warning: recording-unreadable: "runs/hill.csv" ${words}`);
  }
  expect(said({}, BUILD.replace("runs/hill.csv", "../../../etc/hostname")).out).toContain("outside the opened folder");
});

test("a comparison of revisions holds each side's limits against the recording, and says which findings came", () => {
  const f = folderOf({ "build.tappet": BUILD.replace("6500", "7500"), "runs/hill.csv": written(ROWS) }, false);
  folders.push(f);
  const git = (...args: readonly string[]) => {
    const ran = spawnSync("git", ["-c", "user.name=M. A.", "-c", "user.email=m@combe.invalid", ...args], { cwd: f.path, encoding: "utf8" });
    if (ran.status !== 0) throw new Error(ran.stderr);
  };
  git("init", "-q");
  git("add", ".");
  git("commit", "-qm", "Recorded");
  expect(f.run(["diff", "--git", "HEAD"]).out).not.toContain("redline-exceeded");
  f.write("build.tappet", BUILD);
  const { out } = f.run(["diff", "--git", "HEAD"]);
  expect(out).toContain("redline-exceeded");
  expect(out).not.toContain("has not been read");
});
