// Drives any language server over its standard streams, as an editor does, and says how long each answer took. Knows the protocol and what a
// server wants to be told at its start; knows no language.
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { spawnSync } from "node:child_process";
import { type MessageConnection, type Position, type PublishDiagnosticsParams, type Diagnostic, StreamMessageReader, StreamMessageWriter, createMessageConnection } from "vscode-languageserver/node";

export interface ServerKind {
  readonly name: string;
  readonly languageId: string;
  readonly args: readonly string[];
  /** Asked for findings, or left to send them by itself. */
  readonly pulls: boolean;
  /** What `workspace/configuration` is answered with, section by section, and sent once as a change of settings. */
  readonly settings?: Readonly<Record<string, unknown>>;
  readonly initializationOptions?: unknown;
}

export interface Driven {
  readonly kind: ServerKind;
  /** Findings for the text as it is now, asked for or waited for. */
  findings(): Promise<readonly Diagnostic[]>;
  open(uri: string, text: string): void;
  /** Puts text at a place, or takes one character away there, and waits for the findings of that version. */
  edit(at: Position, text: string): Promise<readonly Diagnostic[]>;
  request(method: string, params: object): Promise<unknown>;
  readonly uri: string;
  /** Megabytes resident now, and at the most so far; NaN where the system does not say. */
  memory(): { readonly now: number; readonly peak: number };
  /** Processor time so far over all its threads, milliseconds: what else the machine does hardly counts. NaN where the system does not say. */
  work(): number;
  stop(): Promise<void>;
}

/** Starts a server and gets it ready to be given documents. */
export async function drive(kind: ServerKind, folder: { readonly path: string; readonly uri: string }): Promise<Driven> {
  const child = spawn(process.execPath, [...kind.args], { stdio: ["pipe", "pipe", "ignore"], cwd: folder.path });
  const connection = createMessageConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin));
  const heard = new Map<string, { diagnostics: readonly Diagnostic[]; count: number }>();
  let wake: (() => void) | undefined;
  connection.onNotification("textDocument/publishDiagnostics", ({ uri, diagnostics }: PublishDiagnosticsParams) => {
    heard.set(uri, { diagnostics, count: (heard.get(uri)?.count ?? 0) + 1 });
    wake?.();
  });
  connection.onRequest("workspace/configuration", ({ items }: { items: readonly { section?: string }[] }) => items.map(({ section }) => kind.settings?.[section ?? ""] ?? null));
  connection.onRequest("client/registerCapability", () => null);
  connection.onRequest("workspace/diagnostic/refresh", () => null);
  connection.onUnhandledNotification(() => {});
  connection.listen();
  await connection.sendRequest("initialize", {
    processId: process.pid, rootUri: folder.uri, workspaceFolders: [{ uri: folder.uri, name: "bench" }], initializationOptions: kind.initializationOptions,
    capabilities: {
      workspace: { configuration: true, workspaceFolders: true, didChangeConfiguration: { dynamicRegistration: false }, didChangeWatchedFiles: { dynamicRegistration: true } },
      textDocument: {
        synchronization: {}, publishDiagnostics: { relatedInformation: true, versionSupport: true }, hover: { contentFormat: ["markdown"] }, completion: { completionItem: { snippetSupport: true } },
        documentSymbol: { hierarchicalDocumentSymbolSupport: true }, formatting: {}, rangeFormatting: {}, ...(kind.pulls && { diagnostic: {} }),
      },
    },
  });
  void connection.sendNotification("initialized", {});
  if (kind.settings) void connection.sendNotification("workspace/didChangeConfiguration", { settings: kind.settings });
  return driven(kind, child, connection, heard, (go) => (wake = go));
}

function driven(kind: ServerKind, child: ChildProcess, connection: MessageConnection, heard: ReadonlyMap<string, { diagnostics: readonly Diagnostic[]; count: number }>, onWake: (go: () => void) => void): Driven {
  let uri = "";
  let version = 1;
  const next = async (after: number): Promise<readonly Diagnostic[]> => {
    while ((heard.get(uri)?.count ?? 0) <= after) await new Promise<void>((go) => onWake(go));
    return heard.get(uri)?.diagnostics ?? [];
  };
  const pull = async () => ((await connection.sendRequest("textDocument/diagnostic", { textDocument: { uri } })) as { items: Diagnostic[] }).items;
  return {
    kind,
    get uri() { return uri; },
    findings: () => (kind.pulls ? pull() : next(0)),
    open(opened, text) {
      uri = opened;
      void connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: kind.languageId, version, text } });
    },
    edit(at, text) {
      const end = text === "" ? { line: at.line, character: at.character + 1 } : at;
      const before = heard.get(uri)?.count ?? 0;
      void connection.sendNotification("textDocument/didChange", { textDocument: { uri, version: ++version }, contentChanges: [{ range: { start: at, end }, text }] });
      return kind.pulls ? pull() : next(before);
    },
    request: (method, params) => connection.sendRequest(method, { textDocument: { uri }, ...params }),
    memory: () => memoryOf(child.pid ?? 0),
    work: () => workOf(child.pid ?? 0),
    async stop() {
      const ended = new Promise((go) => child.once("exit", go));
      await connection.sendRequest("shutdown");
      await connection.sendNotification("exit");
      await ended;
      connection.dispose();
    },
  };
}

function memoryOf(pid: number): { now: number; peak: number } {
  const status = `/proc/${pid}/status`;
  if (existsSync(status)) {
    const text = readFileSync(status, "utf8");
    const read = (name: string) => Number(new RegExp(`${name}:\\s+(\\d+)`).exec(text)?.[1]) / 1024;
    return { now: read("VmRSS"), peak: read("VmHWM") };
  }
  const now = Number(spawnSync("ps", ["-o", "rss=", "-p", String(pid)], { encoding: "utf8" }).stdout) / 1024;
  return { now, peak: NaN };
}

function workOf(pid: number): number {
  const tasks = `/proc/${pid}/task`;
  if (!existsSync(tasks)) return NaN;
  // A thread may end between the listing and the reading.
  const spent = (task: string) => { try { return Number(readFileSync(`${tasks}/${task}/schedstat`, "utf8").split(" ")[0]) / 1e6; } catch { return 0; } };
  return readdirSync(tasks).reduce((sum, task) => sum + spent(task), 0);
}
