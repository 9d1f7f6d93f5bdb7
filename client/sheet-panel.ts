/** The sheet beside the file: one panel a file, kept in step with the text. Shows what the server sends; computes nothing. */
import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import type { SheetAnswer } from "../server/editor/sheet.ts";
import { AT_REVISION } from "../server/editor/revision-place.ts";
import { isRecord } from "./client.ts";
import { type Against, chooseAgainst } from "./compare.ts";
import { revisionOf, uriAt } from "./git.ts";
import { type ToPage, fromPage } from "./sheet-messages.ts";
import { trialBar } from "./trial-bar.ts";
import { sheetPage } from "./sheet-page-html.ts";

interface Shown {
  readonly uri: vscode.Uri;
  readonly panel: vscode.WebviewPanel;
  /** The build that is shown, when the file has several. */
  build: string | undefined;
  ready: boolean;
  /** Only the newest question's answer is shown. */
  asked: number;
  /** The earlier state that the file is held against, while a comparison is shown instead of the sheet. */
  against: Against | undefined;
  watching: vscode.Disposable | undefined;
}

export class SheetPanels implements vscode.WebviewPanelSerializer, vscode.Disposable {
  static readonly viewType = "tappet.sheet";
  readonly #shown = new Map<string, Shown>();
  readonly #client: BaseLanguageClient;
  readonly #extension: vscode.Uri;
  readonly #log: vscode.LogOutputChannel;

  constructor(client: BaseLanguageClient, extension: vscode.Uri, log: vscode.LogOutputChannel) {
    this.#client = client;
    this.#extension = extension;
    this.#log = log;
  }

  async showForEditor(editor: vscode.TextEditor | undefined, build?: string): Promise<void> {
    if (editor?.document.languageId !== "tappet") {
      void vscode.window.showInformationMessage(vscode.l10n.t("Open a build file first: the sheet shows what follows from it."));
      return;
    }
    const uri = editor.document.uri;
    const shown = this.#shown.get(uri.toString());
    if (shown) {
      shown.panel.reveal(undefined, true);
      if (build === undefined || shown.build === build) return;
      shown.build = build;
      await this.#update(shown);
    } else this.#adopt(uri, vscode.window.createWebviewPanel(SheetPanels.viewType, titleOf(uri), { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true }, this.#webviewOptions()), build);
  }

  /** Shows what changed since an earlier state, and what follows, in the place of the sheet. */
  async compareForEditor(editor: vscode.TextEditor | undefined, which: "last-commit" | "another"): Promise<void> {
    if (editor?.document.languageId !== "tappet") {
      void vscode.window.showInformationMessage(vscode.l10n.t("Open a build file first: it is compared with an earlier state of itself."));
      return;
    }
    const against = await chooseAgainst(editor.document.uri, which);
    if (!against) return;
    await this.showForEditor(editor);
    const shown = this.#shown.get(editor.document.uri.toString());
    if (!shown) return;
    shown.against = against;
    shown.watching?.dispose();
    // A commit, a checkout: what the file is held against may be another.
    shown.watching = against.repository.state.onDidChange(() => void this.#update(shown));
    await this.#update(shown);
  }

  async deserializeWebviewPanel(panel: vscode.WebviewPanel, state: unknown): Promise<void> {
    if (!isRecord(state) || typeof state["uri"] !== "string") {
      panel.dispose();
      return;
    }
    panel.webview.options = this.#webviewOptions();
    const uri = vscode.Uri.parse(state["uri"]);
    // The server knows a file's sheet only while it is open or used.
    await vscode.workspace.openTextDocument(uri).then(undefined, () => undefined);
    this.#adopt(uri, panel, typeof state["build"] === "string" ? state["build"] : undefined);
  }

  refresh(uris: readonly string[]): void {
    for (const uri of uris) {
      const shown = this.#shown.get(vscode.Uri.parse(uri).toString());
      if (shown) void this.#update(shown);
    }
  }

  refreshAll(): void {
    for (const shown of this.#shown.values()) void this.#update(shown);
  }

  /** True where some sheet is open. */
  get any(): boolean {
    return this.#shown.size > 0;
  }

  /** Marks on the sheet what the caret's line decides. */
  mark(editor: vscode.TextEditor): void {
    const position = editor.selection.active;
    for (const shown of this.#shown.values())
      if (shown.ready) void send(shown, { type: "mark", uri: editor.document.uri.toString(), line: position.line + 1 });
  }

  /** Writes the sheet that is in front, or that of the file in the editor. */
  async exportForEditor(editor: vscode.TextEditor | undefined): Promise<void> {
    const front = [...this.#shown.values()].find((shown) => shown.panel.active);
    const uri = front?.uri ?? (editor?.document.languageId === "tappet" ? editor.document.uri : undefined);
    if (!uri) {
      void vscode.window.showInformationMessage(vscode.l10n.t("Open a build file first: its sheet is what is written."));
      return;
    }
    // A sheet for the wall and one for everybody are not the same: what is private is asked about each time.
    const all = { label: vscode.l10n.t("For the shop"), detail: vscode.l10n.t("Everything, private notes and what was paid too."), open: false };
    const open = { label: vscode.l10n.t("For everybody"), detail: vscode.l10n.t("Private notes and what was paid are left out; cautions and sources always stay."), open: true };
    const whom = await vscode.window.showQuickPick([all, open], { title: vscode.l10n.t("Write the build sheet"), placeHolder: vscode.l10n.t("Who is it for?") });
    if (!whom) return;
    const target = await vscode.window.showSaveDialog({ defaultUri: uri.with({ path: uri.path.replace(/\.tappet$/, ".html") }), filters: { HTML: ["html"], Markdown: ["md"], JSON: ["json"] } });
    if (!target) return;
    const format = target.path.endsWith(".md") ? "markdown" : target.path.endsWith(".json") ? "json" : "html";
    const text: unknown = await this.#client.sendRequest("tappet/export", { uri: this.#client.code2ProtocolConverter.asUri(uri), build: this.#shown.get(uri.toString())?.build, format, public: whom.open });
    if (typeof text !== "string") {
      void vscode.window.showErrorMessage(vscode.l10n.t("This file declares no build, engine or part, so there is no sheet to write."));
      return;
    }
    await vscode.workspace.fs.writeFile(target, new TextEncoder().encode(text));
  }

  dispose(): void {
    for (const shown of [...this.#shown.values()]) shown.panel.dispose();
  }

  #webviewOptions(): vscode.WebviewOptions {
    return { enableScripts: true, enableFindWidget: true, localResourceRoots: [vscode.Uri.joinPath(this.#extension, "dist")] } as vscode.WebviewOptions;
  }

  #adopt(uri: vscode.Uri, panel: vscode.WebviewPanel, build?: string): void {
    const key = uri.toString();
    const shown: Shown = { uri, panel, build, ready: false, asked: 0, against: undefined, watching: undefined };
    this.#shown.get(key)?.panel.dispose();
    this.#shown.set(key, shown);
    panel.onDidDispose(() => {
      shown.watching?.dispose();
      if (this.#shown.get(key) === shown) this.#shown.delete(key);
    });
    panel.webview.onDidReceiveMessage((message: unknown) => void this.#receive(shown, message));
    panel.webview.html = this.#page(panel.webview);
  }

  async #receive(shown: Shown, message: unknown): Promise<void> {
    const said = fromPage(message);
    switch (said?.type) {
      case "ready":
        shown.ready = true;
        await this.#update(shown);
        return;
      case "open":
        await openAt(said.uri, said.line, said.column);
        return;
      case "back":
        shown.against = undefined;
        shown.watching?.dispose();
        await this.#update(shown);
        return;
      case "build":
        shown.build = said.build;
        await this.#update(shown);
        return;
      case "trial":
        await vscode.commands.executeCommand(said.end === "apply" ? "tappet.applyTrial" : "tappet.putBack");
        return;
      case "fix":
        await this.#fix(shown, said.finding, said.fix);
        return;
    }
  }

  async #update(shown: Shown): Promise<void> {
    if (!shown.ready) return;
    const asked = ++shown.asked;
    try {
      const answer = await this.#ask(shown);
      if (asked !== shown.asked) return;
      shown.panel.title = answer?.title ?? titleOf(shown.uri);
      await send(shown, { type: "sheet", uri: shown.uri.toString(), build: answer?.build ?? null, html: answer?.html ?? null, builds: answer?.builds ?? [], trial: answer?.trial ? trialBar(answer.trial) : null });
    } catch (error) {
      this.#log.error(`The sheet could not be read: ${String(error)}`);
    }
  }

  /** The sheet, or what changed since the state that the file is held against. */
  async #ask({ uri, build, against }: Shown): Promise<SheetAnswer | null> {
    const asUri = (one: vscode.Uri) => this.#client.code2ProtocolConverter.asUri(one);
    const now = await against?.now();
    if (!now) {
      const revision = revisionOf(uri);
      return this.#client.sendRequest<SheetAnswer | null>("tappet/sheet", { uri: asUri(uri), build, ...(revision !== undefined && { revision }) });
    }
    return this.#client.sendRequest<SheetAnswer | null>("tappet/compare", { uri: asUri(uri), build, against: { ref: now.ref, label: now.label, uri: asUri(now.original) }, back: vscode.l10n.t("Back to the sheet") });
  }

  /** A fix that stands on the sheet is the same edit that the file offers. */
  async #fix(shown: Shown, finding: string, fix: number): Promise<void> {
    const edit = await this.#client.sendRequest<unknown>("tappet/fix", { uri: this.#client.code2ProtocolConverter.asUri(shown.uri), build: shown.build, finding, fix });
    if (!isRecord(edit)) return;
    const workspaceEdit = await this.#client.protocol2CodeConverter.asWorkspaceEdit(edit as never);
    if (workspaceEdit) await vscode.workspace.applyEdit(workspaceEdit);
  }

  #page(webview: vscode.Webview): string {
    const script = webview.asWebviewUri(vscode.Uri.joinPath(this.#extension, "dist", "sheet-page.js")).toString();
    return sheetPage({
      nonce: randomNonce(), script, title: vscode.l10n.t("Build sheet"), waiting: vscode.l10n.t("Working the sheet out …"), builds: vscode.l10n.t("Builds of this file"), trial: vscode.l10n.t("Trial"),
      empty: vscode.l10n.t("This file declares no build, engine or part yet. The sheet appears with the first one."),
    });
  }
}

function send(shown: Shown, message: ToPage): Thenable<boolean> {
  return shown.panel.webview.postMessage(message);
}

function titleOf(uri: vscode.Uri): string {
  return vscode.l10n.t("Sheet: {0}", uri.path.slice(uri.path.lastIndexOf("/") + 1));
}

async function openAt(uri: string, line: number, column: number): Promise<void> {
  const at = new vscode.Position(Math.max(0, line - 1), Math.max(0, column - 1));
  const asked = vscode.Uri.parse(uri);
  // A place in an earlier state is shown as git has it.
  const ref = asked.query.startsWith(AT_REVISION) ? asked.query.slice(AT_REVISION.length) : undefined;
  const target = ref === undefined ? asked : uriAt(asked.with({ query: "" }), ref);
  // Where the file is already in view, it is shown there: the sheet keeps its place.
  const column_ = vscode.window.visibleTextEditors.find((e) => e.document.uri.toString() === target.toString())?.viewColumn ?? vscode.ViewColumn.One;
  await vscode.window.showTextDocument(target, { viewColumn: column_, selection: new vscode.Range(at, at) });
}

function randomNonce(): string {
  const bytes = new Uint8Array(16);
  crypto.getRandomValues(bytes);
  return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}
