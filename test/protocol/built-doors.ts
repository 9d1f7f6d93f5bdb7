// Sees to it that the doors in dist/ are those of the sources as they stand, before any test talks to one.
import { spawnSync } from "node:child_process";
import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { BUILT_COMMAND_LINE, BUILT_SERVER, BUILT_WORKER, PROJECT } from "../support/client.ts";

export default function buildStaleDoors(): void {
  const newest = Math.max(...["grammar", "server"].flatMap((folder) => timesOf(join(PROJECT, folder))));
  const doors = [BUILT_SERVER, BUILT_COMMAND_LINE, BUILT_WORKER];
  if (doors.every((door) => timeOf(door) >= newest)) return;
  const only = doors.flatMap((door) => ["--only", door.slice(join(PROJECT, "dist").length + 1)]);
  const built = spawnSync(process.execPath, [join(PROJECT, "client/build.ts"), ...only], { cwd: PROJECT, encoding: "utf8" });
  if (built.status !== 0) throw new Error(`The doors could not be built.\n${built.stderr}`);
}

function timesOf(folder: string): number[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" }).map((name) => timeOf(join(folder, name)));
}

function timeOf(path: string): number {
  return statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;
}
