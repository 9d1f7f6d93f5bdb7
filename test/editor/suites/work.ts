/** The order of work by hand: laid out by a command, and taken back in one step. */
import * as vscode from "vscode";
import { expect, expectEqual, openFile, test } from "../host.ts";

test("a command lays the usual order of work out in the build at the caret, as one edit", async () => {
  const editor = await openFile("hill/build.tappet");
  const before = editor.document.getText();
  const at = editor.document.positionAt(before.indexOf("redline"));
  editor.selection = new vscode.Selection(at, at);
  await vscode.commands.executeCommand("tappet.layOutPlan");
  const after = editor.document.getText();
  expect(/\n {2}plan \{\n {4}step baseline "[^"]+"/.test(after) && after.includes("step shaft-in "), after);
  await vscode.commands.executeCommand("undo");
  expectEqual(editor.document.getText(), before, "the text once the command is taken back");
});
