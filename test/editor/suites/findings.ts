/** What a builder sees in the file itself: findings that follow the text, across files, and answers at the caret. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, extensionId, fileUri, hands, openFile, test, until } from "../host.ts";

const build = "hill/build.tappet";
const engine = "hill/engine.tappet";

/** The findings of a file by rule, once the rules are as wanted. */
async function findingsOf(path: string, what: string, wanted: (rules: readonly string[]) => boolean): Promise<readonly vscode.Diagnostic[]> {
  return until(what, vscode.languages.onDidChangeDiagnostics, () => {
    const found = vscode.languages.getDiagnostics(fileUri(path));
    return wanted(found.map(ruleOf)) ? found : undefined;
  });
}

function ruleOf({ code }: vscode.Diagnostic): string {
  return String(typeof code === "object" ? code.value : code);
}

/** Replaces the first `old` of an open file as one unsaved edit. */
async function rewrite(editor: vscode.TextEditor, old: string, by: string): Promise<void> {
  const at = editor.document.getText().indexOf(old);
  expect(at >= 0, `The file does not hold "${old}".`);
  const range = new vscode.Range(editor.document.positionAt(at), editor.document.positionAt(at + old.length));
  expect(await editor.edit((edit) => edit.replace(range, by)), "The edit was refused.");
}

function placeOf(document: vscode.TextDocument, text: string): vscode.Position {
  const at = document.getText().indexOf(text);
  expect(at >= 0, `The file does not hold "${text}".`);
  return document.positionAt(at);
}

test("opening a build shows what its parts ask for and do not get, on the line that fits them", async () => {
  const { document } = await openFile(build);
  const found = await findingsOf(build, "the coil-bind finding", (rules) => rules.includes("coil-bind-margin"));
  const bind = found.find((finding) => ruleOf(finding) === "coil-bind-margin");
  expectEqual(bind?.range.start.line, placeOf(document, "fit ridgeway-272").line, "the line of the finding");
  expectEqual(bind?.severity, vscode.DiagnosticSeverity.Error, "its severity");
  expectEqual(bind?.source?.toLowerCase(), "tappet", "its source");
});

test("an unsaved edit of the engine clears the finding in the build that stands on it", async () => {
  await openFile(build);
  await findingsOf(build, "the coil-bind finding", (rules) => rules.includes("coil-bind-margin"));
  const editor = await openFile(engine);
  await rewrite(editor, "solid-height: 27.4 mm", "solid-height: 22.4 mm");
  await findingsOf(build, "the coil-bind finding to go", (rules) => !rules.includes("coil-bind-margin"));
});

test("half-typed text is a finding at once, and completing it clears it", async () => {
  const editor = await openFile(engine);
  await rewrite(editor, "bore: 83.00 mm", "bore: 83.00 parsecs");
  await until("a finding on the line", vscode.languages.onDidChangeDiagnostics, () => {
    const { line } = placeOf(editor.document, "parsecs");
    return vscode.languages.getDiagnostics(editor.document.uri).find((finding) => finding.range.start.line === line);
  });
  await rewrite(editor, "parsecs", "mm");
  await findingsOf(engine, "no error in the engine", () =>
    vscode.languages.getDiagnostics(editor.document.uri).every(({ severity }) => severity !== vscode.DiagnosticSeverity.Error));
});

test("the definition of a fitted part is in the part's file", async () => {
  const { document } = await openFile(build);
  const found = await eventually("the definition", async () => {
    const answer = await vscode.commands.executeCommand<readonly (vscode.Location | vscode.LocationLink)[]>(
      "vscode.executeDefinitionProvider", document.uri, placeOf(document, "ridgeway-272"));
    return answer[0];
  });
  const uri = "targetUri" in found ? found.targetUri : found.uri;
  expect(uri.path.endsWith("/hill/shaft.tappet"), `The definition is in ${uri.path}.`);
});

test("formatting straightens a crooked file and leaves its meaning", async () => {
  const editor = await openFile(engine);
  await rewrite(editor, "  bore: 83.00 mm", "      bore:83.00 mm");
  await eventually("the formatter's answer", async () => {
    await vscode.commands.executeCommand("editor.action.formatDocument");
    return /^  bore: +83\.00 mm$/m.test(editor.document.getText()) || undefined;
  });
});

test("after the server is restarted the findings come back", async () => {
  await openFile(build);
  await findingsOf(build, "the coil-bind finding", (rules) => rules.includes("coil-bind-margin"));
  await vscode.commands.executeCommand("tappet.restartServer");
  await findingsOf(build, "the coil-bind finding again", (rules) => rules.includes("coil-bind-margin"));
});

test("a server that is killed comes back with what is typed and not saved", async () => {
  await openFile(build);
  await findingsOf(build, "the coil-bind finding", (rules) => rules.includes("coil-bind-margin"));
  const editor = await openFile(engine);
  await rewrite(editor, "solid-height: 27.4 mm", "solid-height: 22.4 mm");
  await findingsOf(build, "the coil-bind finding to go", (rules) => !rules.includes("coil-bind-margin"));
  const server = `${vscode.extensions.getExtension(extensionId)?.extensionPath}/dist/language-server.cjs`;
  const killed = await hands.killProcessOf(server);
  await eventually("another server", async () => {
    const now = await hands.processOf(server);
    return (now !== null && now !== killed) || undefined;
  });
  // A letter is put into the text as it stands unsaved: a server that had the file's text would find another place for it.
  await rewrite(editor, "22.4 mm", "27.4 mm");
  await findingsOf(build, "the coil-bind finding from the new server", (rules) => rules.includes("coil-bind-margin"));
}, ["installed"]);
