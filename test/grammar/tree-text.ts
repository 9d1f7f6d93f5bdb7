// Prints trees as short text for snapshots, and spans of everything for coverage checks.
import type { DeclarationTree, Item, Part } from "../../grammar/tree.ts";

/** One part, e.g. `20[mm]`, `(1800 .. 2400[rpm])`, `(0.15 +0.03 -0.03)`. */
export function partText(part: Part | undefined): string {
  if (part === undefined) return "-";
  switch (part.kind) {
    case "figure": return `${part.form === "number" ? "" : `${part.form} `}${part.digits.text}${part.unit === undefined ? "" : `[${part.unit.text}]`}`;
    case "range": return `(${partText(part.low)} .. ${partText(part.high)})`;
    case "tolerance": return `(${partText(part.centre)} +${partText(part.plus)} -${partText(part.minus)})`;
    case "compare": return `(${part.op} ${partText(part.operand)})`;
    case "binary": return `(${partText(part.left)} ${part.op} ${partText(part.right)})`;
    case "signed": return `(${part.sign}${partText(part.operand)})`;
    case "group": return `(group ${part.inner.map(partText).join(" ")})${part.unit === undefined ? "" : `[${part.unit.text}]`}`;
    case "word": return part.text;
    case "string": return `"${part.text}${part.closed ? '"' : ""}`;
    case "hole": return "…";
    default: return `<${part.kind} ${part.text}>`;
  }
}

export function itemText(item: Item, indent = ""): string {
  const docs = "docs" in item ? item.docs.map((doc) => `${indent}/// ${doc.text}\n`).join("") : "";
  switch (item.kind) {
    case "entry": return `${docs}${indent}${item.key.text}: ${item.values.map((value) => `${value.then ? "then " : ""}${value.parts.map(partText).join(" ")}`).join(", ")}`;
    case "row": return `${indent}row ${item.cells.map((cell) => `[${cell.none ? "none" : cell.parts.map(partText).join(" ")}${cell.unit === undefined ? "" : ` unit=${cell.unit.text}`}${cell.words.map((word) => ` word=${word.text}`).join("")}]`).join(" ")}`;
    case "phrase": {
      const head = `${docs}${indent}${[item.word.text, ...item.head.map(partText)].join(" ")}`;
      if (item.block === undefined) return head;
      return `${head} {${item.block.items.map((inner) => `\n${itemText(inner, `${indent}  `)}`).join("")}${item.block.closed ? `\n${indent}}` : `\n${indent}(never closed)`}`;
    }
    case "hole": return `${indent}…`;
    case "junk": return `${indent}junk`;
  }
}

/** The whole tree: the phrase, stray items, comments and problems. */
export function treeText(tree: DeclarationTree): string {
  const lines: string[] = [];
  if (tree.phrase !== undefined) lines.push(itemText(tree.phrase));
  for (const item of tree.stray) lines.push(`stray ${itemText(item)}`);
  for (const comment of tree.comments) lines.push(`comment ${comment.text}`);
  for (const problem of tree.problems) lines.push(`${problem.code} at "${tree.text.slice(problem.span.start, problem.span.end)}": ${problem.message}`);
  return lines.join("\n");
}

/** Every item of the tree, outermost first. */
export function allItems(tree: DeclarationTree): Item[] {
  return placedItems(tree).map(({ item }) => item);
}

/** Every item of the tree with the words of the phrases it lies in. */
export function placedItems(tree: DeclarationTree): { readonly item: Item; readonly path: string }[] {
  const found: { readonly item: Item; readonly path: string }[] = [];
  const visit = (item: Item, path: string): void => {
    found.push({ item, path });
    if (item.kind === "phrase") item.block?.items.forEach((inner) => visit(inner, `${path}${item.word.text} > `));
  };
  if (tree.phrase !== undefined) visit(tree.phrase, "");
  tree.stray.forEach((item) => visit(item, "stray "));
  return found;
}
