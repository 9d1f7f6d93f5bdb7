/** Lays the usual order of work out in the build that the caret stands in. Asks the server for the text; knows no step. */
import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { isRecord } from "./client.ts";

export async function layOutPlan(client: BaseLanguageClient, editor: vscode.TextEditor | undefined): Promise<void> {
  if (editor?.document.languageId !== "tappet") {
    void vscode.window.showInformationMessage(vscode.l10n.t("Open a build file first: the order of work is laid out for what it fits."));
    return;
  }
  const uri = client.code2ProtocolConverter.asUri(editor.document.uri);
  const edit: unknown = await client.sendRequest("tappet/plan", { uri, range: client.code2ProtocolConverter.asRange(editor.selection) });
  const change = isRecord(edit) ? await client.protocol2CodeConverter.asWorkspaceEdit(edit as never) : undefined;
  if (!change) {
    void vscode.window.showInformationMessage(vscode.l10n.t("There is nothing to lay out here: put the caret in a build that fits parts and has no plan yet."));
    return;
  }
  await vscode.workspace.applyEdit(change);
}
