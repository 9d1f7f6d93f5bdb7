/** Says in the language status what a folder's kind limits: one that lies on no disk, or one that is not trusted. Limits nothing itself. */
import * as vscode from "vscode";

export function showLimits(): vscode.Disposable {
  const item = vscode.languages.createLanguageStatusItem("tappet.limits", { language: "tappet" });
  item.name = vscode.l10n.t("Limits of this folder");
  const say = () => {
    const virtual = vscode.workspace.workspaceFolders?.some(({ uri }) => uri.scheme !== "file") ?? false;
    // What is not limited is said too, so that nobody wonders.
    item.text = virtual ? vscode.l10n.t("This folder lies on no disk: recordings are not read") : vscode.workspace.isTrusted ? vscode.l10n.t("Nothing is limited here") : vscode.l10n.t("Not trusted, and nothing is limited: Tappet runs nothing");
    if (virtual) item.detail = vscode.l10n.t("Build files are read through the editor; of files that are not open, findings are listed where the folder can be searched.");
    else item.detail = undefined as never;
    item.severity = vscode.LanguageStatusSeverity.Information;
  };
  say();
  return vscode.Disposable.from(item, vscode.workspace.onDidChangeWorkspaceFolders(say), vscode.workspace.onDidGrantWorkspaceTrust(say));
}
