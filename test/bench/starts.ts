// Whole processes, from spawn to exit: the command line's start against the runtime's own, and a folder of files against a schema validator.
// Prints; asserts nothing about time.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { BUILT_COMMAND_LINE, PROJECT, folderOf } from "../support/client.ts";
import { documentsOf, schema } from "./documents.ts";
import { peerFile } from "./peers.ts";
import { ratios, shown, spreadOf, table } from "./spread.ts";

const STARTS = 15;
const FOLDERS = 5;
const FILES = 500;

function timeOf(args: readonly string[]): number {
  const started = performance.now();
  const { status, stderr } = spawnSync(process.execPath, args, { stdio: ["ignore", "ignore", "pipe"], encoding: "utf8" });
  if (status !== 0) throw new Error(`${args.join(" ")} ended with ${status}: ${stderr}`);
  return performance.now() - started;
}

/** In turn, so that whatever else the machine does falls on all alike; the first of `runs` is what the others are held against. */
function inTurn(title: string, runs: Readonly<Record<string, readonly string[]>>, turns: number): void {
  const times = new Map(Object.keys(runs).map((name) => [name, [] as number[]]));
  for (const args of Object.values(runs)) timeOf(args);
  for (let i = 0; i < turns; i++) for (const [name, args] of Object.entries(runs)) times.get(name)?.push(timeOf(args));
  const [first = ""] = Object.keys(runs);
  console.log(`\n${title}, ${turns} turns. Milliseconds: median (one in ten below – one in ten above).`);
  console.log(table([["", "time", `over ${first}`], ...[...times].map(([name, all]) => [name, shown(spreadOf(all)), name === first ? "" : shown(ratios(all, times.get(first) ?? []))])]));
}

export function starts(): void {
  const build = join(PROJECT, "samples/builds/wren-hill-3.tappet");
  inTurn("Start of a process", { "the runtime alone": ["-e", "0"], "tappet --version": [BUILT_COMMAND_LINE, "--version"], "tappet check, one build": [BUILT_COMMAND_LINE, "check", build], "tappet sheet, one build": [BUILT_COMMAND_LINE, "sheet", build], "tappet format --check": [BUILT_COMMAND_LINE, "format", "--check", build] }, STARTS);
}

/** Files of a car each, each by itself, in both notations. */
export function folders(): void {
  const [tappet, json] = documentsOf(130);
  const folder = folderOf(Object.fromEntries(Array.from({ length: FILES }, (_, i) => [[`tappet/book-${i}.tappet`, clean(tappet?.text)], [`json/book-${i}.json`, clean(json?.text)]] as const).flat()));
  folder.write("schema.json", JSON.stringify(schema()));
  const ajv = peerFile("ajv", "dist/ajv.js");
  const validate = `const Ajv = require(${JSON.stringify(ajv)}).default; const fs = require("node:fs");
    const check = new Ajv({ strict: false, allErrors: true }).compile(JSON.parse(fs.readFileSync("schema.json", "utf8")));
    let bad = 0; for (const name of fs.readdirSync("json")) if (!check(JSON.parse(fs.readFileSync("json/" + name, "utf8")))) bad++;
    if (bad > 0) { console.error(bad, check.errors); process.exitCode = 1; }`;
  const before = process.cwd();
  process.chdir(folder.path);
  try {
    inTurn(`${FILES} files, an engine, five parts and a build in each`, { ...(ajv !== undefined && { "a schema validator": ["-e", validate] }), "tappet check": [BUILT_COMMAND_LINE, "check", "tappet"] }, FOLDERS);
  } finally {
    process.chdir(before);
    folder.remove();
  }
}

/** Without the figure that is out of its span. */
function clean(text: string | undefined): string {
  return (text ?? "").replace("gasket-thickness: 90 mm", "gasket-thickness: 0.90 mm").replace(/"gasket-thickness": 90$|"gasket-thickness": 90(?=,)/m, '"gasket-thickness": 0.9');
}
