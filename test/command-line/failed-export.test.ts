/** A sheet or a laid-out file that cannot be written whole leaves the old one. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { buildCommandLine, program } from "./tappet.ts";

const folder = mkdtempSync(join(tmpdir(), "tappet-full-"));
const build = join(import.meta.dirname, "../../samples/builds/wren-hill-3.tappet");

beforeAll(() => buildCommandLine());
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** With room for eight blocks in any file, as on a disk that is full soon after; a signal that nobody handles would end the program instead. */
function inNoRoom(...args: readonly string[]) {
  return spawnSync("/bin/sh", ["-c", 'trap "" XFSZ; ulimit -f 8; exec "$@"', "sh", process.execPath, program, ...args], { encoding: "utf8", cwd: folder, env: { ...process.env, NODE_DISABLE_COMPILE_CACHE: "1" } });
}

test.skipIf(process.platform === "win32")("a sheet that finds no room is refused in a sentence, and the old sheet stands", () => {
  const target = join(folder, "sheet.html");
  writeFileSync(target, "the old sheet");
  const { status, stderr } = inNoRoom("sheet", build, "--format", "html", "-o", target);
  expect([status, stderr]).toEqual([2, expect.stringMatching(/^tappet: .*sheet\.html.* could not be written\.\n$/)]);
  expect(readFileSync(target, "utf8")).toBe("the old sheet");
  expect(readdirSync(folder)).toEqual(["sheet.html"]);
});

test.skipIf(process.platform === "win32")("a file that finds no room to be laid out in keeps its text", () => {
  const text = `engine e {\n${"      cylinders:4\n".repeat(400)}}\n`;
  const target = join(folder, "e.tappet");
  writeFileSync(target, text);
  const { status } = inNoRoom("format", target);
  expect(status).toBe(2);
  expect(readFileSync(target, "utf8")).toBe(text);
});
