/** Prefixes of every sample, as someone types it from the top, and what holds of any text. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { format } from "../../grammar/printer.ts";
import { readSource } from "../../grammar/read.ts";
import { completionsAt } from "../../server/editor/completion.ts";
import { definitionsAt } from "../../server/editor/definition.ts";
import { fixesAt } from "../../server/editor/fixes.ts";
import { hoverAt } from "../../server/editor/hover.ts";
import { outlineOf } from "../../server/editor/outline.ts";
import { type Analysis, analyse } from "../../server/workspace/analyse.ts";
import { memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { createWorkspace } from "../../server/workspace/workspace.ts";
import { SAMPLES, sampleTexts } from "./corpus.ts";

const AS_OF = "2027-06-01";

/** What is wrong with the form of a file's findings: they lie within it, on one line, and have words and places. Nothing when all is well. */
function malformed(analysis: Analysis, uri: string): string | undefined {
  const text = analysis.project.files.get(uri)?.source.text ?? "";
  for (const f of analysis.fileResult(uri)?.findings ?? []) {
    const place = analysis.places.placeOf(f.at.tree);
    if (place?.uri !== uri) return `${f.rule} stands in ${place?.uri ?? "no file"}`;
    const start = place.start + f.at.span.start;
    const end = place.start + f.at.span.end;
    if (start < 0 || end < start || end > text.length) return `${f.rule} at ${start}..${end} of ${text.length}`;
    if (/[\r\n]/.test(text.slice(start, end))) return `${f.rule} on several lines`;
    if (!/\S/.test(f.message) || /undefined|NaN|\[object/.test(f.message)) return `${f.rule} says: ${f.message}`;
    const elsewhere = [...f.related.map((r) => r.at.tree), ...f.fixes.flatMap((fix) => fix.edits.map((e) => e.tree))];
    if (elsewhere.some((tree) => analysis.places.placeOf(tree) === undefined)) return `${f.rule} speaks of a place that is in no file`;
  }
  return undefined;
}

const WORD = /[\p{L}\d-]/u;

/** Places of one file that are analysed and answered; in a longer file they lie evenly over it. Every line's end is among them in any case. */
const MOST_PLACES = 900;

describe.each([...SAMPLES])("%s, typed from the top", (name, text) => {
  test("is read at every character, and analysed and answered at the ends of words, of all in a short file, and of lines", async () => {
    const uri = `file:///samples/${name}`;
    const ends = Array.from({ length: text.length + 1 }, (_, end) => end).filter((end) => ![end - 2, end - 1, end].every((i) => WORD.test(text[i] ?? " ")));
    const stride = Math.ceil(ends.length / MOST_PLACES);
    const places = new Set(ends.filter((end, i) => i % stride === 0 || text[end] === "\n"));
    const workspace = createWorkspace(memoryHost(sampleTexts()));
    for (let end = 0; end <= text.length; end++) {
      workspace.setText(uri, text.slice(0, end));
      if (workspace.pending()) await workspace.settle();
      if (!places.has(end)) continue;
      const analysis = workspace.analysis(AS_OF);
      const complaint = malformed(analysis, uri);
      if (complaint !== undefined) expect(`${complaint}, typed as far as ${JSON.stringify(text.slice(Math.max(0, end - 40), end))}`).toBe("");
      completionsAt(analysis, uri, end);
      hoverAt(analysis, uri, end - 1);
    }
  });
});

describe("any text cut from samples and noise", () => {
  const pieces = [...SAMPLES.values()].flatMap((text) => text.split(/(?<=[\s;{}|])/));
  const text = fc.array(fc.oneof({ weight: 6, arbitrary: fc.constantFrom(...pieces) }, { weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 6 }) }), { maxLength: 60 }).map((parts) => parts.join(""));
  test("is analysed and answered everywhere", async () => {
    await fc.assert(
      fc.asyncProperty(text, fc.array(fc.nat(1000), { maxLength: 6 }), async (t, offsets) => {
        const uri = "file:///samples/builds/any.tappet";
        const project = await loadProject(memoryHost({ ...sampleTexts(), [uri]: t }), [uri]);
        const analysis = analyse(project, AS_OF);
        expect(malformed(analysis, uri)).toBeUndefined();
        const file = project.files.get(uri);
        if (file) outlineOf(file);
        for (const offset of offsets) {
          hoverAt(analysis, uri, offset);
          completionsAt(analysis, uri, offset);
          definitionsAt(analysis, uri, offset);
          fixesAt(analysis, uri, { start: offset, end: offset + 40 });
        }
      }),
      { seed: 20270315, numRuns: 400 },
    );
  });

  test("finds the same when it has been laid out", async () => {
    const rules = async (t: string) => {
      const uri = "file:///samples/builds/any.tappet";
      const analysis = analyse(await loadProject(memoryHost({ ...sampleTexts(), [uri]: t }), [uri]), AS_OF);
      return (analysis.fileResult(uri)?.findings ?? []).map((f) => f.rule).sort();
    };
    for (const [name, t] of SAMPLES) expect(await rules(format(readSource("", t))), name).toEqual(await rules(t));
    await fc.assert(
      fc.asyncProperty(text, async (t) => {
        const laidOut = format(readSource("", t));
        expect(await rules(laidOut)).toEqual(await rules(t));
      }),
      { seed: 20270316, numRuns: 300 },
    );
  });
});
