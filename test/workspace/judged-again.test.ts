/** After an edit only some rules are asked again; judging everything anew is what that must come to, to the letter. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findingJson, printJson } from "../../server/report/findings-json.ts";
import { atlasOf } from "../../server/report/place.ts";
import { sheetJson } from "../../server/report/sheet-json.ts";
import { type Analysis, analyse } from "../../server/workspace/analyse.ts";
import { makeSheet } from "../../server/workspace/build-sheet.ts";
import { memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { createWorkspace } from "../../server/workspace/workspace.ts";
import { sampleTexts } from "./corpus.ts";

const AS_OF = "2027-06-01";
const TEXTS = sampleTexts();

/** What a hand does to a figure, a word or a line, and mostly takes back. */
interface Slip {
  readonly at: number;
  readonly cut: number;
  readonly text: string;
  readonly back: boolean;
}

const slip: fc.Arbitrary<Slip> = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
  cut: fc.oneof({ weight: 4, arbitrary: fc.constant(0) }, { weight: 3, arbitrary: fc.constant(1) }, { weight: 1, arbitrary: fc.nat(40) }),
  text: fc.constantFrom("0", "0", "1", "9", ".", "-", " ", "\n", "mm", " in", "x", "{", "}", '"', "// so\n", "note \"n\"\n", "lash: 0.20 mm cold\n", "redline: 9000 rpm\n", "fit retainer { mass: 9 g }\n", ""),
  back: fc.boolean(),
});

/** Half of the slips fall on a digit, where most typing is done. */
function place(text: string, at: number, onDigit: boolean): number {
  const from = Math.floor(at * text.length);
  if (!onDigit) return from;
  const digit = text.slice(from).search(/\d/);
  return digit < 0 ? from : from + digit;
}

function findings(analysis: Analysis, uri: string): string {
  const atlas = atlasOf(analysis.project, analysis.places, (u) => u);
  const result = analysis.fileResult(uri);
  return printJson({ open: result?.findings.map((f) => findingJson(f, atlas)), waived: result?.waived.map((f) => findingJson(f, atlas)), unchecked: result?.subjects.map((s) => s.unchecked) });
}

function fixes(analysis: Analysis, uri: string): string {
  return JSON.stringify(analysis.fileResult(uri)?.findings.map((f) => [f.rule, f.fixes.map((fix) => [fix.title, fix.edits.map((e) => [analysis.places.placeOf(e.tree), e.span, e.text])]), f.amount]));
}

function sheets(analysis: Analysis, uri: string): string {
  return printJson(analysis.fileResult(uri)?.subjects.map((s) => sheetJson(makeSheet(analysis, s, (u) => u).input)));
}

async function holds(uri: string, edited: string, slips: readonly Slip[]): Promise<void> {
  const texts = { ...TEXTS };
  const workspace = createWorkspace(memoryHost(texts));
  workspace.setText(uri, texts[uri] as string);
  if (edited !== uri) workspace.setText(edited, texts[edited] as string);
  await workspace.settle();
  workspace.analysis(AS_OF).fileResult(uri);
  const check = async (looks: boolean) => {
    const fast = workspace.analysis(AS_OF);
    const slow = analyse(await loadProject(memoryHost(texts), [uri]), AS_OF);
    expect(findings(fast, uri)).toBe(findings(slow, uri));
    expect(fixes(fast, uri)).toBe(fixes(slow, uri));
    if (looks) expect(sheets(fast, uri)).toBe(sheets(slow, uri));
  };
  for (const [i, { at, cut, text, back }] of slips.entries()) {
    const before = texts[edited] as string;
    const from = place(before, at, i % 2 === 0);
    texts[edited] = before.slice(0, from) + text + before.slice(from + cut);
    workspace.setText(edited, texts[edited] as string);
    await workspace.settle();
    await check(i % 4 === 3);
    if (!back) continue;
    texts[edited] = before;
    workspace.setText(edited, before);
    await workspace.settle();
    await check(false);
  }
}

const BUILDS = Object.keys(TEXTS).filter((uri) => uri.includes("/builds/") || uri.includes("/stories/"));
const RUNS = Number(process.env["TAPPET_EDIT_RUNS"] ?? 1);

describe("a build that is edited", () => {
  test.each(BUILDS)("%s: is judged as if it were read anew", async (uri) => {
    await fc.assert(fc.asyncProperty(fc.array(slip, { minLength: 6, maxLength: 8 }), (slips) => holds(uri, uri, slips)), { seed: 20270601, numRuns: RUNS, endOnFailure: true });
  });

  test.each(BUILDS)("%s: is judged so after an edit of its engine", async (uri) => {
    const engine = /use "([^"]*engines[^"]*)"/.exec(TEXTS[uri] as string)?.[1];
    const edited = engine === undefined ? uri : new URL(engine, uri).href;
    expect(TEXTS[edited]).toBeDefined();
    await fc.assert(fc.asyncProperty(fc.array(slip, { minLength: 4, maxLength: 4 }), (slips) => holds(uri, edited, slips)), { seed: 20270602, numRuns: RUNS, endOnFailure: true });
  });
});
