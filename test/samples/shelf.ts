// The samples as they lie in their folder, analysed together, and what tests ask of them: findings by line, and sheets as programs get them.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { readSource } from "../../grammar/read.ts";
import { lineStarts, positionAt } from "../../grammar/source-file.ts";
import type { ProjectFile } from "../../server/model/project.ts";
import { sheetJson } from "../../server/report/sheet-json.ts";
import type { Finding } from "../../server/rules/finding.ts";
import { type Analysis, analyse } from "../../server/workspace/analyse.ts";
import { makeSheet } from "../../server/workspace/build-sheet.ts";
import { projectFileOf } from "../../server/workspace/load.ts";

export const FOLDER = join(import.meta.dirname, "..", "..", "samples");
export const ROOT = "file:///samples/";
/** After the last date in any sample. */
export const AS_OF = "2028-01-15";

export const NAMES = readdirSync(FOLDER, { recursive: true, encoding: "utf8" }).map((name) => name.replaceAll("\\", "/")).filter((name) => name.endsWith(".tappet")).sort();

export type SheetJson = ReturnType<typeof sheetJson>;

export interface Shelf {
  readonly files: ReadonlyMap<string, ProjectFile>;
  readonly analysis: Analysis;
}

const texts = new Map(NAMES.map((name) => [name, readFileSync(join(FOLDER, name), "utf8")]));

/** All samples; `change` may alter the text of any of them. */
export function shelf(change: (name: string, text: string) => string = (_, text) => text): Shelf {
  const files = new Map(NAMES.map((name) => [ROOT + name, projectFileOf(readSource(ROOT + name, change(name, texts.get(name) as string)))]));
  return { files, analysis: analyse({ files, unreadable: new Map() }, AS_OF) };
}

/** One finding as a line: where, how bad, which. */
export function told({ files, analysis }: Shelf, finding: Finding): string {
  const place = analysis.places.placeOf(finding.at.tree);
  const file = place && files.get(place.uri);
  if (!place || !file) throw new Error("a finding lies in no sample");
  return `${place.uri.slice(ROOT.length)}:${positionAt(lineStarts(file.source.text), place.start + finding.at.span.start).line + 1} ${finding.severity} ${finding.rule}`;
}

export function findingsIn(kept: Shelf, name: string): readonly Finding[] {
  const result = kept.analysis.fileResult(ROOT + name);
  if (!result) throw new Error(`there is no sample ${name}`);
  return result.findings;
}

/** The sheet of a file's one build, through the door that programs use. */
export function sheetIn({ analysis }: Shelf, name: string): SheetJson {
  const subject = analysis.fileResult(ROOT + name)?.subjects.at(-1);
  if (!subject) throw new Error(`${name} declares nothing to work out`);
  return JSON.parse(JSON.stringify(sheetJson(makeSheet(analysis, subject, (uri) => uri).input))) as SheetJson;
}
