// Setting a valve: shims, blades, preload, pushrods and the order to go round in; it refuses to know which engine is on the stand.
//
// Lengths in m. The relations are lever geometry and definitions; tables say where they come from.

import { areFinite, areNotNegative, arePositive } from "./domain.ts";
import type { SourcedFigure } from "./provenance.ts";
import type { LashAt } from "./valve-lift.ts";

/** Lash lost, in m as read, for each metre of thicker shim: the shim and the feeler may sit on different ends of the ratio. */
export function lashPerShim({ lashAt, shimAt, rockerRatio }: { readonly lashAt: LashAt; readonly shimAt: LashAt; readonly rockerRatio: number }): number {
  if (!arePositive(rockerRatio)) return NaN;
  if (lashAt === shimAt) return 1;
  return lashAt === "cam" ? 1 / rockerRatio : rockerRatio;
}

/** Shim wanted, m: fitted + (measured − target) / lash lost per shim. With everything at one end it is old + measured − target. */
export function wantedShim(
  { fittedShim, measuredLash, targetLash, perShim = 1 }: {
    readonly fittedShim: number;
    readonly measuredLash: number;
    readonly targetLash: number;
    readonly perShim?: number;
  },
): number {
  return arePositive(fittedShim, perShim) && areNotNegative(measuredLash, targetLash)
    ? fittedShim + (measuredLash - targetLash) / perShim
    : NaN;
}

/** Lash that a shim would leave, m: measured − (shim − fitted)·lash lost per shim. */
export function lashWithShim(
  { shim, fittedShim, measuredLash, perShim = 1 }: {
    readonly shim: number;
    readonly fittedShim: number;
    readonly measuredLash: number;
    readonly perShim?: number;
  },
): number {
  return arePositive(shim, fittedShim, perShim) && areNotNegative(measuredLash) ? measuredLash - (shim - fittedShim) * perShim : NaN;
}

export interface ShimChoice {
  readonly shim: number;
  readonly lash: number;
  readonly inRange: boolean;
}

/**
 * The best shim of a kit: one that leaves the lash in range where there is any, nearest to the target, and of two equally
 * near the thinner, because loose is noisy and tight burns a valve. Undefined for an empty kit or figures outside the domain.
 */
export function chooseShim(
  { kit, fittedShim, measuredLash, targetLash, lowLash, highLash, perShim = 1 }: {
    readonly kit: readonly number[];
    readonly fittedShim: number;
    readonly measuredLash: number;
    readonly targetLash: number;
    readonly lowLash: number;
    readonly highLash: number;
    readonly perShim?: number;
  },
): ShimChoice | undefined {
  // Shims and lashes are read to the hundredth; a billionth of a metre is only the rounding of binary fractions.
  const slack = 1e-9;
  let best: (ShimChoice & { readonly error: number }) | undefined;
  for (const shim of [...kit].sort((a, b) => a - b)) {
    const lash = lashWithShim({ shim, fittedShim, measuredLash, perShim });
    if (!areFinite(lash, targetLash, lowLash, highLash)) continue;
    const inRange = lash >= lowLash - slack && lash <= highLash + slack;
    const error = Math.abs(lash - targetLash);
    if (best === undefined || (inRange && !best.inRange) || (inRange === best.inRange && error < best.error - slack)) {
      best = { shim, lash, inRange, error };
    }
  }
  return best === undefined ? undefined : { shim: best.shim, lash: best.lash, inRange: best.inRange };
}

export interface BladePair {
  /** Must go: the thickest blade not above the target. */
  readonly go: number;
  /** Must not go: the thinnest blade above the target. */
  readonly noGo: number;
  /** True when passing both proves the lash to lie in its range. */
  readonly provesRange: boolean;
}

/** The two blades of a set that bracket a target lash (m); undefined when the set has none on one side. */
export function bladePair(
  { blades, targetLash, lowLash, highLash }: {
    readonly blades: readonly number[];
    readonly targetLash: number;
    readonly lowLash: number;
    readonly highLash: number;
  },
): BladePair | undefined {
  const slack = 1e-9;
  const sorted = [...blades].filter((blade) => arePositive(blade)).sort((a, b) => a - b);
  const go = sorted.filter((blade) => blade <= targetLash + slack).at(-1);
  const noGo = sorted.find((blade) => blade > targetLash + slack);
  if (go === undefined || noGo === undefined) return undefined;
  return { go, noGo, provesRange: go >= lowLash - slack && noGo <= highLash + slack };
}

/** Cylinder at overlap (rocking) when `cylinder` is at firing TDC: half the firing order on. Undefined for an odd order or a stranger. */
export function companionCylinder({ firingOrder, cylinder }: { readonly firingOrder: readonly number[]; readonly cylinder: number }): number | undefined {
  const place = firingOrder.indexOf(cylinder);
  const count = firingOrder.length;
  if (place < 0 || count % 2 !== 0) return undefined;
  return firingOrder[(place + count / 2) % count];
}

/** Crank degrees between firings of an evenly firing four-stroke: 720 / cylinders. */
export function firingIntervalDeg({ cylinders }: { readonly cylinders: number }): number {
  return Number.isInteger(cylinders) && cylinders > 0 ? 720 / cylinders : NaN;
}

/** One stop on the way round: turn the crank so far from cylinder one's firing TDC, watch one cylinder rock, set the other. */
export interface SettingStop {
  readonly crankDeg: number;
  readonly set: number;
  readonly rocking: number | undefined;
}

/** The way round by companion cylinders, one stop a cylinder in firing order. Even firing. */
export function settingOrder(firingOrder: readonly number[]): readonly SettingStop[] {
  const interval = firingIntervalDeg({ cylinders: firingOrder.length });
  return firingOrder.map((cylinder, place) => ({
    crankDeg: place * interval,
    set: cylinder,
    rocking: companionCylinder({ firingOrder, cylinder }),
  }));
}

export interface ValveName {
  readonly cylinder: number;
  readonly valve: "intake" | "exhaust";
}

export interface CycleEvents {
  readonly intakeOpensBtdcDeg: number;
  readonly intakeClosesAbdcDeg: number;
  readonly exhaustOpensBbdcDeg: number;
  readonly exhaustClosesAtdcDeg: number;
}

/** Seat-to-seat events of a sporting road camshaft, for when no card says. Common practice, no source. */
export const usualCycleEvents: CycleEvents = {
  intakeOpensBtdcDeg: 30,
  intakeClosesAbdcDeg: 60,
  exhaustOpensBbdcDeg: 60,
  exhaustClosesAtdcDeg: 30,
};

/**
 * Valves safely on their base circle, so free to be set, with one cylinder at firing TDC. A valve counts as free when it is
 * shut with at least `marginDeg` to spare on both sides (ramps are not base circle). Even firing.
 */
export function valvesFreeToSet(
  { firingOrder, cylinderAtFiringTdc, events = usualCycleEvents, marginDeg = 20 }: {
    readonly firingOrder: readonly number[];
    readonly cylinderAtFiringTdc: number;
    readonly events?: CycleEvents;
    readonly marginDeg?: number;
  },
): readonly ValveName[] {
  const at = firingOrder.indexOf(cylinderAtFiringTdc);
  if (at < 0) return [];
  const interval = firingIntervalDeg({ cylinders: firingOrder.length });
  const free: ValveName[] = [];
  for (const cylinder of [...firingOrder].sort((a, b) => a - b)) {
    // Crank degrees since this cylinder's own firing TDC.
    const since = modulo((at - firingOrder.indexOf(cylinder)) * interval, 720);
    if (isShut(since, 360 - events.intakeOpensBtdcDeg, 540 + events.intakeClosesAbdcDeg, marginDeg)) free.push({ cylinder, valve: "intake" });
    if (isShut(since, 180 - events.exhaustOpensBbdcDeg, 360 + events.exhaustClosesAtdcDeg, marginDeg)) free.push({ cylinder, valve: "exhaust" });
  }
  return free;
}

function modulo(value: number, by: number): number {
  return ((value % by) + by) % by;
}

function isShut(deg: number, opensDeg: number, closesDeg: number, marginDeg: number): boolean {
  const length = closesDeg - opensDeg + 2 * marginDeg;
  return modulo(deg - (opensDeg - marginDeg), 720) > length;
}

/**
 * The valve to set while `valve` is fully open, counted front to rear: valves + 1 − n, "the rule of nine" with eight. Only
 * where the head is mirror-symmetric, so that both are of one kind. Workshop rule.
 */
export function mirrorValve({ valve, valves }: { readonly valve: number; readonly valves: number }): number {
  return Number.isInteger(valve) && Number.isInteger(valves) && valve >= 1 && valve <= valves ? valves + 1 - valve : NaN;
}

/** Linear expansion, 1/K. A materials-science textbook's appendix; the steels from memory. */
export const thermalExpansion: Readonly<Record<"aluminium 356.0" | "grey iron" | "steel 4140" | "piston alloy", SourcedFigure>> = {
  "aluminium 356.0": { value: 21.5e-6, provenance: "textbook", source: "materials-science textbook, appendix on thermal expansion" },
  "grey iron": { value: 11.4e-6, provenance: "textbook", source: "materials-science textbook, appendix on thermal expansion" },
  "steel 4140": { value: 12.3e-6, provenance: "from memory", source: "steels 11 to 13 millionths per kelvin" },
  "piston alloy": { value: 20e-6, provenance: "from memory", source: "piston alloys 19 to 22 millionths per kelvin" },
};

/** How much a gap grows, m, when an outer part of one material warms with an inner part of another: L·(αo − αi)·ΔT. */
export function thermalLashGrowth(
  { length, outerExpansion, innerExpansion, temperatureRise }: {
    readonly length: number;
    readonly outerExpansion: number;
    readonly innerExpansion: number;
    readonly temperatureRise: number;
  },
): number {
  return arePositive(length) && areFinite(outerExpansion, innerExpansion, temperatureRise)
    ? length * (outerExpansion - innerExpansion) * temperatureRise
    : NaN;
}

/** What to add to a hot lash for a first cold setting on a pushrod engine, m, by block and head. Trade rule of thumb; reset hot. Overhead camshafts have no such rule. */
export const coldLashCorrection: Readonly<Record<"iron-iron" | "iron-aluminium" | "aluminium-aluminium", SourcedFigure>> = {
  "iron-iron": { value: 0.002 * 0.0254, provenance: "common practice", source: "+0.002 in" },
  "iron-aluminium": { value: -0.006 * 0.0254, provenance: "common practice", source: "-0.006 in" },
  "aluminium-aluminium": { value: -0.012 * 0.0254, provenance: "common practice", source: "-0.012 in" },
};

/**
 * How far a hydraulic lifter's plunger is pushed in, m, by turns of a stud rocker's nut past zero lash:
 * turns·pitch·(1 + 1/ratio). The valve end stands still, so the pushrod end moves further than the nut. Lever geometry.
 */
export function preloadFromTurns({ turns, pitch, rockerRatio }: { readonly turns: number; readonly pitch: number; readonly rockerRatio: number }): number {
  return areNotNegative(turns) && arePositive(pitch, rockerRatio) ? turns * pitch * (1 + 1 / rockerRatio) : NaN;
}

/** Turns past zero, for a wanted preload (m): the inverse. */
export function turnsForPreload({ preload, pitch, rockerRatio }: { readonly preload: number; readonly pitch: number; readonly rockerRatio: number }): number {
  return areNotNegative(preload) && arePositive(pitch, rockerRatio) ? preload / (pitch * (1 + 1 / rockerRatio)) : NaN;
}

/**
 * Preload, m, after changes to the stack under a rocker on a fixed shaft or pedestal: what it was, plus what the head came
 * down by (deck, skim, thinner gasket), less what the base circle lost in radius, plus what the pushrod gained in length.
 */
export function preloadAfterChanges(
  { preload, headLowered = 0, baseCircleRadiusLost = 0, pushrodLonger = 0 }: {
    readonly preload: number;
    readonly headLowered?: number;
    readonly baseCircleRadiusLost?: number;
    readonly pushrodLonger?: number;
  },
): number {
  return areFinite(preload, headLowered, baseCircleRadiusLost, pushrodLonger)
    ? preload + headLowered - baseCircleRadiusLost + pushrodLonger
    : NaN;
}

/** Pushrod length, m, that turns the preload there is into the preload wanted: L + (wanted − actual). */
export function pushrodLength(
  { fittedLength, preload, wantedPreload }: { readonly fittedLength: number; readonly preload: number; readonly wantedPreload: number },
): number {
  return arePositive(fittedLength) && areFinite(preload, wantedPreload) ? fittedLength + (wantedPreload - preload) : NaN;
}
