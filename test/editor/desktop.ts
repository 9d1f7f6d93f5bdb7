/**
 * Runs the same suites in the desktop editor, which it downloads: for a developer's own machine, not for the test command.
 * Tests that need hands at the page count as skipped, because the desktop window has none here.
 */
import { spawnSync } from "node:child_process";
import { rmSync } from "node:fs";
import { join } from "node:path";
import { downloadAndUnzipVSCode, resolveCliArgsFromVSCodeExecutablePath, runTests } from "@vscode/test-electron";
import { openExchange } from "./exchange.ts";
import { bundleSuite } from "./suite.ts";
import { layOutFolders, packedExtension } from "./workbench.ts";

let executable: string;
try {
  executable = await downloadAndUnzipVSCode({ cachePath: join(import.meta.dirname, "..", "..", ".cache", "desktop") });
} catch (error) {
  console.error(`The desktop editor could not be downloaded: ${String(error)}. Run npm run test:editor instead.`);
  process.exit(1);
}

const folders = layOutFolders({ name: "desktop", host: "node", trusted: true });
const ownFolders = [`--extensions-dir=${folders.extensions}`, `--user-data-dir=${folders.userData}`];
const exchange = await openExchange({
  hand: () => Promise.reject(new Error("The desktop run has no hands at the page.")),
  seen: () => Promise.resolve(),
});
let failed = true;
try {
  const [command = executable, ...args] = resolveCliArgsFromVSCodeExecutablePath(executable);
  const installed = spawnSync(command, [...args, ...ownFolders, "--install-extension", packedExtension], {
    stdio: "inherit",
    shell: process.platform === "win32",
  });
  if (installed.status !== 0) throw new Error("The packed extension did not install.");
  const suite = join(folders.runner, "suite.js");
  await bundleSuite(suite, { session: "desktop", exchange: exchange.url, only: "" });
  await runTests({
    vscodeExecutablePath: executable,
    extensionDevelopmentPath: folders.runner,
    extensionTestsPath: suite,
    launchArgs: [folders.workspace, ...ownFolders, "--disable-workspace-trust", "--disable-telemetry"],
  });
  failed = exchange.results.length === 0 || exchange.results.some(({ state }) => state === "failed");
} catch (error) {
  console.error(String(error));
} finally {
  exchange.close();
  rmSync(folders.base, { recursive: true, force: true, maxRetries: 5 });
}
const count = (wanted: string): number => exchange.results.filter(({ state }) => state === wanted).length;
console.log(`Desktop: ${count("passed")} passed, ${count("failed")} failed, ${count("skipped")} skipped`);
process.exit(failed ? 1 : 0);
