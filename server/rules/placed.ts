// Where a finding of a build points when what brought it about was fitted: the fit of one of these kinds, else the build's name. Judges nothing.
import type { Span } from "../../grammar/tree.ts";
import type { FitFact, Location } from "../model/declaration.ts";
import { type EffectiveBuild, fitted } from "../model/effective.ts";

/** The name of the part that a build fits, or the word for its kind where it is described on the spot: never the whole of its block. */
export function spanOfFit({ name, inline, span }: FitFact): Span {
  return name?.span ?? inline?.kindName?.span ?? span;
}

export function fitPlace(build: EffectiveBuild, kinds: readonly string[], side?: string): Location {
  const { subject } = build;
  for (const kind of kinds) {
    const part = fitted(build, kind).find((p) => p.side === undefined || side === undefined || p.side === side);
    if (part) return { tree: subject.tree, span: spanOfFit(part.fit) };
  }
  return { tree: subject.tree, span: subject.name?.span ?? subject.wordSpan };
}
