/** A new build from four answers: what it is called, its short name, its engine, its fuel. Writes one untitled file; nothing lands on a disk unasked. */
import * as vscode from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { isRecord } from "./client.ts";
import { Questions } from "./questions.ts";

interface EngineChoice extends vscode.QuickPickItem {
  readonly engine?: { readonly name: string; readonly uri: vscode.Uri };
}

export async function newBuild(client: BaseLanguageClient): Promise<void> {
  const ask = new Questions((n) => vscode.l10n.t("New build ({0} of 4)", n));
  try {
    const title = await ask.words({ prompt: vscode.l10n.t("What do people call this build?"), placeholder: vscode.l10n.t("Hill-climb car, first season") });
    if (title === undefined) return;
    const name = await ask.words({
      prompt: vscode.l10n.t("Its short name in files: letters, digits and dashes"), value: shortName(title),
      validate: (text) => (/^\p{L}(?:[\p{L}\p{N}_]|-(?=[\p{L}\p{N}]))*$/u.test(text) ? undefined : vscode.l10n.t("Write letters, digits and dashes, beginning with a letter.")),
    });
    if (name === undefined) return;
    const choices: EngineChoice[] = [...(await enginesOf(client)), { label: vscode.l10n.t("Another engine"), description: vscode.l10n.t("lays out an empty engine to fill in") }];
    const engine = await ask.choice(choices, vscode.l10n.t("Which engine does it start from?"));
    if (!engine) return;
    const fuel = await ask.choice(["petrol", "E10", "E85", "ethanol", "methanol", "LPG"].map((label) => ({ label })), vscode.l10n.t("What does it burn?"));
    if (fuel) await layOut(title, name, engine, fuel.label);
  } finally {
    ask.end();
  }
}

async function layOut(title: string, name: string, engine: EngineChoice, fuel: string): Promise<void> {
  const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
  const target = folder && vscode.Uri.joinPath(folder, "builds", `${name}.tappet`);
  // An untitled document with a path is saved there when the builder saves it, and nowhere before.
  const document = target ? await vscode.workspace.openTextDocument(target.with({ scheme: "untitled" })) : await vscode.workspace.openTextDocument({ language: "tappet" });
  const editor = await vscode.window.showTextDocument(document);
  if (document.languageId !== "tappet") await vscode.languages.setTextDocumentLanguage(document, "tappet");
  await editor.insertSnippet(new vscode.SnippetString(buildText(title, name, fuel, engine, target)), new vscode.Position(0, 0));
}

/** The snippet of a new build; exported for its test. */
export function buildText(title: string, name: string, fuel: string, choice: Pick<EngineChoice, "engine">, target: vscode.Uri | undefined): string {
  const quoted = (text: string) => text.replace(/["\r\n]/g, "'").replace(/[\\$}]/g, "\\$&");
  const { engine } = choice;
  const head = engine
    ? [`use "${quoted(target ? relative(target.path, engine.uri.path) : engine.uri.path)}"`, ""]
    : [
        "/// Where these figures come from, and what they are for.", `engine \${1:my-engine} "\${2:What people call it}" {`, '  source: "${3:workshop manual}"', "", "  cylinders: ${4:4}", "  bore: ${5:…} mm", "  stroke: ${6:…} mm", "  redline: ${7:…} rpm", "}", "",
      ];
  return [...head, `build ${quoted(name)} "${quoted(title)}" on ${engine ? quoted(engine.name) : "${1:my-engine}"} {`, `  fuel: ${fuel}`, "", "  $0", "}", ""].join("\n");
}

async function enginesOf(client: BaseLanguageClient): Promise<EngineChoice[]> {
  const symbols: unknown = await client.sendRequest("workspace/symbol", { query: "" }).then((s) => s, () => []);
  if (!Array.isArray(symbols)) return [];
  return symbols.flatMap((s): EngineChoice[] => {
    if (!isRecord(s) || typeof s["name"] !== "string" || typeof s["containerName"] !== "string" || !/^engine\b/.test(s["containerName"]) || !isRecord(s["location"]) || typeof s["location"]["uri"] !== "string") return [];
    return [{ label: s["name"], description: s["containerName"].replace(/^engine ?/, ""), detail: vscode.workspace.asRelativePath(vscode.Uri.parse(s["location"]["uri"])), engine: { name: s["name"], uri: vscode.Uri.parse(s["location"]["uri"]) } }];
  });
}

function relative(from: string, to: string): string {
  const here = from.split("/").slice(0, -1);
  const there = to.split("/");
  let same = 0;
  while (same < here.length && same < there.length - 1 && here[same] === there[same]) same++;
  return [...here.slice(same).map(() => ".."), ...there.slice(same)].join("/");
}

function shortName(title: string): string {
  return title.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "").replace(/[^a-z0-9]+/g, "-").replace(/^[^a-z]+|-+$/g, "") || "my-build";
}
