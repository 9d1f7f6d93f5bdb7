/** Figures tried without touching their file: steps them, shows beside the text and in the status bar what is tried, applies or puts back. Keeps nothing that the server does not say. */
import * as vscode from "vscode";
import type { BaseLanguageClient, WorkspaceEdit } from "vscode-languageclient";
import type { TrialAnswer } from "../server/trial-answers.ts";

export class Trials implements vscode.Disposable {
  readonly #client: BaseLanguageClient;
  readonly #changed: (editor: vscode.TextEditor | undefined) => void;
  #figures: TrialAnswer["figures"] = [];
  #asked = 0;
  readonly #item = vscode.window.createStatusBarItem("tappet.trial", vscode.StatusBarAlignment.Left);
  readonly #mark = vscode.window.createTextEditorDecorationType({ borderWidth: "0 0 2px 0", borderStyle: "dashed", borderColor: new vscode.ThemeColor("editorInfo.foreground"), rangeBehavior: vscode.DecorationRangeBehavior.ClosedClosed });

  /** @param changed is told when something else is tried; with the editor that the first figure was stepped in. */
  constructor(client: BaseLanguageClient, changed: (editor: vscode.TextEditor | undefined) => void) {
    this.#client = client;
    this.#changed = changed;
    this.#item.name = vscode.l10n.t("Trial of a figure");
    this.#item.command = "tappet.showSheet";
  }

  async step(editor: vscode.TextEditor | undefined, by: number): Promise<void> {
    if (editor?.document.languageId !== "tappet") return;
    const { uri } = editor.document;
    const answer = await this.#client.sendRequest<TrialAnswer | null>("tappet/try", { uri: this.#client.code2ProtocolConverter.asUri(uri), position: this.#client.code2ProtocolConverter.asPosition(editor.selection.active), by });
    if (answer?.refusal !== undefined) void vscode.window.showInformationMessage(answer.refusal);
    const first = this.#figures.length === 0 && (answer?.figures.length ?? 0) > 0;
    this.#show(answer, first ? editor : undefined);
  }

  /** One edit; the trial is over once the text reads as tried. */
  async apply(): Promise<void> {
    const edit = await this.#client.sendRequest<WorkspaceEdit | null>("tappet/applyTrial", {});
    const workspaceEdit = await this.#client.protocol2CodeConverter.asWorkspaceEdit(edit);
    if (workspaceEdit) await vscode.workspace.applyEdit(workspaceEdit);
  }

  async putBack(): Promise<void> {
    this.#show(await this.#client.sendRequest<TrialAnswer | null>("tappet/putBack", {}), undefined);
  }

  /** The text of a file has changed: what was tried there is over. */
  async refresh(): Promise<void> {
    if (this.#figures.length === 0) return;
    const asked = ++this.#asked;
    const answer = await this.#client.sendRequest<TrialAnswer | null>("tappet/trial", {}).then((a) => a, () => null);
    if (asked === this.#asked) this.#show(answer, undefined);
  }

  /** Marks what is tried in every editor that shows its file. */
  decorate(): void {
    for (const editor of vscode.window.visibleTextEditors) {
      if (editor.document.languageId !== "tappet") continue;
      const uri = this.#client.code2ProtocolConverter.asUri(editor.document.uri);
      editor.setDecorations(this.#mark, this.#figures.filter((f) => f.uri === uri).map((f) => ({
        range: withUnit(editor.document, this.#client.protocol2CodeConverter.asRange(f.range), f.from),
        hoverMessage: this.#links(vscode.l10n.t("Tried: {0} → {1}. Not written.", f.from, f.to)),
        renderOptions: { after: { contentText: ` ${vscode.l10n.t("→ {0}, a trial, not written", f.to)}`, color: new vscode.ThemeColor("editorInlayHint.foreground"), backgroundColor: new vscode.ThemeColor("editorInlayHint.background"), fontStyle: "italic", margin: "0 0.5em" } },
      })));
    }
  }

  dispose(): void {
    this.#item.dispose();
    this.#mark.dispose();
  }

  #show(answer: TrialAnswer | null, opened: vscode.TextEditor | undefined): void {
    this.#asked++;
    const before = JSON.stringify(this.#figures);
    this.#figures = answer?.figures ?? [];
    void vscode.commands.executeCommand("setContext", "tappet.trying", this.#figures.length > 0);
    this.decorate();
    const told = this.#figures.map((f) => `${f.words} ${f.from} → ${f.to}`).join(", ");
    const text = vscode.l10n.t("Trial: {0}, not written", told);
    this.#item.text = `$(beaker) ${text}`;
    this.#item.tooltip = this.#links(text);
    this.#item.accessibilityInformation = { label: text };
    if (this.#figures.length > 0) this.#item.show();
    else this.#item.hide();
    if (before !== JSON.stringify(this.#figures)) this.#changed(opened);
  }

  #links(text: string): vscode.MarkdownString {
    const markdown = new vscode.MarkdownString().appendText(text).appendMarkdown(`\n\n[${vscode.l10n.t("Apply")}](command:tappet.applyTrial) · [${vscode.l10n.t("Put back")}](command:tappet.putBack)`);
    markdown.isTrusted = { enabledCommands: ["tappet.applyTrial", "tappet.putBack"] };
    return markdown;
  }
}

/** The digits with the unit after them, so that what is told of the figure stands behind all of it. */
function withUnit(document: vscode.TextDocument, digits: vscode.Range, written: string): vscode.Range {
  const whole = new vscode.Range(digits.start, digits.start.translate(0, written.length));
  return document.getText(whole) === written ? whole : digits;
}
