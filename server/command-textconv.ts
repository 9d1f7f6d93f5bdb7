// What `git diff` is given for a build file: git hands over a copy under a passing name, and what the file uses is looked for where the tracked
// file of that name lies. Never fails: where nothing better is to be had, the text itself is given. Knows Node and git; knows no report.
import { realpath } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { repositoryOf, trackedPaths } from "./git.ts";
import { conversionText } from "./report/text-conversion.ts";
import { analyse } from "./workspace/analyse.ts";
import { diskHost, readText, uriOfPath } from "./workspace/disk-host.ts";
import { type Host, memoryHost, withoutMark } from "./workspace/host.ts";
import { loadProject } from "./workspace/load.ts";

/** Nothing where the file cannot be read at all. `asOf` is year first. */
export async function textForGit(path: string, workingFolder: string, asOf: string): Promise<string | undefined> {
  const given = resolve(workingFolder, path);
  const reading = await readText(await realpath(given).catch(() => given));
  if ("problem" in reading) return undefined;
  const text = withoutMark(reading.text);
  const home = await homeOf(given, workingFolder);
  const uri = home ? uriOfPath(join(home.top, home.path)) : uriOfPath(given);
  const disk = home && diskHost([home.top]);
  const host: Host = disk ? { ...disk, read: (one) => (one === uri ? Promise.resolve({ text }) : disk.read(one)) } : memoryHost({ [uri]: text });
  const project = await loadProject(host, [uri]);
  const file = project.files.get(uri);
  // A file that git could not merge is best looked at as it is.
  if (!file || file.source.conflicts) return text;
  return conversionText(file, home ? (analyse(project, asOf).fileResult(uri)?.subjects ?? []) : []);
}

/** The tracked file that a copy was made of. Two of one name cannot be told apart, and then neither side of a diff is told what follows. */
async function homeOf(path: string, workingFolder: string): Promise<{ readonly top: string; readonly path: string } | undefined> {
  const repository = await repositoryOf(workingFolder);
  if ("refusal" in repository || repository.bare) return undefined;
  // Git makes the copy in a folder of its own, older ones under a name with six letters before it.
  const name = basename(path);
  for (const own of [name, name.replace(/^[A-Za-z0-9]{6}_/, "")]) {
    const [only, ...more] = await trackedPaths(repository, own);
    if (only !== undefined) return more.length === 0 ? { top: repository.top, path: only } : undefined;
  }
  return undefined;
}
