// The general-purpose servers that the bench runs beside Tappet's, fetched when they are first wanted into a folder that git ignores.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { PROJECT } from "../support/client.ts";

const HOME = join(PROJECT, "out/bench");

/** Exact versions: a figure measured against another one would be another figure. */
const PINNED: Readonly<Record<string, string>> = { "vscode-langservers-extracted": "4.10.0", "yaml-language-server": "2.0.0", ajv: "8.20.0" };

function installedVersion(name: string): string | undefined {
  const path = join(HOME, "node_modules", name, "package.json");
  return existsSync(path) ? (JSON.parse(readFileSync(path, "utf8")) as { version: string }).version : undefined;
}

/** Where a file of a peer's package lies; undefined where it could not be fetched, with the reason on the error stream. */
export function peerFile(name: string, file: string): string | undefined {
  if (Object.entries(PINNED).some(([peer, version]) => installedVersion(peer) !== version)) {
    mkdirSync(HOME, { recursive: true });
    writeFileSync(join(HOME, "package.json"), `${JSON.stringify({ private: true, dependencies: PINNED }, null, 2)}\n`);
    const { status } = spawnSync("npm", ["install", "--no-audit", "--no-fund", "--ignore-scripts", "--loglevel=error"], { cwd: HOME, stdio: ["ignore", "ignore", "inherit"], shell: process.platform === "win32" });
    if (status !== 0) console.error("The servers to measure against could not be fetched; Tappet is measured alone.");
  }
  return installedVersion(name) === PINNED[name] ? join(HOME, "node_modules", name, file) : undefined;
}

export function peerNames(): string {
  return Object.entries(PINNED).map(([name, version]) => `${name} ${version}`).join(", ");
}
