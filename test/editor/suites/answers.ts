/** What the editor answers a builder who works on the hill-climb build of the samples: findings, hovers, keys with their units, fixes. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, fileUri, hands, openFile, test, until } from "../host.ts";

const build = "builds/wren-hill-2.tappet";
const engine = "engines/dunlin-18.tappet";

/** What a finding is known by: its rule, how bad it is, and the text it stands under. */
type Seen = readonly [rule: string, severity: string, under: string];

function seenIn(document: vscode.TextDocument): readonly Seen[] {
  return vscode.languages
    .getDiagnostics(document.uri)
    .map((finding): Seen => [ruleOf(finding), vscode.DiagnosticSeverity[finding.severity], document.getText(finding.range)])
    .toSorted((a, b) => a.join().localeCompare(b.join()));
}

function ruleOf({ code }: vscode.Diagnostic): string {
  return String(typeof code === "object" ? code.value : code);
}

/** Where the first match begins; figures may be set in columns, so what is looked for is a pattern. */
function placeOf(document: vscode.TextDocument, pattern: RegExp): vscode.Range {
  const found = pattern.exec(document.getText());
  expect(found !== null, `The file does not hold ${String(pattern)}.`);
  return new vscode.Range(document.positionAt(found.index), document.positionAt(found.index + found[0].length));
}

/** Waits for the findings of a file that hold what is wanted. */
function findingsOf(path: string, what: string, wanted: (rules: readonly string[]) => boolean): Promise<readonly vscode.Diagnostic[]> {
  return until(what, vscode.languages.onDidChangeDiagnostics, () => {
    const found = vscode.languages.getDiagnostics(fileUri(path));
    return wanted(found.map(ruleOf)) ? found : undefined;
  });
}

/** Puts the caret behind the first match in the file and gives the file the keyboard. */
async function placeCaret({ document }: vscode.TextEditor, pattern: RegExp): Promise<vscode.TextEditor> {
  const at = placeOf(document, pattern).end;
  // Shown with its selection, the editor answers once the caret is there; a selection that is merely set arrives when it likes.
  return vscode.window.showTextDocument(document, { viewColumn: vscode.ViewColumn.One, selection: new vscode.Range(at, at) });
}

test("opening the hill-climb build shows exactly its findings, each under the words it is about", async () => {
  const { document } = await openFile(build);
  await findingsOf(build, "the finding of the springs", (rules) => rules.includes("coil-bind-margin"));
  const expected: readonly Seen[] = [
    ["coil-bind-margin", "Error", "ridgeway-272"],
    ["fingerprint-doubtful", "Warning", "#3f9c21d07a4e"],
    ["need-unmet", "Error", "ridgeway-272"],
    ["need-unmet", "Error", "ridgeway-272"],
    // Until its date the waiver is unused, from then on it has expired.
    ["waiver-idle", "Warning", "ring-gap-top"],
  ];
  const seen = seenIn(document).map(([rule, severity, under]): Seen => [rule.replace(/^waiver-(?:unused|expired)$/, "waiver-idle"), severity, under]);
  expectEqual(seen, expected, "the findings");
});

test("a finding carries its rule's name, both figures, and the lines it rests on", async () => {
  await openFile(build);
  const found = await findingsOf(build, "the finding of the springs", (rules) => rules.includes("coil-bind-margin"));
  const bind = found.find((finding) => ruleOf(finding) === "coil-bind-margin");
  expect(/27\.35 mm/.test(bind?.message ?? "") && /27\.40 mm/.test(bind?.message ?? ""), `It says: ${bind?.message}`);
  const files = new Set(bind?.relatedInformation?.map(({ location }) => location.uri.path.split("/").at(-1)));
  expect(files.has("dunlin-18.tappet") && files.has("ridgeway.tappet"), `It points into: ${[...files].join(", ")}`);
});

test("resting on a figure shows it in its other unit, and what it replaced", async () => {
  await openFile(build);
  await findingsOf(build, "the build to be read", (rules) => rules.length > 0);
  const words = await hands.hover("0.20");
  expect(words.includes("0.20 mm") && words.includes("7.9 thou"), `The hover says: ${words}`);
  expect(/0\.20 ± 0\.02 mm/.test(words) && /Ridgeway 272/.test(words), `The hover does not say what was asked for: ${words}`);
  expect(/0\.15 ± 0\.03 mm/.test(words), `The hover does not say what the stock engine had: ${words}`);
  await hands.photograph("hover-figure");
});

test("taking a suggestion writes the key, its place for a figure, and its unit", async () => {
  const editor = await openFile(engine);
  await findingsOf(engine, "the engine to be read", () => true);
  await placeCaret(editor, /stated-compression: +9\.4:1/);
  await hands.press("Enter");
  await hands.type("stroke-x");
  await hands.press("Backspace Backspace");
  // What the keys did reaches this side a little later than the page.
  const lineNow = await eventually("the new line", () => {
    const { line } = editor.selection.active;
    return editor.document.lineAt(line).text.trim() === "stroke" ? line : undefined;
  });
  await hands.press("Control+Space");
  await hands.suggestions("stroke");
  await hands.press("Enter");
  const line = await eventually("the key", () => {
    const text = editor.document.lineAt(lineNow).text;
    return /^ {2}stroke: .*mm$/.test(text) ? text : undefined;
  });
  await hands.photograph("suggestion-taken");
  // The place for the figure is selected: typing goes into it.
  await hands.type("82");
  await eventually("the figure in its place", () => /^ {2}stroke: 82.* mm$/.test(editor.document.lineAt(lineNow).text) || undefined);
  expect(line.includes("mm"), "The unit is missing.");
});

test("the quick fix of a missing part lays the part out, and its finding goes", async () => {
  const editor = await openFile(build);
  await findingsOf(build, "the missing parts", (rules) => rules.filter((rule) => rule === "need-unmet").length === 2);
  await placeCaret(editor, /fit ridgeway/);
  await hands.pressFor("Control+.", ".action-widget .monaco-list-row.action");
  const titles = await hands.readPage(".action-widget .monaco-list-row.action");
  expect(titles.some((title) => title.includes("valve-spring")), `The menu offers: ${titles.join(" | ")}`);
  await hands.photograph("quick-fix");
  await hands.press("Enter");
  const found = await findingsOf(build, "the finding to go", (rules) => rules.filter((rule) => rule === "need-unmet").length === 1);
  expect(editor.document.getText().includes("valve-spring"), "No valve spring was laid out.");
  expect(found.some(({ message }) => message.includes("retainer")), "The retainer is no longer asked for.");
});

test("a block that is not closed leaves a finding, and every answer goes on", async () => {
  const editor = await openFile(build);
  await findingsOf(build, "the build to be read", (rules) => rules.includes("coil-bind-margin"));
  const { start } = placeOf(editor.document, /lash \{ intake/);
  expect(await editor.edit((edit) => edit.insert(start, "measured cylinder-head { ")), "The edit was refused.");
  const rules = await findingsOf(build, "a finding about the block", (found) => found.some((rule) => /block|syntax|unclosed|brace/.test(rule)));
  expect(rules.length > 0, "Nothing is said about the block.");
  const hovers = await vscode.commands.executeCommand<readonly vscode.Hover[]>("vscode.executeHoverProvider", editor.document.uri, placeOf(editor.document, /7300 rpm/).start.translate(0, 1));
  expect(hovers.length > 0, "The server answers no more.");
  await vscode.commands.executeCommand("undo");
  await findingsOf(build, "the findings as before", (found) => found.includes("coil-bind-margin") && !found.some((rule) => /block|syntax|unclosed|brace/.test(rule)));
});

test("with findings of open files alone, closing a build takes its findings along, and opening it again gives the same", async () => {
  const settings = vscode.workspace.getConfiguration("tappet.findings");
  await settings.update("scope", "openFiles", vscode.ConfigurationTarget.Workspace);
  try {
    const first = (await openFile(build)).document;
    await findingsOf(build, "the findings", (rules) => rules.includes("coil-bind-margin"));
    const before = seenIn(first);
    await vscode.commands.executeCommand("workbench.action.closeActiveEditor");
    await findingsOf(build, "the findings to leave with the file", (rules) => rules.length === 0);
    const again = (await openFile(build)).document;
    await findingsOf(build, "the findings to come back", (rules) => rules.includes("coil-bind-margin"));
    expectEqual(seenIn(again), before, "the findings");
  } finally {
    await settings.update("scope", undefined, vscode.ConfigurationTarget.Workspace);
  }
});

test("closing a build leaves its findings listed, as they are on disk", async () => {
  const { document } = await openFile(build);
  await findingsOf(build, "the findings", (rules) => rules.includes("coil-bind-margin"));
  const before = seenIn(document);
  await vscode.commands.executeCommand("workbench.action.closeActiveEditor");
  await findingsOf(build, "the findings of the closed file", (rules) => rules.length === before.length && rules.includes("coil-bind-margin"));
});
