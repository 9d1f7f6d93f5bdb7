/** Where a figure comes from, as a list to walk with the arrow keys: each entry shows its place while it is chosen among. Works nothing out. */
import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import type { ChainAnswer } from "../server/chain-answers.ts";

type Choice = vscode.QuickPickItem & { readonly link: ChainAnswer };

export async function showChain(client: BaseLanguageClient, editor: vscode.TextEditor | undefined): Promise<void> {
  if (editor?.document.languageId !== "tappet") return;
  const { document, selection } = editor;
  const chain = await client.sendRequest<readonly ChainAnswer[]>("tappet/chain", { uri: client.code2ProtocolConverter.asUri(document.uri), position: client.code2ProtocolConverter.asPosition(selection.active) });
  if (chain.length === 0) {
    void vscode.window.showInformationMessage(vscode.l10n.t("There is no figure of a build or engine here: put the caret on one."));
    return;
  }
  const fates: Readonly<Record<ChainAnswer["fate"], string>> = { counts: vscode.l10n.t("this one counts"), replaced: vscode.l10n.t("replaced"), "taken off": vscode.l10n.t("taken off with its part"), measured: vscode.l10n.t("measured") };
  const choices = chain.map((link): Choice => ({ label: link.value, description: `${link.words} (${fates[link.fate]})`, detail: `${vscode.workspace.asRelativePath(client.protocol2CodeConverter.asUri(link.uri))}, ${vscode.l10n.t("line {0}", link.range.start.line + 1)}`, link }));
  const open = (link: ChainAnswer, keep: boolean) =>
    vscode.window.showTextDocument(client.protocol2CodeConverter.asUri(link.uri), { viewColumn: editor.viewColumn ?? vscode.ViewColumn.Active, selection: client.protocol2CodeConverter.asRange(link.range), preserveFocus: !keep, preview: true });
  const chosen = await vscode.window.showQuickPick(choices, { title: vscode.l10n.t("Where this figure comes from, newest first"), matchOnDescription: true, onDidSelectItem: (item) => void open((item as Choice).link, false).then(undefined, () => undefined) });
  if (chosen) await open(chosen.link, true);
  // Whoever only looked is back where they were.
  else await vscode.window.showTextDocument(document, { viewColumn: editor.viewColumn ?? vscode.ViewColumn.Active, selection });
}
