// Keeps what the runtime made of a door's code between two starts, in the user's own cache folder. Knows no door; a folder that cannot be
// written, or holds what is damaged or of another runtime, costs a start nothing but the time it would have saved: the runtime checks each
// entry against the code and throws away what does not fit.
import module from "node:module";
import { homedir } from "node:os";
import { isAbsolute, join } from "node:path";

/** Where a user's programs keep what can be made again; nothing where the system does not say. */
export function cacheFolder(platform: NodeJS.Platform, env: NodeJS.ProcessEnv, home: string): string | undefined {
  const given = platform === "win32" ? env["LOCALAPPDATA"] : env["XDG_CACHE_HOME"];
  // A relative path would put the cache into whatever folder a command is run in.
  if (given !== undefined && isAbsolute(given)) return join(given, "tappet");
  if (!isAbsolute(home)) return undefined;
  return platform === "win32" ? undefined : platform === "darwin" ? join(home, "Library", "Caches", "tappet") : join(home, ".cache", "tappet");
}

/** `part` keeps apart what different commands use of the same code: an entry holds what was used when it was written. */
export function keepCompiledCode(part: string): void {
  try {
    const folder = cacheFolder(process.platform, process.env, homedir());
    // A runtime that is older than the cache starts as it always has.
    if (folder !== undefined) module.enableCompileCache?.(join(folder, "code", part));
  } catch {
    // No cache, then: a home that cannot be asked for is no reason not to run.
  }
}

/** Writes what has been compiled by now: a server may be ended without a chance to. */
export function writeCompiledCode(): void {
  module.flushCompileCache?.();
}
