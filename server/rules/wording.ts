// Words that rules share: a figure as it stands in the text, lists, and plurals. Knows no rule and no limit.
import type { Declaration, Location } from "../model/declaration.ts";
import { type EffectiveBuild, type Provided, wordsFor } from "../model/effective.ts";
import type { FinalTorque } from "../model/tightening.ts";
import type { QuantityValue } from "../model/value.ts";
import { formatValue, unitFor } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";
import type { KindId } from "../quantity/kinds.ts";

export { allOf } from "../quantity/spoken.ts";

/** The text at a place as the builder wrote it, on one line. */
export function textAt(location: Location): string {
  return location.tree.text.slice(location.span.start, location.span.end).replace(/\s+/g, " ").trim();
}

/** A figure as the builder wrote it, unit and qualifiers included. */
export function written(provided: Provided): string {
  return textAt(provided.location);
}

/** A reading as the builder wrote it; a cell of a table stands without its unit, which is put after it. */
export function readingText(at: Location, reading: Quantity): string {
  const text = textAt(at);
  return reading.unitText === undefined || text.includes(reading.unitText) ? text : `${text} ${reading.unitText}`;
}

/** The reading that stands at a place of a build, as it was written, with its unit where that stands in the table's head. */
export function readingAt(build: EffectiveBuild, at: Location): string {
  const reading = build.measured.flatMap((m) => m.readings).find((r) => r.span.start === at.span.start && r.span.end === at.span.end);
  return reading ? readingText(at, reading.quantity) : textAt(at);
}

/** The quantity of a provided figure, when it is one. */
export function quantityOf(provided: Provided | undefined): QuantityValue | undefined {
  const value = provided?.fact.value;
  return value?.is === "quantity" ? value : undefined;
}

/** A computed value in the unit that `like` was written in, else in the metric unit of its kind. `value` in the base of the kind. */
export function inUnitOf(like: Quantity | undefined, value: number, kind: KindId): string {
  const unit = like?.kind === kind ? like.unit : undefined;
  return formatValue(value, kind, unit ?? unitFor(kind, "metric", value));
}

/** "Did you mean …?" with a blank before it, or nothing. */
export function didYouMean(near: readonly string[]): string {
  return near.length > 0 ? ` Did you mean ${near.map((n) => `\`${n}\``).join(" or ")}?` : "";
}

/** What a person would call a declaration: its title, else its name as it stands in files. */
export function called(declaration: Declaration): string {
  return declaration.title ?? `\`${wordsFor(declaration)}\``;
}

/** Who gave a figure, as the subject of a sentence. */
export function giver(provided: Provided): string {
  return provided.origin.sort === "build" ? "this build" : called(provided.origin.declaration);
}

/** What a figure is of, as a builder would say it: "`head-bolt`" for its torque, "`grip` of `head-bolt`", "intake `lash`", "`bore`". */
export function nameOf(provided: Provided, path: string): string {
  const steps = path.split(".");
  // A pair of figures, one a side, is keyed by its sides: what it is of stands in the path.
  const own = provided.fact.key.key;
  const key = `\`${own === "intake" || own === "exhaust" ? (steps.at(-1) ?? own) : own}\``;
  if (steps[0] === "fastener" && steps[1] !== undefined) return steps[2] === "torque" || steps[2] === "tighten" ? `\`${steps[1]}\`` : `${key} of \`${steps[1]}\``;
  const side = steps.find((step) => step === "intake" || step === "exhaust");
  return side === undefined ? key : `${side} ${key}`;
}

/** A torque as it stands: by itself, or as the stage that it is of what stands there. */
export function torqueText(torque: FinalTorque): string {
  const lubrication = torque.value.qualifiers["lubrication"];
  const text = textAt(torque.at);
  return lubrication === undefined || text.includes(lubrication) ? text : `${text} ${lubrication}`;
}
