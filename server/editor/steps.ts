// Phrases of the tree as steps of the schema's look-up, for whoever asks what may stand at a place. Knows both sides; decides nothing.
import type { Part, Phrase } from "../../grammar/tree.ts";
import type { Scope } from "../model/project.ts";
import { type Step, partKindOf } from "../schema/lookup.ts";

/** A phrase of the tree as a step of the schema's look-up. */
export function stepOf(phrase: Phrase, scope: Scope): Step {
  const words = phrase.head.filter((p): p is Extract<Part, { kind: "word" }> => p.kind === "word").map((p) => p.text);
  const joined = words.findIndex((w) => w === "for" || w === "at");
  const sideWord = joined >= 0 ? words[joined + 1] : undefined;
  const side: Pick<Step, "side"> = sideWord === "intake" || sideWord === "exhaust" ? { side: sideWord } : {};
  const first = words[0];
  switch (phrase.word.text) {
    case "part":
      return { word: "part", ...(first !== undefined && { of: first }), ...(words[1] !== undefined && { name: words[1] }) };
    case "fit": {
      const kind = first === undefined ? undefined : partKindOf(first) ? first : scope.parts.get(first)?.[0]?.declaration.kindName?.text;
      return { word: "fit", ...(kind !== undefined && { of: kind }), ...(first !== undefined && { name: first }), ...side };
    }
    case "measured":
      return { word: "measured", ...(first !== undefined && { of: first }) };
    default:
      return { word: phrase.word.text, ...(first !== undefined && first !== "for" && { name: first }), ...side };
  }
}

/** The phrases around an offset of a declaration's text, outermost first; the last one's own word, head or block is at the offset. */
export function phrasesAt(top: Phrase | undefined, offset: number): readonly Phrase[] {
  const path: Phrase[] = [];
  for (let phrase = top; phrase; ) {
    path.push(phrase);
    phrase = phrase.block?.items.find((item): item is Phrase => item.kind === "phrase" && offset >= item.span.start && offset <= item.span.end);
  }
  return path;
}
