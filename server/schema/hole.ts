// A place for a figure that is not there yet, as it is laid out to be filled in: its unit stands there already, a figure never does, as it would
// look like one that somebody gave.
import { spellingOfUnit, unitOfSpelling } from "../../grammar/vocabulary.ts";
import { KINDS } from "../quantity/kinds.ts";
import { UNITS } from "../quantity/units.ts";
import { qualifierSet } from "./lookup.ts";
import type { KeySchema } from "./types.ts";

/** The unit that a key's figure is usually written in by a builder of this system; nothing for what has none. */
export function unitOfHole({ type, example, qualifiers }: KeySchema, system: "metric" | "inch"): string | undefined {
  if (type.is !== "quantity" || KINDS[type.kind].units.length === 0) return undefined;
  const written = /(?:^|\s)([^\d\s.±+-][^\s]*)/.exec(example)?.[1];
  if (written === undefined || (qualifiers ?? []).some((id) => written in (qualifierSet(id)?.options ?? {}))) return undefined;
  const unit = unitOfSpelling(written);
  const own = KINDS[type.kind][system];
  return unit === undefined || own === undefined || UNITS[unit].system === "both" || UNITS[unit].system === system ? written : spellingOfUnit(own);
}

/** `bore: … mm` */
export function withHole(key: KeySchema, system: "metric" | "inch"): string {
  const unit = unitOfHole(key, system);
  return unit === undefined ? `${key.key}: …` : `${key.key}: … ${unit}`;
}
