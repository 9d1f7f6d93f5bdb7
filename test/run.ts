/**
 * Every layer of the tests in turn: build, types, vitest, package, editor. Ends with one line, `N passed, N failed`, over
 * all of them, and with status 0 only if none failed. Knows of each layer only how to run it and where it leaves its counts.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { prepareMachine } from "./editor/machine.ts";

type Counts = { readonly passed: number; readonly failed: number; readonly skipped: number };

/** The part of vitest's JSON report that is read here. */
type VitestReport = {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
  readonly numTodoTests: number;
  readonly testResults: readonly { readonly status: string; readonly assertionResults: readonly { readonly status: string }[] }[];
};

const root = join(import.meta.dirname, "..");
const bin = join(root, "node_modules", ".bin");
const vitestReport = join(root, "out", "vitest.json");
const editorReport = join(root, "out", "editor", "counts.json");

function run(title: string, command: string, ...args: readonly string[]): boolean {
  console.log(`\n== ${title}`);
  const { status } = spawnSync(command, args, { cwd: root, stdio: "inherit", shell: process.platform === "win32" });
  return status === 0;
}

/** A layer that only can or cannot be done counts as one test. */
function single(done: boolean): Counts {
  return { passed: done ? 1 : 0, failed: done ? 0 : 1, skipped: 0 };
}

/** A layer's own counts, and never a clean sheet for a layer that ended badly or left none. */
function reported(done: boolean, counts: Counts | undefined): Counts {
  if (!counts) return { passed: 0, failed: 1, skipped: 0 };
  return done || counts.failed > 0 ? counts : { ...counts, failed: 1 };
}

function readVitest(): Counts | undefined {
  if (!existsSync(vitestReport)) return undefined;
  const report = JSON.parse(readFileSync(vitestReport, "utf8")) as VitestReport;
  // A file that could not be loaded has no test that failed, and is a failure all the same.
  const unloaded = report.testResults.filter(
    ({ status, assertionResults }) => status === "failed" && !assertionResults.some((test) => test.status === "failed"),
  ).length;
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + unloaded,
    skipped: report.numPendingTests + report.numTodoTests,
  };
}

function readEditor(): Counts | undefined {
  return existsSync(editorReport) ? (JSON.parse(readFileSync(editorReport, "utf8")) as Counts) : undefined;
}

mkdirSync(join(root, "out"), { recursive: true });
for (const stale of [vitestReport, editorReport]) rmSync(stale, { force: true });

// First the machine, because tests of the sheet use the browser too; what it lacks is said again where it is missed.
prepareMachine();

const layers: Counts[] = [];
layers.push(single(run("Build", process.execPath, "client/build.ts")));
layers.push(single(run("Types", join(bin, "tsc"), "-p", "tsconfig.json")));
layers.push(single(run("Types below the doors, without Node or DOM", join(bin, "tsc"), "-p", "server/tsconfig.json")));
const unit = run(
  "Tests",
  join(bin, "vitest"),
  "run",
  "--config",
  "test/vitest.config.ts",
  "--reporter=default",
  "--reporter=json",
  `--outputFile.json=${vitestReport}`,
);
layers.push(reported(unit, readVitest()));
const packed =
  run("Build for packaging", process.execPath, "client/build.ts", "--minify") && run("Package", process.execPath, "client/pack.ts");
layers.push(single(packed));
// A package left over from an earlier run is not the one to test.
if (packed) layers.push(reported(run("Editor", process.execPath, "test/editor/run.ts"), readEditor()));
else layers.push({ passed: 0, failed: 1, skipped: 0 });

const sum = (of: keyof Counts): number => layers.reduce((total, counts) => total + counts[of], 0);
const skipped = sum("skipped");
console.log(`\n${sum("passed")} passed, ${sum("failed")} failed${skipped > 0 ? `, ${skipped} skipped` : ""}`);
process.exit(sum("failed") > 0 ? 1 : 0);
