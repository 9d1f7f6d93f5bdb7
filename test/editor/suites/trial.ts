/** A figure tried from the keyboard: the sheet moves, the file does not, and one key writes it or puts it back. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, hands, openFile, test } from "../host.ts";

const build = "builds/wren-hill-2.tappet";
const pistonSpeed = '[data-value="piston-speed.mean"]';

/** Opens the build, unchanged, with its sheet beside it and the caret in the redline. */
async function atRedline(): Promise<vscode.TextEditor> {
  const editor = await openFile(build, vscode.ViewColumn.One);
  await vscode.commands.executeCommand("tappet.showSheet");
  await hands.readSheet(`${pistonSpeed} td.figure`);
  await hands.clickText("7300");
  const at = editor.document.positionAt(editor.document.getText().indexOf("7300") + 1);
  // Shown with its selection, the editor answers once the caret is there.
  return vscode.window.showTextDocument(editor.document, { viewColumn: vscode.ViewColumn.One, selection: new vscode.Range(at, at) });
}

async function onSheet(selector: string, what: string, wanted: (text: string) => boolean): Promise<string> {
  return eventually(what, async () => (await hands.readSheet(selector)).find(wanted));
}

test("a figure is stepped from the keyboard: sheet and bar say what was and what would be, the file stays, and it can be put back", async () => {
  const editor = await atRedline();
  const before = editor.document.getText();
  const found = JSON.stringify(vscode.languages.getDiagnostics(editor.document.uri));
  await vscode.commands.executeCommand("tappet.tryHigher");
  await onSheet("#trial", "the bar", (text) => text.includes("Trial, not written: redline 7300 rpm → 7301 rpm"));
  // Every press is one more step; together they are a hundred.
  for (let i = 0; i < 99; i++) await vscode.commands.executeCommand("tappet.tryHigher");
  await onSheet("#trial", "the bar after a hundred steps", (text) => text.includes("redline 7300 rpm → 7400 rpm"));
  // 2 x 0.0820 m x 7400 / 60, worked out by hand: 20.2 m/s; at 7300, 20.0 m/s.
  await onSheet(`${pistonSpeed} td.figure`, "the piston speed as tried", (text) => text === "20.2 m/s");
  const [row = ""] = await hands.readSheet(`${pistonSpeed} th`);
  expect(row.replace(/\s+/g, " ").includes("trial: 20.0 m/s →"), `The row says: ${row}`);
  const [bar = ""] = await hands.readSheet("#trial");
  expect(bar.includes("Found then:") && bar.includes("cast pistons"), `The bar says: ${bar}`);
  expectEqual(editor.document.getText(), before, "the file");
  expect(!editor.document.isDirty, "The file was touched.");
  expectEqual(JSON.stringify(vscode.languages.getDiagnostics(editor.document.uri)), found, "the file's findings");
  await eventually("the trial beside the text and in the status bar", async () => (await hands.readPage(".statusbar-item")).some((text) => text.includes("7300 rpm → 7400 rpm, not written")) || undefined);
  await hands.photograph("trial");
  expectEqual(await hands.checkSheet("#trial"), [], "what the accessibility checker holds against the page");
  await hands.clickSheet('#trial [data-trial="putBack"]');
  await onSheet(`${pistonSpeed} td.figure`, "the piston speed as written", (text) => text === "20.0 m/s");
  expectEqual(editor.document.getText(), before, "the file");
});

test("a trial is made and applied by keys alone, as one edit that one undo takes back", async () => {
  const editor = await atRedline();
  // A key that comes before the editor listens is lost or comes late, so each is pressed until it is heard, and one more step may be taken.
  const tried = () => hands.readSheet("#trial").then((bar) => /→ (\d+) rpm/.exec(bar.join(" "))?.[1]);
  await eventually("a step lower", async () => {
    if ((await tried()) === undefined) await hands.press("Control+Alt+PageDown");
    return tried();
  });
  const written = await eventually("the tried figure in the file", async () => {
    const now = /redline: (\d+) rpm/.exec(editor.document.getText())?.[1];
    if (now !== "7300") return now;
    await hands.press("Control+Alt+End");
    return undefined;
  });
  expect(Number(written) < 7300 && Number(written) > 7290, `The file says ${written} rpm.`);
  await eventually("the bar to go", async () => ((await hands.countOnSheet(`${pistonSpeed} td.figure`, "#trial:not([hidden])")) === 0 ? true : undefined));
  await vscode.commands.executeCommand("undo");
  await eventually("the figure as it was", () => editor.document.getText().includes("redline: 7300 rpm") || undefined);
});

test("a trial with no sheet open opens one beside the file, which keeps the keyboard", async () => {
  const editor = await openFile(build, vscode.ViewColumn.One);
  const at = editor.document.positionAt(editor.document.getText().indexOf("0.20 mm cold") + 1);
  await vscode.window.showTextDocument(editor.document, { viewColumn: vscode.ViewColumn.One, selection: new vscode.Range(at, at) });
  await vscode.commands.executeCommand("tappet.tryHigher");
  await onSheet("#trial", "the bar", (text) => text.includes("lash intake 0.20 mm → 0.21 mm"));
  expectEqual(vscode.window.activeTextEditor?.document.uri.toString(), editor.document.uri.toString(), "the editor that has the keyboard");
  await vscode.commands.executeCommand("tappet.putBack");
});
