/** The browser extension's entry, the same as the desktop's in a worker without Node. */
import type { ExtensionContext } from "vscode";
import { window } from "vscode";

export function activate(context: ExtensionContext): void {
  const log = window.createOutputChannel("Tappet", { log: true });
  context.subscriptions.push(log);
  log.info("Tappet is active.");
}
