// A real git repository in a folder of its own, with nothing of the machine's own git settings in it.
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import { delimiter, dirname, join } from "node:path";
import { type Folder, type Outcome, folderOf } from "./tappet.ts";

const root = join(import.meta.dirname, "../..");

/** Settings of whoever runs the tests must not reach them. */
const ALONE = { GIT_CONFIG_GLOBAL: "/dev/null", GIT_CONFIG_SYSTEM: "/dev/null", GIT_AUTHOR_DATE: "2027-05-01T10:00:00Z", GIT_COMMITTER_DATE: "2027-05-01T10:00:00Z", LC_ALL: "C", GIT_EDITOR: "true" };

export interface Repository extends Folder {
  /** Runs git and gives what it prints; throws where git fails. */
  git(...args: readonly string[]): string;
  /** The same where it may fail. */
  tryGit(...args: readonly string[]): Outcome;
  /** Writes, adds and commits. */
  commit(message: string, files?: Readonly<Record<string, string | null>>): string;
  /** A program `tappet` for hooks, which find it in their path as an installed one. */
  readonly bin: string;
}

export function repositoryOf(files: Readonly<Record<string, string>>): Repository {
  const folder = folderOf({}, false);
  const bin = folderOf({}, false).path;
  writeFileSync(join(bin, "tappet"), `#!/bin/sh\nexec "${process.execPath}" "${join(root, "dist", "command-line.cjs")}" "$@"\n`, { mode: 0o755 });
  const env = { ...process.env, ...ALONE, PATH: `${bin}${delimiter}${process.env["PATH"] ?? ""}` };
  const git = (...args: readonly string[]) => execFileSync("git", args, { cwd: folder.path, env, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] }).trimEnd();
  const made: Repository = {
    ...folder, bin, git,
    tryGit(...args) {
      const { status, stdout, stderr } = spawnSync("git", args, { cwd: folder.path, env, encoding: "utf8" });
      return { code: status, out: stdout, err: stderr };
    },
    commit(message, changes = {}) {
      for (const [name, text] of Object.entries(changes)) {
        if (text === null) rmSync(join(folder.path, name));
        else {
          mkdirSync(dirname(join(folder.path, name)), { recursive: true });
          folder.write(name, text);
        }
      }
      git("add", "--all");
      git("commit", "--quiet", "--allow-empty", "--message", message);
      return git("rev-parse", "HEAD");
    },
    remove() {
      folder.remove();
      if (existsSync(bin)) rmSync(bin, { recursive: true, force: true });
    },
  };
  git("init", "--quiet", "--initial-branch=main");
  git("config", "user.name", "Test Builder");
  git("config", "user.email", "builder@tappet.invalid");
  if (Object.keys(files).length > 0) made.commit("The first spec", files);
  return made;
}
