// The outline of a file: declarations, blocks, statements and figures, from the trees, remembered with each. Knows no protocol.
import type { Block, DeclarationTree, Part, Phrase, Span } from "../../grammar/tree.ts";
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

/** A declaration's entry, its spans counted from where the declaration begins in the file: the same for as long as its tree lives. */
export interface PlacedItem {
  readonly start: number;
  readonly item: OutlineItem;
}

export function outlineOf(file: ProjectFile): PlacedItem[] {
  const outlined = file.source.declarations.flatMap(({ start, tree }) => (tree.phrase && tree.phrase.word.text !== "use" ? [{ start, entry: entryOf(tree, tree.phrase) }] : []));
  const counted = (how: Counted) => outlined.reduce((sum, { entry }) => sum + entry.counts[how], 0);
  const shown = SHOWN.find((how) => counted(how) <= MOST_OUTLINED) ?? "declarations";
  return outlined.slice(0, MOST_OUTLINED * 4).map(({ start, entry }) => ({ start, item: (entry.items[shown] ??= phraseItem(entry.phrase, true, shown)) }));
}

type Shown = "all" | "blocks" | "declarations";
type Counted = Exclude<Shown, "declarations">;
const SHOWN: readonly Counted[] = ["all", "blocks"];

/** What a declaration adds to an outline, in each of the ways that it may be shown. */
interface Entry {
  readonly phrase: Phrase;
  readonly counts: Readonly<Record<Counted, number>>;
  readonly items: Partial<Record<Shown, OutlineItem>>;
}
const entries = new WeakMap<DeclarationTree, Entry>();

function entryOf(tree: DeclarationTree, phrase: Phrase): Entry {
  let entry = entries.get(tree);
  if (!entry) entries.set(tree, (entry = { phrase, counts: countsOf(phrase), items: {} }));
  return entry;
}

function countsOf(phrase: Phrase): Entry["counts"] {
  const counts = { all: 0, blocks: 0 };
  const queue = [phrase];
  for (let next = queue.pop(); next; next = queue.pop()) {
    counts.all++;
    counts.blocks++;
    for (const item of next.block?.items ?? []) {
      if (item.kind === "phrase") queue.push(item);
      else counts.all++;
    }
  }
  return counts;
}

function phraseItem(phrase: Phrase, top: boolean, shown: Shown): OutlineItem {
  const title = phrase.head.find((p) => p.kind === "string");
  const words = phrase.head.filter((p) => p.kind !== "string").map(plainText).join(" ");
  return {
    name: top ? (nameOf(phrase) ?? phrase.word.text) : `${phrase.word.text} ${words}`.trim().slice(0, 80),
    detail: top ? `${phrase.word.text}${title?.kind === "string" ? ` ${title.text}` : ""}`.slice(0, 120) : title?.kind === "string" ? title.text.slice(0, 120) : "",
    sort: top ? "declaration" : "block",
    span: phrase.span,
    nameSpan: phrase.word.span,
    children: phrase.block && shown !== "declarations" ? blockItems(phrase.block, shown) : [],
  };
}

function nameOf(phrase: Phrase): string | undefined {
  const names = phrase.head.filter((p): p is Extract<Part, { kind: "word" }> => p.kind === "word");
  const name = phrase.word.text === "part" ? names[1] : names[0];
  return name?.text;
}

function blockItems(block: Block, shown: Shown): OutlineItem[] {
  const items: OutlineItem[] = [];
  let table = false;
  for (const item of block.items) {
    if (item.kind === "phrase") items.push(phraseItem(item, false, shown));
    else if (shown !== "all") continue;
    else if (item.kind === "entry")
      items.push({ name: item.key.text, detail: item.values.map((v) => v.parts.map(plainText).join(" ")).join(", ").slice(0, 80), sort: "figure", span: item.span, nameSpan: item.key.span, children: [] });
    else if (item.kind === "row" && !table) {
      table = true;
      items.push({ name: "table", detail: item.cells.map((c) => c.parts.map(plainText).join(" ")).join(" | ").slice(0, 80), sort: "table", span: item.span, nameSpan: item.span, children: [] });
    }
  }
  return items;
}
