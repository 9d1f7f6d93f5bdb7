/** What the extension does in every editor, on a desktop and in a browser: starts the server it is given, shows sheets; knows nothing of the language. */
import * as vscode from "vscode";
import type { BaseLanguageClient, LanguageClientOptions } from "vscode-languageclient";
import { SheetPanels } from "./sheet-panel.ts";

export const CLIENT_OPTIONS: LanguageClientOptions = {
  documentSelector: [{ language: "tappet" }],
  // The server asks for nothing on disk that is not a build file.
  synchronize: { fileEvents: [] },
  diagnosticPullOptions: { onChange: true, onTabs: true },
};

/** Starts the client and everything that stands on it. What is returned is disposed with the extension. */
export async function activateWith(context: vscode.ExtensionContext, makeClient: (options: LanguageClientOptions) => BaseLanguageClient): Promise<void> {
  const watcher = vscode.workspace.createFileSystemWatcher("**/*.tappet");
  const log = vscode.window.createOutputChannel("Tappet", { log: true });
  const client = makeClient({ ...CLIENT_OPTIONS, outputChannel: log, synchronize: { fileEvents: watcher } });
  const panels = new SheetPanels(client, context.extensionUri, log);
  context.subscriptions.push(watcher, log, panels);

  // Folders that lie on no disk, and every folder of a browser, are read by the editor for the server.
  client.onRequest<{ text?: string; problem?: string }, unknown>("tappet/read", async (question: unknown) => {
    const uri = uriIn(question);
    if (!uri) return { problem: "unreadable" };
    if (!vscode.workspace.getWorkspaceFolder(uri)) return { problem: "outside" };
    return readText(uri);
  });
  client.onNotification("tappet/changed", (news: unknown) => {
    if (isRecord(news) && Array.isArray(news["uris"])) panels.refresh(news["uris"].filter((u): u is string => typeof u === "string"));
  });

  context.subscriptions.push(
    vscode.commands.registerCommand("tappet.showSheet", () => panels.showForEditor(vscode.window.activeTextEditor)),
    vscode.commands.registerCommand("tappet.exportSheet", () => panels.exportForEditor(vscode.window.activeTextEditor)),
    vscode.commands.registerCommand("tappet.restartServer", async () => {
      // A server that has died cannot be stopped.
      if (client.needsStop()) await client.stop();
      await client.start();
      panels.refreshAll();
    }),
    vscode.commands.registerCommand("tappet.showLog", () => log.show()),
    vscode.window.onDidChangeTextEditorSelection((event) => panels.mark(event.textEditor)),
    vscode.window.registerWebviewPanelSerializer(SheetPanels.viewType, panels),
    { dispose: () => void client.dispose() },
  );
  await client.start();
}

const LARGEST_FILE = 4 * 1024 * 1024;

async function readText(uri: vscode.Uri): Promise<{ text?: string; problem?: string }> {
  try {
    const stat = await vscode.workspace.fs.stat(uri);
    if ((stat.type & vscode.FileType.File) === 0) return { problem: "unreadable" };
    if (stat.size > LARGEST_FILE) return { problem: "too-large" };
    const bytes = await vscode.workspace.fs.readFile(uri);
    try {
      const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
      return text.includes("\0") ? { problem: "not-text" } : { text };
    } catch {
      return { problem: "not-text" };
    }
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
