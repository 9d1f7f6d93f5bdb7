/** Bundles every file of suites/ into one module that the extension host loads and runs; knows nothing of what they test. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import type { SessionName } from "./sessions.ts";

export async function bundleSuite(
  outfile: string,
  { session, exchange, only }: { readonly session: SessionName; readonly exchange: string; readonly only: string },
): Promise<void> {
  const files = readdirSync(join(import.meta.dirname, "suites")).filter((name) => name.endsWith(".ts")).toSorted();
  await build({
    stdin: {
      contents: [...files.map((name) => `import "./suites/${name}";`), 'export { runTests as run } from "./host.ts";'].join("\n"),
      resolveDir: import.meta.dirname,
      loader: "ts",
    },
    outfile,
    bundle: true,
    // One bundle for both hosts: neither finds anything but the editor's own module outside it.
    platform: session === "web" ? "browser" : "node",
    format: "cjs",
    target: "es2023",
    external: ["vscode"],
    sourcemap: "inline",
    logLevel: "warning",
    define: {
      TAPPET_SESSION: JSON.stringify(session),
      TAPPET_EXCHANGE: JSON.stringify(exchange),
      TAPPET_ONLY: JSON.stringify(only),
    },
  });
}
