/** The desktop extension's entry: starts the language server as a process of its own. */
import type { ExtensionContext } from "vscode";
import { LanguageClient, TransportKind } from "vscode-languageclient/node";
import { activateWith } from "./client.ts";

export function activate(context: ExtensionContext): Promise<void> {
  const module = context.asAbsolutePath("dist/language-server.cjs");
  return activateWith(context, (options) => new LanguageClient("tappet", "Tappet", { run: { module, transport: TransportKind.ipc }, debug: { module, transport: TransportKind.ipc } }, options));
}
