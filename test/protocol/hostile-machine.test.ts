/** Clients and disks that do not play by the rules: floods, broken messages, sudden ends, links that lead in circles, files that are devices. */
import { execFileSync, spawn } from "node:child_process";
import { mkdirSync, rmSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { diskHost, uriOfPath } from "../../server/workspace/disk-host.ts";
import { BUILT_SERVER, folderOf, startServer } from "../support/client.ts";

/** How a server ends that is sent these bytes, and then nothing more. */
function endOf(bytes: string): Promise<{ readonly code: number | null; readonly signal: string | null; readonly said: string }> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [BUILT_SERVER, "--stdio"], { stdio: ["pipe", "pipe", "pipe"] });
    let said = "";
    child.stdout.on("data", (data: Buffer) => (said += data.toString()));
    child.stderr.resume();
    child.stdin.on("error", () => {});
    child.once("exit", (code, signal) => resolve({ code, signal, said }));
    child.stdin.end(bytes);
  });
}

const message = (body: string) => `Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`;

describe("a client that breaks the protocol", () => {
  test.each([
    ["says what is no message", "hello, hello\r\n\r\nhello"], ["gives no length that is a number", "Content-Length: abc\r\n\r\n{}"], ["promises more than it sends", "Content-Length: 99999999\r\n\r\n{}"],
    ["sends what is no JSON", message("{bad}")], ["sends nothing", message("null")], ["sends a list", message("[1,2]")], ["asks before it begins", message('{"jsonrpc":"2.0","id":1,"method":"textDocument/hover","params":{}}')],
    ["ends at once", ""],
  ])("and %s leaves no server behind", async (_, bytes) => {
    const { signal } = await endOf(bytes);
    expect(signal).toBe(null);
  });
});

describe("a client that floods", () => {
  test("with edits and questions gets the last answer right", async () => {
    const folder = folderOf({});
    const client = await startServer({ folders: [folder.uri], pulls: true });
    const uri = folder.uriOf("flood.tappet");
    client.open(uri, 'engine e {\n  source: "x"\n  cylinders: 4\n  bore: 8 mm\n}\n');
    const asked: Promise<unknown>[] = [];
    for (let i = 0; i < 3000; i++) {
      client.edit(uri, { start: { line: 3, character: 9 }, end: { line: 3, character: 9 } }, "0");
      client.edit(uri, { start: { line: 3, character: 9 }, end: { line: 3, character: 10 } }, "");
      asked.push(client.pull(uri));
    }
    client.edit(uri, { start: { line: 3, character: 8 }, end: { line: 3, character: 9 } }, "83");
    await Promise.all(asked);
    expect(await client.pull(uri)).toEqual([]);
    expect(client.complaints()).toEqual([]);
    await client.stop();
    folder.remove();
  });
});

describe.skipIf(process.platform === "win32")("a disk with odd things on it", () => {
  test("is searched once, whatever its links lead to, and no device or pipe is read", async () => {
    const folder = folderOf({ "a/build.tappet": "engine e {\n}\n" });
    symlinkSync(folder.path, join(folder.path, "a", "loop"));
    symlinkSync("b.tappet", join(folder.path, "c.tappet"));
    symlinkSync("c.tappet", join(folder.path, "b.tappet"));
    symlinkSync("/dev/zero", join(folder.path, "zero.tappet"));
    execFileSync("mkfifo", [join(folder.path, "pipe.tappet")]);
    mkdirSync(join(folder.path, "folder.tappet"));
    const host = diskHost([folder.path]);
    const listed = await host.list(folder.uri);
    expect("uris" in listed && listed.uris.filter((uri) => uri.includes("build.tappet"))).toEqual([folder.uriOf("a/build.tappet")]);
    const read = async (name: string) => host.read(uriOfPath(join(folder.path, name)));
    expect(await read("c.tappet")).toEqual({ problem: "unreadable" });
    expect(await read("zero.tappet")).toEqual({ problem: "outside" });
    expect(await read("pipe.tappet")).toEqual({ problem: "unreadable" });
    expect(await read("folder.tappet")).toEqual({ problem: "unreadable" });
    const client = await startServer({ folders: [folder.uri], pulls: true });
    const uri = folder.uriOf("main.tappet");
    client.open(uri, ["c", "zero", "pipe", "folder"].map((n) => `use "${n}.tappet"\n`).join(""));
    expect((await client.pull(uri)).map((d) => d.code)).toEqual(["missing-file", "missing-file", "missing-file", "missing-file"]);
    await client.stop();
    folder.remove();
  });

  test("from which a folder vanishes while it is listed and read gives what is left", async () => {
    const files = Object.fromEntries(Array.from({ length: 300 }, (_, i) => [`d${i % 10}/f${i}.tappet`, "engine e {\n}\n"]));
    const folder = folderOf(files);
    const host = diskHost([folder.path]);
    const listing = host.list(folder.uri);
    for (let i = 0; i < 5; i++) rmSync(join(folder.path, `d${i}`), { recursive: true });
    const listed = await listing;
    const uris = "uris" in listed ? listed.uris : [];
    const readings = Promise.all(Object.keys(files).map((name) => host.read(folder.uriOf(name))));
    for (let i = 5; i < 10; i++) rmSync(join(folder.path, `d${i}`), { recursive: true });
    for (const reading of await readings) expect("text" in reading ? reading.text : reading.problem).toMatch(/^(engine e \{\n\}\n|missing)$/);
    expect(uris.length).toBeLessThanOrEqual(300);
    folder.remove();
  });
});
