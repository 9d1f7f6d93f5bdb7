/** From text to a computed sheet, as the product does it, for tests that look at values. */
import { readSource } from "../../grammar/read.ts";
import { type EffectiveBuild, effectiveOf } from "../../server/model/effective.ts";
import { lower } from "../../server/model/lower.ts";
import { printOfText } from "../../server/model/print.ts";
import { type DataFile, type Project, noteHome, scopeOf } from "../../server/model/project.ts";
import { keyOfPath } from "../../server/schema/lookup.ts";
import { type Sheet, type SheetValue, evaluate } from "../../server/sheet/evaluate.ts";
import { FORMULAS } from "../../server/sheet/formulas/index.ts";

export interface Worked {
  readonly build: EffectiveBuild;
  readonly sheet: Sheet;
  /** Codes and messages of everything the text got wrong. */
  readonly problems: readonly string[];
  readonly value: (id: string) => SheetValue;
  /** The nominal of a value that must be there. */
  readonly nominal: (id: string) => number;
}

/** The sheet of the named build or engine, or of the last one in the text. Unread figures make the test fail unless it says otherwise. `figures`: files that it names. */
export function sheetOf(text: string, name?: string, allowProblems = false, figures: Readonly<Record<string, string>> = {}): Worked {
  const uri = "memory:/test.tappet";
  const source = readSource(uri, text);
  const declarations = source.declarations.map((placed) => lower(placed.tree));
  const file = { uri, source, declarations };
  noteHome(file);
  const data = new Map(Object.entries(figures).map(([path, content]): [string, DataFile] => [`memory:/${path}`, { print: printOfText(content), text: content }]));
  const project: Project = { files: new Map([[uri, file]]), unreadable: new Map(), data };
  const subject = declarations.findLast((d) => (d.sort === "build" || d.sort === "engine") && (name === undefined || d.name?.text === name));
  if (!subject) throw new Error("the text declares no engine and no build");
  // Advice about a word left unstated, or a figure left open, is no mistake of the test.
  const problems = declarations.flatMap((d) => d.problems.filter((p) => p.code !== "reading-unstated" && p.code !== "not-filled-in").map((p) => `${p.code}: ${p.message}`));
  if (problems.length > 0 && !allowProblems) throw new Error(problems.join("\n"));
  const build = effectiveOf(subject, scopeOf(project, uri));
  const sheet = evaluate(build, FORMULAS, (path) => keyOfPath(path)?.words ?? path);
  const value = (id: string): SheetValue => {
    const found = sheet.byId.get(id);
    if (!found) throw new Error(`there is no value ${id}; there are ${[...sheet.byId.keys()].join(", ")}`);
    return found;
  };
  const nominal = (id: string): number => {
    const { interval, missing, impossible } = value(id);
    if (!interval) throw new Error(`${id} is not computed: ${impossible ?? missing.map((m) => m.path).join(", ")}`);
    return interval.nominal;
  };
  return { build, sheet, problems, value, nominal };
}
