/** What holds of answers at every place of every sample: hovers are short and in words, completions are good text as they come. */
import { beforeAll, describe, expect, test } from "vitest";
import { type Completion, completionsAt } from "../../server/editor/completion.ts";
import { definitionsAt } from "../../server/editor/definition.ts";
import { hoverAt } from "../../server/editor/hover.ts";
import { outlineOf } from "../../server/editor/outline.ts";
import { PART_KINDS } from "../../server/schema/parts/index.ts";
import { type Analysis, analyse } from "../../server/workspace/analyse.ts";
import { memoryHost } from "../../server/workspace/host.ts";
import { loadProject } from "../../server/workspace/load.ts";
import { SAMPLES, sampleTexts } from "../workspace/corpus.ts";

const AS_OF = "2027-06-01";
let analysis: Analysis;
beforeAll(async () => {
  analysis = analyse(await loadProject(memoryHost(sampleTexts()), Object.keys(sampleTexts())), AS_OF);
});

/** Hovers of a file, each once. */
function hoversOf(uri: string, text: string): Map<string, string> {
  const hovers = new Map<string, string>();
  for (let offset = 0; offset <= text.length; offset++) {
    const hover = hoverAt(analysis, uri, offset);
    if (!hover) continue;
    const at = `${hover.span.start}..${hover.span.end} ${text.slice(hover.span.start, hover.span.end)}`;
    if (!hovers.has(at)) hovers.set(at, hover.markdown);
    if (offset < hover.span.start || offset > hover.span.end) throw new Error(`the hover at ${offset} covers ${at}`);
  }
  return hovers;
}

describe.each([...SAMPLES.keys()])("hovers of %s", (name) => {
  test("are short, and say words and figures, never the insides of the program", () => {
    const uri = `file:///samples/${name}`;
    const text = SAMPLES.get(name) ?? "";
    const hovers = hoversOf(uri, text);
    expect(hovers.size).toBeGreaterThan(0);
    const bad = [...hovers].flatMap(([at, markdown]) => {
      const lines = markdown.split("\n");
      const faults = [
        lines.length > 32 && `${lines.length} lines`,
        markdown.length > 2000 && `${markdown.length} characters`,
        /undefined|NaN|Infinity|\[object|<fitted>|\{each\}|\{side\}/.test(markdown) && "insides",
        /\n{3,}|^\s|\s$/.test(markdown) && "loose ends",
        /\*\*\*\*/.test(markdown) && "an empty heading",
      ].filter((fault) => fault !== false);
      return faults.length > 0 ? [`${at}: ${faults.join(", ")}\n${markdown}`] : [];
    });
    expect(bad).toEqual([]);
  });
});

describe("every key that a sample writes", () => {
  test.each([...SAMPLES.keys()])("in %s can be pointed at", (name) => {
    const uri = `file:///samples/${name}`;
    const file = analysis.project.files.get(uri);
    const silent = (file?.declarations ?? []).flatMap((d, i) => d.figures.filter((f) => !hoverAt(analysis, uri, (file?.source.declarations[i]?.start ?? 0) + f.keySpan.start + 1)).map((f) => f.written));
    expect(silent).toEqual([]);
  });
});

describe("definitions", () => {
  test.each([...SAMPLES.keys()])("in %s point into files that are there", (name) => {
    const uri = `file:///samples/${name}`;
    const text = SAMPLES.get(name) ?? "";
    for (let offset = 0; offset <= text.length; offset += 3)
      for (const target of definitionsAt(analysis, uri, offset)) {
        const length = analysis.project.files.get(target.uri)?.source.text.length ?? -1;
        expect(target.span.start <= target.span.end && target.span.end <= length).toBe(true);
      }
  });
});

describe("the outline", () => {
  test.each([...SAMPLES.keys()])("of %s lists every declaration by a name that fits a line", (name) => {
    const file = analysis.project.files.get(`file:///samples/${name}`);
    const items = file ? outlineOf(file) : [];
    expect(items.map(({ item }) => item.name)).toEqual((file?.declarations ?? []).filter((d) => d.sort !== "use" && d.sort !== "none").map((d) => d.name?.text ?? d.sort));
  });
});

/** A snippet as it stands when it is taken without typing anything further. */
function taken(c: Completion): string {
  return (c.snippet ?? c.text).replace(/\$\{\d+:([^}]*)\}/g, "$1").replace(/\$\{\d+\|([^,|}]*)[^}]*\}/g, "$1").replace(/\$\{?\d+\}?/g, "").replace(/\\([\\$}|,])/g, "$1");
}

const BEFORE = 'use "../engines/dunlin-18.tappet"\nuse "../parts/ridgeway.tappet"\n\n';

/** Completions at the mark `^`, each with the findings of the text when it is taken. */
async function taking(marked: string): Promise<{ readonly completion: Completion; readonly text: string; readonly rules: readonly string[] }[]> {
  const uri = "file:///samples/builds/taken.tappet";
  const offset = marked.indexOf("^");
  const text = marked.replace("^", "");
  const findings = async (t: string) => {
    const now = analyse(await loadProject(memoryHost({ ...sampleTexts(), [uri]: t }), [uri]), AS_OF);
    return { now, rules: (now.fileResult(uri)?.findings ?? []).map((f) => `${f.rule}: ${f.message}`) };
  };
  const { now } = await findings(text);
  return Promise.all(
    completionsAt(now, uri, offset).map(async (completion) => {
      const after = text.slice(0, completion.span.start) + taken(completion) + text.slice(completion.span.end);
      return { completion, text: after, rules: (await findings(after)).rules };
    }),
  );
}

/** What a completion must never bring about: text that cannot be read, or a key that is not known there. */
const BAD = /^(syntax|unknown-key|unknown-word|unknown-kind|unknown-unit|wrong-form|wrong-dimension|unclosed|value-missing|block-missing|stray|too-many-values|dashed-range|decimal-comma)/;

const PLACES: readonly (readonly [string, string])[] = [
  ["a build", `${BEFORE}build b on dunlin-18 {\n  ^\n}\n`],
  ["an engine", "engine e {\n  cylinders: 4\n  ^\n}\n"],
  ["a combustion block", "engine e {\n  cylinders: 4\n  combustion {\n    ^\n  }\n}\n"],
  ["a valve-gear side", "engine e {\n  cylinders: 4\n  valve-gear { intake { ^ } }\n}\n"],
  ["a fastener", `${BEFORE}build b on dunlin-18 {\n  fastener cam-cap { ^ }\n}\n`],
  ["a lash block", `${BEFORE}build b on dunlin-18 {\n  lash { ^ }\n}\n`],
  ["the setting of a gear", `${BEFORE}build b on dunlin-18 {\n  fit vernier-18 { ^ }\n}\n`],
  ["a measurement", `${BEFORE}build b on dunlin-18 {\n  measured lash cold on 2027-03-14 {\n    ^\n  }\n}\n`],
  ...PART_KINDS.map((kind): [string, string] => [`a ${kind.id}`, `part ${kind.id} x for any {\n  ^\n}\n`]),
];

describe("a completion taken as it comes", () => {
  test.each(PLACES)("in %s is good text", async (_, marked) => {
    const all = await taking(marked);
    expect(all.length).toBeGreaterThan(0);
    // Statements are begun, not finished: what follows their word is the next completion's.
    const bad = all.filter((c) => c.completion.sort !== "statement").flatMap((c) => c.rules.filter((r) => BAD.test(r)).map((r) => `${c.completion.label} → ${JSON.stringify(taken(c.completion))}: ${r}`));
    expect(bad).toEqual([]);
  });

  test("at the top of a file is good text", async () => {
    const all = await taking("^");
    const bad = all.flatMap((c) => c.rules.filter((r) => BAD.test(r)).map((r) => `${c.completion.label}: ${r}`));
    expect(bad).toEqual([]);
  });
});
