/** What comes to meet a hand that types: suggestions without a key, a table from Tab to Tab, the chain behind a figure. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, hands, openFile, test, until } from "../host.ts";

const build = "builds/wren-hill-3.tappet";

/** Puts the caret at the end of the line that holds these words and gives the file the keyboard. */
async function atEndOf(words: string): Promise<vscode.TextEditor> {
  const { document } = await openFile(build);
  // Before the server answers, nothing comes up by itself, and nothing asks again until the next key.
  await eventually("an answer of the server", async () => (await vscode.commands.executeCommand<vscode.Hover[]>("vscode.executeHoverProvider", document.uri, document.positionAt(document.getText().indexOf("redline:")))).length > 0 || undefined);
  const { end } = document.lineAt(document.positionAt(document.getText().indexOf(words)).line).range;
  return vscode.window.showTextDocument(document, { selection: new vscode.Range(end, end) });
}

test("suggestions come up while a word is typed, and an Enter for a blank line takes none", async () => {
  const editor = await atEndOf("redline: 7200 rpm");
  await hands.press("Enter Enter");
  await hands.type("alti");
  expect((await hands.suggestions("altitude")).includes("altitude"), "altitude is not suggested.");
  await hands.press("Enter");
  await eventually("the key with its unit", () => /redline: 7200 rpm\n\s*\n +altitude: … m\n/.test(editor.document.getText()) || undefined);
});

test("a measurement is laid out from its name, and Tab goes from reading to reading", async () => {
  const editor = await atEndOf("follow gear-bolt");
  await hands.press("Enter");
  await hands.type("measured ring-");
  await hands.suggestions("ring-gap");
  await hands.press("Enter");
  await eventually("the table", () => /measured ring-gap on \d{4}-\d\d-\d\d \{\n +\| cylinder \(mm\) \| 1 \| 2 \| 3 \| 4 \|/.test(editor.document.getText()) || undefined);
  await hands.press("Tab");
  await hands.type("0.31");
  await hands.press("Tab");
  await hands.type("0.32");
  await eventually("the first readings", () => /\| top +\| 0\.31 \| 0\.32 \| - \| - \|/.test(editor.document.getText()) || undefined);
  await hands.photograph("table-of-readings");
});

test("the chain behind a figure is a list that shows each place while it is walked, and Escape leads back", async () => {
  const { document } = await openFile(build);
  const at = document.positionAt(document.getText().indexOf("0.20 mm cold") + 1);
  await vscode.window.showTextDocument(document, { selection: new vscode.Range(at, at) });
  const done = vscode.commands.executeCommand("tappet.showChain");
  const rows = await eventually("the whole chain", async () => {
    const found = (await hands.readPage(".quick-input-list .monaco-list-row")).map((row) => row.replace(/\s+/g, " "));
    return found.some((row) => row.includes("measured on")) ? found : undefined;
  });
  expect(rows.some((row) => /0\.20 mm cold ?chosen by Wren hill-climb car, third season \(this one counts\)/.test(row)), rows.join(" | "));
  await hands.photograph("chain");
  await hands.press("Escape");
  await done;
  expectEqual(vscode.window.activeTextEditor?.selection.active.line, at.line, "the line of the caret");
});

test("the walkthrough's first step asks for a new build, from question to question by Enter alone", async () => {
  await vscode.commands.executeCommand("workbench.action.openWalkthrough", "tappet.tappet#first-build", false);
  await hands.clickPage(".getting-started-step.expanded .button-link, .getting-started-step.expanded .monaco-button");
  const asked = (words: string) => eventually(`the question "${words}"`, async () => ((await hands.readPage(".quick-input-widget")).some((text) => text.includes(words)) ? true : undefined));
  await asked("(1 of 4)");
  // The page whose button was clicked may take the keyboard once more; the hand is on the mouse still.
  await hands.clickPage(".quick-input-widget input");
  await hands.type("Heron trials car");
  for (const next of ["(2 of 4)", "(3 of 4)", "(4 of 4)"]) {
    await hands.press("Enter");
    await asked(next);
  }
  await hands.press("Enter");
  const laid = await until("the build laid out", vscode.workspace.onDidChangeTextDocument, () => vscode.window.visibleTextEditors.find(({ document }) => document.getText().includes('build heron-trials-car "Heron trials car" on')));
  expect(laid.document.languageId === "tappet", laid.document.languageId);
});
