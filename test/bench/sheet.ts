/**
 * How long from a keystroke to the sheet that follows it, for every build of the samples, over the protocol. Prints; asserts nothing about
 * time. The page itself is measured in the browser: the same sheet put in after one figure has changed.
 *
 *   npm run build && node test/bench/sheet.ts
 */
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { PROJECT, folderOf, startServer } from "../support/client.ts";

const EDITS = 40;

const root = join(PROJECT, "samples");
const files = Object.fromEntries(readdirSync(root, { recursive: true, encoding: "utf8" }).filter((n) => n.endsWith(".tappet")).map((n) => [n.replaceAll("\\", "/"), readFileSync(join(root, n), "utf8")]));
const folder = folderOf(files);
const client = await startServer({ folders: [folder.uri], pulls: true });
for (const [name, text] of Object.entries(files)) {
  const figure = /redline: (\d+)/.exec(text)?.[0];
  if (!/^build /m.test(text) || figure === undefined) continue;
  const uri = folder.uriOf(name);
  client.open(uri, text);
  const at = client.at(uri, figure, figure.length);
  const times: number[] = [];
  let size = 0;
  for (let i = 0; i < EDITS; i++) {
    const back = { start: { line: at.line, character: at.character - 1 }, end: at };
    const started = performance.now();
    client.edit(uri, back, i % 2 === 0 ? "1" : "0");
    const sheet = await client.request<{ readonly html: string }>("tappet/sheet", { uri });
    times.push(performance.now() - started);
    size = sheet.html.length;
  }
  times.sort((a, b) => a - b);
  const of = (share: number) => (times[Math.floor(share * (times.length - 1))] ?? Number.NaN).toFixed(1);
  console.log(`${name}: ${of(0.5)} ms (one in ten below ${of(0.1)}, one in ten above ${of(0.9)}), a sheet of ${Math.round(size / 1024)} kB`);
  client.close(uri);
}
await client.stop();
folder.remove();
