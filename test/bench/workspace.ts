// A shop of 2,000 files that use each other: a cold check by the command line, and the same state kept in memory when one engine file changes.
// Prints; asserts nothing about time.
import { spawnSync } from "node:child_process";
import { BUILT_COMMAND_LINE, folderOf } from "../support/client.ts";
import { diskHost } from "../../server/workspace/disk-host.ts";
import { createWorkspace } from "../../server/workspace/workspace.ts";
import { documentsOf } from "./documents.ts";
import { shown, spreadOf } from "./spread.ts";

const ENGINES = 40;
const CARS = 980;
const TURNS = 5;

/** 40 engines, a file of parts for each car, a build file for each car: 2,000 files, about 25 builds on each engine. */
export function shopFiles(): Record<string, string> {
  const [book] = documentsOf(130);
  const [engine = "", ...pages] = (book?.text ?? "").replace("gasket-thickness: 90 mm", "gasket-thickness: 0.90 mm").split(/\n\n(?=part|build)/);
  const build = pages.pop() ?? "";
  const files: Record<string, string> = {};
  for (let i = 0; i < ENGINES; i++) files[`engines/dunlin-${i}.tappet`] = `${engine.replace("dunlin-18", `dunlin-${i}`)}\n`;
  for (let i = 0; i < CARS; i++) {
    const own = (text: string) => text.replaceAll("dunlin-18", `dunlin-${i % ENGINES}`).replaceAll(/\b(shaft|spring|retainer|car)-1\b/g, `$1-${i}`);
    files[`parts/car-${i}.tappet`] = `use "../engines/dunlin-${i % ENGINES}.tappet"\n\n${own(pages.join("\n\n"))}\n`;
    files[`builds/car-${i}.tappet`] = `use "../engines/dunlin-${i % ENGINES}.tappet"\nuse "../parts/car-${i}.tappet"\n\n${own(build)}\n`;
  }
  return files;
}

export async function workspace(): Promise<void> {
  const files = shopFiles();
  const folder = folderOf(files);
  console.log(`\nA workspace of ${Object.keys(files).length} files, ${ENGINES} engines, ${CARS} builds. Milliseconds: median (one in ten below – one in ten above).`);
  const cold: number[] = [];
  for (let i = 0; i < TURNS; i++) {
    const started = performance.now();
    const { status, stderr } = spawnSync(process.execPath, [BUILT_COMMAND_LINE, "check", "."], { cwd: folder.path, stdio: ["ignore", "ignore", "pipe"], encoding: "utf8" });
    if (status !== 0) throw new Error(`the check ended with ${status}: ${stderr}`);
    cold.push(performance.now() - started);
  }
  console.log(`cold check by the command line, ${TURNS} turns: ${shown(spreadOf(cold))}`);

  const held = createWorkspace(diskHost([folder.path]));
  held.keep(Object.keys(files).map((name) => folder.uriOf(name)));
  const judged = async () => {
    const analysis = await held.whole("2027-06-01");
    for (const uri of analysis.project.files.keys()) analysis.fileResult(uri);
  };
  const started = performance.now();
  await judged();
  console.log(`the same in this process, read and judged: ${(performance.now() - started).toFixed(0)}`);
  const name = "engines/dunlin-7.tappet";
  const again: number[] = [];
  const nothing: number[] = [];
  for (let i = 0; i < 20; i++) {
    const before = performance.now();
    held.setText(folder.uriOf(name), (files[name] ?? "").replace("bore: 83.00 mm", `bore: 83.${10 + i} mm`));
    await judged();
    again.push(performance.now() - before);
    const idle = performance.now();
    held.setText(folder.uriOf(name), `${(files[name] ?? "").replace("bore: 83.00 mm", `bore: 83.${10 + i} mm`)}// a remark\n`);
    await judged();
    nothing.push(performance.now() - idle);
  }
  console.log(`judged again after a figure of one engine changed (${Math.round(CARS / ENGINES)} builds on it): ${shown(spreadOf(again))}`);
  console.log(`judged again after a remark below an engine changed (nothing rests on it): ${shown(spreadOf(nothing))}`);
  folder.remove();
}
