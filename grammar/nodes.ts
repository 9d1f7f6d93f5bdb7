// Finds the nodes of a tree that hold a place, for hover and for growing a selection. Knows the tree's shape only.
import type { Block, Cell, Comment, DeclarationTree, Entry, Item, Part, Phrase, Row, Span, Text, Value } from "./tree.ts";

/** A node of the tree with its span, for hover and for growing a selection. */
export type TreeNode =
  | { readonly kind: "declaration"; readonly node: DeclarationTree; readonly span: Span }
  | { readonly kind: "comment"; readonly node: Comment; readonly span: Span }
  | { readonly kind: "phrase"; readonly node: Phrase; readonly span: Span }
  | { readonly kind: "block"; readonly node: Block; readonly span: Span }
  | { readonly kind: "entry"; readonly node: Entry; readonly span: Span }
  | { readonly kind: "value"; readonly node: Value; readonly span: Span }
  | { readonly kind: "row"; readonly node: Row; readonly span: Span }
  | { readonly kind: "cell"; readonly node: Cell; readonly span: Span }
  | { readonly kind: "part"; readonly node: Part; readonly span: Span }
  /** A statement word, key, doc line, unit, run of digits or word of a cell's brackets. */
  | { readonly kind: "word" | "key" | "doc" | "unit" | "digits" | "note"; readonly node: Text; readonly span: Span }
  | { readonly kind: "hole" | "junk"; readonly node: Item; readonly span: Span };

/** The nodes that hold `offset`, from the declaration down to the smallest. A node holds the places at both its ends. */
export function nodeAt(tree: DeclarationTree, offset: number): TreeNode[] {
  const chain: TreeNode[] = [{ kind: "declaration", node: tree, span: { start: 0, end: tree.text.length } }];
  for (let node = chain[0]; node !== undefined;) {
    let next: TreeNode | undefined;
    // Of two that meet at the caret, the one that begins there wins.
    for (const child of childrenOf(node)) if (child.span.start <= offset && offset <= child.span.end) next = child;
    if (next !== undefined) chain.push(next);
    node = next;
  }
  const comment = tree.comments.find(({ span }) => span.start <= offset && offset <= span.end);
  if (comment !== undefined) chain.push({ kind: "comment", node: comment, span: comment.span });
  return chain;
}

function childrenOf({ kind, node }: TreeNode): TreeNode[] {
  switch (kind) {
    case "declaration": return [...(node.phrase === undefined ? [] : itemNodes(node.phrase)), ...node.stray.flatMap(itemNodes)];
    case "phrase": return [named("word", node.word), ...node.head.map(partNode), ...(node.block === undefined ? [] : [{ kind: "block" as const, node: node.block, span: node.block.span }])];
    case "block": return node.items.flatMap(itemNodes);
    case "entry": return [named("key", node.key), ...node.values.map((value): TreeNode => ({ kind: "value", node: value, span: value.span }))];
    case "value": return node.parts.map(partNode);
    case "row": return node.cells.map((cell): TreeNode => ({ kind: "cell", node: cell, span: cell.span }));
    case "cell": return [...node.parts.map(partNode), ...(node.unit === undefined ? [] : [named("unit", node.unit)]), ...node.words.map((word) => named("note", word))];
    case "part": return partChildren(node);
    default: return [];
  }
}

function named(kind: "word" | "key" | "doc" | "unit" | "digits" | "note", node: Text): TreeNode {
  return { kind, node, span: node.span };
}

function partNode(node: Part): TreeNode {
  return { kind: "part", node, span: node.span };
}

/** An item and, beside it, its doc lines, which stand before its span. */
function itemNodes(item: Item): TreeNode[] {
  switch (item.kind) {
    case "phrase": return [...item.docs.map((doc) => named("doc", doc)), { kind: "phrase", node: item, span: item.span }];
    case "entry": return [...item.docs.map((doc) => named("doc", doc)), { kind: "entry", node: item, span: item.span }];
    case "row": return [{ kind: "row", node: item, span: item.span }];
    case "hole": return [{ kind: "hole", node: item, span: item.span }];
    case "junk": return [{ kind: "junk", node: item, span: item.span }];
  }
}

function partChildren(part: Part): TreeNode[] {
  const parts = (...found: (Part | undefined)[]): TreeNode[] => found.filter((each): each is Part => each !== undefined).map(partNode);
  switch (part.kind) {
    case "figure": return [named("digits", part.digits), ...(part.unit === undefined ? [] : [named("unit", part.unit)])];
    case "range": return parts(part.low, part.high);
    case "tolerance": return part.plus === part.minus ? parts(part.centre, part.plus) : parts(part.centre, part.plus, part.minus);
    case "compare": case "signed": return parts(part.operand);
    case "binary": return parts(part.left, part.right);
    case "group": return [...part.inner.map(partNode), ...(part.unit === undefined ? [] : [named("unit", part.unit)])];
    default: return [];
  }
}
