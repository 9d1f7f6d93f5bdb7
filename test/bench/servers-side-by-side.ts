// Tappet's server beside the JSON and the YAML server, in turn within one run: start to first finding, keystroke to findings, answers,
// formatting, memory. Prints; asserts nothing about time.
import { BUILT_SERVER, folderOf } from "../support/client.ts";
import { type Notation, documentsOf, schema } from "./documents.ts";
import { peerFile } from "./peers.ts";
import { type Driven, type ServerKind, drive } from "./servers.ts";
import { figure, ratios, shown, spreadOf, table } from "./spread.ts";

const EDITS = 60;
const STARTS = 5;
const ASKED = 8;

function kindsFor(schemaUri: string): readonly ServerKind[] {
  const json = peerFile("vscode-langservers-extracted", "bin/vscode-json-language-server");
  const yaml = peerFile("yaml-language-server", "bin/yaml-language-server");
  return [
    { name: "tappet", languageId: "tappet", args: [BUILT_SERVER, "--stdio"], pulls: true },
    ...(json === undefined ? [] : [{ name: "json", languageId: "json", args: [json, "--stdio"], pulls: true, initializationOptions: { provideFormatter: true, customCapabilities: { rangeFormatting: { editLimit: 100000 } } }, settings: { json: { validate: { enable: true }, format: { enable: true }, schemas: [{ fileMatch: ["*.json"], schema: schema() }] } } }]),
    ...(yaml === undefined ? [] : [{ name: "yaml", languageId: "yaml", args: [yaml, "--stdio"], pulls: false, settings: { yaml: { validate: true, hover: true, completion: true, format: { enable: true }, schemas: { [schemaUri]: ["*.yaml"] } } } }]),
  ];
}

type Timings = Map<string, Map<string, number[]>>;

function note(timings: Timings, what: string, who: string, value: number): void {
  let row = timings.get(what);
  if (!row) timings.set(what, (row = new Map()));
  const list = row.get(who);
  if (list) list.push(value);
  else row.set(who, [value]);
}

async function timed<T>(work: () => Promise<T>): Promise<[number, T]> {
  const started = performance.now();
  const result = await work();
  return [performance.now() - started, result];
}

function placeIn({ text, typedAfter }: Notation): { line: number; character: number } {
  const before = text.slice(0, text.indexOf(typedAfter) + typedAfter.length);
  return { line: before.split("\n").length - 1, character: before.length - before.lastIndexOf("\n") - 1 };
}

async function measure(lines: number): Promise<void> {
  const documents = documentsOf(lines);
  const folder = folderOf({ "schema.json": JSON.stringify(schema()), ...Object.fromEntries(documents.map((d) => [`book${d.ending}`, d.text])) });
  const kinds = kindsFor(folder.uriOf("schema.json"));
  const timings: Timings = new Map();
  const documentOf = (kind: ServerKind) => documents.find((d) => d.id === kind.name) as Notation;
  const started = async (kind: ServerKind): Promise<Driven> => {
    const document = documentOf(kind);
    const [time, server] = await timed(async () => {
      const begun = await drive(kind, folder);
      begun.open(folder.uriOf(`book${document.ending}`), document.text);
      const found = await begun.findings();
      if (found.length === 0) throw new Error(`${kind.name} finds nothing in ${lines} lines`);
      return begun;
    });
    note(timings, "start to first finding", kind.name, time);
    note(timings, "  processor time of the start", kind.name, server.work());
    return server;
  };
  for (let i = 0; i < STARTS - 1; i++) for (const kind of kinds) await (await started(kind)).stop();
  const servers: Driven[] = [];
  for (const kind of kinds) servers.push(await started(kind));
  for (const server of servers) note(timings, "memory after opening, MB", server.kind.name, server.memory().now);

  const counts = new Map<string, number>();
  for (let i = 0; i < EDITS; i++)
    for (const server of servers) {
      const before = server.work();
      const [time, found] = await timed(() => server.edit(placeIn(documentOf(server.kind)), i % 2 === 0 ? "0" : ""));
      note(timings, "keystroke to findings", server.kind.name, time);
      note(timings, "  processor time of a keystroke", server.kind.name, server.work() - before);
      if (i % 2 === 0 && found.length <= (counts.get(server.kind.name) ?? 0)) throw new Error(`${server.kind.name} does not see the digit`);
      if (i % 2 === 1) counts.set(server.kind.name, found.length);
    }
  for (let i = 0; i < ASKED; i++)
    for (const server of servers) {
      const place = placeIn(documentOf(server.kind));
      const key = { line: place.line, character: documentOf(server.kind).text.split("\n")[place.line]?.search(/[a-z]/) ?? 0 };
      const asked: readonly (readonly [string, string, object])[] = [
        ["hover", "textDocument/hover", { position: { line: key.line, character: key.character + 1 } }],
        ["completion", "textDocument/completion", { position: key }],
        ["outline", "textDocument/documentSymbol", {}],
      ];
      // Each after an edit, as in an editor: an answer that was remembered would say little.
      for (const [what, method, params] of asked) {
        await server.edit(place, "0");
        const before = server.work();
        const [time, answer] = await timed(() => server.request(method, params));
        if (answer === null || (Array.isArray(answer) && answer.length === 0)) throw new Error(`${server.kind.name} has no ${what}`);
        note(timings, what, server.kind.name, time);
        note(timings, `  processor time of ${what}`, server.kind.name, server.work() - before);
        await server.edit(place, "");
      }
    }
  for (let i = 0; i < 5; i++)
    for (const server of servers) {
      const before = server.work();
      const [time] = await timed(() => server.request("textDocument/formatting", { options: { tabSize: 2, insertSpaces: true } }));
      note(timings, "formatting", server.kind.name, time);
      note(timings, "  processor time of formatting", server.kind.name, server.work() - before);
    }
  for (const server of servers) {
    note(timings, "memory at the end, MB", server.kind.name, server.memory().now);
    note(timings, "memory at its peak, MB", server.kind.name, server.memory().peak);
    await server.stop();
  }
  folder.remove();

  const names = kinds.map((k) => k.name);
  console.log(`\n${documents.map((d) => `${d.id} ${d.lines} lines, ${Math.round(d.text.length / 1000)} kB`).join("; ")}. Milliseconds: median (one in ten below – one in ten above).`);
  console.log(table([
    ["", ...names, ...names.slice(1).map((n) => `tappet/${n}`)],
    ...[...timings].map(([what, row]) => [
      what, ...names.map((name) => shown(spreadOf(row.get(name) ?? []))), ...names.slice(1).map((name) => (what.startsWith("memory") ? figure(ratios(row.get("tappet") ?? [], row.get(name) ?? []).median) : shown(ratios(row.get("tappet") ?? [], row.get(name) ?? [])))),
    ]),
  ]));
}

export async function sideBySide(sizes: readonly number[]): Promise<void> {
  for (const lines of sizes) await measure(lines);
}
