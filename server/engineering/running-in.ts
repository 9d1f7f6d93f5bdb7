// Facts of a first start with sliding cam followers; it refuses to know any maker's own sheet, which always governs.

import type { SourcedFigure, SourcedSpan } from "./provenance.ts";

/** Speed to hold at once after the first start, rpm, for flat tappets and rocker pads. Idling wipes lobes. Roller followers do not need it. */
export const firstRunSpeedRpm: SourcedSpan = { low: 2000, high: 2500, provenance: "common practice", source: "cam grinders; some posts say to 3000" };

/** How long, in minutes, varying the speed. */
export const firstRunMinutes: SourcedSpan = { low: 20, high: 30, provenance: "common practice", source: "cam grinders" };

/** Turns of the crank by hand, plugs out, before the starter: two pass every valve event once. */
export const handTurns: SourcedFigure = { value: 2, provenance: "common practice", source: "one camshaft turn is two crank turns" };
