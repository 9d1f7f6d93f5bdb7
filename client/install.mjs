/**
 * Brings node_modules in line with the lock file, and does nothing when it already is.
 * Plain JavaScript without a dependency, because it is the one script that runs before the toolchain is there,
 * under whatever Node the machine has; everything after it runs under the Node that the lock file names.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("..", import.meta.url));
const stamp = `${root}node_modules/.tappet-lock`;
const oldestNpm = 9;

const wanted = createHash("sha256").update(readFileSync(`${root}package-lock.json`)).digest("hex");
const found = existsSync(stamp) ? readFileSync(stamp, "utf8") : "";

if (found !== wanted) {
  const npm = /npm\/(\d+)/.exec(process.env["npm_config_user_agent"] ?? "");
  if (npm && Number(npm[1]) < oldestNpm) {
    console.error(`Tappet needs npm ${oldestNpm} or newer to install; this is npm ${npm[1]}. Install a newer Node, then try again.`);
    process.exit(1);
  }
  console.error("Installing the toolchain from the lock file (once, until the lock file changes) …");
  // On Windows npm is a script and needs a shell; the arguments are constants.
  const { status } = spawnSync("npm", ["ci", "--no-audit", "--no-fund", "--loglevel=error"], {
    cwd: root,
    stdio: ["ignore", 2, 2],
    shell: process.platform === "win32",
  });
  if (status !== 0) {
    console.error("The install failed; the reason is above. Nothing else was run.");
    process.exit(1);
  }
  writeFileSync(stamp, wanted);
}
