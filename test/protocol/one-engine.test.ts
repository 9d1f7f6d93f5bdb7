/** One engine behind every door: the command line, the language server, the browser's worker and the sheet say the same of every file there is. */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import type { CodeAction, Diagnostic, Range, WorkspaceDiagnosticReport } from "vscode-languageserver/node";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { localDate } from "../../server/client-host.ts";
import { RULES } from "../../server/rules/index.ts";
import { BUILT_COMMAND_LINE, type Client, type Folder, folderOf, startServer, startWorker } from "../support/client.ts";
import { AS_OF, filesOf } from "../support/project.ts";
import { filesBelow } from "../workspace/corpus.ts";

/** As the command line prints it. */
interface FindingJson {
  readonly rule: string;
  readonly severity: string;
  readonly message: string;
  readonly file: string;
  readonly range: { readonly start: Point; readonly end: Point };
  readonly related: readonly { readonly message: string; readonly file: string; readonly range: unknown }[];
  readonly fixes: readonly { readonly title: string; readonly edits: readonly { readonly file: string; readonly range: unknown; readonly text: string }[] }[];
}
interface Point {
  readonly line: number;
  readonly column: number;
}

/** Samples, fixtures, and the good and bad example of every rule, each in a folder of its own. */
function corpus(): Record<string, string> {
  const files: Record<string, string> = {};
  const put = (folder: string, text: string) => {
    for (const file of filesOf(text)) if (!file.unreadable) files[`${folder}/${file.name}`] = file.text;
  };
  for (const [name, text] of filesBelow("samples")) files[`samples/${name}`] = text;
  for (const [name, text] of filesBelow("test")) put(`fixtures/${name.replace(/\.tappet$/, "")}`, text);
  for (const rule of RULES) {
    put(`rules/${rule.id}/bad`, rule.page.bad);
    put(`rules/${rule.id}/good`, rule.page.good);
  }
  return files;
}

const FILES = corpus();
/** Build files; the others lie beside them. */
const NAMES = Object.keys(FILES).filter((name) => name.endsWith(".tappet")).sort();
let folder: Folder;
let today: string;
let checked: readonly FindingJson[];

beforeAll(() => {
  folder = folderOf(FILES);
  today = localDate();
  checked = (commandLine("check", ".", "--as-of", today, "--format", "json") as { findings: FindingJson[] }).findings;
});
afterAll(() => folder.remove());

/** Reads for a worker that has no files, as the editor that started it does. */
function read(uri: string): { readonly text: string } | { readonly problem: string } {
  return existsSync(new URL(uri)) ? { text: readFileSync(new URL(uri), "utf8") } : { problem: "missing" };
}

function readData(uri: string): { readonly base64: string } | { readonly problem: string } {
  return existsSync(new URL(uri)) ? { base64: readFileSync(new URL(uri)).toString("base64") } : { problem: "missing" };
}

/** What the built command line prints, read. */
function commandLine(...args: readonly string[]): unknown {
  const ran = spawnSync(process.execPath, [BUILT_COMMAND_LINE, ...args], { cwd: folder.path, encoding: "utf8", maxBuffer: 1 << 28 });
  if (ran.status !== 0 && ran.status !== 1) throw new Error(`${args.join(" ")}: ${ran.stderr}`);
  return JSON.parse(ran.stdout);
}

/** A text that is the same for the same finding, whichever door it came through. Whether a fix is safe is no part of the protocol. */
function spelt(f: FindingJson): string {
  return JSON.stringify([f.file, f.range, f.rule, f.severity, f.message, f.related.map((r) => [r.message, r.file, r.range]), f.fixes.map((x) => [x.title, x.edits.map((e) => [e.file, e.range, e.text])])]);
}

const SEVERITIES = ["", "error", "warning", "advice"];
const nameOf = (uri: string) => decodeURIComponent(uri.slice(folder.uri.length + 1));
const back = (range: Range) => ({ start: { line: range.start.line + 1, column: range.start.character + 1 }, end: { line: range.end.line + 1, column: range.end.character + 1 } });
const key = (d: Diagnostic) => JSON.stringify([d.code, d.message, d.range]);

/** The protocol lets a message be marked up; ours never is. */
function textOf(message: Diagnostic["message"]): string {
  if (typeof message !== "string") throw new Error("a message is marked up");
  return message;
}

/** What is written out is written with every recording read: whoever has it knows that they are. */
async function recordingsRead(client: Client): Promise<void> {
  await client.request("tappet/export", { uri: folder.uriOf(NAMES[0] as string), format: "json" });
}

/** Findings of every file, as a client hears of them. */
async function heard(client: Client): Promise<string[]> {
  for (const name of NAMES) client.open(folder.uriOf(name), FILES[name] as string);
  await recordingsRead(client);
  const all: string[] = [];
  for (const name of NAMES) {
    const uri = folder.uriOf(name);
    const diagnostics = await client.pull(uri);
    // To accept a finding is no way to put it right: the command line prints no waivers.
    const actions = (await client.actions(uri, { start: { line: 0, character: 0 }, end: { line: 1e6, character: 0 } })).filter((a) => !a.title.startsWith("Waive "));
    const fixes = new Map<string, CodeAction[]>();
    for (const action of actions) for (const d of action.diagnostics ?? []) fixes.set(key(d), [...(fixes.get(key(d)) ?? []), action]);
    for (const d of diagnostics)
      all.push(
        spelt({
          rule: String(d.code), severity: SEVERITIES[d.severity ?? 0] ?? "", message: textOf(d.message), file: nameOf(uri), range: back(d.range),
          related: (d.relatedInformation ?? []).map((r) => ({ message: r.message, file: nameOf(r.location.uri), range: back(r.location.range) })),
          fixes: (fixes.get(key(d)) ?? []).map((a) => ({ title: a.title, edits: Object.entries(a.edit?.changes ?? {}).flatMap(([at, edits]) => edits.map((e) => ({ file: nameOf(at), range: back(e.range), text: e.newText }))) })),
        }),
      );
  }
  expect(client.complaints()).toEqual([]);
  return all;
}

describe("the whole corpus", () => {
  test("is more than a handful, and has something wrong of every rule that has an example", () => {
    expect(NAMES.length).toBeGreaterThan(100);
    // Examples that turn on a day are written for this one.
    const { findings } = commandLine("check", ".", "--as-of", AS_OF, "--format", "json") as { readonly findings: readonly FindingJson[] };
    const rules = new Set(findings.map((f) => f.rule));
    expect(RULES.map((r) => r.id).filter((id) => !rules.has(id))).toEqual([]);
  });

  test("gets the same findings, places and fixes from the command line and the language server", async () => {
    const client = await startServer({ folders: [folder.uri], pulls: true });
    expect(await heard(client)).toEqual(checked.map(spelt));
    await client.stop();
  });

  test("gets the same findings and places of files that nobody has opened", async () => {
    const client = await startServer({ folders: [folder.uri], pulls: true });
    await client.request<WorkspaceDiagnosticReport>("workspace/diagnostic", { previousResultIds: [] });
    await recordingsRead(client);
    const { items } = await client.request<WorkspaceDiagnosticReport>("workspace/diagnostic", { previousResultIds: [] });
    const found = new Map(items.map((report) => [nameOf(report.uri), report.kind === "full" ? report.items : []]));
    const bare = (f: Omit<FindingJson, "fixes">) => JSON.stringify([f.file, f.range, f.rule, f.severity, f.message, f.related.map((r) => [r.message, r.file, r.range])]);
    const told = NAMES.flatMap((name) =>
      (found.get(name) ?? []).map((d) =>
        bare({
          rule: String(d.code), severity: SEVERITIES[d.severity ?? 0] ?? "", message: textOf(d.message), file: name, range: back(d.range),
          related: (d.relatedInformation ?? []).map((r) => ({ message: r.message, file: nameOf(r.location.uri), range: back(r.location.range) })),
        }),
      ),
    );
    expect(told).toEqual(checked.map(bare));
    await client.stop();
  });

  test("gets the same findings, places and fixes from the browser's worker", async () => {
    const client = await startWorker({ folders: [folder.uri], pulls: true, read, readData });
    expect(await heard(client)).toEqual(checked.map(spelt));
    await client.stop();
  });

  test("gets the same sheets from the command line, the language server and the worker, to the byte, and every finding on them is one of the check's", async () => {
    const server = await startServer({ folders: [folder.uri], pulls: true });
    const worker = await startWorker({ folders: [folder.uri], pulls: true, read, readData });
    const known = new Set(checked.map(spelt));
    let sheets = 0;
    for (const name of NAMES.filter((n) => n.startsWith("samples/"))) {
      const uri = folder.uriOf(name);
      for (const client of [server, worker]) client.open(uri, FILES[name] as string);
      const shown = await server.request<{ builds: string[] } | null>("tappet/sheet", { uri });
      for (const build of shown?.builds ?? []) {
        const printed = commandLine("sheet", name, "--build", build, "--as-of", today, "--format", "json") as { findings: FindingJson[] };
        const [exported, inWorker] = await Promise.all([server, worker].map((client) => client.request<string>("tappet/export", { uri, build, format: "json" })));
        expect(inWorker, `${name}, ${build}`).toBe(exported);
        // The two name files from different folders; everything else must agree.
        expect(JSON.parse(exported as string, shortened), `${name}, ${build}`).toEqual(JSON.parse(JSON.stringify(printed), shortened));
        for (const f of printed.findings) expect(known, `${name}, ${build}: ${f.rule}`).toContain(spelt(f));
        sheets++;
      }
    }
    expect(sheets).toBeGreaterThan(5);
    await server.stop();
    await worker.stop();
  });

  test("has every finding in a build's own lines on that build's sheet", () => {
    for (const name of NAMES.filter((n) => n.startsWith("samples/builds/"))) {
      const own = checked.filter((f) => f.file === name).map(spelt);
      const sheet = commandLine("sheet", name, "--as-of", today, "--format", "json") as { findings: FindingJson[] };
      expect(new Set(sheet.findings.filter((f) => f.file === name).map(spelt)), name).toEqual(new Set(own));
    }
  });
});

/** Leaves only the last two steps of a file's path. */
function shortened(name: string, value: unknown): unknown {
  return name === "file" && typeof value === "string" ? value.split("/").slice(-1)[0] : value;
}
