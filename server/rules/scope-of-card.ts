// Whether what is made for one engine stands on a build of another, whole or in part. Knows names and paths, no figure.
import type { Declaration, FigureFact, ScopeFact } from "../model/declaration.ts";

/** Keys at the top of an engine that belong to its bottom end. */
const BOTTOM_END = new Set(["bore", "stroke", "rod-length", "cylinders", "firing-order", "cylinder-1", "rotation", "stated-displacement"]);
/** Kinds of part whose figures belong to the valve gear. */
const VALVE_GEAR = new Set(["camshaft", "cam-gear", "retainer", "rocker", "lifter", "pushrod", "valve"]);

/** True where the declaration is good for the whole of this engine, or says nothing of engines. */
export function isGoodFor(declaration: Declaration, engine: string): boolean {
  return declaration.scopes.length === 0 || declaration.scopes.some((s) => (s.engine.text === engine || s.engine.text === "any") && s.areas.length === 0);
}

/** The scopes that name areas only. */
export function partialScopes(declaration: Declaration): readonly ScopeFact[] {
  return declaration.scopes.filter((s) => s.areas.length > 0);
}

/** True where a figure lies in one of the areas. A fastener belongs to whatever area its card is for. */
export function liesIn(fact: FigureFact, areas: readonly string[]): boolean {
  const step = fact.path.split(".")[0] ?? "";
  if (step === "fastener" || fact.key.key === "source" || fact.key.key === "remark") return true;
  return areas.includes(step) || (areas.includes("bottom-end") && BOTTOM_END.has(step)) || (areas.includes("valve-gear") && VALVE_GEAR.has(step));
}

/** "dunlin-20", "dunlin-18 or dunlin-20". */
export function madeFor(declaration: Declaration): string {
  return [...new Set(declaration.scopes.map((s) => s.engine.text))].join(" or ");
}
