/** The browser extension's entry: starts the language server in a worker. */
import { type ExtensionContext, Uri, workspace } from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import { activateWith } from "./client.ts";

export async function activate(context: ExtensionContext): Promise<void> {
  const worker = await startWorker(Uri.joinPath(context.extensionUri, "dist", "browser-worker.js"));
  context.subscriptions.push({ dispose: () => worker.terminate() });
  return activateWith(context, (options) => new LanguageClient("tappet", "Tappet", worker, options));
}

/** An editor that serves its extensions from a remote machine starts no worker from there; it does start one from a copy of the text. */
async function startWorker(script: Uri): Promise<Worker> {
  try {
    return new Worker(script.toString(true));
  } catch {
    const text = await workspace.fs.readFile(script);
    const copy = URL.createObjectURL(new Blob([new Uint8Array(text)], { type: "text/javascript" }));
    return new Worker(copy);
  }
}
