// Short constructors for schema rows, so that a table of keys reads as one. Knows the form of a row, not what any key means.
import type { KindId } from "../quantity/kinds.ts";
import type { BlockSchema, KeySchema } from "./types.ts";

type More = Partial<Omit<KeySchema, "key" | "words" | "type" | "example">>;

/** A key that takes a quantity of one kind, or of one of several (an injector is rated in cc/min or in lb/h). */
export function figure(key: string, kind: KindId | readonly [KindId, ...KindId[]], example: string, words: string, more: More = {}): KeySchema {
  if (typeof kind === "string") return { key, words, type: { is: "quantity", kind }, example, ...more };
  const [first, ...others] = kind;
  return { key, words, type: { is: "quantity", kind: first, or: others }, example, ...more };
}

export function figures(key: string, kind: KindId, example: string, words: string, more: More = {}): KeySchema {
  return { key, words, type: { is: "quantities", kind }, example, ...more };
}

export function choice(key: string, options: Readonly<Record<string, string>>, example: string, words: string, more: More = {}): KeySchema {
  return { key, words, type: { is: "word", options }, example, ...more };
}

export function text(key: string, example: string, words: string, more: More = {}): KeySchema {
  return { key, words, type: { is: "text" }, example, ...more };
}

export function mark(key: string, example: string, words: string, more: More = {}): KeySchema {
  return { key, words, type: { is: "mark" }, example, ...more };
}

export function money(key: string, example: string, words: string, more: More = {}): KeySchema {
  return { key, words, type: { is: "money" }, example, ...more };
}

export function yesNo(key: string, words: string, more: More & { readonly example?: string } = {}): KeySchema {
  return { key, words, type: { is: "yes-no" }, example: "yes", ...more };
}

export function date(key: string, words: string, more: More = {}): KeySchema {
  return { key, words, type: { is: "date" }, example: "2027-03-14", ...more };
}

export function plainKey(key: string, is: "order" | "thread" | "class" | "stages" | "fingerprint" | "name" | "names" | "file", example: string, words: string, more: More = {}): KeySchema {
  return { key, words, type: { is }, example, ...more };
}

/** The two sides of an engine that has valves. */
export const SIDES = ["intake", "exhaust"] as const;
export type Side = (typeof SIDES)[number];

export function isSide(word: string): word is Side {
  return word === "intake" || word === "exhaust";
}

/** A block for each side from one recipe. */
export function eachSide(block: (side: Side) => BlockSchema): Readonly<Record<Side, BlockSchema>> {
  return { intake: block("intake"), exhaust: block("exhaust") };
}

export const SOURCE = text("source", '"workshop manual, section 6A"', "Where these figures were copied from: the book and page, the card in the box, the leaflet.", { importance: "essential" });
export const REMARK = text("remark", '"second-hand, checked"', "Anything worth saying that no other key holds.", { importance: "rare" });
