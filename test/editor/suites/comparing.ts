/** A build held against the last commit, through the editor's own git: what changed on the left, what follows on the right, and the way back. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, hands, openFile, test } from "../host.ts";

const build = "kept/kept-build.tappet";
const engine = "kept/kept-engine.tappet";

async function replace(path: string, from: string, to: string): Promise<void> {
  const editor = await openFile(path);
  const at = editor.document.getText().indexOf(from);
  expect(at >= 0, `${path} has no "${from}".`);
  await editor.edit((edit) => edit.replace(new vscode.Range(editor.document.positionAt(at), editor.document.positionAt(at + from.length)), to));
}

test("a build is compared with the last commit, with links to both states and the way back to the sheet", async () => {
  await replace(engine, "82.00 mm", "84.00 mm");
  await openFile(build);
  await vscode.commands.executeCommand("tappet.compareWithLastCommit");
  const [heading] = await hands.readSheet("#sheet .comparison h1");
  expectEqual(heading, "What changed, and what follows", "the heading");
  const [cause = ""] = await hands.readSheet("#sheet .causes li");
  expect(/stroke/.test(cause) && cause.includes("82.00 mm") && cause.includes("84.00 mm"), `The change is not told: ${cause}`);
  // 4 x pi/4 x 8.3 cm x 8.3 cm x 8.2 and 8.4 cm, worked out by hand: 1774.7 and 1818.0 cc.
  const [size = ""] = await hands.readSheet('#sheet tr[data-value="displacement.total"]');
  expect(size.includes("1775 cc") && size.includes("1818 cc"), `The consequence is not told: ${size}`);
  expectEqual(await hands.checkSheet("#sheet .comparison"), [], "what the accessibility checker finds");
  await hands.photograph("comparison");

  // An edit reaches it as it reaches the sheet.
  await replace(engine, "84.00 mm", "86.00 mm");
  await eventually("the next stroke in the comparison", async () => ((await hands.readSheet("#sheet .causes li"))[0]?.includes("86.00 mm") ? true : undefined));

  await hands.clickSheet("#sheet .causes .was button.place");
  await eventually("the file as git has it", () => {
    const shown = vscode.window.activeTextEditor?.document;
    return shown?.uri.scheme === "git" && shown.getText().includes("82.00 mm") ? true : undefined;
  });
  await hands.clickSheet("#sheet .causes .is button.place");
  await eventually("the file as it is", () => (vscode.window.activeTextEditor?.document.uri.scheme !== "git" ? true : undefined));

  await hands.clickSheet("#sheet [data-back]");
  const [title] = await hands.readSheet("#sheet main:not(.comparison) h1");
  expectEqual(title, "The kept car", "the sheet that is back");
  const [facts = ""] = await hands.readSheet("#sheet .facts");
  expect(/Revision\s+[0-9a-f]{7}/.test(facts), `The sheet does not say its revision: ${facts}`);
}, ["installed"]);

test("any revision that git knows can be picked to be compared with", async () => {
  await replace(engine, "82.00 mm", "80.00 mm");
  await openFile(build);
  // The command goes on once somebody has picked.
  const comparing = vscode.commands.executeCommand("tappet.compareWithRevision");
  // The rows of an earlier list stand until this one has come.
  const offered = await eventually("the revisions", async () => {
    const rows = await hands.readPage(".quick-input-list .monaco-list-row .label-name");
    return rows.includes("main") ? rows : undefined;
  });
  expect(offered.includes("The first spec"), `What is offered: ${offered.join(", ")}`);
  await hands.type("main");
  await hands.press("Enter");
  await comparing;
  const [verdict = ""] = await hands.readSheet("#sheet .comparison .verdict");
  expect(/Between main \([0-9a-f]{7}\) and the file as it is: 1 build changed/.test(verdict), `The verdict: ${verdict}`);
}, ["installed"]);

test("where the editor's git is kept off, the comparison says so", async () => {
  await openFile(build);
  await vscode.commands.executeCommand("tappet.compareWithLastCommit");
  // The list shows what was said, whether or not it still stands in the corner.
  await vscode.commands.executeCommand("notifications.showList");
  const said = await hands.readPage(".notifications-center .notification-list-item-message");
  expect(said.some((text) => /git/.test(text)), `Nothing is said of git: ${said.join(" | ")}`);
  await vscode.commands.executeCommand("notifications.clearAll");
}, ["restricted", "web"]);
