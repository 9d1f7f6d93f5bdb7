/**
 * The two tasks of `npm start`: check every sample and write the demonstration build sheet, through the built command
 * line as a builder would; knows nothing of what the checker looks for.
 * Findings in the samples are what a checker is for and no failure; only a check or a sheet that did not come about is.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, statSync } from "node:fs";
import { join, relative } from "node:path";

const root = join(import.meta.dirname, "..");
const commandLine = join("dist", "command-line.cjs");
const demonstration = join("samples", "builds", "wren-hill-2.tappet");
const sheet = join("out", "wren-hill-2.html");

/** Runs the command line with its output shown; the exit status is 0 clean, 1 findings, 2 could not do it. */
function tappet(...args: readonly string[]): number {
  console.log(`\n$ tappet ${args.join(" ")}`);
  const { status } = spawnSync(process.execPath, [commandLine, ...args], { cwd: root, stdio: ["ignore", "inherit", "inherit"] });
  return status ?? 2;
}

const checked = tappet("check", "samples");
mkdirSync(join(root, "out"), { recursive: true });
const written = tappet("sheet", demonstration, "--format", "html", "-o", sheet);

console.log();
if (checked > 1) console.error("The samples could not be checked; the reason is above.");
else console.log(checked === 0 ? "Checked every sample: nothing found." : "Checked every sample: the findings are above.");
const sheetThere = existsSync(join(root, sheet)) && statSync(join(root, sheet)).size > 0;
if (written > 1 || !sheetThere) console.error("The demonstration sheet was not written; the reason is above.");
else console.log(`The build sheet of ${demonstration} is in ${relative(process.cwd(), join(root, sheet))}: open it in a browser, or print it.`);

process.exit(checked > 1 || written > 1 || !sheetThere ? 1 : 0);
