/**
 * How fast Tappet answers, beside general-purpose servers and a schema validator. Prints; asserts nothing about time.
 *
 *   npm run bench [-- servers|starts|folders|workspace|floor|sheet] [--lines 200,2000,20000]
 */
import { existsSync } from "node:fs";
import { loadavg, cpus } from "node:os";
import { parseArgs } from "node:util";
import { BUILT_COMMAND_LINE, BUILT_SERVER } from "../support/client.ts";
import { peerNames } from "./peers.ts";
import { floor } from "./floor.ts";
import { sideBySide } from "./servers-side-by-side.ts";
import { folders, starts } from "./starts.ts";
import { workspace } from "./workspace.ts";

const { values, positionals } = parseArgs({ allowPositionals: true, options: { lines: { type: "string", default: "200,2000,20000" } } });
const wanted = (part: string) => positionals.length === 0 || positionals.includes(part);

if (!existsSync(BUILT_SERVER) || !existsSync(BUILT_COMMAND_LINE)) {
  console.error("There is nothing built to measure: npm run build first.");
  process.exit(1);
}
console.log(`Node ${process.versions.node}, ${cpus().length} processors, load ${loadavg().map((x) => x.toFixed(1)).join(" ")} at the start. Beside: ${peerNames()}.`);
if (wanted("floor")) floor();
if (wanted("servers")) await sideBySide(values.lines.split(",").map(Number));
if (wanted("starts")) starts();
if (wanted("folders")) folders();
if (wanted("workspace")) await workspace();
if (wanted("sheet")) await import("./keystroke.ts");
console.log(`\nLoad ${loadavg().map((x) => x.toFixed(1)).join(" ")} at the end.`);
