/** The browser extension's entry: starts the language server in a worker. */
import { type ExtensionContext, Uri } from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import { activateWith } from "./client.ts";

export function activate(context: ExtensionContext): Promise<void> {
  const worker = new Worker(Uri.joinPath(context.extensionUri, "dist", "browser-worker.js").toString(true));
  context.subscriptions.push({ dispose: () => worker.terminate() });
  return activateWith(context, (options) => new LanguageClient("tappet", "Tappet", worker, options));
}
