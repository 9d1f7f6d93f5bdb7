// All drawings of a sheet by the section they stand in. Knows no drawing's inside.
import type { SectionId } from "../schema/sections.ts";
import { clampBands } from "./clamp-bands.ts";
import { cycle } from "./cycle.ts";
import type { Drawing, DrawingSource } from "./drawing.ts";
import { lashDeviations } from "./lash-deviations.ts";
import { springStack } from "./spring-stack.ts";

export type { Drawing, DrawingSource } from "./drawing.ts";

/** The drawings that the values of a sheet are enough for, in the order they stand on it. */
export function drawingsOf(source: DrawingSource): ReadonlyMap<SectionId, readonly Drawing[]> {
  const drawn = [
    cycle(source), springStack(source, "intake"), springStack(source, "exhaust"), lashDeviations(source, "intake"), lashDeviations(source, "exhaust"), clampBands(source),
  ];
  const bySection = new Map<SectionId, Drawing[]>();
  for (const drawing of drawn) {
    if (!drawing) continue;
    const own = bySection.get(drawing.section) ?? [];
    bySection.set(drawing.section, [...own, drawing]);
  }
  return bySection;
}
