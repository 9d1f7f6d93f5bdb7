/** The sheet's page in the real webview: nothing a file says becomes more than text, its policy refuses nothing of its own, everybody can read it. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, hands, openFile, test } from "../host.ts";

const build = "builds/wren-hill-2.tappet";
const refusals = "content security policy|refused to";

async function withTheme(theme: string, run: () => Promise<void>): Promise<void> {
  const settings = vscode.workspace.getConfiguration("workbench");
  await settings.update("colorTheme", theme, vscode.ConfigurationTarget.Global);
  try {
    await run();
  } finally {
    await settings.update("colorTheme", undefined, vscode.ConfigurationTarget.Global);
  }
}

const HOSTILE: Readonly<Record<string, string>> = {
  "an image with a handler": "<img src=x onerror=document.title='caught'>",
  "a script": "</main><script>document.title='caught'</script>",
  "ten thousand letters": "W".repeat(10_000),
  "a turn of direction": "\u202esdrawkcab",
};
for (const [kind, title] of Object.entries(HOSTILE))
  test(`${kind} as a title stays text on the sheet`, async () => {
    const part = `part camshaft odd ${JSON.stringify(title)} for any { intake { duration: 236 deg crank } }`;
    const content = `engine odd-engine ${JSON.stringify(title)} {\n  cylinders: 4\n  bore: 83.00 mm\n  stroke: 82.00 mm\n}\n${part}\nbuild odd-build ${JSON.stringify(title)} on odd-engine {\n  fit odd\n}\n`;
    await vscode.window.showTextDocument(await vscode.workspace.openTextDocument({ language: "tappet", content }), vscode.ViewColumn.One);
    await vscode.commands.executeCommand("tappet.showSheet");
    // The sheet of the test before may still be going while this one comes.
    const wanted = title.replace("\u202e", "⟨U+202E⟩");
    await eventually("the heading as it was written", async () => ((await hands.readSheet("#sheet h1")).includes(wanted) ? true : undefined));
    await hands.readSheet('#sheet [data-value="displacement.total"]');
    expectEqual(await hands.countOnSheet("#sheet h1", "#sheet img, #sheet script, #sheet iframe, #sheet style, #sheet [onerror]"), 0, "elements that a title made");
    expectEqual(await hands.consoleLines(refusals), [], "what the page's policy had to refuse");
  });

test("the page's own policy refuses nothing of the page while it is shown, used and shown again", async () => {
  await openFile(build);
  await vscode.commands.executeCommand("tappet.showSheet");
  await hands.clickSheet('[data-value="displacement.total"] summary');
  await hands.clickSheet('[data-value="displacement.total"] [data-file]');
  await eventually("the engine in front", () => vscode.window.activeTextEditor?.document.uri.path.endsWith("/dunlin-18.tappet") || undefined);
  expectEqual(await hands.consoleLines(refusals), [], "what was refused");
  expectEqual(await hands.consoleLines("sheet-page"), [], "what the page's script complained of");
});

for (const [name, theme, kind] of [
  ["light", "Default Light Modern", "vscode-light"],
  ["dark", "Default Dark Modern", "vscode-dark"],
  ["high contrast", "Default High Contrast", "vscode-high-contrast"],
  ["light high contrast", "Default High Contrast Light", "vscode-high-contrast-light"],
] as const)
  test(`the checker holds nothing against the sheet in the ${name} theme`, async () => {
    await openFile(build);
    await vscode.commands.executeCommand("tappet.showSheet");
    await withTheme(theme, async () => {
      await hands.readSheet(`body.${kind} #sheet h1`);
      await hands.clickSheet('[data-value="piston-speed.mean"] summary');
      await hands.readSheet('[data-value="piston-speed.mean"] details[open]');
      const held = await hands.checkSheet("#sheet h1");
      expectEqual(held, [], "what the checker holds against it");
      await hands.photograph(`sheet-theme-${name.replaceAll(" ", "-")}`);
    });
  });

test("the commands are there, and the sheet can be asked for from the palette by its name", async () => {
  const known = await vscode.commands.getCommands(true);
  for (const command of ["tappet.showSheet", "tappet.exportSheet", "tappet.restartServer", "tappet.showLog"]) expect(known.includes(command), `There is no ${command}.`);
  await openFile(build);
  await hands.focusEditor();
  await hands.runCommand("Tappet: Show the build sheet beside the file");
  await hands.readSheet('#sheet [data-value="displacement.total"]');
});
