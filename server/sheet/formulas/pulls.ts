// Pulls: what was read, what the standards make of the day's air, and how it stands to what the printout states. Of two standards that
// differ both are given and named. Knows no physics of its own.
import * as air from "../../engineering/air.ts";
import * as power from "../../engineering/power.ts";
import type { EffectiveBuild } from "../../model/effective.ts";
import { type Interval, exactly, mapInterval } from "../../quantity/interval.ts";
import type { KindId } from "../../quantity/kinds.ts";
import { UNITS } from "../../quantity/units.ts";
import { type Ask, type Formula, type Input, type LookedUp, figure, formula, optional, slotHas, table, value, where } from "../formula.ts";
import { type Pull, lastPull, pullNamed, pullsOf } from "../pull.ts";
import { blown, heightOf } from "./air-inputs.ts";

const RECORDED = "as recorded";

/** The corrections by the word that a pull states them with. */
const STANDARDS = [
  { id: "sae-j1349", name: "SAE J1349" },
  { id: "iso-1585", name: "ISO 1585" },
  { id: "din-70020", name: "DIN 70020" },
  { id: "sae-j607", name: "SAE J607" },
] as const;
type Standard = (typeof STANDARDS)[number];

const has = (build: EffectiveBuild, each: string): boolean => pullNamed(build, each) !== undefined;
/** One pull alone is the last one already. */
const several = (build: EffectiveBuild): boolean => pullsOf(build).length > 1;
const hasWeather = (build: EffectiveBuild, each: string): boolean => {
  const pull = pullNamed(build, each);
  return pull !== undefined && ["temperature", "barometer", "humidity"].some((key) => pull.weather(key) !== undefined);
};

export const PULLS: readonly Formula[] = [
  ...peaks(""),
  formula({
    id: "pull.peak.horsepower", section: "runs-and-pulls", label: "Greatest power of the last pull, in hp (550 ft·lbf/s)", kind: "number",
    words: "Two horsepowers are about: this one, the hp of inch countries, is 1.4 % more than the PS; a figure in one read as the other gains or loses that.",
    expression: "{power} / 745.7 W", source: "NIST SP 811",
    inputs: { power: value("pull.peak.power") }, applies: has,
    compute: ({ power: watts }) => watts / UNITS.horsepower.factor,
  }),
  formula({
    id: "pull.peak.metric-horsepower", section: "runs-and-pulls", label: "Greatest power of the last pull, in PS (75 kgf·m/s)", kind: "number",
    words: "The metric horsepower of printouts on the Continent and in Japan.",
    expression: "{power} / 735.5 W", source: "NIST SP 811",
    inputs: { power: value("pull.peak.power") }, applies: has,
    compute: ({ power: watts }) => watts / UNITS["metric-horsepower"].factor,
  }),
  formula({
    id: "pull.power.{each}", each: "pull-speed", section: "runs-and-pulls", label: "Power of the last pull {each} rpm", kind: "power", unit: "kilowatt", quiet: true,
    words: "Torque times speed of one row of the last pull, as read.",
    expression: "{torque} · {speed} · 2π / 60", source: "power is torque times angular speed",
    inputs: { torque: ofRow("torque", "torque", (row) => row.torque), speed: ofRow("rotation", "speed", (row) => row.rpm) },
    compute: ({ torque, speed }) => power.powerFromTorque({ torque, rpm: speed }),
  }),
  formula({
    id: "pull.disagreement", section: "runs-and-pulls", label: "Power of the table against the power stated", kind: "fraction", unit: "percent",
    words: "Greatest torque times speed of the last pull over the power its printout states, less one. A table in wide steps may miss the very top; it cannot lie above it.",
    expression: "{computed} / {stated} − 1", source: "by definition",
    inputs: { computed: value("pull.peak.power"), stated: ofPull("power", "power stated", (pull) => pull.quantity("stated-power")?.quantity.interval) },
    applies: (build) => comparable(lastPull(build)),
    compute: ({ computed, stated }) => (stated > 0 ? computed / stated - 1 : undefined),
  }),
  formula({
    id: "pull.at-crank.power", section: "runs-and-pulls", label: "Greatest power of the last pull, brought to the crank", kind: "power", unit: "kilowatt", estimate: "a share for the loss is a guess unless it was measured: part of the loss is fixed, part grows with power",
    words: "Power at the wheels over what is left of one after the drive's share. Multiplying by one and the share is another, wrong, sum.",
    expression: "{power} / (1 − {loss})", source: "by definition of the loss",
    inputs: { power: value("pull.peak.power"), loss: figure("vehicle.drivetrain-loss") },
    applies: (build) => lastPull(build)?.takenAt === "wheels" && slotHas(build, "vehicle.drivetrain-loss"),
    compute: ({ power: wheelPower, loss }) => power.crankPowerFromWheels({ wheelPower, loss }),
  }),
  formula({
    id: "bmep.peak", section: "runs-and-pulls", label: "Mean effective pressure at the greatest torque read", kind: "pressure", unit: "kilopascal",
    words: "Torque for the size of the engine: a figure far above what such engines make points at the figures, not at the engine. Torque read at the wheels makes it too low by what the drive loses.",
    expression: "4π · {torque} / {displacement}", source: "definition of brake mean effective pressure of a four-stroke",
    inputs: { torque: value("pull.peak.torque"), displacement: value("displacement.total") },
    applies: has,
    compute: ({ torque, displacement }) => power.brakeMeanEffectivePressure({ torque, displacement }),
  }),
  ...corrections(""),
  ...peaks("{each}."),
  ...corrections("{each}."),
];

/** Peaks of the last pull, or of each where there are several. */
function peaks(at: "" | "{each}."): readonly Formula[] {
  const each = at === "" ? {} : { each: "pull" as const };
  const whose = at === "" ? "the last pull" : "the pull {each}";
  const applies = at === "" ? has : several;
  return [
    formula({
      id: `pull.${at}peak.torque`, ...each, section: "runs-and-pulls", label: `Greatest torque of ${whose}, as read`, kind: "torque", unit: "newton-metre",
      words: "Highest torque in the table of the pull; where it was read, at wheels or crank, and what was corrected already stands in the pull.",
      expression: "{torque}", source: RECORDED,
      inputs: { torque: ofPull("torque", "torque", (pull) => greatest(pull, (row) => row.torque)) }, applies,
      compute: ({ torque }) => torque,
    }),
    formula({
      id: `pull.${at}peak.power`, ...each, section: "runs-and-pulls", label: `Greatest power of ${whose}, as read`, kind: "power", unit: "kilowatt",
      words: "Highest torque times speed in the table of the pull, as read.",
      expression: "{power}", source: "power is torque times angular speed",
      inputs: { power: ofPull("power", "power", (pull) => greatest(pull, (row) => row.torque && power.powerFromTorque({ torque: row.torque, rpm: row.rpm }))) }, applies,
      compute: ({ power: most }) => most,
    }),
  ];
}

/** The day's air, and the peaks as each standard would have them. */
function corrections(at: "" | "{each}."): readonly Formula[] {
  const each = at === "" ? {} : { each: "pull" as const };
  const whose = at === "" ? "the last pull" : "the pull {each}";
  const applies = (build: EffectiveBuild, name: string): boolean => (at === "" || several(build)) && hasWeather(build, name);
  return [
    formula({
      id: `pull.${at}dry-pressure`, ...each, section: "runs-and-pulls", label: `Dry part of the barometer, ${whose}`, kind: "pressure", unit: "kilopascal", quiet: true,
      words: "What the barometer reads less the share of water vapour, which burns nothing.",
      expression: "{barometer} − {humidity} · saturation at {temperature}", source: "Magnus form for water vapour",
      inputs: { barometer: stationPressure(), humidity: humidity(), temperature: ofWeather("temperature", "temperature", "temperature") }, applies,
      compute: ({ barometer, humidity: damp, temperature }) => air.dryPressure({ pressure: barometer, humidity: damp, temperature }),
    }),
    formula({
      id: `pull.${at}factor-already-in`, ...each, section: "runs-and-pulls", label: `Correction already in the figures of ${whose}`, kind: "ratio", quiet: true,
      words: "One where the figures are as read; else the factor of the standard that the sheet names, which is taken out before another is put in.",
      expression: "by {dry}, {barometer}, {temperature} of the day, {none} where nothing was corrected", source: "SAE J1349, ISO 1585, DIN 70020, SAE J607",
      inputs: {
        none: table("ratio", [], (build, name): LookedUp | undefined => (pullNamed(build, name)?.correction === undefined ? undefined : { interval: exactly(1), words: "correction stated", source: RECORDED }), asking("correction", "`correction` of the pull")),
        dry: where(value(`pull.${at}dry-pressure`), corrected), barometer: where(stationPressure(), corrected), temperature: where(ofWeather("temperature", "temperature", "temperature"), corrected),
        ...Object.fromEntries(STANDARDS.map(({ id }) => [id, where(table("count", [], () => ({ interval: exactly(1), words: `corrected by ${id}`, source: RECORDED })), (build: EffectiveBuild, name: string) => pullNamed(build, name)?.correction === id)])),
      },
      applies,
      compute: (inputs) => {
        const { dry, barometer, temperature } = inputs;
        const standard = STANDARDS.find(({ id }) => (inputs as Readonly<Record<string, unknown>>)[id] !== undefined);
        if (!standard) return 1;
        return dry === undefined || barometer === undefined || temperature === undefined ? undefined : factorOf(standard, dry, barometer, temperature, undefined);
      },
    }),
    ...STANDARDS.flatMap((standard): Formula[] => {
      const factorId = `pull.${at}factor.${standard.id}`;
      const quiet = { quiet: at !== "" || standard.id === "din-70020" || standard.id === "sae-j607" };
      const estimate = `it holds for full load and natural breathing, and the standards vouch for factors from 0.93 to 1.07 only`;
      const unblow = { unblown: optional(boostWarning()) };
      return [
        formula({
          id: factorId, ...each, section: "runs-and-pulls", label: `Factor of ${standard.name} for the air of ${whose}`, kind: "ratio", quiet: true,
          words: "What full-load figures read in this air are multiplied by; the standards vouch for factors from 0.93 to 1.07 only.",
          expression: "by {dry}, {barometer} and {temperature} of the day, {efficiency} where stated", source: standard.name,
          inputs: {
            dry: value(`pull.${at}dry-pressure`), barometer: stationPressure(), temperature: ofWeather("temperature", "temperature", "temperature"),
            efficiency: optional(ofPull("fraction", "mechanical efficiency", (pull) => pull.quantity("mechanical-efficiency")?.quantity.interval)),
          },
          applies,
          compute: ({ dry, barometer, temperature, efficiency }) => factorOf(standard, dry, barometer, temperature, efficiency),
        }),
        formula({
          id: `pull.${at}corrected.${standard.id}.power`, ...each, section: "runs-and-pulls", label: `Greatest power of ${whose}, by ${standard.name}`, kind: "power", unit: "kilowatt", ...quiet, estimate,
          words: "Power as this standard's air would have had it. Standards differ by as much as 5 % on one pull: compare figures of one standard only.",
          expression: "{power} / {already} · {factor}", source: standard.name,
          inputs: { power: value(`pull.${at}peak.power`), already: value(`pull.${at}factor-already-in`), factor: value(factorId), ...unblow }, applies,
          compute: ({ power: observed, already, factor }) => air.correctedFigure({ observed: observed / already, factor }),
        }),
        formula({
          id: `pull.${at}corrected.${standard.id}.torque`, ...each, section: "runs-and-pulls", label: `Greatest torque of ${whose}, by ${standard.name}`, kind: "torque", unit: "newton-metre", ...quiet, estimate,
          words: "Torque as this standard's air would have had it.",
          expression: "{torque} / {already} · {factor}", source: standard.name,
          inputs: { torque: value(`pull.${at}peak.torque`), already: value(`pull.${at}factor-already-in`), factor: value(factorId), ...unblow }, applies,
          compute: ({ torque: observed, already, factor }) => air.correctedFigure({ observed: observed / already, factor }),
        }),
      ];
    }),
  ];
}

function factorOf({ name }: Standard, dryPressure: number, pressure: number, temperature: number, mechanicalEfficiency: number | undefined): number {
  switch (name) {
    case "SAE J1349": return air.saeJ1349Factor({ dryPressure, temperature, ...(mechanicalEfficiency !== undefined && { mechanicalEfficiency }) });
    case "ISO 1585": return air.iso1585Factor({ dryPressure, temperature });
    case "DIN 70020": return air.din70020Factor({ pressure, temperature });
    case "SAE J607": return air.saeJ607Factor({ dryPressure, temperature });
  }
}

/** True where the figures carry a standard's correction already. */
function corrected(build: EffectiveBuild, name: string): boolean {
  const correction = pullNamed(build, name)?.correction;
  return correction !== undefined && correction !== "none";
}

/** True where the printout's power was taken where the table's was. */
export function comparable(pull: Pull | undefined): boolean {
  const stated = pull?.quantity("stated-power");
  if (!pull || !stated) return false;
  const where = stated.qualifiers["power-at"];
  return pull.takenAt === undefined || where === undefined || where === "unstated" || where.endsWith(pull.takenAt);
}

function greatest(pull: Pull, of: (row: Pull["rows"][number]) => number | undefined): Interval | undefined {
  const read = pull.rows.map(of).filter((x) => x !== undefined && Number.isFinite(x)) as number[];
  return read.length > 0 ? exactly(Math.max(...read)) : undefined;
}

function ofPull(kind: KindId, words: string, look: (pull: Pull) => Interval | undefined, ask?: Ask): Input<number> {
  return table(kind, [], (build, name): LookedUp | undefined => {
    const pull = pullNamed(build, name);
    const interval = pull && look(pull);
    return interval && { interval, words: `${words} of ${pull.words}`, source: RECORDED };
  }, ask);
}

function ofRow(kind: KindId, words: string, look: (row: Pull["rows"][number]) => number | undefined): Input<number> {
  return table(kind, [], (build, name): LookedUp | undefined => {
    const row = lastPull(build)?.rows.find((one) => one.name === name);
    const x = row && look(row);
    return x === undefined ? undefined : { interval: exactly(x), words, source: RECORDED };
  });
}

function asking(key: string, words: string): Ask {
  return () => [{ path: `pull.${key}`, words }];
}

function ofWeather(key: string, kind: KindId, words: string): Input<number> {
  return ofPull(kind, words, (pull) => pull.weather(key)?.quantity.interval, asking(`weather.${key}`, `\`${key}\` in the pull's \`weather\``));
}

/** Humidity of the day; where it was not read, the whole of what it can be. */
function humidity(): Input<number> {
  return table("fraction", [], (build, name): LookedUp => {
    const pull = pullNamed(build, name);
    const read = pull?.weather("humidity")?.quantity.interval;
    if (pull && read) return { interval: read, words: `humidity of ${pull.words}`, source: RECORDED };
    return { interval: { low: 0, nominal: 0.5, high: 1 }, words: "humidity", source: "by definition", assumption: "the day's humidity is not stated: anything from dry to dripping is reckoned with" };
  });
}

/** The day's barometer at the place: as read there, or a sea-level reading taken up to the height. */
function stationPressure(): Input<number> {
  return table("pressure", [], (build, name): LookedUp | undefined => {
    const pull = pullNamed(build, name);
    const read = pull?.weather("barometer");
    if (!pull || !read) return undefined;
    if (read.qualifiers["barometer-at"] !== "sea-level") return { interval: read.quantity.interval, words: `barometer of ${pull.words}`, source: RECORDED };
    const altitude = pull.weather("altitude")?.quantity.interval.nominal ?? heightOf(build)?.nominal;
    if (altitude === undefined) return undefined;
    const share = air.standardPressure({ altitude }) / air.standardPressure({ altitude: 0 });
    return { interval: mapInterval(read.quantity.interval, (p) => p * share), words: `barometer of ${pull.words}`, source: "sea-level reading taken up to the height by ISO 2533" };
  }, (build, name) => {
    const pull = pullNamed(build, name);
    const key = pull?.weather("barometer") ? "altitude" : "barometer";
    return [{ path: `pull.weather.${key}`, words: `\`${key}\` in the pull's \`weather\`` }];
  });
}

/** Adds the sentence beside a corrected figure of a blown engine. */
function boostWarning(): Input<number> {
  return table("count", [], (build): LookedUp | undefined =>
    blown(build) ? { interval: exactly(1), words: "boost", source: "scope of the standards", assumption: "the engine is blown: where boost is held to a figure, these factors correct too much" } : undefined);
}
