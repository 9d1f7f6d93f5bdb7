/** Files of figures that a part names: read with it, looked at again when they change, never from outside. */
import { mkdtempSync, mkdirSync, realpathSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, test } from "vitest";
import { linksOf } from "../../server/editor/links.ts";
import { analyse } from "../../server/workspace/analyse.ts";
import { diskHost, uriOfPath } from "../../server/workspace/disk-host.ts";
import { LARGEST_FILE, memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { createWorkspace } from "../../server/workspace/workspace.ts";

const AS_OF = "2027-06-01";
const BUILD = "file:///w/builds/b.tappet";
const LOBE = "file:///w/parts/lobes/in%20take.csv";
const HEAD = "angle (deg crank),lift (mm at lobe)\n";
const whole = (peak: number) => HEAD + Array.from({ length: 33 }, (_, i) => `${-80 + 5 * i},${((peak / 2) * (1 + Math.cos((Math.PI * (-80 + 5 * i)) / 80))).toFixed(4)}\n`).join("");
const TEXTS = {
  [BUILD]: 'use "../parts/shaft.tappet"\nengine e { source: "manual"; cylinders: 1; valve-gear { intake { rocker-ratio: 1.5 } } }\nbuild b on e { interference: no; fit shaft }\n',
  "file:///w/parts/shaft.tappet": 'part camshaft shaft for any {\n  source: "machine"\n  intake { centreline: 109 deg crank; lobe { file: "lobes/in take.csv" } }\n}\n',
};
const lift = (analysis: ReturnType<typeof analyse>) => analysis.fileResult(BUILD)?.subjects[1]?.sheet.byId.get("lobe.intake.lift")?.interval?.nominal;
const rules = (analysis: ReturnType<typeof analyse>, uri: string) => analysis.fileResult(uri)?.findings.map((f) => f.rule);

describe("a workspace", () => {
  test("reads a lobe beside the part that names it, and reads it again when it has changed", async () => {
    const disk: Record<string, string> = { ...TEXTS, [LOBE]: whole(7) };
    const workspace = createWorkspace({ read: (uri) => memoryHost(disk).read(uri), readData: (uri) => memoryHost(disk).readData(uri), list: (uri) => memoryHost(disk).list(uri) });
    workspace.setText(BUILD, TEXTS[BUILD] as string);
    expect(workspace.pending()).toBe(true);
    await workspace.settle();
    expect(workspace.pending()).toBe(false);
    expect(lift(workspace.analysis(AS_OF))).toBeCloseTo(0.007, 9);

    const before = workspace.analysis(AS_OF).fileResult(BUILD)?.subjects[1]?.build;
    workspace.setText(BUILD, `// a line above\n${TEXTS[BUILD]}`);
    expect(workspace.analysis(AS_OF).fileResult(BUILD)?.subjects[1]?.build).toBe(before);

    disk[LOBE] = whole(8);
    expect(workspace.usersOf(LOBE)).toContain(BUILD);
    workspace.forget(LOBE);
    expect(workspace.pending()).toBe(true);
    await workspace.settle();
    expect(lift(workspace.analysis(AS_OF))).toBeCloseTo(0.008, 9);

    delete disk[LOBE];
    workspace.forget(LOBE);
    await workspace.settle();
    expect(lift(workspace.analysis(AS_OF))).toBeUndefined();
    expect(rules(await workspace.whole(AS_OF), "file:///w/parts/shaft.tappet")).toEqual(["missing-file"]);
  });

  test("tells what reading everything anew tells", async () => {
    const disk = { ...TEXTS, [LOBE]: whole(7) };
    const workspace = createWorkspace(memoryHost(disk));
    workspace.setText(BUILD, TEXTS[BUILD] as string);
    await workspace.settle();
    const scratch = analyse(await loadProject(memoryHost(disk), [BUILD]), AS_OF);
    expect(lift(scratch)).toBe(lift(workspace.analysis(AS_OF)));
    expect(rules(scratch, BUILD)).toEqual(rules(workspace.analysis(AS_OF), BUILD));
  });

  test("refuses a table that is too large", async () => {
    const project = await loadProject(memoryHost({ ...TEXTS, [LOBE]: " ".repeat(LARGEST_FILE + 1) }), [BUILD]);
    expect(project.data?.get(LOBE)).toEqual({ problem: "too-large" });
  });

  test("links to it", async () => {
    const project = await loadProject(memoryHost({ ...TEXTS, [LOBE]: whole(7) }), [BUILD]);
    const file = project.files.get("file:///w/parts/shaft.tappet");
    expect(file && linksOf(file)).toMatchObject([{ path: "lobes/in take.csv", target: LOBE }]);
  });
});

describe("a disk", () => {
  const made: string[] = [];
  afterEach(() => made.splice(0).forEach((path) => rmSync(path, { recursive: true, force: true })));

  test("is not read outside the opened folder, by a path or by a link", async () => {
    const top = realpathSync(mkdtempSync(join(tmpdir(), "tappet-")));
    made.push(top);
    mkdirSync(join(top, "w"));
    writeFileSync(join(top, "secret.csv"), whole(7));
    symlinkSync(join(top, "secret.csv"), join(top, "w", "link.csv"));
    const text = (path: string) => `part camshaft x for any { source: "m"\n intake { lobe { file: "${path}" } } }\n`;
    writeFileSync(join(top, "w", "a.tappet"), text("../secret.csv"));
    writeFileSync(join(top, "w", "b.tappet"), text("link.csv"));
    const uris = ["a", "b"].map((name) => uriOfPath(join(top, "w", `${name}.tappet`)));
    const project = await loadProject(diskHost([join(top, "w")]), uris);
    expect([...(project.data?.values() ?? [])].map((file) => ("problem" in file ? file.problem : "read"))).toEqual(["outside", "outside"]);
    const analysis = analyse(project, AS_OF);
    for (const uri of uris) expect(rules(analysis, uri)).toEqual(["missing-file"]);
  });
});
