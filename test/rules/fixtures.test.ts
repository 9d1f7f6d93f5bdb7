// Every fixture marks what is expected on its own lines, and nothing else may be found:
//   `//~ error lash-tight: part of the message`  a finding that begins on this line
//   `//~^ error unclosed-string`                   one that begins on the line above
//   `//~ waived lash-tight`                      one that a waiver silences
//   `//~ unchecked coil-bind-margin: words`      a critical thing not checked, anywhere in the file
// Several marks on a line are set apart by a further `//~`. The file is the test; its name is the rule it is about.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { RULES } from "../../server/rules/index.ts";
import { MAIN, analyseText, filesOf, lineOf } from "../support/project.ts";

const FOLDER = join(import.meta.dirname, "..", "fixtures", "rules");
const NAMES = readdirSync(FOLDER).filter((f) => f.endsWith(".tappet")).sort();

interface Mark {
  readonly line: number;
  readonly what: string;
  readonly rule: string;
  readonly fragment: string;
}

function marksIn(text: string): Mark[] {
  return (filesOf(text)[0]?.text ?? "").split("\n").flatMap((content, line) =>
    content.split("//~").slice(1).map((mark) => {
      const match = /^(\^?)\s*(error|warning|advice|waived|unchecked)\s+([a-z0-9-]+)(?::\s*(.*?))?\s*$/.exec(mark);
      if (!match) throw new Error(`line ${line + 1}: a mark reads //~ error rule-id: part of the message, not //~${mark}`);
      return { line: match[2] === "unchecked" ? -1 : line - (match[1] === "^" ? 1 : 0), what: match[2] as string, rule: match[3] as string, fragment: match[4] ?? "" };
    }),
  );
}

function foundIn(text: string): { line: number; what: string; rule: string; message: string }[] {
  const analysis = analyseText(text);
  const result = analysis.fileResult(MAIN);
  if (!result) throw new Error("no file");
  const at = (f: (typeof result.findings)[number]) => {
    const place = lineOf(analysis, f.at);
    expect(place.uri, "a finding of a file lies in that file").toBe(MAIN);
    return place.line;
  };
  return [
    ...result.findings.map((f) => ({ line: at(f), what: f.severity as string, rule: f.rule, message: f.message })),
    ...result.waived.map((f) => ({ line: at(f), what: "waived", rule: f.rule, message: f.message })),
    ...result.subjects.flatMap((s) => s.unchecked.map((u) => ({ line: -1, what: "unchecked", rule: u.rule, message: u.what }))),
  ];
}

describe.each(NAMES)("fixture %s", (name) => {
  const text = readFileSync(join(FOLDER, name), "utf8");
  test("gives what its lines say, and nothing else", () => {
    const open = marksIn(text);
    const surplus: string[] = [];
    for (const found of foundIn(text)) {
      const i = open.findIndex((m) => m.line === found.line && m.what === found.what && m.rule === found.rule && found.message.includes(m.fragment));
      if (i >= 0) open.splice(i, 1);
      else surplus.push(`line ${found.line + 1}: ${found.what} ${found.rule}: ${found.message}`);
    }
    expect({ surplus, missing: open.map((m) => `line ${m.line + 1}: ${m.what} ${m.rule}: ${m.fragment}`) }).toEqual({ surplus: [], missing: [] });
  });
  test("fires the rule it is named after, and says where it stays silent", () => {
    const rule = name.replace(/\.tappet$/, "");
    expect(RULES.map((r) => r.id)).toContain(rule);
    expect(marksIn(text).some((m) => m.rule === rule)).toBe(true);
  });
});

test("every rule has a fixture", () => {
  expect(RULES.map((r) => r.id).filter((id) => !NAMES.includes(`${id}.tappet`))).toEqual([]);
});
