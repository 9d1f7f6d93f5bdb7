// Notes, photos and documents of a build and of what it stands on, each with the thing that it stands beside. Reads records; shows nothing.
import type { Declaration, Location, RecordFact } from "../model/declaration.ts";
import { type EffectiveBuild, wordsFor } from "../model/effective.ts";
import type { Span } from "../../grammar/tree.ts";
import { calledMeasurement } from "../schema/measurements.ts";
import { dateOf } from "./pull.ts";

export interface Evidence {
  readonly word: "note" | "photo" | "document";
  /** The note, or what a picture or paper shows. */
  readonly text: string;
  /** Path of the file as it is written, from the file that names it. */
  readonly file?: string;
  readonly date?: string;
  readonly by?: string;
  /** Left out of what is made for everybody. */
  readonly private: boolean;
  /** "the lash measured on 2027-03-14", "head-bolt", "Ridgeway 272"; empty where it stands at the top of the build. */
  readonly about: string;
  readonly at: Location;
}

/** In the order of the text, the build's own first, then its engine's, its parts' and its cards'. */
export function evidenceOf(build: EffectiveBuild): readonly Evidence[] {
  const { subject } = build;
  const others = [...(build.engine && build.engine !== subject ? [build.engine] : []), ...build.parts.map((p) => p.declaration), ...build.cards.map((c) => c.declaration)];
  return [...itemsIn(subject, ""), ...[...new Set(others)].flatMap((d) => itemsIn(d, wordsFor(d)))];
}

function itemsIn(declaration: Declaration, whole: string): readonly Evidence[] {
  const items: Evidence[] = [];
  const visit = (record: RecordFact, about: string): void => {
    if (record.word === "note" || record.word === "photo" || record.word === "document") {
      const item = itemOf(declaration, record.word, record, about === "" ? (holderOf(declaration, record.span) ?? whole) : about);
      if (item) items.push(item);
      return;
    }
    for (const inner of record.records) visit(inner, recordWords(record));
  };
  for (const record of declaration.records) visit(record, "");
  return items.sort((a, b) => a.at.span.start - b.at.span.start);
}

function itemOf(declaration: Declaration, word: Evidence["word"], record: RecordFact, about: string): Evidence | undefined {
  const words = record.head.filter((p) => p.kind === "word").map((p) => p.text);
  // Who wrote it stands after `by`; a file comes before its caption.
  const byAt = record.head.findIndex((p) => p.kind === "word" && p.text === "by");
  const by = byAt < 0 ? undefined : record.head.slice(byAt + 1).find((p) => p.kind === "string");
  const strings = record.head.flatMap((p) => (p.kind === "string" && p !== by ? [p.text] : []));
  const [first, second] = strings;
  if (first === undefined) return undefined;
  const date = dateOf(record);
  return {
    word, ...(word === "note" ? { text: first } : { file: first, text: second ?? "" }), ...(date !== undefined && { date }), ...(by?.kind === "string" && { by: by.text }),
    private: words.includes("private"), about, at: { tree: declaration.tree, span: { start: record.span.start, end: record.span.start + record.word.length } },
  };
}

/** What a statement without records of its own holds: readings, a fit, a fastener. */
function holderOf(declaration: Declaration, span: Span): string | undefined {
  const within = (outer: Span) => span.start >= outer.start && span.end <= outer.end;
  const measured = declaration.measured.find((m) => within(m.span));
  if (measured) return `the ${calledMeasurement(measured.what.text)} measured${measured.date ? ` on ${measured.date.text}` : ""}`;
  const fit = declaration.fits.find((f) => within(f.span));
  if (fit) return fit.inline ? wordsFor(fit.inline) : fit.name?.text;
  return declaration.fasteners.find((f) => within(f.span))?.name.text;
}

function recordWords(record: RecordFact): string {
  const name = record.head.find((p) => p.kind === "word" && p.text !== "on");
  const title = record.head.find((p) => p.kind === "string");
  const date = dateOf(record);
  const called = record.word === "step" && title?.kind === "string" ? title.text : name?.kind === "word" ? name.text.replaceAll("-", " ") : "";
  return [record.word, called].filter((t) => t !== "").join(" ") + (date === undefined ? "" : ` of ${date}`);
}
