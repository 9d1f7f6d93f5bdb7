// Times through which a limit was passed, gathered reading by reading: only those that last count. Knows no limit's meaning.
import type { Stretch, Stretches } from "./summary.ts";

export interface StretchKeeper {
  /** A reading: how far it is past its limit (not past: zero or less), the two, when and at what speed. */
  at(time: number, past: number, value: number, limit: number, rpm: number): void;
  /** Nothing is known between the last reading and the next. */
  stop(): void;
  /** After the last `stop`. */
  all(): Stretches | "none";
}

/** @param dwell shorter ones are left out, s. One reading alone has no length and is never counted. */
export function keepStretches(dwell: number): StretchKeeper {
  let from = NaN;
  let last = NaN;
  let furthest = 0;
  let worst = 0;
  let limitThere = 0;
  let at = 0;
  let rpmThere = NaN;
  let count = 0;
  let total = 0;
  let longest: Stretch | undefined;
  let most: Stretch | undefined;
  let mostPast = 0;
  const stop = () => {
    // 0.1 + 0.2 is a little more than 0.3 to a machine.
    if (from === from && last > from && last - from >= dwell - 1e-6) {
      const stretch: Stretch = { from, duration: last - from, worst, limit: limitThere, at, ...(rpmThere === rpmThere && { rpm: rpmThere }) };
      count++;
      total += stretch.duration;
      if (!longest || stretch.duration > longest.duration) longest = stretch;
      if (!most || furthest > mostPast) {
        most = stretch;
        mostPast = furthest;
      }
    }
    from = NaN;
  };
  return {
    stop,
    at(time, past, value, limit, rpm) {
      if (!(past > 0)) {
        if (from === from) stop();
        return;
      }
      if (from !== from) {
        from = time;
        furthest = 0;
      }
      last = time;
      if (past > furthest) {
        furthest = past;
        worst = value;
        limitThere = limit;
        at = time;
        rpmThere = rpm;
      }
    },
    all: () => (longest && most ? { count, total, longest, worst: most } : "none"),
  };
}
