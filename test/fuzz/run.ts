/**
 * Edits a server over the protocol for a long time, and compares it with a fresh one again and again. Ends with status 1 and the texts it broke
 * on when it breaks.
 *
 *   npm run fuzz [-- --edits 1000000] [--seed 1] [--minutes 60] [--every 5000] [--at-once 1]
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { PROJECT } from "../support/client.ts";
import { stepsFrom } from "./generate.ts";
import { Broken, run } from "./session.ts";

/**
 * How a heap grows with the edits: the line of least squares, with the standard error of its slope. It is called flat where a slope of nothing
 * lies within two standard errors, which is as much as the comparisons can tell apart.
 */
function creepOf(heap: readonly (readonly [edits: number, megabytes: number])[]): { readonly slope: number; readonly error: number; readonly from: number; readonly to: number } {
  const mean = (of: readonly number[]) => of.reduce((a, b) => a + b, 0) / of.length;
  const [x, y] = [mean(heap.map(([edits]) => edits)), mean(heap.map(([, held]) => held))];
  const spread = heap.reduce((sum, [edits]) => sum + (edits - x) ** 2, 0);
  const slope = heap.reduce((sum, [edits, held]) => sum + (edits - x) * (held - y), 0) / spread;
  const rest = heap.reduce((sum, [edits, held]) => sum + (held - y - slope * (edits - x)) ** 2, 0);
  const held = heap.map(([, megabytes]) => megabytes);
  return { slope, error: Math.sqrt(rest / (heap.length - 2) / spread), from: Math.min(...held), to: Math.max(...held) };
}

const { values } = parseArgs({ options: { edits: { type: "string", default: "1000000" }, seed: { type: "string", default: String(Date.now() % 1e9) }, minutes: { type: "string" }, every: { type: "string", default: "5000" }, "at-once": { type: "string", default: "1" } } });
const seed = Number(values.seed);
const started = performance.now();
const seconds = () => (performance.now() - started) / 1000;
console.log(`Seed ${seed}.`);
try {
  const done = await run(stepsFrom(seed), {
    steps: Number(values.edits), checkEvery: Number(values.every), atOnce: Number(values["at-once"]),
    enough: () => values.minutes !== undefined && seconds() > 60 * Number(values.minutes),
    onCheck: ({ edits, changes, questions, checks, memory, heap, slowest }) => console.log(`${edits} edits in ${changes} changes, ${questions} questions, ${checks} comparisons, ${seconds().toFixed(0)} s, ${memory.at(-1)?.toFixed(0)} MB, heap ${heap.at(-1)?.[1].toFixed(2)} MB, slowest ${slowest.method} ${slowest.time.toFixed(0)} ms`),
  });
  const rate = done.edits / seconds();
  const { slope, error, from, to } = creepOf(done.heap.slice(Math.floor(done.heap.length / 2)));
  console.log(`${done.edits} edits and ${done.questions} questions in ${seconds().toFixed(0)} s, ${rate.toFixed(0)} edits a second; ${done.checks} comparisons with a fresh server, all equal; slowest answer ${done.slowest.method} in ${done.slowest.time.toFixed(0)} ms; memory from ${Math.min(...done.memory).toFixed(0)} to ${Math.max(...done.memory).toFixed(0)} MB, ${done.memory.at(-1)?.toFixed(0)} MB at the end.`);
  console.log(`The collected heap, every text as at first, over the last half of the comparisons: from ${from.toFixed(2)} to ${to.toFixed(2)} MB, ${(1e5 * slope).toFixed(3)} MB for 100,000 edits, give or take ${(2e5 * error).toFixed(3)}: ${slope > 2 * error ? "it grows" : "flat"}.`);
} catch (error) {
  if (!(error instanceof Broken)) throw error;
  const path = join(PROJECT, "out/fuzz", `seed-${seed}.json`);
  mkdirSync(join(PROJECT, "out/fuzz"), { recursive: true });
  writeFileSync(path, `${JSON.stringify({ broken: error.message, texts: error.texts }, null, 2)}\n`);
  console.error(`${error.message}\nThe texts are in out/fuzz/seed-${seed}.json: make the smallest of them that breaks a fixture in test/fuzz/fixtures.`);
  process.exitCode = 1;
}
