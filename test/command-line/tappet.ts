// Runs the built command line in a folder of its own, as a person or a script would.
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";

const root = join(import.meta.dirname, "../..");
export const program = join(root, "dist", "command-line.cjs");

/** Bundles the command line as it is installed. */
export function buildCommandLine(): void {
  const { status, stderr } = spawnSync(process.execPath, [join(root, "client", "build.ts"), "--only", "command-line.cjs"], { encoding: "utf8" });
  if (status !== 0) throw new Error(stderr);
}

export interface Outcome {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export interface Folder {
  readonly path: string;
  run(args: readonly string[], options?: { readonly input?: string | Uint8Array; readonly in?: string }): Outcome;
  write(name: string, content: string | Uint8Array): void;
  remove(): void;
}

/** A new folder with these files; `.git` in it marks it as one project. */
export function folderOf(files: Readonly<Record<string, string | Uint8Array>>, git = true): Folder {
  const path = realpathSync(mkdtempSync(join(tmpdir(), "tappet-")));
  const write = (name: string, content: string | Uint8Array) => {
    mkdirSync(dirname(join(path, name)), { recursive: true });
    writeFileSync(join(path, name), content);
  };
  if (git) mkdirSync(join(path, ".git"));
  for (const [name, content] of Object.entries(files)) write(name, content);
  return {
    path, write,
    run(args, options = {}) {
      const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...args], { cwd: join(path, options.in ?? "."), encoding: "utf8", input: options.input ?? "", maxBuffer: 1 << 28 });
      return { code: status, out: stdout, err: stderr };
    },
    remove: () => rmSync(path, { recursive: true, force: true }),
  };
}
