// Colours by meaning: which words are statements, keys, names, units, qualifiers and figures, from the trees. Knows no theme and no protocol.
import type { Block, Cell, Item, Part, Phrase, Span } from "../../grammar/tree.ts";
import { qualifierSetOf } from "../schema/lookup.ts";
import type { ProjectFile } from "../model/project.ts";

/** In the order of the legend that the client is told. */
export const COLOR_SORTS = ["keyword", "property", "class", "number", "type", "enumMember", "string", "variable", "decorator"] as const;
export type ColorSort = (typeof COLOR_SORTS)[number];

export interface Colored {
  readonly span: Span;
  readonly sort: ColorSort;
  readonly declares: boolean;
}

const JOINING = new Set(["then", "where", "because", "until", "on", "for", "from", "after", "before", "with", "at"]);

/** In the order of the text. */
export function coloringOf(file: ProjectFile): Colored[] {
  const out: Colored[] = [];
  for (const { start, tree } of file.source.declarations) {
    const add = (span: Span, sort: ColorSort, declares = false) => {
      if (span.end > span.start) out.push({ span: { start: span.start + start, end: span.end + start }, sort, declares });
    };
    const part = (p: Part, word: ColorSort): void => {
      switch (p.kind) {
        case "figure":
          add(p.digits.span, "number");
          if (p.unit) add(p.unit.span, "type");
          return;
        case "range":
          if (p.low) part(p.low, word);
          if (p.high) part(p.high, word);
          return;
        case "tolerance":
          if (p.centre) part(p.centre, word);
          part(p.plus, word);
          if (p.minus !== p.plus) part(p.minus, word);
          return;
        case "compare": case "signed":
          part(p.operand, word);
          return;
        case "binary":
          part(p.left, word);
          part(p.right, word);
          return;
        case "group":
          for (const inner of p.inner) part(inner, word);
          if (p.unit) add(p.unit.span, "type");
          return;
        case "word":
          add(p.span, JOINING.has(p.text) ? "keyword" : qualifierSetOf(p.text) ? "enumMember" : word);
          return;
        case "string":
          add(p.span, "string");
          return;
        case "date": case "thread": case "print": case "mark":
          add(p.span, "number");
          return;
        case "hole":
          return;
      }
    };
    const phrase = (node: Phrase, top: boolean): void => {
      add(node.word.span, "keyword");
      const word = node.word.text;
      node.head.forEach((p, i) => {
        if (p.kind === "word" && word === "part" && i === 0) add(p.span, "type");
        else if (p.kind === "word" && top && i === (word === "part" ? 1 : 0)) add(p.span, "class", true);
        else part(p, word === "waive" && i === 0 ? "decorator" : word === "check" || (word === "needs" && i > 0) ? "variable" : word === "needs" || word === "measured" ? "type" : "class");
      });
      if (node.block) block(node.block);
    };
    const cell = (c: Cell): void => {
      for (const p of c.parts) part(p, "property");
      if (c.unit) add(c.unit.span, "type");
      for (const w of c.words) add(w.span, "enumMember");
    };
    const item = (node: Item): void => {
      if (node.kind === "entry") {
        add(node.key.span, "property");
        for (const value of node.values) for (const p of value.parts) part(p, "enumMember");
      } else if (node.kind === "phrase") phrase(node, false);
      else if (node.kind === "row") node.cells.forEach(cell);
    };
    const block = (b: Block): void => b.items.forEach(item);
    if (tree.phrase) phrase(tree.phrase, true);
    tree.stray.forEach(item);
  }
  return out.sort((a, b) => a.span.start - b.span.start);
}
