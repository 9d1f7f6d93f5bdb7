/** A check that is long enough to be divided, over shares and threads, prints what one that sees all files at once finds. */
import { spawnSync } from "node:child_process";
import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import manifest from "../../package.json" with { type: "json" };
import { checkJson, printJson } from "../../server/report/findings-json.ts";
import { checkAnnotations, checkPlain } from "../../server/report/findings-lines.ts";
import { checkSarif } from "../../server/report/findings-sarif.ts";
import { checkText } from "../../server/report/findings-text.ts";
import { RULES } from "../../server/rules/index.ts";
import { checkedFiles } from "../../server/workspace/checked-files.ts";
import { diskHost, pathOfUri } from "../../server/workspace/disk-host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { withRecordings } from "../../server/workspace/recordings.ts";
import { sharesOf } from "../../server/workspace/shares.ts";
import { BUILT_COMMAND_LINE, type Folder, folderOf } from "../support/client.ts";
import { sampleTexts } from "../workspace/corpus.ts";

const AS_OF = "2027-06-01";
/** Long remarks make a long check of few builds. */
const LONG = `// ${"as long as a shop's notes are ".repeat(800)}\n\n`;

function shop(): Record<string, string | Uint8Array> {
  const files: Record<string, string | Uint8Array> = Object.fromEntries(Object.entries(sampleTexts()).map(([uri, text]) => [uri.slice("file:///".length), text]));
  for (let i = 0; i < 40; i++) {
    files[`engines/engine-${i}.tappet`] = `${LONG}engine engine-${i} {\n  source: "manual"\n  cylinders: 4\n  redline: ${i % 7 === 0 ? 65000 : 6500} rpm\n  bore: 83 mm\n}\n`;
    files[`builds/build-${i}.tappet`] = `use "../engines/engine-${i}.tappet"\nuse "../shelf.tappet"\n\nbuild one on engine-${i} {\n  fit light\n  redline: 7300 rpm\n  waive missing-source because "known" until 2027-06-10\n  waive decimal-slip because "a toy" until 2028-01-01\n}\n`;
  }
  return {
    ...files,
    "shelf.tappet": 'part retainer light for any {\n  source: "box"\n  mas: 11 g\n}\n',
    // Declared in a file that is far away, or nowhere.
    "builds/astray.tappet": "build astray on engine-33 {\n  fit nothing-of-the-kind\n}\n",
    // Not used by the file it stands in, but by another.
    "builds/shelved.tappet": 'use "../engines/engine-1.tappet"\n\npart retainer heavy for engine-1 {\n  source: "box"\n}\n\nbuild own on engine-1 {\n}\n',
    "zz/user.tappet": 'use "../builds/shelved.tappet"\nuse "../nowhere.tappet"\n',
    "alone.tappet": 'part retainer loose for any {\n  source: "box"\n}\n\nengine lone {\n  source: "manual"\n  cylinders: 2\n}\n\nbuild other on lone {\n}\n',
    "round/a.tappet": 'use "b.tappet"\n', "round/b.tappet": 'use "a.tappet"\n',
    "broken.tappet": new Uint8Array([0xff, 0xfe, 0x00]),
  };
}

let folder: Folder;
beforeAll(() => void (folder = folderOf(shop())));
afterAll(() => folder.remove());

const run = (script: string, format: string) => spawnSync(process.execPath, [script, "check", "--as-of", AS_OF, "--format", format, "."], { cwd: folder.path, encoding: "utf8", maxBuffer: 1e8 });

async function expected(): Promise<Record<string, string>> {
  const host = diskHost([folder.path]);
  const listing = await host.list(folder.uri);
  const given = "uris" in listing ? listing.uris : [];
  const project = await withRecordings(host, await loadProject(host, given));
  const files = checkedFiles([{ project, given }], (uri) => (pathOfUri(uri) ?? uri).slice(folder.path.length + 1), AS_OF);
  const said = { rules: RULES.length, asOf: AS_OF };
  return {
    text: checkText(files, said), plain: checkPlain(files), github: checkAnnotations(files, said), json: printJson(checkJson(files, said)),
    sarif: printJson(checkSarif(files, { version: manifest.version, unread: ["broken.tappet is not UTF-8 text."] })),
  };
}

describe("a check of many files", () => {
  test("prints in every format what all files together come to", async () => {
    const wanted = await expected();
    expect(wanted["plain"]).toMatch(/astray.*unresolved-name.*engine-33/);
    expect(wanted["plain"]).toMatch(/alone.*unused-part/);
    expect(wanted["plain"]).not.toMatch(/shelved.*unused-part/);
    for (const [format, text] of Object.entries(wanted)) {
      const { stdout, stderr, status } = run(BUILT_COMMAND_LINE, format);
      expect(stdout).toBe(text);
      expect([stderr, status]).toEqual(["tappet: broken.tappet is not UTF-8 text.\n", 2]);
    }
  });

  test("prints the same where no other thread can be started", async () => {
    const elsewhere = mkdtempSync(join(tmpdir(), "tappet-threads-"));
    copyFileSync(BUILT_COMMAND_LINE, join(elsewhere, "tappet.cjs"));
    copyFileSync(BUILT_COMMAND_LINE.replace(".cjs", ".body.cjs"), join(elsewhere, "command-line.body.cjs"));
    const { stdout, stderr } = run(join(elsewhere, "tappet.cjs"), "text");
    rmSync(elsewhere, { recursive: true });
    expect(stdout).toBe((await expected())["text"]);
    expect(stderr).toBe("tappet: broken.tappet is not UTF-8 text.\n");
  });
});

describe("files in shares", () => {
  const file = fc.record({ name: fc.nat(30), uses: fc.array(fc.nat(30), { maxLength: 4 }), length: fc.nat(400) });
  test("stand in one share each, and there are no more shares than were asked for", () => {
    fc.assert(fc.property(fc.uniqueArray(file, { selector: (f) => f.name }), fc.integer({ min: 1, max: 9 }), (files, many) => {
      const given = files.map((f) => ({ uri: `file:///w/${f.name}.tappet`, text: `${f.uses.map((u) => `use "${u}.tappet"\n`).join("")}// ${"x".repeat(f.length)}` }));
      const shares = sharesOf(given, many);
      expect(shares.length).toBeLessThanOrEqual(many);
      expect(shares.flat().map((f) => f.uri).sort()).toEqual(given.map((f) => f.uri).sort());
    }));
  });
  test("go with what they use, and with others that use the same", () => {
    const given = Array.from({ length: 24 }, (_, i) => ({ uri: `file:///w/${i}.tappet`, text: i < 4 ? "" : `use "${i % 4}.tappet"\n` }));
    const shares = sharesOf(given, 4);
    expect(shares.map((share) => new Set(share.map(({ uri }) => Number(/(\d+)/.exec(uri)?.[1]) % 4)).size)).toEqual([1, 1, 1, 1]);
  });
});
