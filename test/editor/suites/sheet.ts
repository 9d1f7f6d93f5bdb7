/** The sheet beside the file: there on request, right, live without moving, and a way back to the text. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, hands, openFile, test } from "../host.ts";

const build = "hill/build.tappet";
const engine = "hill/engine.tappet";

async function withTheme(theme: string, run: () => Promise<void>): Promise<void> {
  const settings = vscode.workspace.getConfiguration("workbench");
  await settings.update("colorTheme", theme, vscode.ConfigurationTarget.Global);
  try {
    await run();
  } finally {
    await settings.update("colorTheme", undefined, vscode.ConfigurationTarget.Global);
  }
}

test("the sheet opens beside the file, under the build's name, with the worst first", async () => {
  const editor = await openFile(build);
  await vscode.commands.executeCommand("tappet.showSheet");
  const [heading] = await hands.readSheet("#sheet h1");
  expectEqual(heading, "Wren hill-climb car, second season", "the heading of the sheet");
  const [text = ""] = await hands.readSheet("#sheet");
  expect(text.includes("coil-bind-margin") || /solid/.test(text), "The sheet does not mention the springs.");
  expectEqual(vscode.window.activeTextEditor?.document.uri.toString(), editor.document.uri.toString(), "the editor that keeps the focus");
  await hands.photograph("sheet-light");
});

test("an edit of the engine reaches the open sheet without its being asked for again", async () => {
  await openFile(build);
  await vscode.commands.executeCommand("tappet.showSheet");
  await hands.readSheet("#sheet h1");
  const editor = await openFile(engine);
  const at = editor.document.positionAt(editor.document.getText().indexOf("82.00 mm"));
  await editor.edit((edit) => edit.replace(new vscode.Range(at, at.translate(0, "82.00 mm".length)), "92.00 mm"));
  // 4 x pi/4 x 8.3 cm x 8.3 cm x 9.2 cm, worked out by hand: 1991.1 cc.
  await eventually("the new displacement on the sheet", async () => {
    const [text = ""] = await hands.readSheet("#sheet");
    return /1[ ,]?991/.test(text) || undefined;
  });
});

test("the sheet is readable in dark and in high contrast", async () => {
  await openFile(build);
  await vscode.commands.executeCommand("tappet.showSheet");
  await hands.readSheet("#sheet h1");
  for (const [name, theme] of [["dark", "Default Dark Modern"], ["high-contrast", "Default High Contrast"]] as const) {
    await withTheme(theme, async () => {
      await hands.readSheet(name === "dark" ? "body.vscode-dark #sheet h1" : "body.vscode-high-contrast #sheet h1");
      await hands.photograph(`sheet-${name}`);
    });
  }
});
