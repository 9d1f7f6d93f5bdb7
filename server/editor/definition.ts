// Where a name, a used file, or the figure that a figure replaced is written. Offsets in files out; knows no protocol.
import type { Span } from "../../grammar/tree.ts";
import { namesOf, resolveUse } from "../model/project.ts";
import type { Location } from "../model/declaration.ts";
import type { Analysis } from "../workspace/analyse.ts";
import { slotOf, subjectOf } from "./hover.ts";
import { hereAt, spotAt } from "./spot.ts";

export interface Target {
  readonly uri: string;
  readonly span: Span;
}

export function definitionsAt(analysis: Analysis, uri: string, offset: number): Target[] {
  const here = hereAt(analysis, uri, offset);
  const spot = here && spotAt(here);
  if (!here || !spot) return [];
  if (spot.on === "reference") {
    if (spot.reference.of === "file") {
      const target = resolveUse(uri, spot.reference.name.text);
      return analysis.project.files.has(target) ? [{ uri: target, span: { start: 0, end: 0 } }] : [];
    }
    return (namesOf(analysis.scope(uri), spot.reference.of).get(spot.reference.name.text) ?? []).flatMap((p) => targetOf(analysis, { tree: p.declaration.tree, span: p.declaration.name?.span ?? p.declaration.wordSpan }));
  }
  const subject = subjectOf(here);
  if (spot.on === "key" || spot.on === "value") {
    // From a figure to what it replaced: the next older link of the chain.
    const chain = (subject && slotOf(subject, spot.fact)?.chain) ?? [];
    const i = chain.findIndex((p) => p.fact === spot.fact);
    const older = i > 0 ? chain[i - 1] : undefined;
    return older ? targetOf(analysis, { tree: older.location.tree, span: older.fact.keySpan }) : [];
  }
  if (spot.on === "condition") {
    const value = subject?.sheet.byId.get(spot.condition.path.text);
    return (value?.from ?? []).flatMap((location) => targetOf(analysis, location));
  }
  return [];
}

export function targetOf(analysis: Analysis, location: Location): Target[] {
  const place = analysis.places.placeOf(location.tree);
  return place ? [{ uri: place.uri, span: { start: location.span.start + place.start, end: location.span.end + place.start } }] : [];
}
