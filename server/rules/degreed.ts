// A shaft's centrelines as found with the degree wheel against where card, gear and head put them. Judges nothing.
import type { Location, Side } from "../model/declaration.ts";
import { type EffectiveBuild, fitted } from "../model/effective.ts";
import type { Sheet } from "../sheet/evaluate.ts";
import { SIDES } from "./lash.ts";

export interface Degreed {
  readonly side: Side;
  /** Crank degrees, as found. */
  readonly found: number;
  readonly expected: number;
  /** How much later than expected the cam runs, in crank degrees; negative when it runs earlier. */
  readonly later: number;
  /** What the two bands leave open. */
  readonly slack: number;
  /** True where the expected one rests on something that was left out or assumed. */
  readonly unsure: boolean;
  readonly at: Location;
}

/** Every side whose centreline was both found and can be told from the figures. */
export function degreedOf(sheet: Sheet): readonly Degreed[] {
  return SIDES.flatMap((side): Degreed[] => {
    const value = sheet.byId.get(`centreline.${side}.installed`);
    const expected = value?.interval;
    const measured = value?.measured.findLast((m) => m.readings.some((r) => r.valueId === value.id));
    const found = measured?.value.interval;
    const at = measured?.readings.findLast((r) => r.valueId === value?.id)?.location;
    if (!value || !expected || !found || !at) return [];
    const apart = found.nominal - expected.nominal;
    return [{
      side, found: found.nominal, expected: expected.nominal, later: side === "intake" ? apart : -apart, at,
      slack: (expected.high - expected.low) / 2 + (found.high - found.low) / 2, unsure: value.assumptions.length > 0,
    }];
  });
}

/** How far a reading may lie off and still be the setting, crank degrees: what a wheel, a pointer and a dial make of it. Common practice, no source. */
export const WHEEL_ERROR = 2;

/** Of an expected centreline with something left out. Common practice, no source. */
export const UNSURE_ERROR = 4;

/** How many teeth a difference looks like; nothing where it looks like none. */
export function teethOff({ later, slack, unsure }: Degreed, teeth: number | undefined): number | undefined {
  if (teeth === undefined || !(teeth > 0)) return undefined;
  const tooth = 720 / teeth;
  const count = Math.round(later / tooth);
  if (count === 0 || Math.abs(count) > 3) return undefined;
  // Half a tooth either side is as near to the next: only what is well within that points at a tooth.
  const reach = Math.min(tooth / 4, (unsure ? UNSURE_ERROR : WHEEL_ERROR) + slack);
  return Math.abs(later - count * tooth) <= reach ? count : undefined;
}

/** True where one shaft works both sides, so that both are out together. */
export function oneShaft(build: EffectiveBuild): boolean {
  return !fitted(build, "camshaft").some((p) => p.side !== undefined) && !fitted(build, "cam-gear").some((p) => p.side !== undefined);
}
