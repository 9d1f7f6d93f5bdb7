/**
 * How long from a keystroke to its findings, and how long the command line takes to start. Prints; asserts nothing about time.
 *
 *   npm run bench
 */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { BUILT_COMMAND_LINE, BUILT_SERVER, PROJECT, folderOf, startServer } from "../support/client.ts";

const LINES = 200;
const KEYSTROKES = 60;
const STARTS = 9;

if (!existsSync(BUILT_SERVER) || !existsSync(BUILT_COMMAND_LINE)) {
  console.error("There is nothing built to measure: npm run build first.");
  process.exit(1);
}

interface Spread {
  readonly median: number;
  readonly low: number;
  readonly high: number;
}

/** Median, and the tenth and ninetieth hundredth. */
function spreadOf(times: readonly number[]): Spread {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
  return { median: at(0.5), low: at(0.1), high: at(0.9) };
}

function shown({ median, low, high }: Spread): string {
  return `${median.toFixed(1)} ms (one in ten below ${low.toFixed(1)}, one in ten above ${high.toFixed(1)})`;
}

/** The samples as a workspace, with one build grown to the length wanted by readings a builder would add. */
function workspace(): { readonly files: Record<string, string>; readonly name: string } {
  const root = join(PROJECT, "samples");
  const files = Object.fromEntries(readdirSync(root, { recursive: true, encoding: "utf8" }).filter((n) => n.endsWith(".tappet")).map((n) => [n.replaceAll("\\", "/"), readFileSync(join(root, n), "utf8")]));
  const name = "builds/wren-hill-3.tappet";
  const text = files[name] ?? "";
  const missing = Math.max(0, LINES - text.split("\n").length);
  const readings = Array.from({ length: missing }, (_, i) => `  note "pass ${i + 1} on the hill, nothing to report"`).join("\n");
  const end = text.lastIndexOf("}");
  files[name] = `${text.slice(0, end)}${readings}\n${text.slice(end)}`;
  return { files, name };
}

async function keystrokes(): Promise<void> {
  const { files, name } = workspace();
  const folder = folderOf(files);
  const client = await startServer({ folders: [folder.uri], pulls: true });
  const uri = folder.uriOf(name);
  const text = files[name] ?? "";
  client.open(uri, text);
  const clean = (await client.pull(uri)).length;
  // In the middle of the file, in a figure that the whole build rests on, there and back again.
  const figure = /redline: (\d+)/.exec(text)?.[0];
  if (figure === undefined) throw new Error(`${name} gives no redline to type in`);
  const position = client.at(uri, figure, figure.length);
  const types: { readonly title: string; readonly at: typeof position; readonly character: string }[] = [
    { title: "a digit of the redline", at: position, character: "0" },
    { title: "a letter of a note, half-way down", at: client.at(uri, "nothing to report"), character: "x" },
  ];
  for (const { title, at, character } of types) {
    const times: number[] = [];
    for (let i = 0; i < KEYSTROKES; i++) {
      const started = performance.now();
      if (i % 2 === 0) client.edit(uri, { start: at, end: at }, character);
      else client.edit(uri, { start: at, end: { line: at.line, character: at.character + 1 } }, "");
      await client.pull(uri);
      times.push(performance.now() - started);
    }
    console.log(`Edit to findings, ${text.split("\n").length} lines, ${KEYSTROKES} edits of ${title}: ${shown(spreadOf(times))}`);
  }
  if ((await client.pull(uri)).length !== clean) throw new Error("the text is not what it was before the edits");
  await client.stop();
  folder.remove();
}

function timeOf(args: readonly string[]): number {
  const started = performance.now();
  const { status } = spawnSync(process.execPath, args, { stdio: "ignore" });
  if (status !== 0) throw new Error(`${args.join(" ")} ended with ${status}`);
  return performance.now() - started;
}

function starts(): void {
  const build = join(PROJECT, "samples/builds/wren-hill-3.tappet");
  const runs = { bare: ["-e", "0"], version: [BUILT_COMMAND_LINE, "--version"], check: [BUILT_COMMAND_LINE, "check", build] };
  const times: Record<keyof typeof runs, number[]> = { bare: [], version: [], check: [] };
  // In turn, so that whatever else the machine does falls on all alike.
  for (let i = 0; i < STARTS; i++) for (const key of Object.keys(runs) as (keyof typeof runs)[]) times[key].push(timeOf(runs[key]));
  const bare = spreadOf(times.bare).median;
  console.log(`Node alone: ${shown(spreadOf(times.bare))}`);
  for (const key of ["version", "check"] as const) console.log(`Command line, ${key === "version" ? "--version" : "check of one build"}: ${shown(spreadOf(times[key]))}, ${(spreadOf(times[key]).median / bare).toFixed(2)} times node alone`);
}

await keystrokes();
starts();
