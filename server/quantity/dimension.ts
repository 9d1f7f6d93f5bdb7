// Exponents of length, mass, time, temperature, plane angle and current, and their algebra. Knows no units.

/** Plane angle is kept as a dimension of its own, so that an angle is never taken for a ratio, nor rpm for Hz. */
export interface Dimension {
  readonly L: number;
  readonly M: number;
  readonly T: number;
  readonly K: number;
  readonly A: number;
  /** Electric current: for volts only. */
  readonly I: number;
}

const NONE: Dimension = { L: 0, M: 0, T: 0, K: 0, A: 0, I: 0 };

export function dimension(exponents: Partial<Dimension> = {}): Dimension {
  return { ...NONE, ...exponents };
}

export function multiplyDimensions(a: Dimension, b: Dimension): Dimension {
  return { L: a.L + b.L, M: a.M + b.M, T: a.T + b.T, K: a.K + b.K, A: a.A + b.A, I: a.I + b.I };
}

export function divideDimensions(a: Dimension, b: Dimension): Dimension {
  return { L: a.L - b.L, M: a.M - b.M, T: a.T - b.T, K: a.K - b.K, A: a.A - b.A, I: a.I - b.I };
}

export function sameDimension(a: Dimension, b: Dimension): boolean {
  return a.L === b.L && a.M === b.M && a.T === b.T && a.K === b.K && a.A === b.A && a.I === b.I;
}

export function isDimensionless(a: Dimension): boolean {
  return sameDimension(a, NONE);
}

export const DIMENSIONLESS = NONE;
export const LENGTH = dimension({ L: 1 });
export const AREA = dimension({ L: 2 });
export const VOLUME = dimension({ L: 3 });
export const MASS = dimension({ M: 1 });
export const TIME = dimension({ T: 1 });
export const TEMPERATURE = dimension({ K: 1 });
export const ANGLE = dimension({ A: 1 });
export const ROTATION = dimension({ A: 1, T: -1 });
export const FREQUENCY = dimension({ T: -1 });
export const SPEED = dimension({ L: 1, T: -1 });
export const ACCELERATION = dimension({ L: 1, T: -2 });
export const FORCE = dimension({ M: 1, L: 1, T: -2 });
/** Also the dimension of energy; no unit of energy is known here, so nothing can be mistaken for it. */
export const TORQUE = dimension({ M: 1, L: 2, T: -2 });
export const PRESSURE = dimension({ M: 1, L: -1, T: -2 });
export const POWER = dimension({ M: 1, L: 2, T: -3 });
export const SPRING_RATE = dimension({ M: 1, T: -2 });
export const DENSITY = dimension({ M: 1, L: -3 });
export const MASS_FLOW = dimension({ M: 1, T: -1 });
export const VOLUME_FLOW = dimension({ L: 3, T: -1 });
export const SPECIFIC_CONSUMPTION = dimension({ L: -2, T: 2 });
export const INERTIA = dimension({ M: 1, L: 2 });
export const VOLTAGE = dimension({ M: 1, L: 2, T: -3, I: -1 });
