// A client of the language server as an editor would be one: real JSON-RPC over a process's streams or a worker's messages. Waits for
// messages, never for time. Knows the protocol; knows nothing of engines.
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { Worker } from "node:worker_threads";
import {
  type ClientCapabilities, type CodeAction, type CodeActionParams, type CompletionItem, type Diagnostic, type DocumentSymbol, type FullDocumentDiagnosticReport,
  type Hover, type InitializeResult, type Location, type MessageConnection, type Position, type PublishDiagnosticsParams, type Range, type TextEdit, type WorkspaceEdit,
  AbstractMessageReader, AbstractMessageWriter, type DataCallback, type Disposable, type Message, type MessageReader, type MessageWriter,
  StreamMessageReader, StreamMessageWriter, createMessageConnection,
} from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";

export const PROJECT = join(import.meta.dirname, "../..");
export const BUILT_SERVER = join(PROJECT, "dist/language-server.cjs");
export const BUILT_COMMAND_LINE = join(PROJECT, "dist/command-line.cjs");
export const BUILT_WORKER = join(PROJECT, "dist/browser-worker.js");

const HEAP_PROBE = join(import.meta.dirname, "heap-probe.cjs");

/** A folder of files that lasts as long as a test. */
export interface Folder {
  readonly path: string;
  readonly uri: string;
  uriOf(name: string): string;
  write(name: string, content: string | Uint8Array): void;
  remove(name?: string): void;
}

export function folderOf(files: Readonly<Record<string, string | Uint8Array>>): Folder {
  const path = realpathSync(mkdtempSync(join(tmpdir(), "tappet-protocol-")));
  const folder: Folder = {
    path,
    uri: pathToFileURL(path).href,
    uriOf: (name) => pathToFileURL(join(path, name)).href,
    write(name, content) {
      mkdirSync(dirname(join(path, name)), { recursive: true });
      writeFileSync(join(path, name), content);
    },
    remove: (name) => rmSync(name === undefined ? path : join(path, name), { recursive: true, force: true }),
  };
  for (const [name, content] of Object.entries(files)) folder.write(name, content);
  return folder;
}

export interface Client {
  readonly connection: MessageConnection;
  readonly initialized: InitializeResult;
  /** How often the server has asked that findings be asked for again. */
  readonly refreshes: () => number;
  /** The next time the server asks, after the count given. */
  refreshed(after: number): Promise<void>;
  open(uri: string, text: string): void;
  /** Sends the edit as a range, the way an editor does when someone types. */
  edit(uri: string, range: Range, text: string): void;
  /** Sends edits by offsets, each in the text that the one before it left, as one change: many carets, or a hand faster than its editor. */
  rewrite(uri: string, edits: readonly (readonly [start: number, end: number, text: string])[]): void;
  /** Replaces the first occurrence of `from`, which must be there. */
  replace(uri: string, from: string, to: string): void;
  close(uri: string): void;
  textOf(uri: string): string;
  versionOf(uri: string): number;
  positionAt(uri: string, offset: number): Position;
  /** The position of an occurrence of `words`, `into` code units into it. */
  at(uri: string, words: string, into?: number): Position;
  pull(uri: string): Promise<readonly Diagnostic[]>;
  /** What was pushed for the document's present version, now or as soon as it comes. */
  pushed(uri: string): Promise<readonly Diagnostic[]>;
  /** The next push for a document that satisfies the condition, past ones included. */
  pushedWhere(uri: string, holds: (diagnostics: readonly Diagnostic[]) => boolean): Promise<readonly Diagnostic[]>;
  hover(uri: string, position: Position): Promise<string | undefined>;
  complete(uri: string, position: Position): Promise<readonly CompletionItem[]>;
  define(uri: string, position: Position): Promise<readonly Location[]>;
  outline(uri: string): Promise<readonly DocumentSymbol[]>;
  format(uri: string): Promise<readonly TextEdit[]>;
  actions(uri: string, range: Range, context?: Partial<CodeActionParams["context"]>): Promise<readonly CodeAction[]>;
  /** Makes an edit to open documents, and tells the server. */
  apply(edit: WorkspaceEdit): void;
  request<T>(method: string, params: unknown): Promise<T>;
  notify(method: string, params: unknown): void;
  /** URIs that the server said have changed, one entry a message. */
  readonly changes: () => readonly (readonly string[])[];
  /** Error messages that the server wrote to the client's log. */
  readonly complaints: () => readonly string[];
  /** True while the server runs. */
  alive(): boolean;
  /** Megabytes that the server's process holds; NaN where the system does not say. */
  memory(): number;
  /** Megabytes that the server's heap still holds once it has been collected; of a server that was started `watched`. */
  heap(snapshot?: string): Promise<number>;
  /** Ends a server that may no longer listen. */
  kill(): void;
  stop(): Promise<void>;
}

export interface ClientOptions {
  readonly folders?: readonly string[];
  /** A client that asks for findings; otherwise they are pushed to it. */
  readonly pulls?: boolean;
  readonly snippets?: boolean;
  readonly capabilities?: ClientCapabilities;
  /** Answers what a server without a disk asks of its client. */
  readonly read?: (uri: string) => { readonly text: string } | { readonly problem: string };
  /** Answers what the server asks of a file in a revision. */
  readonly readAt?: (uri: string, ref: string) => { readonly text: string } | { readonly problem: string };
  readonly readData?: (uri: string) => { readonly base64: string } | { readonly problem: string };
  readonly initialize?: Readonly<Record<string, unknown>>;
  /** Its heap can be asked for. */
  readonly watched?: boolean;
}

/** The built server as a process of its own. */
export async function startServer(options: ClientOptions = {}): Promise<Client> {
  const watching = options.watched ? ["--expose-gc", "--require", HEAP_PROBE] : [];
  const child = spawn(process.execPath, [...watching, BUILT_SERVER, "--stdio"], { stdio: ["pipe", "pipe", "inherit", options.watched ? "ipc" : "ignore"], cwd: tmpdir() });
  const { stdin, stdout } = child;
  if (!stdin || !stdout) throw new Error("a process without streams");
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  const stop = async () => {
    if (child.exitCode === null && child.signalCode === null) stdin.end();
    await ended;
  };
  return connect(new StreamMessageReader(stdout), new StreamMessageWriter(stdin), () => running(child), stop, ended, options, child);
}

function residentMemory(pid: number): number {
  const status = `/proc/${pid}/status`;
  return existsSync(status) ? Number(/VmRSS:\s+(\d+)/.exec(readFileSync(status, "utf8"))?.[1]) / 1024 : NaN;
}

function running(child: ChildProcess): boolean {
  return child.exitCode === null && child.signalCode === null;
}

// What a browser's worker offers a script, over Node's own worker.
const WORKER_SHIM = `
const { parentPort, workerData } = require("node:worker_threads");
const { readFileSync } = require("node:fs");
const { runInThisContext } = require("node:vm");
globalThis.self = globalThis;
globalThis.postMessage = (message) => parentPort.postMessage(message);
globalThis.addEventListener = () => {};
parentPort.on("message", (data) => globalThis.onmessage?.({ data }));
globalThis.process = undefined;
globalThis.require = undefined;
runInThisContext(readFileSync(workerData, "utf8"), { filename: workerData });
`;

class WorkerReader extends AbstractMessageReader implements MessageReader {
  readonly #worker: Worker;
  constructor(worker: Worker) {
    super();
    this.#worker = worker;
  }
  listen(callback: DataCallback): Disposable {
    const hear = (message: Message) => callback(message);
    this.#worker.on("message", hear);
    return { dispose: () => void this.#worker.off("message", hear) };
  }
}

class WorkerWriter extends AbstractMessageWriter implements MessageWriter {
  readonly #worker: Worker;
  constructor(worker: Worker) {
    super();
    this.#worker = worker;
  }
  write(message: Message): Promise<void> {
    this.#worker.postMessage(message);
    return Promise.resolve();
  }
  end(): void {}
}

/** The built browser bundle in a worker that has no Node, no files and no process. */
export async function startWorker(options: ClientOptions = {}): Promise<Client> {
  const worker = new Worker(WORKER_SHIM, { eval: true, workerData: BUILT_WORKER });
  let alive = true;
  let complaint: unknown;
  worker.once("error", (error) => (complaint = error));
  const ended = new Promise<void>((resolve) =>
    worker.once("exit", () => {
      alive = false;
      if (complaint !== undefined) process.stderr.write(`${String(complaint)}\n`);
      resolve();
    }),
  );
  const stop = async () => {
    await worker.terminate();
  };
  return connect(new WorkerReader(worker), new WorkerWriter(worker), () => alive, stop, ended, options);
}

async function connect(reader: MessageReader, writer: MessageWriter, alive: () => boolean, end: () => Promise<void>, ended: Promise<void>, options: ClientOptions, child?: ChildProcess): Promise<Client> {
  const connection = createMessageConnection(reader, writer);
  // Whoever waits for an answer from a server that has ended must not wait for ever.
  void ended.then(() => connection.dispose());
  const documents = new Map<string, TextDocument>();
  const versions = new Map<string, number>();
  const pushes: PublishDiagnosticsParams[] = [];
  const changes: string[][] = [];
  const complaints: string[] = [];
  let refreshes = 0;
  let waiting: { holds: () => boolean; go: () => void }[] = [];
  const look = () => {
    const now = waiting;
    waiting = [];
    for (const w of now) if (w.holds()) w.go();
      else waiting.push(w);
  };
  const until = (holds: () => boolean) => (holds() ? Promise.resolve() : new Promise<void>((go) => waiting.push({ holds, go })));
  connection.onNotification("textDocument/publishDiagnostics", (params: PublishDiagnosticsParams) => {
    pushes.push(params);
    look();
  });
  connection.onNotification("tappet/changed", (params: { uris: string[] }) => {
    changes.push(params.uris);
    look();
  });
  connection.onNotification("window/logMessage", (params: { type: number; message: string }) => {
    if (params.type === 1) complaints.push(params.message);
  });
  connection.onRequest("workspace/diagnostic/refresh", () => {
    refreshes++;
    look();
    return null;
  });
  connection.onRequest("client/registerCapability", () => null);
  connection.onRequest("tappet/read", ({ uri }: { uri: string }): unknown => options.read?.(uri) ?? { problem: "missing" });
  connection.onRequest("tappet/readAt", ({ uri, ref }: { uri: string; ref: string }): unknown => options.readAt?.(uri, ref) ?? { problem: "missing" });
  connection.onRequest("tappet/readData", ({ uri }: { uri: string }): unknown => {
    if (options.readData) return options.readData(uri);
    const reading = options.read?.(uri) ?? { problem: "missing" };
    return "text" in reading ? { base64: Buffer.from(reading.text).toString("base64") } : reading;
  });
  connection.onUnhandledNotification(() => {});
  connection.onClose(look);
  connection.listen();

  const capabilities: ClientCapabilities = {
    ...options.capabilities,
    workspace: { workspaceFolders: true, ...(options.pulls && { diagnostics: { refreshSupport: true } }), ...options.capabilities?.workspace },
    textDocument: {
      publishDiagnostics: { relatedInformation: true, versionSupport: true },
      completion: { completionItem: { snippetSupport: options.snippets ?? true } },
      hover: { contentFormat: ["markdown"] },
      documentSymbol: { hierarchicalDocumentSymbolSupport: true },
      ...(options.pulls && { diagnostic: { relatedDocumentSupport: false } }),
      ...options.capabilities?.textDocument,
    },
  };
  const initialized: InitializeResult = await connection.sendRequest("initialize", {
    processId: null, rootUri: null, capabilities, workspaceFolders: options.folders?.map((uri) => ({ uri, name: uri })) ?? null, ...options.initialize,
  });
  void connection.sendNotification("initialized", {});

  const document = (uri: string): TextDocument => {
    const found = documents.get(uri);
    if (!found) throw new Error(`${uri} is not open`);
    return found;
  };
  const edit = (uri: string, range: Range, text: string) => {
    const version = document(uri).version + 1;
    documents.set(uri, TextDocument.update(document(uri), [{ range, text }], version));
    versions.set(uri, version);
    void connection.sendNotification("textDocument/didChange", { textDocument: { uri, version }, contentChanges: [{ range, text }] });
  };
  const rewrite: Client["rewrite"] = (uri, edits) => {
    const version = document(uri).version + 1;
    const contentChanges = edits.map(([start, end, text]) => {
      const change = { range: { start: document(uri).positionAt(start), end: document(uri).positionAt(end) }, text };
      documents.set(uri, TextDocument.update(document(uri), [change], version));
      return change;
    });
    versions.set(uri, version);
    void connection.sendNotification("textDocument/didChange", { textDocument: { uri, version }, contentChanges });
  };
  const pushedWhere: Client["pushedWhere"] = async (uri, holds) => {
    const found = () => pushes.findLast((p) => p.uri === uri && holds(p.diagnostics));
    await until(() => found() !== undefined);
    return found()?.diagnostics ?? [];
  };
  const client: Client = {
    connection,
    initialized,
    refreshes: () => refreshes,
    refreshed: (after) => until(() => refreshes > after),
    open(uri, text) {
      const version = (versions.get(uri) ?? 0) + 1;
      versions.set(uri, version);
      documents.set(uri, TextDocument.create(uri, "tappet", version, text));
      void connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: "tappet", version, text } });
    },
    edit,
    rewrite,
    replace(uri, from, to) {
      const doc = document(uri);
      const start = doc.getText().indexOf(from);
      if (start < 0) throw new Error(`"${from}" is not in ${uri}`);
      edit(uri, { start: doc.positionAt(start), end: doc.positionAt(start + from.length) }, to);
    },
    close(uri) {
      documents.delete(uri);
      void connection.sendNotification("textDocument/didClose", { textDocument: { uri } });
    },
    textOf: (uri) => document(uri).getText(),
    versionOf: (uri) => document(uri).version,
    positionAt: (uri, offset) => document(uri).positionAt(offset),
    at(uri, words, into = 0) {
      const start = document(uri).getText().indexOf(words);
      if (start < 0) throw new Error(`"${words}" is not in ${uri}`);
      return document(uri).positionAt(start + into);
    },
    async pull(uri) {
      const report: FullDocumentDiagnosticReport = await connection.sendRequest("textDocument/diagnostic", { textDocument: { uri } });
      return report.items;
    },
    async pushed(uri) {
      const found = () => pushes.findLast((p) => p.uri === uri && p.version === document(uri).version);
      await until(() => found() !== undefined);
      return found()?.diagnostics ?? [];
    },
    pushedWhere,
    async hover(uri, position) {
      const hover: Hover | null = await connection.sendRequest("textDocument/hover", { textDocument: { uri }, position });
      return hover ? (hover.contents as { value: string }).value : undefined;
    },
    complete: (uri, position) => connection.sendRequest("textDocument/completion", { textDocument: { uri }, position }),
    define: (uri, position) => connection.sendRequest("textDocument/definition", { textDocument: { uri }, position }),
    outline: (uri) => connection.sendRequest("textDocument/documentSymbol", { textDocument: { uri } }),
    format: (uri) => connection.sendRequest("textDocument/formatting", { textDocument: { uri }, options: { tabSize: 2, insertSpaces: true } }),
    actions: (uri, range, context = {}) => connection.sendRequest("textDocument/codeAction", { textDocument: { uri }, range, context: { diagnostics: [], ...context } }),
    apply(workspaceEdit) {
      const written = new Set<string>();
      for (const change of workspaceEdit.documentChanges ?? []) {
        if ("kind" in change) {
          if (change.kind !== "create" || documents.has(change.uri)) throw new Error(`${change.kind} ${"uri" in change ? change.uri : ""} cannot be made here`);
          written.add(change.uri);
        }
      }
      for (const uri of written) client.open(uri, "");
      const listed = workspaceEdit.documentChanges?.flatMap((c) => ("edits" in c ? [[c.textDocument.uri, c.edits as TextEdit[]] as const] : [])) ?? [];
      for (const [uri, edits] of [...Object.entries(workspaceEdit.changes ?? {}), ...listed]) {
        const doc = document(uri);
        const text = TextDocument.applyEdits(doc, [...edits]);
        edit(uri, { start: { line: 0, character: 0 }, end: doc.positionAt(doc.getText().length) }, text);
      }
    },
    request: (method, params) => connection.sendRequest(method, params),
    notify: (method, params) => void connection.sendNotification(method, params as object),
    changes: () => changes,
    complaints: () => complaints,
    alive,
    memory: () => (child?.pid === undefined ? NaN : residentMemory(child.pid)),
    heap: (snapshot) =>
      new Promise((resolve, reject) => {
        child?.once("message", (said) => resolve((said as { heap: number }).heap / 1024 / 1024));
        child?.send({ snapshot }, (error) => error && reject(error));
      }),
    kill: () => void child?.kill("SIGKILL"),
    async stop() {
      if (alive()) {
        await connection.sendRequest("shutdown");
        await connection.sendNotification("exit");
      }
      await end();
      await ended;
    },
  };
  return client;
}
