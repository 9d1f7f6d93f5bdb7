/** The extension wakes when it should, in the host it should, and not before. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, extensionId, hands, openFile, session, test } from "../host.ts";

test("the packed extension is there and asleep until a build file is opened", async () => {
  const extension = vscode.extensions.getExtension(extensionId);
  expect(extension !== undefined, "The extension is not installed.");
  expect(!extension.isActive, "The extension is active before any build file was opened.");
});

test("opening a .tappet file activates the extension", async () => {
  const editor = await openFile("first.tappet");
  expectEqual(editor.document.languageId, "tappet", "the language of the file");
  const extension = await eventually("the extension to be active", () => {
    const found = vscode.extensions.getExtension(extensionId);
    return found?.isActive ? found : undefined;
  });
  // An activation that failed counts as over, too; only asking again tells.
  await extension.activate();
});

test("a key pressed at the page lands in the file", async () => {
  const editor = await openFile("first.tappet");
  await hands.focusEditor();
  await hands.press("Control+End");
  await hands.type("// typed by hand");
  await eventually("the typed text", () => editor.document.getText().trimEnd().endsWith("// typed by hand") || undefined);
  await hands.photograph("typed");
});

test("the web session runs in a worker without Node", async () => {
  expectEqual(typeof process === "undefined" || !("versions" in process) || !process.versions?.node, true, "no Node in the host");
}, ["web"]);

test("the installed session runs in the Node host", async () => {
  expect(typeof process.versions.node === "string", "There is no Node in the host.");
}, ["installed", "desktop"]);

test("the restricted session's folder is not trusted, and the others' is", async () => {
  expectEqual(vscode.workspace.isTrusted, session !== "restricted", "whether the folder is trusted");
});
