// What a build keeps of its life: plan and steps, runs, pulls, recordings, tunes. Knows their keys, not what they prove.
import { choice, date, figure, figures, plainKey, REMARK, SOURCE, text, yesNo } from "./row.ts";
import { PER_DISPLACEMENT, bars, celsius, degrees, kilometres, kilopascals, millimetres, minutes, newtonMetres, percent, plain, rpm, seconds, shareOf } from "./spans.ts";
import { AIR } from "./engine/running.ts";
import type { BlockSchema, KeySchema } from "./types.ts";

const BY = text("by", '"M. A."', "Who did it.", { importance: "useful" });
const DATE = date("date", "The day, where the head does not say it.", { importance: "rare" });
const { base: _landing, ...weatherBlock } = AIR;
/** A day's weather is a record: it never joins the overlay, so it has no landing. */
const WEATHER: BlockSchema = { ...weatherBlock, id: "weather", words: "The air on the day, for correcting power." };

/** Readings of a running engine; columns of runs, pulls and recordings are drawn from these. */
const READINGS = {
  time: figure("time", "time", "5 min", "Time since the start.", { usual: seconds(0, 1e6) }),
  rpm: figure("rpm", "rotation", "3000 rpm", "Engine speed.", { usual: rpm(0, 20000), required: true }),
  torque: figure("torque", "torque", "140 N·m", "Torque as read.", { usual: newtonMetres(-500, 3000), importance: "essential" }),
  power: figure("power", "power", "92 hp", "Power as read.", { usual: plain(-1e5, 2e6), importance: "useful" }),
  afr: figure("afr", "mixture", "12.8 afr", "Mixture as an air-fuel ratio.", { usual: plain(5, 30), importance: "useful" }),
  lambda: figure("lambda", "mixture", "0.87 lambda", "Mixture as lambda.", { usual: plain(0.5, 2), importance: "useful" }),
  boost: figure("boost", "pressure", "55 kPa", "Boost as the gauge reads.", { usual: kilopascals(-100, 500), importance: "useful" }),
  manifold: figure("manifold", "pressure", "155 kPa", "Absolute pressure in the manifold.", { usual: kilopascals(5, 600) }),
  throttle: figure("throttle", "fraction", "100 %", "How far the throttle is open.", { usual: percent(-2, 102) }),
  advance: figure("advance", "angle", "30 deg", "Spark advance before top dead centre.", { usual: degrees(-30, 70) }),
  "oil-pressure": figure("oil-pressure", "pressure", "3.5 bar", "Oil pressure as the gauge reads.", { usual: bars(0, 15) }),
  "oil-temperature": figure("oil-temperature", "temperature", "95 °C", "Oil temperature.", { usual: celsius(-30, 200) }),
  coolant: figure("coolant", "temperature", "88 °C", "Coolant temperature.", { usual: celsius(-30, 150) }),
  inlet: figure("inlet", "temperature", "35 °C", "Temperature of the charge.", { usual: celsius(-40, 250) }),
  exhaust: figure("exhaust", "temperature", "780 °C", "Exhaust temperature.", { usual: celsius(0, 1200) }),
  "fuel-pressure": figure("fuel-pressure", "pressure", "3.0 bar", "Fuel pressure as the gauge reads.", { usual: bars(0, 400) }),
  "injector-time": figure("injector-time", "time", "9.5 ms", "How long an injector is held open each time.", { usual: seconds(0, 0.1) }),
  duty: figure("duty", "fraction", "62 %", "Share of its time that an injector is open.", { usual: percent(0, 110) }),
  knock: figure("knock", "count", "0", "Knock events counted.", { usual: plain(0, 10000) }),
  speed: figure("speed", "road-speed", "95 km/h", "Road speed.", { usual: plain(0, 120) }),
  gear: figure("gear", "count", "3", "Gear engaged.", { usual: plain(0, 10) }),
} as const satisfies Record<string, KeySchema>;

/** What proves a figure, and what silences a finding about it. */
const EVIDENCE = ["note", "photo", "document", "waive"] as const;

function optional({ required: _, ...row }: KeySchema): KeySchema {
  return row;
}

const AFR_SCALE = choice("afr-scale", { petrol: "The gauge prints petrol air-fuel ratios whatever the fuel.", fuel: "True air-fuel ratios of the fuel burnt." }, "petrol", "Which scale mixture figures in afr are on.", { importance: "useful" });
const AFTER = plainKey("after", "names", "shaft-in, seal-in", "Steps that must be done before this one.");

export const STEP: BlockSchema = {
  id: "step",
  words: "One step of the work: what comes before it, what it disturbs, what is checked in it.",
  keys: [
    text("do", '"caps down evenly, a turn at a time"', "What is done.", { importance: "useful" }),
    AFTER,
    plainKey("before", "names", "first-start", "Steps that must wait for this one."),
    plainKey("measure", "names", "lash", "Measurements to take in this step.", { importance: "useful" }),
    plainKey("disturbs", "names", "lash, centreline", "Measurements that no longer hold after this step.", { importance: "useful" }),
    plainKey("tighten", "names", "head-bolt", "Fasteners tightened in this step.", { importance: "useful" }),
    plainKey("fit", "names", "ridgeway-272", "Fitted parts that go in with this step."),
    text("set", '"gear three marks late"', "What is set in this step, and to what."),
    text("check", '"marks in line"', "What is looked at before going on."),
    text("lubricant", '"the paste in the box"', "What lobes, journals or threads get."),
    text("sealant", '"a thin line at the two corners"', "What seals, and where."),
    text("thread-lock", '"medium, two drops"', "What keeps a thread from turning."),
    text("tool", '"gear holder, big wrench"', "What it needs that does not lie at hand.", { importance: "rare" }),
    date("due", "The day by which it is to be done: past it the step is told to be due.", { importance: "rare" }),
    figure("hold-time", "time", "12 h", "How long to wait before the next step: sealant, cooling.", { usual: minutes(0, 10080), importance: "rare" }),
    date("done", "The day it was done.", { importance: "useful" }),
    BY,
    REMARK,
  ],
  statements: EVIDENCE,
};

export const PLAN: BlockSchema = {
  id: "plan",
  words: "The order of work: what must be done and checked before what.",
  keys: [
    choice("job", { "camshaft-change": "The usual order for changing a camshaft.", "head-off": "Head off and on again.", "full-build": "From bare block to first start." }, "camshaft-change", "A usual order to start from; steps written here are added to it or replace their namesakes.", { importance: "useful" }),
    REMARK,
  ],
  statements: ["step", "done", ...EVIDENCE],
};

export const RUN: BlockSchema = {
  id: "run",
  words: "Time the engine ran: first start, running-in, shakedown, road.",
  keys: [
    DATE,
    BY,
    figures("speed", "rotation", "1800 .. 2400 rpm for 20 min", "Engine speeds held, and for how long, in order.", { usual: rpm(300, 20000), importance: "essential" }),
    figure("time", "time", "20 min", "How long it ran.", { usual: seconds(1, 1e6), importance: "essential" }),
    figure("distance", "distance", "300 km", "How far it was driven.", { usual: kilometres(0, 1e6), importance: "useful" }),
    figure("load", "fraction", "50 %", "Greatest load used: 100 % is full throttle.", { usual: percent(0, 100), importance: "useful" }),
    figure("max-rpm", "rotation", "3500 rpm", "Highest speed reached.", { usual: rpm(300, 20000), usualPer: [shareOf("redline", "the redline", 0.12, 1.5)], importance: "useful" }),
    figure("max-boost", "pressure", "0.3 bar gauge", "Highest boost reached.", { qualifiers: ["pressure-reference"], usual: bars(-1, 5), usualPer: [shareOf("boost.target", "the boost", 0, 3)] }),
    figure("hours", "time", "12.5 h", "Hours on the engine at the end of the run.", { usual: seconds(0, 1e8), importance: "rare" }),
    figure("odometer", "distance", "48200 km", "Distance shown at the end of the run.", { usual: kilometres(0, 3e6), importance: "useful" }),
    optional({ ...READINGS["oil-pressure"], words: "Lowest hot oil pressure seen." }),
    READINGS["oil-temperature"],
    READINGS.coolant,
    text("oil", "20W-50", "Oil it ran on.", { importance: "rare" }),
    yesNo("oil-changed", "Whether oil and filter were changed after this run.", { importance: "useful" }),
    yesNo("filter-cut", "Whether the filter was cut open and looked at.", { importance: "useful" }),
    yesNo("lash-rechecked", "Whether the lash was checked again after this run; write the readings as `measured lash` too.", { importance: "useful" }),
    yesNo("heat-cycle", "Whether the engine was warmed right through and left to go cold.", { importance: "rare" }),
    REMARK,
  ],
  blocks: { weather: WEATHER },
  table: {
    words: "What the gauges said as the run went on.",
    form: "columns",
    columns: [READINGS.time, optional(READINGS.rpm), READINGS["oil-pressure"], READINGS["oil-temperature"], READINGS.coolant, READINGS.afr, READINGS.lambda, READINGS.boost, READINGS.throttle, READINGS.exhaust],
    example: "| time (min) | rpm | oil-pressure (bar) | coolant (°C) |",
  },
  statements: EVIDENCE,
};

/** How a pull's figures were corrected for weather. */
export const CORRECTIONS = {
  none: "As read, no correction.",
  "sae-j1349": "SAE J1349.",
  "iso-1585": "ISO 1585.",
  "din-70020": "DIN 70020.",
  "sae-j607": "SAE J607, as many rollers print by default.",
  unstated: "The sheet does not say.",
} as const;

export const PULL: BlockSchema = {
  id: "pull",
  words: "One full-load run on rollers or an engine brake, speed by speed.",
  keys: [
    choice("at", { wheels: "Read at the driven wheels.", crank: "Read at the crankshaft." }, "wheels", "Where torque and power are read.", { importance: "essential" }),
    choice("correction", CORRECTIONS, "none", "Weather correction already in the figures.", { importance: "essential" }),
    DATE,
    BY,
    SOURCE,
    text("place", '"rollers at Combe Lane"', "Where it was done.", { importance: "rare" }),
    figure("gear", "count", "4", "Gear it was done in.", { usual: plain(1, 10), importance: "rare" }),
    figure("stated-power", "power", "92 hp at wheels", "Peak power as the printout states it.", { qualifiers: ["power-at"], usual: plain(500, 2e6), usualPer: PER_DISPLACEMENT, importance: "useful" }),
    figure("stated-torque", "torque", "118 N·m", "Peak torque as the printout states it.", { usual: newtonMetres(2, 3000), importance: "useful" }),
    text("tune", '"tunes/wren-2a.bin"', "The tune that was in.", { importance: "rare" }),
    choice("fuel", { petrol: "Pump petrol.", e85: "Ethanol with petrol.", methanol: "Methanol.", race: "Racing petrol." }, "petrol", "Fuel in the tank, where it differs from the build's.", { importance: "rare" }),
    AFR_SCALE,
    figure("mechanical-efficiency", "fraction", "85 %", "Share of the work in the cylinders that reaches the crank, for corrections that ask.", { usual: percent(50, 98), importance: "rare" }),
    REMARK,
  ],
  blocks: { weather: WEATHER },
  table: {
    words: "Speed and torque, with what else was read.",
    form: "columns",
    columns: [READINGS.rpm, READINGS.torque, READINGS.power, READINGS.afr, READINGS.lambda, READINGS.boost, READINGS.manifold, READINGS.advance, READINGS.duty, READINGS.inlet, READINGS.exhaust, READINGS.knock, READINGS["oil-pressure"], READINGS["oil-temperature"], READINGS.coolant, READINGS["fuel-pressure"]],
    example: "| rpm | torque (N·m) | afr | boost (kPa) |",
  },
  statements: EVIDENCE,
};

/** The readings that a recording may hold a column of, by the key that names its heading. */
export const RECORDED: Readonly<Record<string, KeySchema>> = READINGS;

/** Headings as recorders write them, for examples. */
const HEADINGS: Readonly<Record<string, string>> = {
  time: "Time (s)", rpm: "Engine Speed", torque: "Torque (N·m)", power: "Power (kW)", afr: "Wideband", lambda: "Lambda", boost: "Boost (kPa)", manifold: "Manifold (kPa)", throttle: "Throttle (%)", advance: "Spark",
  "oil-pressure": "Oil Press (bar)", "oil-temperature": "Oil Temp (°C)", coolant: "Coolant (°C)", inlet: "Charge (°C)", exhaust: "Exhaust (°C)", "fuel-pressure": "Fuel Press (bar)", "injector-time": "PW (ms)",
  duty: "Duty (%)", knock: "Knock Count", speed: "Speed (km/h)", gear: "Gear",
};

/** For a recording each reading's key names the column of the CSV file that holds it. */
export const LOG: BlockSchema = {
  id: "log",
  words: "A recording in a CSV file beside this one, and which of its columns is what.",
  keys: [
    DATE,
    BY,
    ...Object.values(READINGS).map((row) => text(row.key, `"${HEADINGS[row.key] ?? row.key}"`, `Heading of the column that holds: ${row.words[0]?.toLowerCase() ?? ""}${row.words.slice(1)} Its unit goes in brackets after it where the file does not say it.`, { importance: ["time", "rpm", "afr", "throttle", "manifold", "oil-pressure"].includes(row.key) ? "essential" : "useful" })),
    choice("delimiter", { comma: "Commas part the cells.", semicolon: "Semicolons part the cells.", tab: "Tabs part the cells.", bar: "Upright bars part the cells." }, "semicolon", "What parts the cells, where it cannot be told from the file.", { importance: "rare" }),
    choice("decimal", { point: "Decimals follow a point: 12.5.", comma: "Decimals follow a comma: 12,5." }, "comma", "The mark before decimals, where it cannot be told from the file.", { importance: "rare" }),
    choice("at", { wheels: "Read at the driven wheels.", crank: "Read at the crankshaft." }, "wheels", "Where torque and power are read, in a recording of rollers or an engine brake.", { importance: "rare" }),
    choice("correction", CORRECTIONS, "none", "Weather correction already in torque and power.", { importance: "rare" }),
    AFR_SCALE,
    figure("sensor-delay", "time", "200 ms", "How long after the cylinder fired the mixture gauge shows it; 200 ms where nothing is said.", { usual: seconds(0, 3) }),
    figure("load-gate", "fraction", "80 %", "Throttle from which mixture is judged, or manifold pressure as a share of the barometer where no throttle was recorded; 80 % where nothing is said.", { usual: percent(20, 100) }),
    figure("dwell", "time", "300 ms", "How long a reading must last before it counts; 300 ms where nothing is said.", { usual: seconds(0.02, 5) }),
    plainKey("print", "fingerprint", "#3f9c21d07a4e", "Fingerprint of the file, written by the tool.", { importance: "rare" }),
    REMARK,
  ],
  blocks: { weather: WEATHER },
  statements: EVIDENCE,
};

const MAP_ROW = [
  READINGS.rpm,
  figure("deg", "angle", "12 deg", "Advance before top dead centre, or added to the base setting if `added` says so.", { usual: degrees(-40, 70), required: true }),
  figure("load", "pressure", "80 kPa", "Manifold pressure for this row, absolute.", { usual: kilopascals(5, 600) }),
];

export const TUNE: BlockSchema = {
  id: "tune",
  words: "How fuel and spark are set: a file in the controller, or jets, needle and advance. A tune answers for the engine it was made on.",
  open: true,
  keys: [
    DATE,
    BY,
    plainKey("made-for", "fingerprint", "#3f9c21d07a4e", "Fingerprint of the build this tune was made for. Written by the tool, never by hand.", { importance: "essential" }),
    plainKey("file-print", "fingerprint", "#77aa0b1c2d3e", "Fingerprint of the tune file. Written by the tool.", { importance: "useful" }),
    figure("base-timing", "angle", "10 deg btdc at 850 rpm", "Spark advance set with the timing light.", { qualifiers: ["event"], mayQualify: ["degrees-of"], usual: degrees(-20, 60), importance: "useful" }),
    text("jets", '"main 118, air 160, idle 45"', "Jets fitted.", { importance: "useful" }),
    text("needle", '"third groove"', "Needle and its groove.", { importance: "useful" }),
    figure("float-height", "length", "14.0 mm", "Float height.", { usual: millimetres(0, 60), importance: "rare" }),
    figure("idle", "rotation", "900 rpm", "Idling speed.", { usual: rpm(400, 3000), importance: "rare" }),
    figure("idle-mixture", "angle", "1-1/2 turn", "Idle mixture screw, out from its seat.", { usual: degrees(0, 3600), importance: "rare" }),
    figure("rev-limit", "rotation", "7200 rpm", "Speed at which the controller cuts.", { usual: rpm(1500, 20000), usualPer: [shareOf("redline", "the redline", 0.4, 2)], importance: "useful" }),
    figure("boost-limit", "pressure", "0.6 bar gauge", "Boost at which the controller cuts.", { qualifiers: ["pressure-reference"], usual: bars(0, 5), usualPer: [shareOf("boost.target", "the boost", 0.3, 5)] }),
    figure("full-load-mixture", "mixture", "12.6 afr", "Mixture aimed at under full load.", { usual: plain(0.6, 20), importance: "useful" }),
    AFR_SCALE,
    SOURCE,
    REMARK,
  ],
  blocks: {
    "based-on": {
      id: "based-on",
      words: "The figures that the tune was made for, as they were. Written by the tool, never by hand: `made-for` is their fingerprint.",
      keys: [figure("scheme", "count", "1", "How the fingerprint was made: figures in base units, to nine significant ones.", { usual: plain(1, 1000), importance: "rare" })],
      table: {
        words: "Each figure and what it was.",
        form: "columns",
        columns: [text("figure", "bore", "Its path.", { required: true }), text("value", "83.00 mm", "What it was.", { required: true })],
        example: "| figure | value |",
      },
    },
    advance: {
      id: "advance",
      words: "Advance curve, speed by speed.",
      keys: [yesNo("added", "Whether these degrees are added to the base setting, as with a distributor.", { importance: "useful" })],
      table: { words: "Engine speed and advance.", form: "columns", columns: MAP_ROW, example: "| rpm | deg |" },
    },
    vacuum: {
      id: "vacuum",
      words: "Vacuum advance.",
      keys: [],
      table: {
        words: "Vacuum and the advance it adds.",
        form: "columns",
        columns: [figure("vacuum", "pressure", "10 inHg", "Vacuum at the capsule.", { usual: kilopascals(0, 100), required: true }), figure("deg", "angle", "8 deg", "Advance added.", { usual: degrees(-20, 40), required: true })],
        example: "| vacuum (inHg) | deg |",
      },
    },
  },
  statements: EVIDENCE,
};
