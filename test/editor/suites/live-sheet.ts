/** The sheet beside the file as somebody works with both: live, steady, and a way to and from every line. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, fileUri, hands, openFile, test } from "../host.ts";

const build = "builds/wren-hill-2.tappet";
const engine = "engines/dunlin-18.tappet";

const value = (id: string): string => `[data-value="${id}"]`;
const figure = (id: string): string => `${value(id)} td.figure`;

/** Opens the build with its sheet beside it. */
async function openSheet(): Promise<vscode.TextEditor> {
  const editor = await openFile(build);
  await vscode.commands.executeCommand("tappet.showSheet");
  await hands.readSheet(figure("displacement.total"));
  return editor;
}

/** Reads the first match on the sheet until it is as wanted. */
function onSheet(selector: string, what: string, wanted: (text: string) => boolean): Promise<string> {
  return eventually(what, async () => {
    const [text = ""] = await hands.readSheet(selector);
    return wanted(text) ? text : undefined;
  });
}

async function rewrite(editor: vscode.TextEditor, old: string, by: string): Promise<void> {
  const at = editor.document.getText().indexOf(old);
  expect(at >= 0, `The file does not hold "${old}".`);
  const range = new vscode.Range(editor.document.positionAt(at), editor.document.positionAt(at + old.length));
  expect(await editor.edit((edit) => edit.replace(range, by)), "The edit was refused.");
}

test("the sheet gives the verdict, what to put right first, and the values", async () => {
  await openSheet();
  const [verdict = ""] = await hands.readSheet(".verdict");
  expect(/^Three things stop this engine\./.test(verdict), `The verdict is: ${verdict}`);
  const findings = await hands.readSheet("[data-finding]");
  expectEqual(findings.length, 5, "how many findings the sheet has");
  expect((findings[0] ?? "").includes("coil-bind-margin"), `The first finding is: ${findings[0]}`);
  // 4 x pi/4 x 8.30 cm x 8.30 cm x 8.20 cm, worked out by hand: 1774.7 cc.
  const [displacement = ""] = await hands.readSheet(figure("displacement.total"));
  expectEqual(displacement, "1775 cc", "the displacement");
});

test("typing in the file changes the value on the sheet, which keeps its scroll and its opened trace", async () => {
  const editor = await openSheet();
  await hands.openTrace(`${value("piston-speed.mean")} details[data-trace]`);
  await hands.readSheet(`${value("piston-speed.mean")} details[open]`);
  const scroll = await hands.sheetScroll("#sheet");
  expect(scroll > 0, "The trace was in view without scrolling, so the test would show nothing.");
  const at = editor.document.positionAt(editor.document.getText().indexOf("7300 rpm"));
  const figureOfRedline = new vscode.Range(at, at.translate(0, "7300".length));
  // One edit, so that nothing stands above the trace for a moment: what half-typed text does is shown elsewhere.
  expect(await editor.edit((edit) => edit.replace(figureOfRedline, "6000")), "The edit was refused.");
  // 2 x 0.0820 m x 6000 / 60, worked out by hand: 16.4 m/s.
  await onSheet(figure("piston-speed.mean"), "the new piston speed", (text) => text === "16.4 m/s");
  await hands.readSheet(`${value("piston-speed.mean")} details[open]`);
  const [trace = ""] = await hands.readSheet(`${value("piston-speed.mean")} details[open]`);
  expect(trace.includes("6000 rpm"), `The trace says: ${trace}`);
  expectEqual(await hands.sheetScroll("#sheet"), scroll, "how far the sheet is scrolled");
});

test("a place on the sheet leads to its line in the file, in another file too", async () => {
  await openSheet();
  await hands.openTrace(`${value("displacement.total")} details[data-trace]`);
  await hands.clickSheet(`${value("displacement.total")} [data-file]`);
  await eventually("the engine's file at the line of the bore", () => {
    const editor = vscode.window.activeTextEditor;
    if (!editor?.document.uri.path.endsWith(engine)) return undefined;
    return /^\s*bore: +83\.00 mm/.test(editor.document.lineAt(editor.selection.active.line).text) || undefined;
  });
});

test("the caret's line marks the values that rest on it", async () => {
  const editor = await openSheet();
  const line = editor.document.positionAt(editor.document.getText().indexOf("redline:")).line;
  editor.selection = new vscode.Selection(line, 4, line, 4);
  const marked = await hands.readSheet("[data-value][aria-current] th");
  expect(marked.some((label) => /^Mean piston speed/.test(label)), `Marked are: ${marked.join(" | ")}`);
  const other = editor.document.positionAt(editor.document.getText().indexOf("fit vernier-18")).line;
  editor.selection = new vscode.Selection(other, 4, other, 4);
  await onSheet("[aria-current]", "the mark to move on", (text) => !/^Mean piston speed/.test(text));
});

test("a fix on the sheet edits the file as the quick fix does, and its finding leaves the sheet", async () => {
  const editor = await openSheet();
  const before = await hands.readSheet("[data-finding]");
  await hands.clickSheet('[data-rule="need-unmet"] [data-fix]');
  await eventually("the part in the file", () => editor.document.getText().includes("fit valve-spring") || /part valve-spring/.test(editor.document.getText()) || undefined);
  await eventually("one finding fewer on the sheet", async () => {
    const now = await hands.readSheet("[data-finding]");
    return now.filter((text) => text.includes("need-unmet")).length === before.filter((text) => text.includes("need-unmet")).length - 1 || undefined;
  });
});

test("a damaged file keeps a sheet of what can still be read", async () => {
  const editor = await openSheet();
  await rewrite(editor, "lash { intake", "measured cylinder-head { lash { intake");
  await onSheet(figure("displacement.total"), "the displacement to stay", (text) => text === "1775 cc");
  await vscode.commands.executeCommand("undo");
  await onSheet(".verdict", "the verdict as before", (text) => text.startsWith("Three things"));
});

test("closing the sheet and asking for it again shows it anew", async () => {
  await openSheet();
  await vscode.commands.executeCommand("workbench.action.closeEditorsInOtherGroups");
  await eventually("one group with the file alone", () => vscode.window.tabGroups.all.flatMap(({ tabs }) => tabs).every(({ input }) => !(input instanceof vscode.TabInputWebview)) || undefined);
  await vscode.window.showTextDocument(fileUri(build), { viewColumn: vscode.ViewColumn.One });
  await vscode.commands.executeCommand("tappet.showSheet");
  await hands.readSheet(figure("displacement.total"));
});

test("the sheet of a file that declares nothing says so, and fills as soon as something is declared", async () => {
  const document = await vscode.workspace.openTextDocument({ language: "tappet", content: "// nothing yet\n" });
  const editor = await vscode.window.showTextDocument(document, vscode.ViewColumn.One);
  await vscode.commands.executeCommand("tappet.showSheet");
  await onSheet("#sheet", "a word on the empty sheet", (text) => text.includes("no build, engine or part yet"));
  await editor.edit((edit) => edit.insert(new vscode.Position(1, 0), 'engine trial "Trial" {\n  cylinders: 4\n  bore: 83.00 mm\n  stroke: 82.00 mm\n}\n'));
  await onSheet(figure("displacement.total"), "the displacement", (text) => text === "1775 cc");
});

test("a sheet that was hidden behind another tab comes back as it was", async () => {
  await openSheet();
  await hands.openTrace(`${value("overlap")} details[data-trace]`);
  await hands.readSheet(`${value("overlap")} details[open]`);
  const document = await vscode.workspace.openTextDocument({ content: "something else" });
  await vscode.window.showTextDocument(document, vscode.ViewColumn.Two);
  await eventually("the sheet to be hidden", () => vscode.window.tabGroups.all.every(({ tabs }) => tabs.every(({ input, isActive }) => !(input instanceof vscode.TabInputWebview) || !isActive)) || undefined);
  await vscode.window.showTextDocument(fileUri(build), { viewColumn: vscode.ViewColumn.One });
  await vscode.commands.executeCommand("tappet.showSheet");
  await hands.readSheet(`${value("overlap")} details[open]`);
});

test("the sheet is written to a file that a person names", async () => {
  const editor = await openSheet();
  const target = fileUri("builds/wren-hill-2.html");
  await vscode.window.showTextDocument(editor.document, vscode.ViewColumn.One);
  let done = false;
  const written = vscode.commands.executeCommand("tappet.exportSheet").then(() => {
    done = true;
  });
  await hands.readPage(".quick-input-widget .quick-input-header input");
  // The dialog takes Enter only once it has looked at the folder, which nothing on the page tells.
  await eventually("the file to be written", async () => {
    if (!done && (await hands.readPage(".quick-input-widget")).some((text) => text !== "")) await hands.press("Enter");
    return done || undefined;
  });
  await written;
  const text = new TextDecoder().decode(await vscode.workspace.fs.readFile(target));
  await vscode.workspace.fs.delete(target);
  expect(text.startsWith("<!doctype html>") && text.includes("1775 cc") && !/<script|<button/.test(text), `The file begins: ${text.slice(0, 200)}`);
});

test("a file with two builds shows the one that is asked for, and goes on showing it", async () => {
  const content = 'engine trial "Trial" {\n  cylinders: 4\n  bore: 83.00 mm\n  stroke: 82.00 mm\n}\nbuild first-one "First" on trial {\n  redline: 6000 rpm\n}\nbuild second-one "Second" on trial {\n  redline: 7000 rpm\n}\n';
  const document = await vscode.workspace.openTextDocument({ language: "tappet", content });
  const editor = await vscode.window.showTextDocument(document, vscode.ViewColumn.One);
  await vscode.commands.executeCommand("tappet.showSheet");
  await onSheet("#sheet h1", "the first build", (text) => text === "First");
  await hands.clickSheet('#builds [data-build="second-one"]');
  await onSheet("#sheet h1", "the second build", (text) => text === "Second");
  await rewrite(editor, "7000 rpm", "6300 rpm");
  // 2 x 0.0820 m x 6300 / 60, worked out by hand: 17.22 m/s.
  await onSheet(figure("piston-speed.mean"), "its new piston speed", (text) => text === "17.2 m/s");
  expectEqual(await hands.readSheet("#sheet h1"), ["Second"], "the build that is shown");
});
