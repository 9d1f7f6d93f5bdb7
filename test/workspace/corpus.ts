// The samples and the fixtures as texts by URI, for properties that must hold of every file there is.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";

const ROOT = join(import.meta.dirname, "../..");

/** Build files below a folder of the project, by the path from it. */
export function filesBelow(folder: string): ReadonlyMap<string, string> {
  const path = join(ROOT, folder);
  const names = readdirSync(path, { recursive: true, encoding: "utf8" }).filter((name) => name.endsWith(".tappet")).sort();
  return new Map(names.map((name) => [name.replaceAll("\\", "/"), readFileSync(join(path, name), "utf8")]));
}

export const SAMPLES = filesBelow("samples");

/** Samples as files of one workspace. */
export function sampleTexts(): Record<string, string> {
  return Object.fromEntries([...SAMPLES].map(([name, text]) => [`file:///samples/${name}`, text]));
}
