// How fast and in how much memory a large recording is read: a generated file of the size given in megabytes, read through the disk's own
// port by the reader that the command line uses. `node test/bench/recording.ts 1000`
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createReadStream } from "node:fs";
import { summariser } from "../../server/recording/summarise.ts";

const megabytes = Number(process.argv[2] ?? 200);
const folder = mkdtempSync(join(tmpdir(), "tappet-bench-"));
const path = join(folder, "long.csv");
const file = openSync(path, "w");
let size = writeSync(file, "time (s),rpm,throttle (%),Manifold (kPa),afr,oil (bar),water (°C),gear\n");
for (let i = 0; size < megabytes * 1e6; ) {
  let text = "";
  for (let n = 0; n < 20000; n++, i++) {
    const t = i / 100;
    const along = (t % 12) / 12;
    text += `${t.toFixed(2)},${Math.round(2500 + 4500 * along)},${along < 0.9 ? 98 : 3},${along < 0.9 ? 165 : 40},${(12.1 + 0.5 * Math.sin(i)).toFixed(2)},${(2.5 + 2 * along).toFixed(2)},${(85 + 5 * Math.sin(t / 60)).toFixed(1)},${1 + (Math.floor(t / 12) % 4)}\n`;
  }
  size += writeSync(file, text);
}
closeSync(file);
const reader = summariser({
  columns: ([["time", "time", "time"], ["rpm", "rotation", "rpm"], ["throttle", "fraction", "throttle"], ["manifold", "pressure", "Manifold"], ["afr", "mixture", "afr"], ["oil-pressure", "pressure", "oil"], ["coolant", "temperature", "water"], ["gear", "count", "gear"]] as const).map(([key, kind, heading]) => ({ key, kind, heading })),
  gate: 0.8, dwell: 0.3, delay: 0.2, barometer: 101325, stoichiometric: 14.7, redline: 6900, mixture: 0.9, oil: [{ rpm: 1000, pressure: 1e5 }, { rpm: 6000, pressure: 4e5 }],
});
let most = 0;
const began = performance.now();
let pieces = 0;
for await (const piece of createReadStream(path, { encoding: "utf8", highWaterMark: 64 * 1024 })) {
  if (!reader.push(piece as string)) break;
  if (pieces++ % 64 === 0) most = Math.max(most, process.memoryUsage().rss);
}
const outcome = reader.end();
const seconds = (performance.now() - began) / 1000;
rmSync(folder, { recursive: true });
if ("problem" in outcome) throw new Error(JSON.stringify(outcome.problem));
console.log(`${(size / 1e6).toFixed(0)} MB, ${outcome.summary.rows} rows in ${seconds.toFixed(1)} s: ${(size / 1e6 / seconds).toFixed(0)} MB/s, at most ${(most / 1e6).toFixed(0)} MB of memory in use (RSS); ${outcome.summary.pullCount} pulls recognised.`);
