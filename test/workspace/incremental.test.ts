/** The slow way is the meaning of the fast one: after any edits, a workspace knows what reading everything anew would tell. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findingJson, printJson } from "../../server/report/findings-json.ts";
import { atlasOf } from "../../server/report/place.ts";
import { sheetJson } from "../../server/report/sheet-json.ts";
import { type Analysis, analyse } from "../../server/workspace/analyse.ts";
import { makeSheet } from "../../server/workspace/build-sheet.ts";
import { type Host, memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { createWorkspace } from "../../server/workspace/workspace.ts";
import { sampleTexts } from "./corpus.ts";

const AS_OF = "2027-06-01";
const NAMES = Object.keys(sampleTexts());

/** Everything that is said of these files: findings open and waived, and the sheets. */
function told(analysis: Analysis, uris: readonly string[]): string {
  const atlas = atlasOf(analysis.project, analysis.places, (uri) => uri);
  return printJson(
    uris.map((uri) => {
      const result = analysis.fileResult(uri);
      return {
        uri,
        findings: result?.findings.map((f) => findingJson(f, atlas)),
        waived: result?.waived.map((f) => findingJson(f, atlas)),
        sheets: result?.subjects.map((s) => sheetJson(makeSheet(analysis, s, (u) => u).input)),
      };
    }),
  );
}

type Step =
  | { readonly does: "open"; readonly file: number }
  | { readonly does: "close"; readonly file: number }
  | { readonly does: "remove"; readonly file: number }
  | { readonly does: "restore"; readonly file: number }
  | { readonly does: "edit"; readonly file: number; readonly at: number; readonly cut: number; readonly text: string }
  | { readonly does: "copy" | "drop"; readonly file: number; readonly line: number; readonly lines: number; readonly to: number };

const file = fc.nat(NAMES.length - 1);
const place = fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true });
const WRITTEN = [
  "", " ", "\n", "}", "{", '"', "/*", "*/", "//", ";", "…", "3", ".", "mm", " mm", " in", " cold", "lash: 0.20 mm cold", "fit ridgeway-272\n", "waive lash-tight because \"x\" until 2030-01-01\n",
  'use "../parts/ridgeway.tappet"\n', 'use "nowhere.tappet"\n', "\nbuild b on dunlin-18 {\n}\n", "\nengine dunlin-18 { cylinders: 4 }\n", "dunlin-18", "𝛑", "\r\n", "\t",
];
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 6, arbitrary: fc.record({ does: fc.constant("edit" as const), file, at: place, cut: fc.oneof(fc.constant(0), fc.nat(6), fc.nat(60)), text: fc.constantFrom(...WRITTEN) }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constantFrom("copy" as const, "drop" as const), file, line: fc.nat(60), lines: fc.integer({ min: 1, max: 20 }), to: fc.nat(60) }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constantFrom("open" as const, "close" as const), file }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constantFrom("remove" as const, "restore" as const), file }) },
);

/** A host over texts that may change under it, as a disk does. */
function changingHost(disk: Map<string, string>): Host {
  return { read: (uri) => memoryHost(Object.fromEntries(disk)).read(uri), readData: (uri) => memoryHost({}).readData(uri), list: (uri) => memoryHost(Object.fromEntries(disk)).list(uri) };
}

function edited(text: string, s: Extract<Step, { does: "edit" | "copy" | "drop" }>): string {
  if (s.does === "edit") {
    const at = Math.floor(s.at * (text.length + 1));
    return text.slice(0, at) + s.text + text.slice(at + s.cut);
  }
  const lines = text.split("\n");
  const from = s.line % lines.length;
  if (s.does === "drop") return [...lines.slice(0, from), ...lines.slice(from + s.lines)].join("\n");
  const to = s.to % lines.length;
  return [...lines.slice(0, to), ...lines.slice(from, from + s.lines), ...lines.slice(to)].join("\n");
}

async function holds(steps: readonly Step[]): Promise<void> {
  const disk = new Map(Object.entries(sampleTexts()));
  const host = changingHost(disk);
  const workspace = createWorkspace(host);
  const open = new Map<string, string>();
  const set = (uri: string, text: string) => {
    open.set(uri, text);
    workspace.setText(uri, text);
  };
  for (const s of steps) {
    const uri = NAMES[s.file] as string;
    if (s.does === "remove" || s.does === "restore") {
      if (s.does === "remove") disk.delete(uri);
      else disk.set(uri, sampleTexts()[uri] as string);
      workspace.forget(uri);
    } else if (s.does === "close") {
      if (open.delete(uri)) workspace.close(uri);
    } else {
      const text = open.get(uri) ?? disk.get(uri) ?? "";
      set(uri, s.does === "open" ? text : edited(text, s));
    }
    await workspace.settle();
    const uris = [...open.keys()].sort();
    // An editor asks for the file it shows, and asks of the rest later or never.
    const fast = workspace.analysis(AS_OF);
    if (s.file % 2 === 0) told(fast, [uri]);
    const scratch = await loadProject({ ...host, read: (u) => (open.has(u) ? Promise.resolve({ text: open.get(u) as string }) : host.read(u)) }, uris);
    expect(told(fast, uris)).toBe(told(analyse(scratch, AS_OF), uris));
  }
}

describe("a workspace that is edited", () => {
  test("tells of the samples, opened one after the other, what reading them anew tells", async () => {
    await holds(NAMES.map((_, i) => ({ does: "open" as const, file: i })));
  });

  test("tells after every edit what reading everything anew tells", async () => {
    await fc.assert(fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 12 }), holds), { seed: 20270314, numRuns: 40 });
  });

  test("tells two declarations of the same text apart", async () => {
    const uri = "file:///main.tappet";
    const one = 'part camshaft x for dunlin-18 { lash: }\n\n';
    const workspace = createWorkspace(memoryHost({}));
    for (const text of [one, one + one, `// first\n${one}${one}${one}`, one + one, `${one}// between\n${one}`]) {
      workspace.setText(uri, text);
      const scratch = await loadProject(memoryHost({ [uri]: text }), [uri]);
      expect(told(workspace.analysis(AS_OF), [uri])).toBe(told(analyse(scratch, AS_OF), [uri]));
    }
  });

  test("looks again at what depends on the day when the day has changed", () => {
    const uri = "file:///main.tappet";
    const workspace = createWorkspace(memoryHost({}));
    workspace.setText(uri, 'engine e {\n  source: "x"\n  cylinders: 4\n  redline: 65000 rpm\n  waive decimal-slip because "a toy" until 2027-06-01\n}\n');
    const rules = (asOf: string) => workspace.analysis(asOf).fileResult(uri)?.findings.map((f) => f.rule);
    expect(rules("2027-04-01")).toEqual([]);
    expect(rules("2027-06-01")).toEqual(["waiver-expiring"]);
    expect(rules("2027-06-02")).toEqual(["decimal-slip", "waiver-expired"]);
    expect(rules("2027-04-01")).toEqual([]);
  });

  test("keeps what it knows of a declaration that an edit did not touch", () => {
    const uri = "file:///samples/engines/dunlin-18.tappet";
    const text = sampleTexts()[uri] as string;
    const workspace = createWorkspace(memoryHost(sampleTexts()));
    workspace.setText(uri, text);
    const before = workspace.analysis(AS_OF).fileResult(uri);
    workspace.setText(uri, `// a line above\n\n${text}`);
    const after = workspace.analysis(AS_OF).fileResult(uri);
    expect(after?.subjects[0]?.build).toBe(before?.subjects[0]?.build);
  });
});
