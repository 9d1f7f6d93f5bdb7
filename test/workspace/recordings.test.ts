// Recordings in a workspace: after any edits, and once what is wanted has been read, it knows what reading everything anew would tell.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findingJson, printJson } from "../../server/report/findings-json.ts";
import { atlasOf } from "../../server/report/place.ts";
import { sheetJson } from "../../server/report/sheet-json.ts";
import { type Analysis, analyse } from "../../server/workspace/analyse.ts";
import { makeSheet } from "../../server/workspace/build-sheet.ts";
import { type Host, memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { readRecording, recordingsOf, withRecordings } from "../../server/workspace/recordings.ts";
import { createWorkspace } from "../../server/workspace/workspace.ts";
import { roadTest, written } from "../recording/recordings.ts";

const AS_OF = "2027-07-01";
const BUILD = "file:///w/build.tappet";
const CSV = "file:///w/runs/hill.csv";
const OTHER = "file:///w/runs/other.csv";
const TEXT = `engine dunlin-18 { source: "workshop manual"; cylinders: 4
  redline: 6500 rpm
}
build wren-hill-4 on dunlin-18 {
  fuel: petrol
  log "runs/hill.csv" on 2027-06-12 { time: "Time"; rpm: "Engine Speed"; throttle: "Throttle"; afr: "Wideband" }
}
`;
const SHORT = written(roadTest(40));

function told(analysis: Analysis): string {
  const atlas = atlasOf(analysis.project, analysis.places, (uri) => uri);
  const result = analysis.fileResult(BUILD);
  return printJson({ findings: result?.findings.map((f) => findingJson(f, atlas)), waived: result?.waived.map((f) => findingJson(f, atlas)), sheets: result?.subjects.map((s) => sheetJson(makeSheet(analysis, s, (u) => u).input)) });
}

/** A host over texts that may change under it, as a disk does. */
function changingHost(disk: Map<string, string>): Host {
  const now = () => memoryHost(Object.fromEntries(disk));
  return { read: (uri) => now().read(uri), readData: (uri) => now().readData(uri), list: (uri) => now().list(uri), open: (uri) => now().open?.(uri) ?? Promise.resolve({ problem: "unreadable" }) };
}

async function settled(workspace: ReturnType<typeof createWorkspace>, host: Host): Promise<Analysis> {
  while (workspace.pending()) await workspace.settle();
  for (let next = workspace.unheard()[0]; next; next = workspace.unheard()[0]) workspace.hear(next, await readRecording(host, next));
  return workspace.analysis(AS_OF);
}

const EDITS: readonly (readonly [string, string])[] = [
  ["redline: 6500 rpm", "redline: 6000 rpm"], ["redline: 6000 rpm", "redline: 6500 rpm"], ['"Engine Speed"', '"Engine"'], ['"Engine"', '"Engine Speed"'], ["runs/hill.csv", "runs/other.csv"], ["runs/other.csv", "runs/hill.csv"],
  ["fuel: petrol", "fuel: petrol; limits { mixture: 12.9 afr }"], ["; limits { mixture: 12.9 afr }", ""], ['afr: "Wideband" }', 'afr: "Wideband"; dwell: 1.0 s }'], ["; dwell: 1.0 s", ""], ["log ", "lo "], ["lo ", "log "],
];

test("after any edits of the build and of the files, the same as from scratch", async () => {
  const step = fc.oneof(fc.record({ does: fc.constant("edit" as const), which: fc.nat(EDITS.length - 1) }), fc.record({ does: fc.constantFrom("write" as const, "remove" as const), seed: fc.integer({ min: 1, max: 3 }) }));
  await fc.assert(fc.asyncProperty(fc.array(step, { maxLength: 12 }), async (steps) => {
    const disk = new Map([[BUILD, TEXT], [CSV, SHORT]]);
    const host = changingHost(disk);
    const workspace = createWorkspace(host);
    workspace.setText(BUILD, TEXT);
    let text = TEXT;
    for (const s of steps) {
      if (s.does === "edit") {
        text = text.replace(...(EDITS[s.which] as [string, string]));
        workspace.setText(BUILD, text);
      } else {
        const uri = s.seed === 3 ? OTHER : CSV;
        if (s.does === "write") disk.set(uri, written(roadTest(20, 20, s.seed)));
        else disk.delete(uri);
        workspace.forget(uri);
      }
      if (s.does === "edit" && s.which % 2 === 0) await settled(workspace, host);
    }
    const remembered = told(await settled(workspace, host));
    disk.set(BUILD, text);
    expect(remembered).toBe(told(analyse(await withRecordings(host, await loadProject(host, [BUILD])), AS_OF)));
  }), { numRuns: 40 });
});

describe("a workspace", () => {
  test("keeps what was read while only a limit is typed, and says that it is not judged", async () => {
    const host = changingHost(new Map([[BUILD, TEXT], [CSV, SHORT]]));
    const workspace = createWorkspace(host);
    workspace.setText(BUILD, TEXT);
    const before = (await settled(workspace, host)).fileResult(BUILD);
    expect(before?.findings.map((f) => f.rule)).toContain("redline-exceeded");
    workspace.setText(BUILD, TEXT.replace("6500", "6000"));
    const subject = workspace.analysis(AS_OF).fileResult(BUILD)?.subjects.find((s) => s.build.subject.sort === "build");
    expect(subject?.sheet.byId.get("log.on-2027-06-12.most-rpm")?.interval).toEqual(before?.subjects.find((s) => s.build.subject.sort === "build")?.sheet.byId.get("log.on-2027-06-12.most-rpm")?.interval);
    expect(subject?.findings.map((f) => f.rule)).not.toContain("redline-exceeded");
    expect(subject?.unchecked.map((u) => u.what)).toEqual(['the recording "runs/hill.csv" against the limits as they are now']);
    expect((await settled(workspace, host)).fileResult(BUILD)?.findings.map((f) => f.message).join()).toContain("over the redline of 6000 rpm");
  });

  test("knows which builds name a recording", () => {
    const workspace = createWorkspace(changingHost(new Map()));
    workspace.setText(BUILD, TEXT);
    expect(workspace.usersOf(CSV)).toContain(BUILD);
    expect(workspace.usersOf(OTHER)).not.toContain(BUILD);
  });

  test("asks for each file and question once", () => {
    const workspace = createWorkspace(changingHost(new Map()));
    const log = TEXT.split("\n").find((l) => l.includes("log ")) as string;
    workspace.setText(BUILD, TEXT.replace(log, `${log}\n${log}`));
    expect(workspace.unheard()).toHaveLength(1);
  });
});

describe("reading", () => {
  const wanted = async (host: Host) => recordingsOf(await loadProject(host, [BUILD]))[0] as NonNullable<ReturnType<typeof recordingsOf>[number]>;
  test("stops when it is told to, and closes what it opened", async () => {
    let closed = false;
    const host: Host = {
      ...memoryHost({ [BUILD]: TEXT }),
      open: () => Promise.resolve({ size: undefined, pieces: (async function* () { try { for (;;) yield await Promise.resolve({ text: "1,2,3\n", bytes: 6 }); } finally { closed = true; } })() }),
    };
    let pieces = 0;
    expect(await readRecording(host, await wanted(host), { cancelled: () => ++pieces > 5 })).toEqual({ problem: { sort: "cancelled" } });
    expect(closed).toBe(true);
  });
  test("ends at the first thing that nobody can be sure of", async () => {
    const text = `Time (s),Engine Speed\n0.5,"3,500"\n${"1,3000\n".repeat(200000)}`;
    const host = memoryHost({ [BUILD]: TEXT, [CSV]: text });
    let last = 0;
    expect(await readRecording(host, await wanted(host), { progress: (_share, read) => { last = read; } })).toMatchObject({ problem: { sort: "marks" } });
    expect(last).toBeLessThan(text.length / 2);
  });
  test("says its share as it goes, up to all of it", async () => {
    const host = memoryHost({ [BUILD]: TEXT, [CSV]: written(roadTest(600)) });
    const shares: number[] = [];
    await readRecording(host, await wanted(host), { progress: (share) => { if (share !== undefined) shares.push(share); } });
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
  });
});
