/** What is written for a moment and gone again leaves nothing behind in a server that runs for months. */
import { setImmediate as nextTurn } from "node:timers/promises";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { expect, test } from "vitest";
import { canonicalUri } from "../../server/model/project.ts";
import { type LastSheets, sheetFor } from "../../server/editor/sheet.ts";
import { memoryHost } from "../../server/workspace/host.ts";
import { createWorkspace } from "../../server/workspace/workspace.ts";

const TODAY = "2027-04-01";
const FOLDER = "file:///shop";
const MAIN = `${FOLDER}/main.tappet`;
const typed = (name: string) => Array.from(name, (_, i) => name.slice(0, i + 1));

test("of a path that is typed letter by letter only what is named now is remembered as not there", async () => {
  const workspace = createWorkspace(memoryHost({}));
  for (const path of typed("engines/a-long-name-of-an-engine")) {
    workspace.setText(MAIN, `use "${path}.tappet"\n`);
    await workspace.settle();
  }
  expect([...(await workspace.whole(TODAY)).project.unreadable.keys()]).toEqual([canonicalUri(`${FOLDER}/engines/a-long-name-of-an-engine.tappet`)]);
  workspace.setText(MAIN, "");
  expect([...(await workspace.whole(TODAY)).project.unreadable.keys()]).toEqual([]);
});

test("a path that another file still names stays known as not there", async () => {
  const workspace = createWorkspace(memoryHost({}));
  workspace.setText(MAIN, 'use "gone.tappet"\n');
  workspace.setText(`${FOLDER}/other.tappet`, 'use "gone.tappet"\n');
  await workspace.settle();
  workspace.setText(MAIN, "");
  expect(workspace.pending()).toBe(false);
  expect([...workspace.analysis(TODAY).project.unreadable.keys()]).toEqual([`${FOLDER}/gone.tappet`]);
});

test("a path that was changed while it was looked for is not remembered", async () => {
  let answer = () => {};
  const asked = new Promise<void>((go) => (answer = go));
  const disk = memoryHost({});
  const workspace = createWorkspace({ ...disk, read: async (uri) => (await asked, disk.read(uri)) });
  workspace.setText(MAIN, 'use "half.tappet"\n');
  const settled = workspace.settle();
  workspace.setText(MAIN, "");
  answer();
  await settled;
  expect([...(await workspace.whole(TODAY)).project.unreadable.keys()]).toEqual([]);
});

test("of the names that a build had while its name was typed the last few have a sheet to come back to", () => {
  const workspace = createWorkspace(memoryHost({}));
  const last: LastSheets = new Map();
  const names = typed("alongnameofabuild");
  for (const name of names) {
    workspace.setText(MAIN, `engine e {\n  cylinders: 4\n}\n\nbuild ${name} on e {\n}\n`);
    sheetFor(workspace.analysis(TODAY), { uri: MAIN, build: name }, (uri) => uri, last);
  }
  const kept = [...(last.get(MAIN)?.keys() ?? [])];
  expect(kept).toContain(names.at(-1));
  expect(kept).toEqual(names.slice(-5));
});

test("of a text that was edited two hundred times the earlier readings, facts and results are collected", async () => {
  setFlagsFromString("--expose-gc");
  const collect = runInNewContext("gc") as () => void;
  const workspace = createWorkspace(memoryHost({}));
  const last: LastSheets = new Map();
  const refs: Record<"reading" | "tree" | "facts" | "result", WeakRef<object>>[] = [];
  const edit = (figure: number) => {
    workspace.setText(MAIN, `engine e {\n  source: "x"\n  cylinders: 4\n  bore: ${figure} mm\n}\n\nbuild b on e {\n  redline: ${figure}00 rpm\n}\n`);
    const analysis = workspace.analysis(TODAY);
    const file = analysis.project.files.get(MAIN);
    const result = analysis.fileResult(MAIN);
    sheetFor(analysis, { uri: MAIN }, (uri) => uri, last);
    const [tree, facts] = [file?.source.declarations[0]?.tree, file?.declarations[0]];
    if (!file || !result || !tree || !facts) throw new Error("nothing was read");
    refs.push({ reading: new WeakRef(file.source), tree: new WeakRef(tree), facts: new WeakRef(facts), result: new WeakRef(result) });
  };
  for (let i = 0; i < 200; i++) edit(50 + i);
  await workspace.whole(TODAY);
  // What was looked at in a turn lives until it ends.
  await nextTurn();
  collect();
  const alive = (what: "reading" | "tree" | "facts" | "result") => refs.flatMap((of, i) => (of[what].deref() ? [i] : []));
  // The present ones, what the last analysis carried over from the one before it, and what the runtime itself looks at while it compiles: that
  // is one or two states more on a busy machine, where whatever holds on to the state before it holds on to all.
  for (const what of ["reading", "tree", "facts", "result"] as const) expect(alive(what).filter((i) => i < 190), what).toEqual([]);
  expect(alive("facts")).toContain(199);
});
