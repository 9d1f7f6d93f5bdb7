// Names across files: every place that means the same declaration, and renaming them together. Offsets in files out; knows no protocol.
import type { Span } from "../../grammar/tree.ts";
import { RESERVED_WORDS, STATEMENT_WORDS, TOP_WORDS, unitOfSpelling } from "../../grammar/vocabulary.ts";
import { type PlacedDeclaration, isNamed, namesOf } from "../model/project.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { type Target, targetOf } from "./definition.ts";
import type { FileEdit } from "./fixes.ts";
import { hereAt, spotAt } from "./spot.ts";

export interface Occurrence extends Target {
  /** True for the declaration's own name. */
  readonly declares: boolean;
}

/** What the caret names: the declaration, its name, and where the name stands under the caret. */
export function namedAt(analysis: Analysis, uri: string, offset: number): { readonly target: PlacedDeclaration; readonly span: Span } | undefined {
  const here = hereAt(analysis, uri, offset);
  const spot = here && spotAt(here);
  if (!here || !spot) return undefined;
  const span = { start: spot.span.start + here.start, end: spot.span.end + here.start };
  if (spot.on === "name") return { target: { uri, declaration: here.declaration }, span };
  if (spot.on !== "reference" || spot.reference.of === "file") return undefined;
  const target = namesOf(analysis.scope(uri), spot.reference.of).get(spot.reference.name.text)?.[0];
  return target && { target, span };
}

/** Every place in the loaded files that means this declaration: who stands on this engine, who fits this part, who follows this card. */
export function occurrencesOf(analysis: Analysis, target: PlacedDeclaration): Occurrence[] {
  const { declaration } = target;
  const name = declaration.name;
  if (!name || !isNamed(declaration.sort)) return [];
  const out: Occurrence[] = targetOf(analysis, { tree: declaration.tree, span: name.span }).map((t) => ({ ...t, declares: true }));
  for (const file of analysis.project.files.values()) {
    const mentions = file.declarations.flatMap((d) => d.references.filter((r) => r.of === declaration.sort && r.name.text === name.text).map((r) => ({ tree: d.tree, span: r.name.span })));
    // The same word may mean another declaration in another file: only what that file sees decides.
    if (mentions.length === 0 || namesOf(analysis.scope(file.uri), declaration.sort).get(name.text)?.[0]?.declaration !== declaration) continue;
    out.push(...mentions.flatMap((m) => targetOf(analysis, m)).map((t) => ({ ...t, declares: false })));
  }
  return out;
}

const NAME = /^\p{L}(?:[\p{L}\p{N}_]|-(?=[\p{L}\p{N}]))*$/u;

/** The edits that give a declaration a new name everywhere, or one sentence why it cannot have it. */
export function renameTo(analysis: Analysis, target: PlacedDeclaration, name: string): readonly FileEdit[] | { readonly refusal: string } {
  if (!NAME.test(name)) return { refusal: `${name || "An empty text"} is no name: write letters, digits and dashes, beginning with a letter.` };
  if ([...TOP_WORDS, ...RESERVED_WORDS, ...STATEMENT_WORDS].some((w) => w === name)) return { refusal: `${name} is a word of the language and cannot be a name.` };
  if (unitOfSpelling(name)) return { refusal: `${name} is a unit and cannot be a name.` };
  const occurrences = occurrencesOf(analysis, target);
  const { declaration } = target;
  for (const uri of new Set(occurrences.map((o) => o.uri))) {
    const taken = isNamed(declaration.sort) ? namesOf(analysis.scope(uri), declaration.sort).get(name)?.[0] : undefined;
    if (taken && taken.declaration !== declaration) return { refusal: `There is already ${/^[aeiou]/.test(declaration.sort) ? "an" : "a"} ${declaration.sort} called ${name}.` };
  }
  return occurrences.map(({ uri, span }) => ({ uri, span, text: name }));
}
