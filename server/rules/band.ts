// What a figure allows: the band a source asks for, and how two figures stand to it. Knows intervals, not what is measured.
import { compareWithLimit } from "../quantity/display.ts";
import type { Quantity } from "../quantity/quantity.ts";

export interface Band {
  readonly low: number;
  readonly high: number;
  /** False where the source gave one figure: its digits are then all that widens it. */
  readonly stated: boolean;
}

/** The band that a figure asks for. One figure alone reaches as far as its digits. */
export function bandOf(asked: Quantity): Band {
  const { low, high } = asked.interval;
  return asked.shape === "single" ? { low: low - asked.halfDigit, high: high + asked.halfDigit, stated: false } : { low, high, stated: true };
}

/** Beside one figure without a tolerance, the rounding of the other counts as well: 0.36 may be 0.355, and so may 0.35. */
export function slackOf(band: Band, figure: Quantity): number {
  return band.stated ? 0 : figure.halfDigit;
}

/** Where a figure lies: -1 when all of it is below the band, 1 when all of it is above, 0 when any of it is inside. `slack` widens the band. */
export function standing(figure: Quantity, band: Band, slack = 0): -1 | 0 | 1 {
  if (compareWithLimit(figure.interval.high, band.low - slack) < 0) return -1;
  return compareWithLimit(figure.interval.low, band.high + slack) > 0 ? 1 : 0;
}
