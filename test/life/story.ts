// A build file that grows in a test as it does in a shop: edited by hand, step by step, each step checked as of its day. Knows edits and
// findings; knows no engine.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { readSource } from "../../grammar/read.ts";
import { format } from "../../grammar/printer.ts";
import { edited } from "../../server/editor/change.ts";
import type { FileEdit } from "../../server/editor/fixes.ts";
import type { ProjectFile } from "../../server/model/project.ts";
import { type Analysis, type FileResult, analyse } from "../../server/workspace/analyse.ts";
import { projectFileOf } from "../../server/workspace/load.ts";

const SAMPLES = join(import.meta.dirname, "..", "..", "samples");
const ROOT = "file:///life/";

export interface Story {
  readonly uri: string;
  text(): string;
  /** Puts lines before the last brace of the build. */
  add(...lines: readonly string[]): void;
  /** Replaces words that stand in the text once. */
  replace(from: string, to: string): void;
  /** Makes edits as an editor would. */
  apply(edits: readonly FileEdit[]): void;
  analysis(asOf: string): Analysis;
  result(asOf: string): FileResult;
  /** Everything open, "severity rule: message", in the order of the text. */
  found(asOf: string): readonly string[];
}

/** A build beside the engines, parts and shop of the samples. */
export function storyOf(name: string, text: string): Story {
  const uri = `${ROOT}builds/${name}`;
  const others = new Map<string, ProjectFile>();
  for (const folder of ["engines", "parts", ""])
    for (const file of readdirSync(join(SAMPLES, folder)).filter((f) => f.endsWith(".tappet"))) {
      const at = `${ROOT}${folder === "" ? "" : `${folder}/`}${file}`;
      others.set(at, projectFileOf(readSource(at, readFileSync(join(SAMPLES, folder, file), "utf8"))));
    }
  let now = text;
  const change = (next: string) => {
    const source = readSource(uri, next);
    const broken = source.declarations.flatMap((d) => d.tree.problems.map((p) => p.message));
    if (broken.length > 0) throw new Error(`the text does not read: ${broken.join(" ")}`);
    now = format(source);
  };
  change(text);
  const analysis = (asOf: string) => analyse({ files: new Map([...others, [uri, projectFileOf(readSource(uri, now))]]), unreadable: new Map() }, asOf);
  const result = (asOf: string) => {
    const found = analysis(asOf).fileResult(uri);
    if (!found) throw new Error("the build is gone");
    return found;
  };
  return {
    uri, analysis, result,
    text: () => now,
    add: (...lines) => change(now.replace(/\}\s*$/, `${lines.map((l) => `  ${l}\n`).join("")}}\n`)),
    replace(from, to) {
      if (now.split(from).length !== 2) throw new Error(`${JSON.stringify(from)} stands ${now.split(from).length - 1} times in the text`);
      change(now.replace(from, () => to));
    },
    apply: (edits) => change(edited(now, edits)),
    found: (asOf) => result(asOf).findings.map((f) => `${f.severity} ${f.rule}: ${f.message}`),
  };
}
