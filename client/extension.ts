/** The desktop extension's entry: what the editor calls on the first `.tappet` file; knows nothing of the language. */
import type { ExtensionContext } from "vscode";
import { window } from "vscode";

export function activate(context: ExtensionContext): void {
  const log = window.createOutputChannel("Tappet", { log: true });
  context.subscriptions.push(log);
  log.info("Tappet is active.");
}
