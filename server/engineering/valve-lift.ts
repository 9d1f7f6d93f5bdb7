// How far a valve opens from lobe, rocker and lash, in metres; it refuses to know angles of tables or pistons.

import { areFinite, areNotNegative, arePositive } from "./domain.ts";

/** Where a lash is taken: under the valve end of the train, or between lobe and follower. */
export type LashAt = "valve" | "cam";

/** Valve lift with no lash: lobe lift × rocker ratio (the ratio at full lift where it varies). m out. */
export function grossValveLift({ lobeLift, rockerRatio }: { readonly lobeLift: number; readonly rockerRatio: number }): number {
  return areNotNegative(lobeLift) && arePositive(rockerRatio) ? lobeLift * rockerRatio : NaN;
}

/** A lash as the valve feels it, m: as read at the valve, times the ratio when read at the cam. */
export function lashAtValve(
  { lash, rockerRatio, lashAt }: { readonly lash: number; readonly rockerRatio: number; readonly lashAt: LashAt },
): number {
  if (!areNotNegative(lash) || !arePositive(rockerRatio)) return NaN;
  return lashAt === "cam" ? lash * rockerRatio : lash;
}

/** A lash as the lobe feels it, m: divided by the ratio when read at the valve. */
export function lashAtLobe(
  { lash, rockerRatio, lashAt }: { readonly lash: number; readonly rockerRatio: number; readonly lashAt: LashAt },
): number {
  if (!areNotNegative(lash) || !arePositive(rockerRatio)) return NaN;
  return lashAt === "valve" ? lash / rockerRatio : lash;
}

/** Valve lift at set lash, m: L·R − lash where lash is taken at the valve, (L − lash)·R at the cam; never below zero. */
export function netValveLift(
  { lobeLift, rockerRatio, lash, lashAt }: {
    readonly lobeLift: number;
    readonly rockerRatio: number;
    readonly lash: number;
    readonly lashAt: LashAt;
  },
): number {
  const lift = grossValveLift({ lobeLift, rockerRatio }) - lashAtValve({ lash, rockerRatio, lashAt });
  return areFinite(lift) ? Math.max(0, lift) : NaN;
}

/** Lobe lift, m, behind a stated zero-lash valve lift. */
export function lobeLiftFromValveLift({ valveLift, rockerRatio }: { readonly valveLift: number; readonly rockerRatio: number }): number {
  return areNotNegative(valveLift) && arePositive(rockerRatio) ? valveLift / rockerRatio : NaN;
}

/**
 * The lobe law to fall back on when nobody measured the lobe: lift L/2·(1 + cos(2π·θ/D)) within half the duration of the
 * centreline, zero outside. ESTIMATE: at overlap a real lobe differs from it by as much as ±40 %.
 */
export function cosineLobeLift(
  { peakLift, durationDeg, fromCentrelineDeg }: {
    readonly peakLift: number;
    readonly durationDeg: number;
    readonly fromCentrelineDeg: number;
  },
): number {
  if (!areNotNegative(peakLift) || !arePositive(durationDeg) || !areFinite(fromCentrelineDeg)) return NaN;
  if (Math.abs(fromCentrelineDeg) >= durationDeg / 2) return 0;
  return (peakLift / 2) * (1 + Math.cos((2 * Math.PI * fromCentrelineDeg) / durationDeg));
}
