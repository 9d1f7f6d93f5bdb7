/** What carries a newcomer: the verdict above a build, hints, a new build from four answers, a rename across files. */
import * as vscode from "vscode";
import { eventually, expect, hands, openFile, test } from "../host.ts";

test("the verdict stands above the build and never says that it is ready", async () => {
  const editor = await openFile("builds/wren-hill-2.tappet");
  const lenses = await eventually("a lens above the build", async () => {
    const found = await vscode.commands.executeCommand<vscode.CodeLens[]>("vscode.executeCodeLensProvider", editor.document.uri, 5);
    return found.length > 0 && found[0]?.command ? found : undefined;
  });
  const title = lenses[0]?.command?.title ?? "";
  expect(/stops? this engine/.test(title) && title.includes("1775 cc"), `the lens says "${title}"`);
  expect(!/ready/i.test(title), `the lens says "${title}"`);
});

test("hints give the other system's figure, and can be turned off", async () => {
  const editor = await openFile("builds/wren-hill-2.tappet");
  const whole = new vscode.Range(0, 0, editor.document.lineCount, 0);
  const labels = async () => (await vscode.commands.executeCommand<vscode.InlayHint[]>("vscode.executeInlayHintProvider", editor.document.uri, whole)).map((h) => String(h.label));
  await eventually("a hint in thou", async () => ((await labels()).includes("7.9 thou") ? true : undefined));
  const settings = vscode.workspace.getConfiguration("tappet.inlayHints");
  await settings.update("otherUnits", false, vscode.ConfigurationTarget.Workspace);
  try {
    await eventually("no hint in thou", async () => ((await labels()).includes("7.9 thou") ? undefined : true));
  } finally {
    await settings.update("otherUnits", undefined, vscode.ConfigurationTarget.Workspace);
  }
});

test("a rename of the engine reaches the files that stand on it", async () => {
  const editor = await openFile("engines/dunlin-18.tappet");
  const at = editor.document.positionAt(editor.document.getText().indexOf("dunlin-18") + 2);
  const edit = await eventually("a rename", async () => vscode.commands.executeCommand<vscode.WorkspaceEdit>("vscode.executeDocumentRenameProvider", editor.document.uri, at, "dunlin-19").then((e) => e, () => undefined));
  const touched = edit.entries().map(([uri]) => uri.path.split("/").at(-1));
  for (const name of ["dunlin-18.tappet", "ridgeway.tappet", "wren-hill-2.tappet", "wren-hill-3.tappet"]) expect(touched.includes(name), `the rename touches ${touched.join(", ")}`);
});

test("a new build shows what four answers lay out, on the engine that was picked", async () => {
  await openFile("builds/wren-hill-2.tappet");
  // Not awaited: the command runs while its questions are answered at the page, one after the other as they appear.
  const done = vscode.commands.executeCommand("tappet.newBuild");
  const asked = (step: number) => eventually(`question ${step}`, async () => ((await hands.readPage(".quick-input-widget .quick-input-title")).some((t) => t.includes(`${step} of 4`)) ? true : undefined));
  await asked(1);
  await hands.type("Curlew sprint car");
  await hands.press("Enter");
  await asked(2);
  await hands.press("Enter");
  await asked(3);
  await hands.type("whimbrel");
  await hands.press("Enter");
  await asked(4);
  await hands.press("Enter");
  await done;
  const text = vscode.window.activeTextEditor?.document.getText() ?? "";
  expect(text.includes('use "../engines/whimbrel-20.tappet"'), text);
  expect(text.includes('build curlew-sprint-car "Curlew sprint car" on whimbrel-20 {'), text);
  const uri = vscode.window.activeTextEditor?.document.uri;
  if (uri) await eventually("the new build's findings hold no error", async () => (vscode.languages.getDiagnostics(uri).every((d) => d.severity !== vscode.DiagnosticSeverity.Error) ? true : undefined));
});
