// Findings for people and programs.
import { describe, expect, test } from "vitest";
import { checkJson } from "../../server/report/findings-json.ts";
import { checkText } from "../../server/report/findings-text.ts";
import { AS_OF, WREN, checkFiles } from "./wren.ts";

const RUN = { rules: 50, asOf: AS_OF };

describe("findings as text", () => {
  test("read as they did", async () => {
    await expect(checkText(await checkFiles(), RUN)).toMatchFileSnapshot("expected/wren.findings.txt");
  });

  test("the underline stands below what the finding is about", async () => {
    const files = { "wren.tappet": 'engine small {\n  source: "manual"\n  cylinders: 1\n  bore: 52.0\n  stroke: 49.0 mm\n}\n' };
    const lines = checkText(await checkFiles(files), RUN).split("\n");
    const at = lines.findIndex((l) => l.includes("| ") && l.includes("bore: 52.0"));
    expect(at).toBeGreaterThan(0);
    const marks = lines[at + 1] as string;
    expect(lines[at]?.slice(marks.indexOf("^"), marks.lastIndexOf("^") + 1)).toBe("52.0");
  });

  test("an empty report says what ran", async () => {
    const files = { "wren.tappet": 'engine small { source: "manual"; cylinders: 1; bore: 52.0 mm; stroke: 49.0 mm }\n' };
    expect(checkText(await checkFiles(files), RUN)).toBe("Checked 1 file and 0 builds against 50 rules, as of 2027-05-01: nothing found.\n");
  });

  test("says what was waived, why, until when", async () => {
    const text = checkText(await checkFiles(), RUN);
    expect(text).toContain('Waived until 2027-09-01: need-unmet at wren.tappet:5, because "retainers are on the bench, card to follow".');
    expect(text).toContain("1 finding is waived and not counted above.");
  });
});

describe("findings as JSON", () => {
  test("files that are only used are checked too, and come in the order of their names", async () => {
    const files = { ...WREN, "engines/dunlin.tappet": (WREN["engines/dunlin.tappet"] as string).replace("stroke: 82.00 mm", "stroke: 82.00") };
    const json = checkJson(await checkFiles(files), RUN);
    expect(json.summary.files).toBe(3);
    const names = json.findings.map((f) => f.file);
    expect(names).toContain("engines/dunlin.tappet");
    expect(names).toEqual([...names].sort());
  });

  test("ranges count lines and columns from one and cover the text they are about", async () => {
    const text = 'engine small {\n  source: "manual"\n  cylinders: 1\n  bore: 52.0\n  stroke: 49.0 mm\n}\n';
    const [finding] = checkJson(await checkFiles({ "wren.tappet": text }), RUN).findings;
    expect(finding).toMatchObject({ rule: "unit-missing", severity: "error", file: "wren.tappet", range: { start: { line: 4, column: 9 }, end: { line: 4, column: 13 } } });
  });

  test("a fix, applied by its range, gives the text it promises", async () => {
    const text = 'engine small {\n  source: "manual"\n  cylinders: 1\n  bore: 52.0\n  stroke: 49.0 mm\n}\n';
    const [finding] = checkJson(await checkFiles({ "wren.tappet": text }), RUN).findings;
    const edit = finding?.fixes[0]?.edits[0];
    expect(edit).toBeDefined();
    const line = text.split("\n")[3] as string;
    const { start, end } = edit?.range ?? { start: { column: 1 }, end: { column: 1 } };
    expect(line.slice(0, start.column - 1) + edit?.text + line.slice(end.column - 1)).toBe("  bore: 52.0 mm");
  });

  test("the summary counts what is listed, and waived findings apart", async () => {
    const { findings, summary } = checkJson(await checkFiles(), RUN);
    for (const severity of ["error", "warning", "advice"] as const) expect(summary[severity]).toBe(findings.filter((f) => f.severity === severity).length);
    expect(summary.waived).toBe(1);
    expect(findings.some((f) => f.rule === "need-unmet")).toBe(false);
  });

  test("each thing not checked names the build and the figures that would let it be", async () => {
    const { notChecked } = checkJson(await checkFiles(), RUN).summary;
    for (const u of notChecked) {
      expect(u.build).toBe("wren-hill-2");
      expect(u.what).not.toBe("");
    }
  });
});
