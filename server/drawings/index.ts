// All drawings of a sheet by the section they stand in. Knows no drawing's inside.
import type { SectionId } from "../schema/sections.ts";
import { clampBands } from "./clamp-bands.ts";
import { cycle } from "./cycle.ts";
import type { Drawing, DrawingSource } from "./drawing.ts";
import { lashDeviations } from "./lash-deviations.ts";
import { pull } from "./pull.ts";
import { recordedPulls, recording } from "./recording.ts";
import { runningIn } from "./running-in.ts";
import { springStack } from "./spring-stack.ts";
import { tighteningOrders } from "./tightening-order.ts";

export type { Drawing, DrawingSource } from "./drawing.ts";

/** The drawings that the values of a sheet are enough for, in the order they stand on it. */
export function drawingsOf(source: DrawingSource): ReadonlyMap<SectionId, readonly Drawing[]> {
  const drawn = [
    cycle(source), springStack(source, "intake"), springStack(source, "exhaust"), lashDeviations(source, "intake"), lashDeviations(source, "exhaust"),
    clampBands(source), ...tighteningOrders(source), runningIn(source), pull(source), recording(source), recordedPulls(source),
  ];
  const bySection = new Map<SectionId, Drawing[]>();
  for (const drawing of drawn) if (drawing) bySection.set(drawing.section, [...(bySection.get(drawing.section) ?? []), drawing]);
  return bySection;
}
