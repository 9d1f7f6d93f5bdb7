/** Putting right by hand: a finding accepted with its reason, a part given its own file, findings of files that nobody opened. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, fileUri, hands, openFile, test, until } from "../host.ts";

function ruleOf({ code }: vscode.Diagnostic): string {
  return String(typeof code === "object" ? code.value : code);
}

async function actionsAt(editor: vscode.TextEditor, words: string, wanted: string): Promise<vscode.CodeAction> {
  const at = editor.document.positionAt(editor.document.getText().indexOf(words));
  return eventually(`an action "${wanted}"`, async () => {
    const found = await vscode.commands.executeCommand<vscode.CodeAction[]>("vscode.executeCodeActionProvider", editor.document.uri, new vscode.Range(at, at), undefined, 50);
    return found.find(({ title }) => title.includes(wanted));
  });
}

test("what is found in files that nobody has opened is listed all the same", async () => {
  await openFile("first.tappet");
  // No test opens this one: the editor holds what was open once for a while.
  const unopened = fileUri("stories/skimmed-head/first-try.tappet");
  await until("a finding of the first try", vscode.languages.onDidChangeDiagnostics, () => vscode.languages.getDiagnostics(unopened).map(ruleOf).includes("looks-a-tooth-off") || undefined);
  expect(vscode.workspace.textDocuments.every(({ uri }) => uri.toString() !== unopened.toString()), "The build is open.");
});

test("the setting for open files takes the others' findings off the list, and gives them back", async () => {
  await openFile("first.tappet");
  const unopened = fileUri("hill/build.tappet");
  const listed = () => vscode.languages.getDiagnostics(unopened).length;
  await until("a finding of the build on the hill", vscode.languages.onDidChangeDiagnostics, () => listed() > 0 || undefined);
  const settings = vscode.workspace.getConfiguration("tappet.findings");
  await settings.update("scope", "openFiles", vscode.ConfigurationTarget.Workspace);
  try {
    await until("no finding of a file that is not open", vscode.languages.onDidChangeDiagnostics, () => listed() === 0 || undefined);
  } finally {
    await settings.update("scope", undefined, vscode.ConfigurationTarget.Workspace);
  }
  await until("the finding again", vscode.languages.onDidChangeDiagnostics, () => listed() > 0 || undefined);
});

test("accepting a finding asks for the reason and the day, and writes them beside it", async () => {
  const editor = await openFile("hill/build.tappet");
  const action = await actionsAt(editor, "ridgeway-272", "waive coil-bind-margin");
  const { command } = action;
  expect(command !== undefined, "The action has no command.");
  // Not awaited: the command runs while its questions are answered at the page.
  const done = vscode.commands.executeCommand(command.command, ...(command.arguments ?? []));
  const asked = (words: string) => eventually(`the question "${words}"`, async () => ((await hands.readPage(".quick-input-widget")).some((text) => text.includes(words)) ? true : undefined));
  await asked("springs");
  await hands.type("measured twice, four tenths in hand");
  await hands.press("Enter");
  await asked("The day on which it ends");
  await hands.photograph("accepting");
  await hands.press("Enter");
  await done;
  const text = editor.document.getText();
  expect(/waive coil-bind-margin(?: for \S+)? at -?[\d.]+ mm because "measured twice, four tenths in hand" until \d{4}-\d\d-\d\d/.test(text), text);
  await until("the finding to go", vscode.languages.onDidChangeDiagnostics, () => (vscode.languages.getDiagnostics(editor.document.uri).every((d) => ruleOf(d) !== "coil-bind-margin") ? true : undefined));
  await vscode.commands.executeCommand("undo");
});

test("a part described on the spot is moved to a file of its own, which the build then uses", async () => {
  const editor = await openFile("builds/wren-hill-2.tappet");
  const fit = editor.document.getText().indexOf("  follow gear-bolt");
  await editor.edit((edit) => edit.insert(editor.document.positionAt(fit), '  fit retainer "Ridgeway light" { mass: 11 g }\n'));
  const action = await actionsAt(editor, 'retainer "Ridgeway', "to a file of its own");
  expect(action.edit !== undefined, "The action has no edit.");
  expect(await vscode.workspace.applyEdit(action.edit), "The edit was refused.");
  const file = fileUri("parts/ridgeway-light.tappet");
  const part = await eventually("the part's file", () => vscode.workspace.openTextDocument(file).then((d) => d, () => undefined));
  expect(part.getText().includes('part retainer ridgeway-light "Ridgeway light" for dunlin-18 {'), part.getText());
  expect(editor.document.getText().includes('use "../parts/ridgeway-light.tappet"'), editor.document.getText());
  await eventually("no name unresolved", () => (vscode.languages.getDiagnostics(editor.document.uri).every((d) => !["unresolved-name", "missing-file"].includes(ruleOf(d))) ? true : undefined));
  expectEqual(vscode.languages.getDiagnostics(editor.document.uri).filter((d) => ruleOf(d) === "need-unmet" && d.message.includes("retainer")).length, 0, "needs of a retainer that are not met");
  await vscode.workspace.fs.delete(file);
});
