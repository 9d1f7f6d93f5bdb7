// Trigonometry in degrees, because the trade turns cranks in degrees; it refuses to know what is turned.

export function toRadians(deg: number): number {
  return (deg * Math.PI) / 180;
}

export function toDegrees(radians: number): number {
  return (radians * 180) / Math.PI;
}

export function sinDeg(deg: number): number {
  return Math.sin(toRadians(deg));
}

export function cosDeg(deg: number): number {
  return Math.cos(toRadians(deg));
}

/** Angular speed in rad/s of a shaft at `rpm` revolutions per minute. */
export function angularSpeed(rpm: number): number {
  return (rpm * Math.PI) / 30;
}
