/** A recording beside a build, in a real editor: read behind the text, and again when its file changes. */
import * as vscode from "vscode";
import { eventually, expect, expectEqual, fileUri, openFile, test, until } from "../host.ts";

const HEAD = "Time (s),RPM\n";
const OVER = `${HEAD}${Array.from({ length: 20 }, (_, i) => `${(i / 10).toFixed(1)},${6200 + i * 40}\n`).join("")}`;
const LOG = 'log "pull.csv" on 2027-06-12 { time: "Time"; rpm: "RPM" }';

function rulesOf(uri: vscode.Uri): readonly string[] {
  return vscode.languages.getDiagnostics(uri).map(({ code }) => String(typeof code === "object" ? code.value : code));
}

async function write(path: string, text: string): Promise<void> {
  await vscode.workspace.fs.writeFile(fileUri(path), new TextEncoder().encode(text));
}

test("a recording is read behind the text, told under the pointer, and read again when its file changes", async () => {
  const path = "recorded/build.tappet";
  await write("recorded/pull.csv", OVER);
  await write(path, `engine small-18 { source: "manual"; cylinders: 4; redline: 6500 rpm }\n\nbuild recorded on small-18 {\n  ${LOG}\n}\n`);
  try {
    const { document } = await openFile(path);
    await until("the over-speed", vscode.languages.onDidChangeDiagnostics, () => rulesOf(document.uri).includes("redline-exceeded") || undefined);
    const found = vscode.languages.getDiagnostics(document.uri).find((d) => d.message.includes("6960 rpm"));
    expectEqual(found?.range.start.line, 3, "the line of the finding");
    const at = document.positionAt(document.getText().indexOf("pull.csv"));
    const hover = await eventually("the hover", async () => {
      const answers = await vscode.commands.executeCommand<readonly vscode.Hover[]>("vscode.executeHoverProvider", document.uri, at);
      return answers.flatMap((h) => h.contents.map((c) => (typeof c === "string" ? c : c.value))).find((text) => text.includes("rows"));
    });
    expect(hover.includes("20 rows"), hover);
    await write("recorded/pull.csv", HEAD + "0,3000\n1,3100\n");
    await until("the over-speed to go", vscode.languages.onDidChangeDiagnostics, () => (rulesOf(document.uri).includes("redline-exceeded") ? undefined : true));
  } finally {
    await vscode.workspace.fs.delete(fileUri("recorded"), { recursive: true });
  }
});
