/** Accepting a finding: asks which one, why, and until when, and has the server write the waiver. Makes up no reason. */
import * as vscode from "vscode";
import type { BaseLanguageClient, WorkspaceEdit } from "vscode-languageclient";
import type { WaivableAnswer, WaiveQuestion } from "../server/action-answers.ts";
import { isRecord } from "./client.ts";

/** @param given the finding of a quick fix; without one, those at the caret are asked for. */
export async function acceptFinding(client: BaseLanguageClient, editor: vscode.TextEditor | undefined, given: unknown): Promise<void> {
  const finding = isWaivable(given) ? given : await chooseFinding(client, editor);
  if (!finding) return;
  const because = await vscode.window.showInputBox({
    title: vscode.l10n.t("Accept a finding ({0})", finding.rule), prompt: finding.message, placeHolder: vscode.l10n.t("Why it is accepted, in your own words"), ignoreFocusOut: true,
    validateInput: (text) => (text.trim() === "" ? vscode.l10n.t("Without a reason the finding stays.") : undefined),
  });
  if (because === undefined || because.trim() === "") return;
  const until = await vscode.window.showInputBox({
    title: vscode.l10n.t("Accept a finding ({0})", finding.rule), value: finding.needsDate ? finding.until : "", ignoreFocusOut: true, placeHolder: finding.until,
    prompt: finding.needsDate ? vscode.l10n.t("The day on which it ends, year first: this breaks engines, so it is looked at again.") : vscode.l10n.t("The day on which it ends, year first; leave it empty for none."),
    validateInput: (text) => (isDay(text) || (text.trim() === "" && !finding.needsDate) ? undefined : vscode.l10n.t("Write a day, year first: {0}", finding.until)),
  });
  if (until === undefined) return;
  const question: WaiveQuestion = { uri: finding.uri, rule: finding.rule, range: finding.range, ...(finding.path !== undefined && { path: finding.path }), because, ...(until.trim() !== "" && { until: until.trim() }) };
  const edit = await client.sendRequest<WorkspaceEdit | null>("tappet/waive", question);
  const workspaceEdit = await client.protocol2CodeConverter.asWorkspaceEdit(edit);
  if (!workspaceEdit || workspaceEdit.size === 0) {
    void vscode.window.showInformationMessage(vscode.l10n.t("The finding is no longer there: nothing was written."));
    return;
  }
  await vscode.workspace.applyEdit(workspaceEdit);
}

async function chooseFinding(client: BaseLanguageClient, editor: vscode.TextEditor | undefined): Promise<WaivableAnswer | undefined> {
  if (editor?.document.languageId !== "tappet") return undefined;
  const line = editor.document.lineAt(editor.selection.active.line).range;
  const ask = (range: vscode.Range) => client.sendRequest<readonly WaivableAnswer[]>("tappet/waivable", { uri: client.code2ProtocolConverter.asUri(editor.document.uri), range: client.code2ProtocolConverter.asRange(range) });
  const here = await ask(editor.selection);
  const found = here.length > 0 ? here : await ask(line);
  if (found.length === 0) void vscode.window.showInformationMessage(vscode.l10n.t("Nothing was found on this line that could be accepted."));
  if (found.length < 2) return found[0];
  const choice = await vscode.window.showQuickPick(found.map((each) => ({ label: each.rule, detail: each.message, each })), { title: vscode.l10n.t("Accept which finding?"), ignoreFocusOut: true });
  return choice?.each;
}

function isDay(text: string): boolean {
  const day = text.trim();
  return /^\d{4}-\d{2}-\d{2}$/.test(day) && !Number.isNaN(Date.parse(day)) && new Date(Date.parse(day)).toISOString().startsWith(day);
}

function isWaivable(x: unknown): x is WaivableAnswer {
  return isRecord(x) && typeof x["uri"] === "string" && typeof x["rule"] === "string" && typeof x["message"] === "string" && isRecord(x["range"]);
}
