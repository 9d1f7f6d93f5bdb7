// Where a finding of a build points when what brought it about was fitted: the fit of one of these kinds, else the build's name. Judges nothing.
import type { Location } from "../model/declaration.ts";
import { type EffectiveBuild, fitted } from "../model/effective.ts";

export function fitPlace(build: EffectiveBuild, kinds: readonly string[], side?: string): Location {
  const { subject } = build;
  for (const kind of kinds) {
    const part = fitted(build, kind).find((p) => p.side === undefined || side === undefined || p.side === side);
    if (part) return { tree: subject.tree, span: part.fit.name?.span ?? part.fit.inline?.kindName?.span ?? part.fit.span };
  }
  return { tree: subject.tree, span: subject.name?.span ?? subject.wordSpan };
}
