// The tune in a comparison: made for other figures by a change, its file swapped, and recorded anew.
import { expect, test } from "vitest";
import { placesOf } from "../../server/model/project.ts";
import { FITS, recordFix } from "../../server/rules/tune-record.ts";
import { compareStates } from "../../server/workspace/compare.ts";
import { comparisonText } from "../../server/report/comparison-text.ts";
import { tunesOf } from "../../server/sheet/tune.ts";
import { analyse } from "../../server/workspace/analyse.ts";
import { memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { AS_OF, WREN, nameOf, uriOf } from "../report/wren.ts";
import { compared, edited, onlyBuild, stateOf } from "./states.ts";

/** The workshop with a tune that carries the fingerprint of the engine as it stands. */
async function tuned(): Promise<Readonly<Record<string, string>>> {
  const state = await stateOf("x", WREN);
  const project = state.projects[0]?.project;
  if (!project) throw new Error("no project");
  const uri = uriOf("wren.tappet");
  const subject = analyse(project, AS_OF).fileResult(uri)?.subjects[0];
  if (!subject) throw new Error("no build");
  const [look] = tunesOf(subject.sheet, subject.data);
  const fix = look && recordFix(subject.build, subject.sheet, look, FITS);
  const start = placesOf(project).placeOf(subject.build.subject.tree)?.start ?? 0;
  if (!fix) throw new Error("no fix");
  // From the last to the first, so that places stay where they are.
  const text = [...fix.edits].reverse().reduce((now, e) => now.slice(0, start + e.span.start) + e.text + now.slice(start + e.span.end), WREN["wren.tappet"] as string);
  return { ...WREN, "wren.tappet": text };
}

test("a figure that the tune was made for makes it stale, and the finding names the change", async () => {
  const before = await tuned();
  const b = await onlyBuild(before, edited(before, "engines/dunlin.tappet", "stroke: 82.00 mm", "stroke: 84.00 mm"));
  expect(b.tune?.stale).toBe(true);
  const stale = b.findings.find((f) => f.rule === "tune-stale");
  expect([stale?.change, stale?.causes.map((n) => b.causes[n - 1]?.path)]).toEqual(["new", ["stroke"]]);
});

test("a figure respelt, a remark or layout leaves the tune as it was", async () => {
  const before = await tuned();
  const after = edited(before, "engines/dunlin.tappet", "stroke: 82.00 mm", "stroke:   8.2 cm // as the manual has it");
  expect((await compared(before, after)).builds).toEqual([]);
});

test("a tune file that holds other bytes is a change of its own", async () => {
  const texts = Object.fromEntries(Object.entries(WREN).map(([name, text]) => [uriOf(name), text]));
  const state = async (label: string, bytes: number[]) => {
    const given = Object.keys(texts).sort();
    const project = await loadProject(memoryHost(texts, { [uriOf("tunes/wren-2a.bin")]: new Uint8Array(bytes) }), given);
    return { label, projects: [{ project, given }], nameOf, keyOf: nameOf };
  };
  const c = compareStates(await state("before", [1, 2, 3]), await state("after", [1, 2, 4]), { asOf: AS_OF });
  expect(c.builds[0]?.causes.map((x) => x.path)).toEqual(["file tunes/wren-2a.bin"]);
  expect(comparisonText(c)).toContain('what "tunes/wren-2a.bin" holds');
});
