/** What the runtime made of the code is kept between starts, in the user's own cache folder; damage to it changes nothing. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { cacheFolder } from "../../server/compiled-code.ts";
import { buildCommandLine, program } from "./tappet.ts";

const folder = mkdtempSync(join(tmpdir(), "tappet-cache-"));
const build = join(import.meta.dirname, "../../samples/builds/wren-hill-3.tappet");

beforeAll(() => buildCommandLine());
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function check(cache: string, path = build): { readonly status: number | null; readonly said: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, "check", "--as-of", "2027-12-24", path], { encoding: "utf8", env: { ...process.env, XDG_CACHE_HOME: cache, LOCALAPPDATA: cache } });
  return { status, said: stdout + stderr };
}

const entries = (): readonly string[] => readdirSync(folder, { recursive: true, encoding: "utf8" }).map((name) => join(folder, name)).filter((path) => statSync(path).isFile());

/** With one page of the file gone, in the middle of what the runtime would run. */
function holed(sound: Buffer): Buffer {
  const page = 4096;
  const start = Math.floor(sound.length / 2 / page) * page;
  return Buffer.from(sound).fill(0, start, start + page);
}

describe("the compiled code that is kept", () => {
  test("is written once, by a command that could run; and a damaged entry is thrown away and made anew", () => {
    expect(check(folder, join(folder, "none.tappet")).status).toBe(2);
    expect(entries()).toEqual([]);
    const first = check(folder);
    expect(first.status).toBe(0);
    expect(entries().length).toBe(1);
    for (const path of entries()) {
      const written = statSync(path).mtimeMs;
      expect(check(folder)).toEqual(first);
      expect(statSync(path).mtimeMs).toBe(written);
      const sound = readFileSync(path);
      for (const damaged of [Buffer.alloc(0), Buffer.from("no code at all"), sound.subarray(0, sound.length >> 1), holed(sound), Buffer.concat([sound.subarray(0, 64), Buffer.alloc(sound.length - 64, 0xff)])]) {
        writeFileSync(path, damaged);
        expect(check(folder)).toEqual(first);
        expect(readFileSync(path).equals(damaged)).toBe(false);
      }
    }
  });

  test("is done without where its folder cannot be made", () => {
    const file = join(folder, "a-file");
    writeFileSync(file, "");
    expect(check(join(file, "below")).status).toBe(0);
  });

  test("lies where the system keeps such things, and never where a command happens to run", () => {
    expect(cacheFolder("linux", {}, "/home/m")).toBe(join("/home/m", ".cache", "tappet"));
    expect(cacheFolder("linux", { XDG_CACHE_HOME: "/var/c" }, "/home/m")).toBe(join("/var/c", "tappet"));
    expect(cacheFolder("linux", { XDG_CACHE_HOME: "here" }, "/home/m")).toBe(join("/home/m", ".cache", "tappet"));
    expect(cacheFolder("darwin", {}, "/Users/m")).toBe(join("/Users/m", "Library", "Caches", "tappet"));
    expect(cacheFolder("win32", {}, "/home/m")).toBe(undefined);
    expect(cacheFolder("linux", {}, "")).toBe(undefined);
  });
});
