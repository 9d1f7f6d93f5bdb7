/** Which files vitest runs: every `*.test.ts` under test/; the editor's suites run in an extension host instead. */
import { join } from "node:path";
import { defineConfig } from "vitest/config";

export default defineConfig({
  root: join(import.meta.dirname, ".."),
  test: {
    include: ["test/**/*.test.ts"],
    exclude: ["test/editor/**"],
    // A bound for a test that hangs; no test may depend on how long anything takes.
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
