// Two states of files in memory, compared as the command line and the editor compare them.
import { loadProject } from "../../server/workspace/load.ts";
import { memoryHost } from "../../server/workspace/host.ts";
import { type CompareWish, type State, compareStates } from "../../server/workspace/compare.ts";
import type { BuildComparison, Comparison } from "../../server/report/comparison.ts";
import { AS_OF, nameOf, uriOf } from "../report/wren.ts";

export type Files = Readonly<Record<string, string>>;

export async function stateOf(label: string, files: Files): Promise<State> {
  const given = Object.keys(files).sort().map(uriOf);
  const project = await loadProject(memoryHost(Object.fromEntries(Object.entries(files).map(([name, text]) => [uriOf(name), text]))), given);
  return { label, projects: [{ project, given }], nameOf, keyOf: nameOf };
}

export async function compared(before: Files, after: Files, wish: Partial<CompareWish> = {}): Promise<Comparison> {
  return compareStates(await stateOf("before", before), await stateOf("after", after), { asOf: AS_OF, ...wish });
}

/** The only build that differs. */
export async function onlyBuild(before: Files, after: Files, wish: Partial<CompareWish> = {}): Promise<BuildComparison> {
  const { builds } = await compared(before, after, wish);
  const [one] = builds;
  if (!one || builds.length !== 1) throw new Error(`${builds.length} builds differ`);
  return one;
}

/** The files with a piece of one of them replaced; the piece must be there. */
export function edited(files: Files, name: string, from: string | RegExp, to: string): Files {
  const text = files[name] ?? "";
  const next = text.replace(from, to);
  if (next === text) throw new Error(`nothing to replace in ${name}`);
  return { ...files, [name]: next };
}

/** "0.15 mm cold -> 0.20 mm cold" for every cause, by its path. */
export function causesOf(build: BuildComparison): Record<string, string> {
  return Object.fromEntries(build.causes.map((c) => [c.path, `${c.from?.text ?? ""} -> ${c.to?.text ?? ""}`]));
}
