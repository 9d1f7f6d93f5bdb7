/** A bounded run of the fuzzer, the same every time: `npm run fuzz` goes on where this stops. */
import { expect, test } from "vitest";
import { stepsFrom } from "./generate.ts";
import { run } from "./session.ts";

test("three thousand edits and a thousand questions leave a server that says what a fresh one says", async () => {
  const done = await run(stepsFrom(20270401), { steps: 3000, checkEvery: 1500 });
  expect(done.edits).toBeGreaterThanOrEqual(3000);
  expect(done.checks).toBeGreaterThanOrEqual(2);
});
