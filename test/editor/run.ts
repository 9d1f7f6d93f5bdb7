/**
 * Runs the editor tests against the packed extension in a real workbench, one session after another.
 *
 *   node test/editor/run.ts [--session NAME]... [--only PART-OF-A-TEST'S-NAME]
 *
 * Ends with the counts, also written to out/editor/counts.json; a machine that cannot run them says what it lacks, which is a
 * failure where CI is set and counts as skipped elsewhere.
 */
import { existsSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { openExchange, type Result } from "./exchange.ts";
import { steps } from "./hands.ts";
import { reloadTest, testReload } from "./reload.ts";
import { prepareMachine, type Machine } from "./machine.ts";
import { sessions, type Session } from "./sessions.ts";
import { bundleSuite } from "./suite.ts";
import { layOutFolders, packedExtension, startWorkbench } from "./workbench.ts";

/** How long a whole session may take before it counts as failed: a bound, never a pause. */
const patience = 8 * 60_000;

const out = join(import.meta.dirname, "..", "..", "out", "editor");
const { values } = parseArgs({
  options: { session: { type: "string", multiple: true }, only: { type: "string", default: "" } },
});
const wanted = values.session ? sessions.filter(({ name }) => values.session?.includes(name)) : sessions;

const results = await runEverySession();
const counts = {
  passed: results.filter(({ state }) => state === "passed").length,
  failed: results.filter(({ state }) => state === "failed").length,
  skipped: results.filter(({ state }) => state === "skipped").length,
};
mkdirSync(out, { recursive: true });
writeFileSync(join(out, "counts.json"), JSON.stringify(counts));
console.log(`Editor: ${counts.passed} passed, ${counts.failed} failed${counts.skipped > 0 ? `, ${counts.skipped} skipped` : ""}`);
process.exit(counts.failed > 0 ? 1 : 0);

async function runEverySession(): Promise<readonly Result[]> {
  if (!existsSync(packedExtension)) {
    return [fail("the packed extension is there", "No dist/tappet.vsix. Run: npm run package")];
  }
  const machine = prepareMachine();
  if ("missing" in machine) {
    const why = `The editor tests need ${machine.missing}. ${machine.remedy}`;
    console.log(why);
    const inCi = Boolean(process.env["CI"]);
    return wanted.map(({ name }) => ({ name: `the ${name} session`, state: inCi ? "failed" : "skipped", why }) satisfies Result);
  }
  rmSync(out, { recursive: true, force: true });
  const all: Result[] = [];
  for (const session of wanted) all.push(...(await runSession(machine, session)));
  return all;
}

async function runSession(machine: Machine, session: Session): Promise<readonly Result[]> {
  console.log(`\nEditor, ${session.name}:`);
  const folders = layOutFolders(session);
  const workbench = await startWorkbench(machine, session, folders);
  const shots = join(out, session.name);
  let photographs = 0;
  const exchange = await openExchange({
    async hand(step, args) {
      const known = steps as Record<string, (...all: never[]) => Promise<unknown>>;
      const run = known[step];
      if (!run) throw new Error(`No such step.`);
      return run(...([{ page: workbench.page, shots, talk: workbench.talk }, ...args] as never[]));
    },
    async seen({ state }) {
      if (state === "failed") await steps.photograph({ page: workbench.page, shots, talk: workbench.talk }, `failed-${++photographs}`);
    },
  });
  const suite = join(folders.runner, "suite.js");
  await bundleSuite(suite, { session: session.name, exchange: exchange.url, only: values.only });

  const late = Promise.withResolvers<string>();
  const timer = setTimeout(() => late.resolve(`The session did not end within ${patience / 60_000} minutes.`), patience);
  let trouble: string | undefined;
  try {
    await workbench.open(suite);
    trouble = await Promise.race([exchange.ended.then(() => undefined), workbench.died, late.promise]);
    if (!trouble && session.name === "installed" && reloadTest.includes(values.only)) exchange.add(await testReload(workbench, shots));
    if (trouble) await steps.photograph({ page: workbench.page, shots, talk: workbench.talk }, "trouble").catch(() => undefined);
  } catch (error) {
    trouble = String(error);
  } finally {
    clearTimeout(timer);
    exchange.close();
    await workbench.close();
  }
  if (trouble) return [...exchange.results, fail(`the ${session.name} session ends`, `${trouble}\n${workbench.talk.slice(-40).join("\n")}`)];
  // A suite that declares nothing for a session has not shown that the session works.
  if (exchange.results.length === 0 && values.only === "") return [fail(`the ${session.name} session has tests`, "It ran none.")];
  return exchange.results;
}

function fail(name: string, why: string): Result {
  console.log(`  ✗ ${name}\n      ${why}`);
  return { name, state: "failed", why };
}
