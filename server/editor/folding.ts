// What can be folded away, and how a selection grows: by the trees, so that both follow the text's own structure. Knows no protocol.
import { type TreeNode, nodeAt } from "../../grammar/nodes.ts";
import type { Block, Span } from "../../grammar/tree.ts";
import type { ProjectFile } from "../model/project.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { hereAt } from "./spot.ts";

export interface Fold {
  readonly span: Span;
  readonly sort: "block" | "comment";
}

export function foldsOf(file: ProjectFile): Fold[] {
  const out: Fold[] = [];
  for (const { start, tree } of file.source.declarations) {
    const visit = (block: Block): void => {
      out.push({ span: { start: block.span.start + start, end: block.span.end + start }, sort: "block" });
      for (const item of block.items) if (item.kind === "phrase" && item.block) visit(item.block);
    };
    if (tree.phrase?.block) visit(tree.phrase.block);
    for (const span of remarks(tree.text, [...tree.comments.map((c) => c.span), ...(tree.phrase?.docs.map((d) => d.span) ?? [])])) out.push({ span: { start: span.start + start, end: span.end + start }, sort: "comment" });
  }
  return out;
}

/** Remarks on lines that follow one another fold as one. */
function remarks(text: string, spans: readonly Span[]): Span[] {
  const sorted = [...spans].sort((a, b) => a.start - b.start);
  const out: Span[] = [];
  for (const span of sorted) {
    const last = out[out.length - 1];
    if (last && /^[ \t]*(?:(?:\r\n?|\n)[ \t]*)?$/.test(text.slice(last.end, span.start))) out[out.length - 1] = { start: last.start, end: span.end };
    else out.push(span);
  }
  return out;
}

/** The spans that a selection grows through at an offset, smallest first, ending with the whole file. */
export function growingAt(analysis: Analysis, uri: string, offset: number): Span[] {
  const here = hereAt(analysis, uri, offset);
  const whole = { start: 0, end: analysis.project.files.get(uri)?.source.text.length ?? 0 };
  if (!here) return [whole];
  const spans = nodeAt(here.declaration.tree, here.offset).map((node: TreeNode) => ({ start: node.span.start + here.start, end: node.span.end + here.start })).reverse();
  return [...spans, whole].filter((span, i, all) => i === 0 || span.start < (all[i - 1] as Span).start || span.end > (all[i - 1] as Span).end);
}
