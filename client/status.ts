/** The verdict of the build in front, in the editor's language status. Shows what the server says; judges nothing. */
import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { isRecord } from "./client.ts";

export class Verdict implements vscode.Disposable {
  readonly #item = vscode.languages.createLanguageStatusItem("tappet.verdict", { language: "tappet" });
  readonly #client: BaseLanguageClient;
  #asked = 0;

  constructor(client: BaseLanguageClient) {
    this.#client = client;
    this.#item.name = vscode.l10n.t("Verdict on the build");
    this.#item.command = { command: "tappet.showSheet", title: vscode.l10n.t("Show the build sheet") };
    this.#item.text = "";
  }

  async refresh(editor: vscode.TextEditor | undefined): Promise<void> {
    if (editor?.document.languageId !== "tappet" || !this.#client.isRunning()) return;
    const asked = ++this.#asked;
    const answer: unknown = await this.#client.sendRequest("tappet/verdict", { uri: this.#client.code2ProtocolConverter.asUri(editor.document.uri), line: editor.selection.active.line }).then((a) => a, () => undefined);
    if (asked !== this.#asked) return;
    if (!isRecord(answer) || typeof answer["text"] !== "string") {
      this.#item.text = vscode.l10n.t("No build in this file");
      this.#item.detail = undefined as never;
      this.#item.severity = vscode.LanguageStatusSeverity.Information;
      return;
    }
    this.#item.text = answer["text"];
    if (typeof answer["build"] === "string") this.#item.detail = answer["build"];
    this.#item.severity = answer["severity"] === "error" ? vscode.LanguageStatusSeverity.Error : answer["severity"] === "warning" ? vscode.LanguageStatusSeverity.Warning : vscode.LanguageStatusSeverity.Information;
  }

  dispose(): void {
    this.#item.dispose();
  }
}
