// Tells a declaration from what stands around it in its chunk of the file. Knows which words open a declaration, not how text is parsed.
import * as messages from "./messages.ts";
import type { Comment, DeclarationTree, Item, Phrase, Span, SyntaxProblem } from "./tree.ts";
import { TOP_WORDS } from "./vocabulary.ts";

const TOP: ReadonlySet<string> = new Set(TOP_WORDS);

/** Tells the declaration from what stands around it. */
export function declarationOf(text: string, items: readonly Item[], comments: readonly Comment[], problems: SyntaxProblem[]): DeclarationTree {
  let phrase: Phrase | undefined;
  const stray: Item[] = [];
  for (const item of items) {
    if (item.kind === "phrase" && phrase === undefined && TOP.has(item.word.text)) {
      phrase = item;
      const column = columnOf(text, item.word.span.start);
      if (column > 0) problems.push(messages.indentedDeclaration(item.word.text, item.word.span, { start: item.word.span.start - column, end: item.word.span.start }));
      if (item.word.text === "use" && item.head[0]?.kind !== "string") problems.push(messages.useNeedsString(item.head[0]?.span ?? item.word.span));
      continue;
    }
    stray.push(item);
    if (item.kind === "junk") continue;
    if (item.kind === "phrase" && columnOf(text, item.word.span.start) === 0) problems.push(messages.unknownDeclaration(item.word.text, item.word.span));
    else problems.push(messages.outsideDeclaration(text.slice(item.span.start, item.span.end), headSpan(item)));
  }
  problems.sort((a, b) => a.span.start - b.span.start);
  return phrase === undefined ? { text, stray, comments, problems } : { text, phrase, stray, comments, problems };
}

function headSpan(item: Item): Span {
  return item.kind === "phrase" ? item.word.span : item.kind === "entry" ? item.key.span : item.span;
}

function columnOf(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && (text.charCodeAt(at - 1) === 32 || text.charCodeAt(at - 1) === 9)) at--;
  const code = at === 0 ? 10 : text.charCodeAt(at - 1);
  return code === 10 || code === 13 || code === 0xfeff ? offset - at : 0;
}
