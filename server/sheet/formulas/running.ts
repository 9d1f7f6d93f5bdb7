// The engine that runs: what its last pull made, and how its cylinders stand against each other. Reads records and readings; corrects
// nothing for weather. Knows no physics of its own.
import { crankingSpread } from "../../engineering/cylinder-tests.ts";
import * as power from "../../engineering/power.ts";
import type { MeasuredFact, RecordFact } from "../../model/declaration.ts";
import type { EffectiveBuild } from "../../model/effective.ts";
import { exactly } from "../../quantity/interval.ts";
import { type Formula, type Input, formula, table, value } from "../formula.ts";

interface PullPoint {
  readonly rpm: number;
  readonly torque: number;
}

const RECORDED = "as recorded";

export const RUNNING: readonly Formula[] = [
  formula({
    id: "pull.peak.torque", section: "runs-and-pulls", label: "Greatest torque of the last pull, as read", kind: "torque", unit: "newton-metre",
    words: "Highest torque in the table of the last pull, not corrected for weather; where it was read, at wheels or crank, stands in the pull.",
    expression: "{torque}", source: RECORDED,
    inputs: { torque: ofPull("torque", "torque", (points) => Math.max(...points.map((p) => p.torque))) },
    applies: hasPull,
    compute: ({ torque }) => torque,
  }),
  formula({
    id: "pull.peak.power", section: "runs-and-pulls", label: "Greatest power of the last pull, as read", kind: "power", unit: "kilowatt",
    words: "Highest torque times speed in the table of the last pull, not corrected for weather.",
    expression: "{power}", source: "power is torque times angular speed",
    inputs: { power: ofPull("power", "power", (points) => Math.max(...points.map(power.powerFromTorque))) },
    applies: hasPull,
    compute: ({ power: most }) => most,
  }),
  formula({
    id: "bmep.peak", section: "runs-and-pulls", label: "Mean effective pressure at the greatest torque read", kind: "pressure", unit: "kilopascal",
    words: "Torque for the size of the engine: a figure far above what such engines make points at the figures, not at the engine. Torque read at the wheels makes it too low by what the drive loses.",
    expression: "4π · {torque} / {displacement}", source: "definition of brake mean effective pressure of a four-stroke",
    inputs: { torque: value("pull.peak.torque"), displacement: value("displacement.total") },
    applies: hasPull,
    compute: ({ torque, displacement }) => power.brakeMeanEffectivePressure({ torque, displacement }),
  }),
  formula({
    id: "cranking.spread", section: "runs-and-pulls", label: "Lowest cylinder against the highest, cranking", kind: "fraction",
    words: "Cranking pressure of the lowest cylinder as a share of the highest, in the last test.",
    expression: "{share}", source: "by definition",
    inputs: { share: ofReadings("cranking", "lowest over highest", (pressures) => crankingSpread(pressures)) },
    applies: (build) => (lastMeasured(build, "cranking")?.readings.length ?? 0) > 1,
    compute: ({ share }) => share,
  }),
  formula({
    id: "leak-down.worst", section: "runs-and-pulls", label: "Worst leak-down", kind: "fraction",
    words: "The cylinder that lets most air go, in the last test.",
    expression: "{worst}", source: RECORDED,
    inputs: { worst: ofReadings("leak-down", "most of any cylinder", (shares) => Math.max(...shares)) },
    applies: (build) => lastMeasured(build, "leak-down") !== undefined,
    compute: ({ worst }) => worst,
  }),
];

function lastPull(build: EffectiveBuild): RecordFact | undefined {
  let last: RecordFact | undefined;
  for (const record of build.subject.records) if (record.word === "pull" && (!last || (record.date?.text ?? "") >= (last.date?.text ?? ""))) last = record;
  return last;
}

function hasPull(build: EffectiveBuild): boolean {
  return pullPoints(build).length > 0;
}

/** Rows of the last pull that have both speed and torque; a power column stands for the torque it comes of. */
function pullPoints(build: EffectiveBuild): readonly PullPoint[] {
  const pull = lastPull(build)?.table;
  if (!pull) return [];
  const column = (key: string) => pull.heads.findIndex((head) => head.key?.key === key);
  const [rpmAt, torqueAt, powerAt] = [column("rpm"), column("torque"), column("power")];
  return pull.rows.flatMap(({ cells }): PullPoint[] => {
    const at = (i: number) => cells[i]?.quantity?.interval.nominal;
    const rpm = at(rpmAt);
    if (rpm === undefined || !(rpm > 0)) return [];
    const made = at(powerAt);
    const torque = at(torqueAt) ?? (made === undefined ? undefined : power.torqueFromPower({ power: made, rpm }));
    return torque === undefined ? [] : [{ rpm, torque }];
  });
}

function ofPull(kind: "torque" | "power", words: string, most: (points: readonly PullPoint[]) => number): Input<number> {
  return table(kind, [], (build) => {
    const points = pullPoints(build);
    return points.length > 0 ? { interval: exactly(most(points)), words: `${words} of the last pull`, source: RECORDED } : undefined;
  });
}

/** The last measurement of a thing on the engine as it is now; one taken before the work says nothing of it. */
function lastMeasured(build: EffectiveBuild, what: string): MeasuredFact | undefined {
  let last: MeasuredFact | undefined;
  for (const m of build.measured)
    if (m.what.text === what && m.readings.length > 0 && !m.qualifiers.some((q) => q.text === "before") && (!last || (m.date?.text ?? "") >= (last.date?.text ?? ""))) last = m;
  return last;
}

function ofReadings(what: string, words: string, pick: (figures: readonly number[]) => number): Input<number> {
  return table("fraction", [], (build) => {
    const readings = lastMeasured(build, what)?.readings.map((r) => r.quantity.interval.nominal);
    return readings && readings.length > 0 ? { interval: exactly(pick(readings)), words: `${what}, ${words}`, source: "as measured" } : undefined;
  });
}
