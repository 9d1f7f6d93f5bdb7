// Reads the text of one value through the real grammar, as the rest of the tool does.
import { readSource } from "../../grammar/read.ts";
import type { Part } from "../../grammar/tree.ts";
import type { KindId } from "../../server/quantity/kinds.ts";
import { readValue } from "../../server/quantity/value.ts";
import type { Quantity, ReadOptions, ReadValue } from "../../server/quantity/quantity.ts";

const BEFORE = "engine a {\n  x: ";

export function partsOf(text: string): readonly Part[] {
  const file = readSource("file:///a.tappet", `${BEFORE}${text}\n}\n`);
  const item = file.declarations.flatMap((d) => d.tree.phrase?.block?.items ?? [])[0];
  if (item?.kind !== "entry") throw new Error(`no entry in ${text}`);
  return item.values.flatMap((v) => v.parts);
}

export function read(text: string, kind: KindId, options?: ReadOptions): ReadValue {
  return readValue(partsOf(text), kind, options);
}

/** The quantity of a text that must read without any problem. */
export function quantity(text: string, kind: KindId, options?: ReadOptions): Quantity {
  const value = read(text, kind, options);
  if (!value.quantity || value.problems.length > 0) throw new Error(`${text}: ${value.problems.map((p) => p.message).join(" ") || "no quantity"}`);
  return value.quantity;
}

/** `code: message` of each problem. */
export function problems(text: string, kind: KindId, options?: ReadOptions): string[] {
  return read(text, kind, options).problems.map((p) => `${p.code}: ${p.message}`);
}

/** The texts that come of applying each suggestion of the first problem. */
export function mended(text: string, kind: KindId, options?: ReadOptions): string[] {
  return (read(text, kind, options).problems[0]?.suggestions ?? []).map((s) => replace(text, [s]));
}

export function replace(text: string, edits: readonly { readonly span: { readonly start: number; readonly end: number }; readonly text: string }[]): string {
  const offset = BEFORE.length;
  return [...edits]
    .sort((a, b) => b.span.start - a.span.start)
    .reduce((t, e) => t.slice(0, e.span.start - offset) + e.text + t.slice(e.span.end - offset), text);
}
