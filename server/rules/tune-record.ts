// Writing down what a tune is for: the edits that put a fingerprint, the figures that it is of, and the print of its file into a tune. They are
// offered to somebody who says that the tune was made for the engine as it stands; nothing here can know that. Judges nothing.
import type { Phrase, Span } from "../../grammar/tree.ts";
import type { Location, RecordFact } from "../model/declaration.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import { whole } from "../model/reads.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import { figureOf } from "../sheet/pull.ts";
import { SCHEME, type TuneChange, type TuneFileState, type TuneLook, fingerprintOf } from "../sheet/tune.ts";
import { tuneFigures } from "../sheet/tune-figures.ts";
import type { Edit, Fix, Related } from "./finding.ts";

export const REDONE = "I have tuned it again: write the fingerprint of the engine as it now is";
export const FITS = "This tune was made for the engine as it now is: write its fingerprint";

/** The fix that records a tune as made for the build as it stands. Nothing where the text of the tune is damaged. */
export function recordFix(build: EffectiveBuild, sheet: Sheet, look: TuneLook, title: string): Fix | undefined {
  const tree = whole(build.subject.tree);
  const phrase = phraseAt(build, look.record);
  if (!phrase || phrase.block?.closed === false) return undefined;
  const figures = tuneFigures(build, sheet);
  const entries: [key: string, text: string][] = [["made-for", fingerprintOf(figures)]];
  const print = printIn(look.file);
  if (print !== undefined) entries.push(["file-print", print]);
  const outer = indentAt(tree.text, phrase.span.start);
  const inner = `${outer}  `;
  const rows = figures.map((f): readonly [string, string] => [f.path, f.text]);
  const table = tableText([["figure", "value"], ...rows], `${inner}  `);
  const block = `based-on {\n${inner}  scheme: ${SCHEME}\n${table}\n${inner}}`;
  const edits: Edit[] = [];
  const added: string[] = [];
  for (const [key, text] of entries) {
    const fact = figureOf(look.record, key);
    if (fact) edits.push({ tree, span: fact.span, text });
    else added.push(`${key}: ${text}`);
  }
  const before = look.record.blocks.findLast((b) => b.word === "based-on");
  if (before) edits.push({ tree, span: before.span, text: block });
  else added.push(block);
  if (added.length > 0) edits.push(addition(tree.text, phrase, added, outer));
  return { title, safe: false, edits: edits.map((e) => ({ ...e, tree })).sort((a, b) => a.span.start - b.span.start) };

  function addition(text: string, { block: braces, span }: Phrase, lines: readonly string[], indent: string): Edit {
    const body = lines.map((line) => `\n${inner}${line}`).join("");
    if (!braces) return { tree, span: { start: span.end, end: span.end }, text: ` {${body}\n${indent}}` };
    const end = braces.span.end - 1;
    let start = end;
    while (start > braces.span.start + 1 && /\s/.test(text[start - 1] ?? "")) start--;
    return { tree, span: { start, end }, text: `${body}\n${indent}` };
  }
}

/** The fix that says that the file as it is now belongs to the tune. */
export function filePrintFix(build: EffectiveBuild, { record, file, path }: TuneLook): Fix | undefined {
  const fact = figureOf(record, "file-print");
  const print = printIn(file);
  if (!fact || print === undefined) return undefined;
  return { title: `"${path ?? ""}" as it is now is the tune meant here: write its fingerprint`, safe: false, edits: [{ tree: build.subject.tree, span: fact.span, text: print }] };
}

function printIn(file: TuneFileState | undefined): string | undefined {
  return file && file.is !== "unreadable" ? file.print : undefined;
}

/** "bore was 83.00 mm and is 83.50 mm". */
export function changeWords({ path, was, is }: TuneChange): string {
  if (was === undefined) return `${path} was not stated and is ${is ?? ""}`;
  return is === undefined ? `${path} was ${was} and is not stated any more` : `${path} was ${was} and is ${is}`;
}

/** Changes told in one sentence; the others are on the sheet. */
const MOST_TOLD = 4;

export function changesWords(changes: readonly TuneChange[]): string {
  const told = changes.slice(0, changes.length > MOST_TOLD ? MOST_TOLD - 1 : MOST_TOLD).map(changeWords);
  const rest = changes.length - told.length;
  return [...told, ...(rest > 0 ? [`${rest} more changed`] : [])].join("; ");
}

/** Where the figures that changed now stand. */
export function changePlaces(changes: readonly TuneChange[]): readonly Related[] {
  return changes.flatMap(({ path, is, location }) => (location && is !== undefined ? [{ message: `${path} is ${is} here.`, at: location }] : []));
}

/** "the tune of 2027-04-05", "the tune \"tunes/wren-2a.bin\" of 2027-04-05". */
export function tuneWords({ path, date }: TuneLook): string {
  return `the tune${path === undefined ? "" : ` "${path}"`}${date === undefined ? "" : ` of ${date}`}`;
}

/** The smallest place that stands for a tune, or for one of its figures. */
export function tuneAt(build: EffectiveBuild, { record }: TuneLook, key?: string): Location {
  const fact = key === undefined ? undefined : figureOf(record, key);
  const named = record.head.find((part) => part.kind === "string");
  return { tree: build.subject.tree, span: fact?.span ?? named?.span ?? record.date?.span ?? wordSpan(record) };
}

function wordSpan({ span, word }: RecordFact): Span {
  return { start: span.start, end: span.start + word.length };
}

function phraseAt(build: EffectiveBuild, record: RecordFact): Phrase | undefined {
  return whole(build.subject.tree).phrase?.block?.items.find((item): item is Phrase => item.kind === "phrase" && item.span.start === record.span.start);
}

function indentAt(text: string, offset: number): string {
  const line = text.slice(text.lastIndexOf("\n", offset - 1) + 1, offset);
  return /^[ \t]*/.exec(line)?.[0] ?? "";
}

/** Rows with their cells made even, as the formatter lays them out. */
function tableText(rows: readonly (readonly [string, string])[], indent: string): string {
  const width = (column: 0 | 1) => Math.max(...rows.map((row) => row[column].length));
  const [first, second] = [width(0), width(1)];
  return rows.map(([a, b]) => `${indent}| ${a.padEnd(first)} | ${b.padEnd(second)} |`).join("\n");
}
