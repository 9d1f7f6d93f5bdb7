/** What the extension does in every editor, on a desktop and in a browser: starts the server it is given, shows sheets; knows nothing of the language. */
import * as vscode from "vscode";
import { type BaseLanguageClient, DidChangeConfigurationNotification, type LanguageClientOptions, vsdiag } from "vscode-languageclient";
import { acceptFinding } from "./accept.ts";
import { showChain } from "./chain.ts";
import { bytesAt, textAt } from "./git.ts";
import { layOutPlan } from "./lay-out-plan.ts";
import { showLimits } from "./limits.ts";
import { newBuild } from "./new-build.ts";
import { SheetPanels } from "./sheet-panel.ts";
import { Verdict } from "./status.ts";
import { Trials } from "./trial.ts";

/** Files whose findings were asked for by themselves, and may be left on the list when they close. */
const asked = new Set<string>();

export const CLIENT_OPTIONS: LanguageClientOptions = {
  documentSelector: [{ language: "tappet" }],
  // Before a waiver is written here, its reason is asked for.
  initializationOptions: { asksReasons: true },
  diagnosticPullOptions: { onChange: true, onTabs: true },
  middleware: {
    // What is shown is the reader's choice; what is worked out is not.
    // After a statement's word or an opened block, what may come next comes up by itself.
    async provideCompletionItem(document, position, context, token, next) {
      const found = await next(document, position, context, token);
      for (const item of Array.isArray(found) ? found : (found?.items ?? [])) {
        const text = typeof item.insertText === "string" ? item.insertText : (item.insertText?.value ?? "");
        const statement = item.kind === vscode.CompletionItemKind.Keyword && text.endsWith(" ");
        if (statement || (item.kind === vscode.CompletionItemKind.Module && text.includes("$0"))) item.command = { command: "editor.action.triggerSuggest", title: vscode.l10n.t("What may come next") };
      }
      return found;
    },
    async provideInlayHints(document, range, token, next) {
      const hints = await next(document, range, token);
      const show = vscode.workspace.getConfiguration("tappet.inlayHints", document);
      const wanted = (sort: unknown) => (sort === "other-unit" ? show.get("otherUnits", true) : show.get("results", true));
      return hints?.filter((hint) => wanted((hint as { data?: { sort?: unknown } }).data?.sort));
    },
    provideDiagnostics(document, previous, token, next) {
      asked.add((document instanceof vscode.Uri ? document : document.uri).toString());
      return next(document, previous, token);
    },
    async provideWorkspaceDiagnostics(results, token, report, next) {
      if (vscode.workspace.getConfiguration("tappet.findings").get("scope") !== "openFiles") return next(results, token, report);
      // What was shown of files that are not open goes.
      const listed = new Map([...[...asked].map((uri) => vscode.Uri.parse(uri)), ...results.map(({ uri }) => uri)].map((uri) => [uri.toString(), uri]));
      // Of a file that is open the client keeps what it was told of it by itself.
      report({ items: [...listed.values()].map((uri) => ({ kind: vsdiag.DocumentDiagnosticReportKind.full, uri, version: null, items: [] })) });
      const open = new Set(vscode.workspace.textDocuments.map(({ uri }) => uri.toString()));
      for (const uri of asked) if (!open.has(uri)) asked.delete(uri);
      return { items: [] };
    },
    async provideCodeLenses(document, token, next) {
      return vscode.workspace.getConfiguration("tappet.codeLens", document).get("verdict", true) ? next(document, token) : [];
    },
  },
};

/** Starts the client and everything that stands on it. What is returned is disposed with the extension. */
export async function activateWith(context: vscode.ExtensionContext, makeClient: (options: LanguageClientOptions) => BaseLanguageClient): Promise<void> {
  const log = vscode.window.createOutputChannel("Tappet", { log: true });
  const client = makeClient({ ...CLIENT_OPTIONS, outputChannel: log });
  const panels = new SheetPanels(client, context.extensionUri, log);
  const verdict = new Verdict(client);
  const trials = new Trials(client, (editor) => {
    // What a figure does is seen on the sheet: where none is open, it opens beside the file, and the file keeps the keyboard.
    if (editor && !panels.any) void panels.showForEditor(editor);
    else panels.refreshAll();
  });
  context.subscriptions.push(log, panels, verdict, trials, showLimits());

  // Folders that lie on no disk, and every folder of a browser, are read by the editor for the server.
  client.onRequest<{ text?: string; problem?: string }, unknown>("tappet/read", async (question: unknown) => {
    const asked = uriIn(question);
    if (!asked) return { problem: "unreadable" };
    // A file that has not been saved yet uses files that have.
    const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
    const uri = asked.scheme === "untitled" && folder ? folder.with({ path: asked.path }) : asked;
    if (!vscode.workspace.getWorkspaceFolder(uri)) return { problem: "outside" };
    return readText(uri);
  });
  // Bytes cross the protocol as base64: messages are JSON.
  client.onRequest<{ base64?: string; problem?: string }, unknown>("tappet/readData", async (question: unknown) => {
    const uri = uriIn(question);
    if (!uri || !vscode.workspace.getWorkspaceFolder(uri)) return { problem: "outside" };
    return readData(uri, isRecord(question) && typeof question["most"] === "number" ? question["most"] : 0);
  });
  // Files as they were in a revision, as far as the editor's git has them; from the opened folders only, as everything else.
  client.onRequest<{ text?: string; base64?: string; problem?: string }, unknown>("tappet/readAt", async (question: unknown) => {
    const uri = uriIn(question);
    const ref = isRecord(question) && typeof question["ref"] === "string" ? question["ref"] : "";
    if (!uri || !vscode.workspace.getWorkspaceFolder(uri)) return { problem: "outside" };
    const most = isRecord(question) && typeof question["most"] === "number" ? question["most"] : undefined;
    if (most === undefined) return textAt(uri, ref);
    const bytes = await bytesAt(uri, ref);
    return !bytes ? { problem: "missing" } : bytes.length > most ? { problem: "too-large" } : { base64: base64Of(bytes) };
  });
  client.onRequest<{ uris?: string[]; problem?: string }, unknown>("tappet/list", async (question: unknown) => {
    const uri = uriIn(question);
    const folder = uri && vscode.workspace.getWorkspaceFolder(uri);
    if (!folder) return { problem: "outside" };
    const found = await vscode.workspace.findFiles(new vscode.RelativePattern(folder, "**/*.tappet"), "**/node_modules/**");
    return { uris: found.map((u) => client.code2ProtocolConverter.asUri(u)).sort() };
  });
  client.onRequest<{ entries?: { name: string; folder: boolean }[]; problem?: string }, unknown>("tappet/folder", async (question: unknown) => {
    const asked = uriIn(question);
    const home = vscode.workspace.workspaceFolders?.[0]?.uri;
    const uri = asked?.scheme === "untitled" && home ? home.with({ path: asked.path }) : asked;
    if (!uri || !vscode.workspace.getWorkspaceFolder(uri)) return { problem: "outside" };
    const found = await vscode.workspace.fs.readDirectory(uri).then((all) => all, () => []);
    return { entries: found.filter(([name]) => !name.startsWith(".")).map(([name, type]) => ({ name, folder: (type & vscode.FileType.Directory) !== 0 })) };
  });
  client.onNotification("tappet/changed", (news: unknown) => {
    void verdict.refresh(vscode.window.activeTextEditor);
    void trials.refresh();
    if (isRecord(news) && Array.isArray(news["uris"])) panels.refresh(news["uris"].filter((u): u is string => typeof u === "string"));
  });

  context.subscriptions.push(
    // From a lens it comes with the file and the build it stands above.
    vscode.commands.registerCommand("tappet.showSheet", (uri?: unknown, build?: unknown) => panels.showForEditor(vscode.window.activeTextEditor, typeof uri === "string" && typeof build === "string" ? build : undefined)),
    vscode.commands.registerCommand("tappet.compareWithLastCommit", () => panels.compareForEditor(vscode.window.activeTextEditor, "last-commit")),
    vscode.commands.registerCommand("tappet.compareWithRevision", () => panels.compareForEditor(vscode.window.activeTextEditor, "another")),
    vscode.commands.registerCommand("tappet.tryHigher", () => trials.step(vscode.window.activeTextEditor, 1)),
    vscode.commands.registerCommand("tappet.tryLower", () => trials.step(vscode.window.activeTextEditor, -1)),
    vscode.commands.registerCommand("tappet.applyTrial", () => trials.apply()),
    vscode.commands.registerCommand("tappet.putBack", () => trials.putBack()),
    vscode.window.onDidChangeVisibleTextEditors(() => trials.decorate()),
    vscode.commands.registerCommand("tappet.showChain", () => showChain(client, vscode.window.activeTextEditor)),
    vscode.commands.registerCommand("tappet.waive", (finding?: unknown) => acceptFinding(client, vscode.window.activeTextEditor, finding)),
    vscode.commands.registerCommand("tappet.layOutPlan", () => layOutPlan(client, vscode.window.activeTextEditor)),
    vscode.commands.registerCommand("tappet.newBuild", () => newBuild(client)),
    vscode.commands.registerCommand("tappet.exportSheet", () => panels.exportForEditor(vscode.window.activeTextEditor)),
    vscode.commands.registerCommand("tappet.restartServer", async () => {
      // A server that has died cannot be stopped.
      if (client.needsStop()) await client.stop();
      await client.start();
      panels.refreshAll();
    }),
    vscode.commands.registerCommand("tappet.showLog", () => log.show()),
    vscode.workspace.onDidChangeConfiguration((event) => {
      // The server has no settings of its own: it hears that what is asked for may be answered anew.
      if (event.affectsConfiguration("tappet.findings") && client.isRunning()) void client.sendNotification(DidChangeConfigurationNotification.type, { settings: null });
    }),
    vscode.window.onDidChangeTextEditorSelection((event) => panels.mark(event.textEditor)),
    vscode.window.onDidChangeActiveTextEditor((editor) => void verdict.refresh(editor)),
    vscode.window.registerWebviewPanelSerializer(SheetPanels.viewType, panels),
    { dispose: () => void client.dispose() },
  );
  await client.start();
  await verdict.refresh(vscode.window.activeTextEditor);
}

const LARGEST_FILE = 4 * 1024 * 1024;

async function readText(uri: vscode.Uri): Promise<{ text?: string; problem?: string }> {
  const reading = await readBytes(uri, LARGEST_FILE);
  if (!reading.bytes) return reading;
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(reading.bytes);
    return text.includes("\0") ? { problem: "not-text" } : { text };
  } catch {
    return { problem: "not-text" };
  }
}

async function readData(uri: vscode.Uri, most: number): Promise<{ base64?: string; problem?: string }> {
  const reading = await readBytes(uri, most);
  if (!reading.bytes) return reading;
  return { base64: base64Of(reading.bytes) };
}

function base64Of(bytes: Uint8Array): string {
  let text = "";
  // In pieces: a call takes only so many arguments.
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return btoa(text);
}

async function readBytes(uri: vscode.Uri, most: number): Promise<{ bytes?: Uint8Array; problem?: string }> {
  try {
    const stat = await vscode.workspace.fs.stat(uri);
    if ((stat.type & vscode.FileType.File) === 0) return { problem: "unreadable" };
    if (stat.size > most) return { problem: "too-large" };
    return { bytes: await vscode.workspace.fs.readFile(uri) };
  } catch (error) {
    return { problem: error instanceof vscode.FileSystemError && error.code === "FileNotFound" ? "missing" : "unreadable" };
  }
}

function uriIn(question: unknown): vscode.Uri | undefined {
  return isRecord(question) && typeof question["uri"] === "string" ? vscode.Uri.parse(question["uri"], true) : undefined;
}

export function isRecord(x: unknown): x is Record<string, unknown> {
  return typeof x === "object" && x !== null;
}
