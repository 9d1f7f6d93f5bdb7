/** What the manifest promises is in the package, and what it names exists. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, extensionId, hands, openFile, test } from "../host.ts";

interface Manifest {
  readonly icon: string;
  readonly contributes: {
    readonly languages: readonly { readonly configuration: string; readonly icon: { readonly light: string; readonly dark: string } }[];
    readonly grammars: readonly { readonly path: string }[];
    readonly commands: readonly { readonly command: string; readonly title: string; readonly category: string }[];
    readonly walkthroughs: readonly { readonly id: string; readonly steps: readonly { readonly description: string; readonly media: { readonly markdown: string }; readonly completionEvents: readonly string[] }[] }[];
  };
}

function manifest(): { readonly root: vscode.Uri; readonly said: Manifest } {
  const extension = vscode.extensions.getExtension(extensionId);
  expect(extension !== undefined, "The extension is not installed.");
  return { root: extension.extensionUri, said: extension.packageJSON as Manifest };
}

test("every file that the manifest names is in the package", async () => {
  const { root, said } = manifest();
  const { languages, grammars, walkthroughs } = said.contributes;
  const named = [
    said.icon, ...languages.flatMap(({ configuration, icon }) => [configuration, icon.light, icon.dark]), ...grammars.map(({ path }) => path),
    ...walkthroughs.flatMap(({ steps }) => steps.map(({ media }) => media.markdown)), "dist/third-party.txt", "dist/sheet-page.js",
  ];
  for (const path of named) expect((await vscode.workspace.fs.stat(vscode.Uri.joinPath(root, path))).size > 0, `${path} is empty.`);
});

test("every command of the manifest does something, and the walkthrough leads to commands that exist", async () => {
  await openFile("first.tappet");
  await eventually("the extension to be active", () => vscode.extensions.getExtension(extensionId)?.isActive || undefined);
  const { commands, walkthroughs } = manifest().said.contributes;
  const known = await vscode.commands.getCommands(true);
  const led = walkthroughs.flatMap(({ steps }) => steps.flatMap(({ description }) => [...description.matchAll(/\(command:([\w.]+)/g)].map(([, command = ""]) => command)));
  expect(led.length > 0, "The walkthrough leads nowhere.");
  expectEqual([...commands.map(({ command }) => command), ...led].filter((command) => !known.includes(command)), [], "commands that are not there");
});

test("the walkthrough opens with its steps", async () => {
  await vscode.commands.executeCommand("workbench.action.openWalkthrough", `${extensionId}#first-build`, false);
  const steps = await hands.readPage(".gettingStartedContainer .getting-started-step .step-title");
  expectEqual(steps.map((step) => step.trim()), ["Write a build file", "Read what was found", "Look at the sheet", "Pin the sheet up"], "the steps");
  await hands.photograph("walkthrough");
});
