/**
 * Edits a server over the protocol for a long time, and compares it with a fresh one again and again. Ends with status 1 and the texts it broke
 * on when it breaks.
 *
 *   npm run fuzz [-- --edits 1000000] [--seed 1] [--minutes 60]
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { PROJECT } from "../support/client.ts";
import { stepsFrom } from "./generate.ts";
import { Broken, run } from "./session.ts";

const { values } = parseArgs({ options: { edits: { type: "string", default: "1000000" }, seed: { type: "string", default: String(Date.now() % 1e9) }, minutes: { type: "string" }, every: { type: "string", default: "5000" } } });
const seed = Number(values.seed);
const started = performance.now();
const seconds = () => (performance.now() - started) / 1000;
console.log(`Seed ${seed}.`);
try {
  const done = await run(stepsFrom(seed), {
    steps: Number(values.edits), checkEvery: Number(values.every),
    enough: () => values.minutes !== undefined && seconds() > 60 * Number(values.minutes),
    onCheck: ({ edits, questions, checks, memory, slowest }) => console.log(`${edits} edits, ${questions} questions, ${checks} comparisons, ${seconds().toFixed(0)} s, ${memory.at(-1)?.toFixed(0)} MB, slowest ${slowest.method} ${slowest.time.toFixed(0)} ms`),
  });
  const rate = done.edits / seconds();
  console.log(`${done.edits} edits and ${done.questions} questions in ${seconds().toFixed(0)} s, ${rate.toFixed(0)} edits a second; ${done.checks} comparisons with a fresh server, all equal; slowest answer ${done.slowest.method} in ${done.slowest.time.toFixed(0)} ms; memory from ${Math.min(...done.memory).toFixed(0)} to ${Math.max(...done.memory).toFixed(0)} MB, ${done.memory.at(-1)?.toFixed(0)} MB at the end.`);
} catch (error) {
  if (!(error instanceof Broken)) throw error;
  const path = join(PROJECT, "out/fuzz", `seed-${seed}.json`);
  mkdirSync(join(PROJECT, "out/fuzz"), { recursive: true });
  writeFileSync(path, `${JSON.stringify({ broken: error.message, texts: error.texts }, null, 2)}\n`);
  console.error(`${error.message}\nThe texts are in out/fuzz/seed-${seed}.json: make the smallest of them that breaks a fixture in test/fuzz/fixtures.`);
  process.exitCode = 1;
}
