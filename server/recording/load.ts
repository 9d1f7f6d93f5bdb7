// When the engine was steadily loaded, a moment ago as well as now: mixture is shown late. Shifts and the first moment after the throttle
// opens are left out. Keeps a bounded past; knows no limit.

/** How long the engine must have been loaded before mixture is judged: enrichment while the throttle opens is no full load. s; common practice, no source. */
export const SETTLING = 0.3;
/** Speed falling by this share within `SHIFT_TIME` is a shift, or a wheel that grips again. Common practice, no source. */
const SHIFT_FALL = 0.08;
const SHIFT_TIME = 0.3;
const KEPT = 8192;

export interface LoadKeeper {
  /** Notes a row. `gear` is NaN where none is read. */
  note(time: number, loaded: boolean, rpm: number, gear: number): void;
  /** Steadily loaded now. */
  steady(): boolean;
  /** The speed at a time past where the engine was steadily loaded then; NaN where it was not, or where that is not known. */
  speedAt(time: number): number;
  forget(): void;
}

export function keepLoad(): LoadKeeper {
  const times = new Float64Array(KEPT);
  const since = new Float64Array(KEPT);
  const speeds = new Float64Array(KEPT);
  // Rows are numbered from the last time everything was forgotten; their place is the number within the ring.
  let next = 0;
  let lag = -1;
  let fall = 0;
  let loadedSince = NaN;
  let lastGear = NaN;
  return {
    note(time, loaded, rpm, gear) {
      const shifted = gear === gear && lastGear === lastGear && gear !== lastGear;
      if (gear === gear) lastGear = gear;
      while (fall < next && (time - (times[fall % KEPT] as number) > SHIFT_TIME || next - fall >= KEPT)) fall++;
      // A fall shows against the oldest row of the moment.
      const falling = fall < next && rpm < (speeds[fall % KEPT] as number) * (1 - SHIFT_FALL);
      if (!loaded || shifted || falling) loadedSince = NaN;
      else if (loadedSince !== loadedSince) loadedSince = time;
      const i = next % KEPT;
      times[i] = time;
      since[i] = loadedSince;
      speeds[i] = rpm;
      next++;
    },
    steady: () => loadedSince === loadedSince,
    speedAt(time) {
      if (lag < next - KEPT) lag = next - KEPT;
      while (lag + 1 < next && (times[(lag + 1) % KEPT] as number) <= time + 1e-9) lag++;
      if (lag < 0 || (times[lag % KEPT] as number) > time + 1e-9) return NaN;
      const from = since[lag % KEPT] as number;
      return time - from >= SETTLING - 1e-9 ? (speeds[lag % KEPT] as number) : NaN;
    },
    forget() {
      next = 0;
      lag = -1;
      fall = 0;
      loadedSince = NaN;
      lastGear = NaN;
    },
  };
}
