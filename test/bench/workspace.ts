// A shop of 2,000 files that use each other: a cold check by the command line, and the same state kept in memory when one engine file changes.
// Prints; asserts nothing about time.
import { spawnSync } from "node:child_process";
import { BUILT_COMMAND_LINE, BUILT_SERVER, type Folder, folderOf } from "../support/client.ts";
import { documentsOf } from "./documents.ts";
import { drive } from "./servers.ts";
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
  for (let i = 0; i < ENGINES; i++) files[`engines/dunlin-${i}.tappet`] = `// copied from the manual\n\n${engine.replace("dunlin-18", `dunlin-${i}`)}\n`;
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
  await served(files, folder);
  folder.remove();
}

interface Report {
  readonly uri: string;
  readonly kind: string;
  readonly resultId: string;
}

/** A server that is asked for the findings of all files, and again after each edit of one engine: what an editor does. */
async function served(files: Readonly<Record<string, string>>, folder: Folder): Promise<void> {
  const server = await drive({ name: "Tappet", languageId: "tappet", args: [BUILT_SERVER, "--stdio"], pulls: true }, folder);
  const ids = new Map<string, string>();
  const ask = async () => {
    const answer = await server.request("workspace/diagnostic", { previousResultIds: [...ids].map(([uri, value]) => ({ uri, value })) });
    const { items } = answer as { items: readonly Report[] };
    for (const { uri, resultId } of items) ids.set(uri, resultId);
  };
  const name = "engines/dunlin-7.tappet";
  const text = files[name] ?? "";
  const timed = async (work: () => Promise<unknown>) => {
    const [clock, processor] = [performance.now(), server.work()];
    await work();
    return { clock: performance.now() - clock, processor: server.work() - processor };
  };
  const first = await timed(ask);
  console.log(`by the server, all files asked for: ${first.clock.toFixed(0)}, of processor time ${first.processor.toFixed(0)}; ${server.memory().now.toFixed(0)} MB then`);
  server.open(folder.uriOf(name), text);
  await ask();
  const at = (words: string, into: number) => {
    const lines = text.slice(0, text.indexOf(words) + into).split("\n");
    return { line: lines.length - 1, character: (lines.at(-1) ?? "").length };
  };
  const turns = async (words: string, into: number, typed: string) => {
    const times: { clock: number; processor: number }[] = [];
    for (let i = 0; i < 40; i++) {
      // Typed, and taken away again.
      times.push(await timed(async () => {
        await server.edit(at(words, into), i % 2 === 0 ? typed : "");
        await ask();
      }));
    }
    const later = times.slice(20);
    return `${shown(spreadOf(later.map((t) => t.clock)))}, of processor time ${shown(spreadOf(later.map((t) => t.processor)))}`;
  };
  console.log(`the same after a figure of one engine changed (${Math.round(CARS / ENGINES)} builds on it): ${await turns("bore: 83.00 mm", "bore: 83.00".length, "1")}`);
  console.log(`the same after a letter in a remark above that engine (nothing rests on it): ${await turns("// copied", 3, "x")}`);
  await server.stop();
}
