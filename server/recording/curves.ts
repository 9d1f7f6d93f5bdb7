// Readings gathered by speed in a fixed number of steps. Knows no reading's meaning.
import { type Bin, type Curve, STEPS, STEP_RPM } from "./summary.ts";

export interface CurveKeeper {
  add(rpm: number, value: number): void;
  curve(): Curve | undefined;
}

export function keepCurve(): CurveKeeper {
  const counts = new Float64Array(STEPS);
  const sums = new Float64Array(STEPS);
  const least = new Float64Array(STEPS);
  const greatest = new Float64Array(STEPS);
  let any = false;
  return {
    add(rpm, value) {
      const i = Math.floor(rpm / STEP_RPM);
      if (!(i >= 0 && i < STEPS)) return;
      any = true;
      if (counts[i] === 0 || value < (least[i] as number)) least[i] = value;
      if (counts[i] === 0 || value > (greatest[i] as number)) greatest[i] = value;
      counts[i] = (counts[i] as number) + 1;
      sums[i] = (sums[i] as number) + value;
    },
    curve: () => (any ? Array.from(counts, (count, i): Bin | undefined => (count === 0 ? undefined : { count, mean: (sums[i] as number) / count, least: least[i] as number, greatest: greatest[i] as number })) : undefined),
  };
}
