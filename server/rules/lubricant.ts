// What a torque comes to on another lubricant than its source reads it with. Shared by the rules that report it; judges nothing else.
import { torquePerNewton } from "../sheet/formulas/fasteners.ts";
import type { EffectiveBuild } from "../model/effective.ts";
import type { FinalTorque } from "../model/tightening.ts";
import { bandOf } from "./band.ts";
import { isSlip, torquePairs } from "./slip.ts";

export interface ChangedLoad {
  readonly wanted: FinalTorque;
  readonly given: FinalTorque;
  /** Clamp loads at the middle of both friction bands, N: as pulled, and as the source means it. */
  readonly load: number;
  readonly meant: number;
  /** The torque that gives the load meant on the lubricant used, N·m. */
  readonly same: number;
}

/** Loads further apart than this, beyond what the source's own band allows. Common practice, no source. */
const SLACK = 0.1;

/** The final torque of a fastener, where its lubricant makes another load of it than its source means. */
export function changedLoad(build: EffectiveBuild, fastener: string): ChangedLoad | undefined {
  const last = torquePairs(build, fastener).findLast(({ given }) => given.value.quantity.kind === "torque");
  if (!last || isSlip(build, last.given.path)) return undefined;
  const { wanted, given } = last;
  const [source, own] = [wanted.value.qualifiers["lubrication"], given.value.qualifiers["lubrication"]];
  if (source === undefined || own === undefined || source === own) return undefined;
  const [onSource, onOwn] = [torquePerNewton(build, fastener, source), torquePerNewton(build, fastener, own)];
  if (onSource === undefined || onOwn === undefined || Math.abs(onSource / onOwn - 1) < 1e-9) return undefined;
  const band = bandOf(wanted.value.quantity);
  const load = given.value.quantity.interval.nominal / onOwn;
  const [least, greatest] = [band.low / onSource, band.high / onSource];
  if (load >= (1 - SLACK) * least && load <= (1 + SLACK) * greatest) return undefined;
  const meant = wanted.value.quantity.interval.nominal / onSource;
  return { wanted, given, load, meant, same: meant * onOwn };
}
