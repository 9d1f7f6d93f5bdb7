// Pulls recognised in a recording: loaded without a break while the speed rises a long way. Keeps the widest few. Knows no limit.
import { keepCurve, type CurveKeeper } from "./curves.ts";
import { MOST_PULLS, type Curve, type Moment, type RecordedPull, STEPS, STEP_RPM } from "./summary.ts";

/** Least rise of speed and least time of a pull: less is a burst on the road. Common practice, no source. */
const LEAST_RISE = 1500;
const LEAST_TIME = 1;
/** Speed may fall back by this share of the highest so far: tyres, jitter. */
const FALL_BACK = 0.03;
/** While the speed has not risen by this share the pull has not begun. */
const NOT_YET = 0.02;

export interface PullKeeper {
  /** A row: NaN where a reading is missing. `readings` in the order of `keys`. */
  at(time: number, loaded: boolean, rpm: number, readings: Float64Array): void;
  stop(): void;
  all(): { readonly pulls: readonly RecordedPull[]; readonly count: number };
}

export function keepPulls(keys: readonly string[]): PullKeeper {
  const kept: RecordedPull[] = [];
  let count = 0;
  let from = NaN;
  let fromRpm = 0;
  let topTime = 0;
  let topRpm = 0;
  let curves: CurveKeeper[] = [];
  let greatest: (Moment | undefined)[] = [];
  let passed: (number | undefined)[] = [];
  let before = NaN;
  let beforeTime = NaN;
  const begin = (time: number, rpm: number) => {
    from = time;
    fromRpm = rpm;
    topTime = time;
    topRpm = rpm;
    curves = keys.map(() => keepCurve());
    greatest = keys.map(() => undefined);
    passed = [];
    before = NaN;
  };
  const stop = () => {
    if (from === from && topRpm - fromRpm >= LEAST_RISE && topTime - from >= LEAST_TIME) {
      count++;
      const peaks: Record<string, Moment> = {};
      const drawn: Record<string, Curve> = {};
      keys.forEach((key, i) => {
        const curve = curves[i]?.curve();
        const peak = greatest[i];
        if (curve && peak) {
          drawn[key] = curve;
          peaks[key] = peak;
        }
      });
      kept.push({ from, duration: topTime - from, fromRpm, toRpm: topRpm, peaks, curves: drawn, passed: Array.from({ length: STEPS }, (_, i) => passed[i]) });
      if (kept.length > MOST_PULLS) {
        const width = (p: RecordedPull) => p.toRpm - p.fromRpm;
        const narrowest = kept.reduce((a, b) => (width(b) < width(a) ? b : a));
        kept.splice(kept.indexOf(narrowest), 1);
      }
    }
    from = NaN;
  };
  return {
    stop,
    at(time, loaded, rpm, readings) {
      if (!loaded || !(rpm > 0)) {
        if (from === from) stop();
        return;
      }
      if (from !== from) begin(time, rpm);
      else if (rpm < topRpm * (1 - FALL_BACK)) {
        stop();
        begin(time, rpm);
      } else if (topRpm <= fromRpm * (1 + NOT_YET) && rpm <= fromRpm * (1 + NOT_YET) && time - from > 0.5) begin(time, rpm);
      // Where a whole step was passed between two rows, along a straight line.
      if (before === before && rpm > before)
        for (let i = Math.floor(before / STEP_RPM) + 1; i * STEP_RPM <= rpm && i < STEPS; i++) passed[i] ??= beforeTime + ((time - beforeTime) * (i * STEP_RPM - before)) / (rpm - before) - from;
      before = rpm;
      beforeTime = time;
      if (rpm > topRpm) {
        topRpm = rpm;
        topTime = time;
      }
      for (let i = 0; i < keys.length; i++) {
        const value = readings[i] as number;
        if (value !== value) continue;
        curves[i]?.add(rpm, value);
        if (!greatest[i] || value > (greatest[i] as Moment).value) greatest[i] = { value, time, rpm };
      }
    },
    all: () => ({ pulls: kept, count }),
  };
}
