/** The sheets of the project's own samples, made as the command line makes them. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { SheetModel } from "../../server/report/sheet-model.ts";
import { buildSheet } from "../../server/workspace/build-sheet.ts";
import { diskHost, uriOfPath } from "../../server/workspace/disk-host.ts";
import { loadProject } from "../../server/workspace/load.ts";

const folder = join(import.meta.dirname, "..", "..", "samples");

/** "builds/wren-hill-2" and the like: every sample that has a sheet. */
export const SAMPLES: readonly string[] = readdirSync(folder, { recursive: true, encoding: "utf8" })
  .map((path) => path.replaceAll("\\", "/"))
  .filter((path) => /^(builds|engines)\/.*\.tappet$/.test(path))
  .map((path) => path.replace(/\.tappet$/, ""))
  .toSorted();

export async function sampleSheet(sample: string): Promise<SheetModel> {
  const uri = uriOfPath(join(folder, `${sample}.tappet`));
  const project = await loadProject(diskHost([folder]), [uri]);
  const base = `${uriOfPath(folder)}/`;
  const made = buildSheet(project, uri, { nameOf: (u) => decodeURI(u.startsWith(base) ? u.slice(base.length) : u), asOf: "2027-05-01" });
  if ("refusal" in made) throw new Error(made.refusal);
  return made.model;
}
