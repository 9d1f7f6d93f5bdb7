/** Which files vitest runs: every `*.test.ts` under test/; the editor's suites run in an extension host instead. */
import { join } from "node:path";
import { defineConfig } from "vitest/config";

/** Tests that talk to the built doors. */
const AT_THE_DOORS = ["test/protocol/**/*.test.ts", "test/fuzz/**/*.test.ts"];

export default defineConfig({
  root: join(import.meta.dirname, ".."),
  test: {
    // A bound for a test that hangs; no test may depend on how long anything takes.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    projects: [
      { extends: true, test: { name: "floors", include: ["test/**/*.test.ts"], exclude: ["test/editor/**", ...AT_THE_DOORS] } },
      { extends: true, test: { name: "doors", include: AT_THE_DOORS, globalSetup: "test/protocol/built-doors.ts" } },
    ],
  },
});
