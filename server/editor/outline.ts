// The outline of a file: declarations, blocks, statements and figures, from the trees. Offsets in the file out; knows no protocol.
import type { Block, Part, Phrase, Span } from "../../grammar/tree.ts";
import type { ProjectFile } from "../model/project.ts";
import { plainText } from "../model/value.ts";

export interface OutlineItem {
  readonly name: string;
  readonly detail: string;
  readonly sort: "declaration" | "block" | "figure" | "table";
  readonly span: Span;
  readonly nameSpan: Span;
  readonly children: readonly OutlineItem[];
}

export function outlineOf(file: ProjectFile): OutlineItem[] {
  return file.source.declarations.flatMap(({ start, tree }) => {
    const phrase = tree.phrase;
    if (!phrase || phrase.word.text === "use") return [];
    return [phraseItem(phrase, start, true)];
  });
}

function phraseItem(phrase: Phrase, start: number, top: boolean): OutlineItem {
  const title = phrase.head.find((p) => p.kind === "string");
  const words = phrase.head.filter((p) => p.kind !== "string").map(plainText).join(" ");
  return {
    name: top ? (nameOf(phrase) ?? phrase.word.text) : `${phrase.word.text} ${words}`.trim().slice(0, 80),
    detail: top ? `${phrase.word.text}${title?.kind === "string" ? ` ${title.text}` : ""}`.slice(0, 120) : title?.kind === "string" ? title.text.slice(0, 120) : "",
    sort: top ? "declaration" : "block",
    span: moved(phrase.span, start),
    nameSpan: moved(phrase.word.span, start),
    children: phrase.block ? blockItems(phrase.block, start) : [],
  };
}

function nameOf(phrase: Phrase): string | undefined {
  const names = phrase.head.filter((p): p is Extract<Part, { kind: "word" }> => p.kind === "word");
  const name = phrase.word.text === "part" ? names[1] : names[0];
  return name?.text;
}

function blockItems(block: Block, start: number): OutlineItem[] {
  const items: OutlineItem[] = [];
  let table = false;
  for (const item of block.items) {
    if (item.kind === "entry")
      items.push({ name: item.key.text, detail: item.values.map((v) => v.parts.map(plainText).join(" ")).join(", ").slice(0, 80), sort: "figure", span: moved(item.span, start), nameSpan: moved(item.key.span, start), children: [] });
    else if (item.kind === "phrase") items.push(phraseItem(item, start, false));
    else if (item.kind === "row" && !table) {
      table = true;
      items.push({ name: "table", detail: item.cells.map((c) => c.parts.map(plainText).join(" ")).join(" | ").slice(0, 80), sort: "table", span: moved(item.span, start), nameSpan: moved(item.span, start), children: [] });
    }
  }
  return items;
}

function moved(span: Span, by: number): Span {
  return { start: span.start + by, end: span.end + by };
}
