// Findings for programs: SARIF held against the published schema, workflow commands, plain lines, and the problem matcher that reads them.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { Ajv } from "ajv";
import addFormats from "ajv-formats";
import type { Log } from "sarif";
import { describe, expect, test } from "vitest";
import manifest from "../../package.json" with { type: "json" };
import type { CheckedFile } from "../../server/report/checked.ts";
import { checkAnnotations, checkPlain } from "../../server/report/findings-lines.ts";
import { checkSarif } from "../../server/report/findings-sarif.ts";
import { checkedFiles } from "../../server/workspace/checked-files.ts";
import { MAIN, ROOT, projectOf } from "../support/project.ts";
import { AS_OF, WREN, checkFiles } from "./wren.ts";

// The schema of the standard as the SARIF SDK's package publishes it (see test/reference/README.md). It is draft 4, of whose own words it uses
// only `id`.
const published = JSON.parse(readFileSync(join(import.meta.dirname, "../reference/sarif-2.1.0.schema.json"), "utf8")) as { readonly $schema: string; readonly id: string };
const { $schema: _, id, ...schema } = published;
const ajv = new Ajv({ allErrors: true, strict: false, unicodeRegExp: false });
addFormats.default(ajv);
const valid = ajv.compile({ ...schema, $id: id });

const run = { rules: 1, asOf: AS_OF };
const tool = { version: "0.1.0", unread: [] };

function checkedText(text: string): readonly CheckedFile[] {
  return checkedFiles([{ project: projectOf(text), given: [MAIN] }], (uri) => uri.slice(ROOT.length), AS_OF);
}

function validated(log: Log): Log["runs"][number] {
  expect(valid(JSON.parse(JSON.stringify(log))), JSON.stringify(valid.errors?.slice(0, 3))).toBe(true);
  return log.runs[0] as Log["runs"][number];
}

describe("SARIF", () => {
  test("the schema can fail: a level that is none is refused", async () => {
    const log = JSON.parse(JSON.stringify(checkSarif(await checkFiles(), tool)));
    log.runs[0].results[0].level = "advice";
    expect(valid(log)).toBe(false);
  });

  test("findings of every rule's fixture are valid", () => {
    const folder = join(import.meta.dirname, "../fixtures/rules");
    let results = 0;
    for (const name of readdirSync(folder)) results += validated(checkSarif(checkedText(readFileSync(join(folder, name), "utf8")), tool)).results?.length ?? 0;
    expect(results).toBeGreaterThan(200);
  });

  test("a finding has its rule with a page, its place, related places, and a name that no line is in", async () => {
    const { results = [], tool: { driver } } = validated(checkSarif(await checkFiles(), tool));
    const tight = results.find((r) => r.ruleId === "lash-tight");
    expect(driver.rules?.[tight?.ruleIndex ?? -1]?.id).toBe("lash-tight");
    expect(driver.rules?.every((r) => (r.help?.text?.length ?? 0) > 80 && (r.help?.markdown ?? "").includes("```tappet"))).toBe(true);
    expect(tight?.locations?.[0]?.physicalLocation).toEqual({ artifactLocation: { uri: "wren.tappet", uriBaseId: "SRCROOT" }, region: { startLine: 6, startColumn: 18, endLine: 6, endColumn: 30 } });
    expect(tight?.locations?.[0]?.logicalLocations?.[0]?.fullyQualifiedName).toBe("wren-hill-2.valve-gear.intake.lash");
    expect(tight?.relatedLocations?.[0]?.physicalLocation?.artifactLocation?.uri).toBe("parts/ridgeway.tappet");
    const moved = { ...WREN, "wren.tappet": `// one line more\n${WREN["wren.tappet"]}` };
    const again = validated(checkSarif(await checkFiles(moved), tool)).results?.find((r) => r.ruleId === "lash-tight");
    expect(again?.locations?.[0]?.physicalLocation?.region?.startLine).toBe(7);
    expect(again?.partialFingerprints).toEqual(tight?.partialFingerprints);
  });

  test("no two results have one fingerprint", () => {
    const { results = [] } = validated(checkSarif(checkedText("engine e {\n  cylinders: 4\n  bore: 83.00\n  stroke: 82.00\n  bore: 83.00\n}\n"), tool));
    expect(results.length).toBeGreaterThan(2);
    expect(new Set(results.map((r) => r.partialFingerprints?.["figure/v1"])).size).toBe(results.length);
  });

  test("fixes are replacements that give the text a light bulb gives", () => {
    const text = "engine e {\n  cylinders: 4\n  bore: 83,00 mm\n}\n";
    const result = validated(checkSarif(checkedText(text), tool)).results?.find((r) => r.ruleId === "decimal-comma");
    const replacement = result?.fixes?.[0]?.artifactChanges[0]?.replacements[0];
    const { startLine = 0, startColumn = 0, endColumn = 0 } = replacement?.deletedRegion ?? {};
    const line = text.split("\n")[startLine - 1] ?? "";
    expect(line.slice(0, startColumn - 1) + replacement?.insertedContent?.text + line.slice(endColumn - 1)).toBe("  bore: 83.00 mm");
  });

  test("a waived finding is a result that its source suppresses, with the reason", async () => {
    const { results = [] } = validated(checkSarif(await checkFiles(), tool));
    const waived = results.filter((r) => r.suppressions);
    expect(waived.map((r) => [r.ruleId, r.suppressions?.[0]?.kind, r.suppressions?.[0]?.justification])).toContainEqual(["need-unmet", "inSource", "retainers are on the bench, card to follow"]);
  });

  test("a file that could not be read is told in the log", () => {
    const { invocations } = validated(checkSarif([], { ...tool, unread: ["a.tappet is not UTF-8 text."] }));
    expect([invocations?.[0]?.executionSuccessful, invocations?.[0]?.toolExecutionNotifications?.[0]?.message.text]).toEqual([false, "a.tappet is not UTF-8 text."]);
  });

  test("names of files are percent-encoded, and the same files give the same bytes", async () => {
    const odd = { "sea son/ä#1.tappet": "engine e {\n  cylinders: 4\n  bore: 83.00\n}\n" };
    const files = await checkFiles(odd, ["sea son/ä#1.tappet"]);
    expect(validated(checkSarif(files, tool)).results?.[0]?.locations?.[0]?.physicalLocation?.artifactLocation?.uri).toBe("sea%20son/%C3%A4%231.tappet");
    expect(JSON.stringify(checkSarif(await checkFiles(odd, ["sea son/ä#1.tappet"]), tool))).toBe(JSON.stringify(checkSarif(files, tool)));
  });
});

describe("workflow commands", () => {
  test("one command a finding, with its lines and columns, then the summary", async () => {
    const lines = checkAnnotations(await checkFiles(), run).trimEnd().split("\n");
    expect(lines[0]).toMatch(/^::error file=wren\.tappet,line=6,endLine=6,col=18,endColumn=30,title=lash-tight::The intake lash is chosen as 0\.15 mm cold/);
    expect(lines.at(-1)).toMatch(/^Checked 3 files and 1 build/);
  });

  test("what a file says cannot begin a command of its own", async () => {
    const bad = { "a%b,c:d.tappet": 'engine e {\n  cylinders: 4\n  source: "x"\n  bore: 83.00 furlongs\n}\nengine "\n::error::no" {\n}\n' };
    const lines = checkAnnotations(await checkFiles(bad, ["a%b,c:d.tappet"]), run).trimEnd().split("\n");
    expect(lines.slice(0, -1).every((line) => line.startsWith("::"))).toBe(true);
    expect(lines.slice(0, -1).every((line) => line.includes("file=a%25b%2Cc%3Ad.tappet,"))).toBe(true);
  });
});

describe("plain lines", () => {
  const [matcher] = manifest.contributes.problemMatchers;
  const pattern = new RegExp(matcher?.pattern.regexp ?? "");

  test("the problem matcher reads every line that is printed, and nothing is printed besides", () => {
    const folder = join(import.meta.dirname, "../fixtures/rules");
    for (const name of readdirSync(folder)) {
      const files = checkedText(readFileSync(join(folder, name), "utf8"));
      const findings = files.flatMap((file) => file.findings.map((f) => ({ f, at: file.atlas.placeOf(f.at) })));
      const lines = checkPlain(files).split("\n").slice(0, -1);
      expect(lines).toHaveLength(findings.length);
      lines.forEach((line, i) => {
        const found = pattern.exec(line);
        const { file, line: row, column, severity, code, message } = matcher?.pattern ?? { file: 0, line: 0, column: 0, severity: 0, code: 0, message: 0 };
        const at = findings[i]?.at;
        expect([found?.[file], found?.[row], found?.[column], found?.[severity], found?.[code]]).toEqual([at?.file, String(at?.range.start.line), String(at?.range.start.column), findings[i]?.f.severity, findings[i]?.f.rule]);
        expect(found?.[message]).not.toBe("");
      });
    }
  });
});
