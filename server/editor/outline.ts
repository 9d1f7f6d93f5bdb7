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

/**
 * An editor lays an outline out anew at every pause, and one of tens of thousands of lines holds it up for seconds: past so many entries a file
 * is outlined by its declarations and their blocks, past as many of those by its declarations alone.
 */
export const MOST_OUTLINED = 2500;

export function outlineOf(file: ProjectFile): OutlineItem[] {
  const phrases = file.source.declarations.flatMap(({ start, tree }) => (tree.phrase && tree.phrase.word.text !== "use" ? [{ phrase: tree.phrase, start }] : []));
  const shown = SHOWN.find((how) => countedUpTo(phrases.map((p) => p.phrase), how, MOST_OUTLINED) <= MOST_OUTLINED) ?? "declarations";
  return phrases.slice(0, MOST_OUTLINED * 4).map(({ phrase, start }) => phraseItem(phrase, start, true, shown));
}

type Shown = "all" | "blocks" | "declarations";
const SHOWN: readonly Shown[] = ["all", "blocks"];

/** How many entries an outline would have; counting stops once they are more than `most`. */
function countedUpTo(phrases: readonly Phrase[], shown: Shown, most: number): number {
  let count = 0;
  const queue: Phrase[] = [...phrases];
  for (let i = 0; i < queue.length && count <= most; i++) {
    count++;
    for (const item of queue[i]?.block?.items ?? []) {
      if (item.kind === "phrase") queue.push(item);
      else if (shown === "all") count++;
    }
  }
  return count;
}

function phraseItem(phrase: Phrase, start: number, top: boolean, shown: Shown): OutlineItem {
  const title = phrase.head.find((p) => p.kind === "string");
  const words = phrase.head.filter((p) => p.kind !== "string").map(plainText).join(" ");
  return {
    name: top ? (nameOf(phrase) ?? phrase.word.text) : `${phrase.word.text} ${words}`.trim().slice(0, 80),
    detail: top ? `${phrase.word.text}${title?.kind === "string" ? ` ${title.text}` : ""}`.slice(0, 120) : title?.kind === "string" ? title.text.slice(0, 120) : "",
    sort: top ? "declaration" : "block",
    span: moved(phrase.span, start),
    nameSpan: moved(phrase.word.span, start),
    children: phrase.block && shown !== "declarations" ? blockItems(phrase.block, start, shown) : [],
  };
}

function nameOf(phrase: Phrase): string | undefined {
  const names = phrase.head.filter((p): p is Extract<Part, { kind: "word" }> => p.kind === "word");
  const name = phrase.word.text === "part" ? names[1] : names[0];
  return name?.text;
}

function blockItems(block: Block, start: number, shown: Shown): OutlineItem[] {
  const items: OutlineItem[] = [];
  let table = false;
  for (const item of block.items) {
    if (item.kind === "phrase") items.push(phraseItem(item, start, false, shown));
    else if (shown !== "all") continue;
    else if (item.kind === "entry")
      items.push({ name: item.key.text, detail: item.values.map((v) => v.parts.map(plainText).join(" ")).join(", ").slice(0, 80), sort: "figure", span: moved(item.span, start), nameSpan: moved(item.key.span, start), children: [] });
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
