// What can be measured on an engine, how the readings are laid out, and which asked-for figure each stands against. Judges nothing.
import type { KindId } from "../quantity/kinds.ts";
import { choice, date, figure, REMARK, text } from "./row.ts";
import { bars, celsius, cubicCentimetres, degrees, millimetres, newtons, plain, rpm } from "./spans.ts";
import type { BlockSchema, KeySchema, TableSchema, UsualSpan } from "./types.ts";

/**
 * How readings may be laid out.
 * `valve`: a grid with rows named `intake`, `intake a`, `exhaust b` and cylinder numbers along the top.
 * `cylinder`: a grid with cylinder numbers along the top; its rows are places or repeats, or one row alone.
 * `bearing`: a grid with bearing numbers along the top, counted from cylinder 1's end.
 * `bolt`: a grid with cylinder or bolt numbers along the top.
 * `side`: keys `intake` and `exhaust`. `single`: the key `reading`. `curve`: a table with its own columns.
 */
export type Form = "valve" | "cylinder" | "bearing" | "bolt" | "side" | "single" | "curve";

export interface Measurement {
  readonly id: string;
  readonly words: string;
  readonly kind: KindId;
  /** Sets of which one word is required, in the head (`measured lash cold`), the key or the heading. */
  readonly qualifiers?: readonly string[];
  readonly forms: readonly [Form, ...Form[]];
  readonly example: string;
  /** Row labels of a `cylinder`, `bearing` or `bolt` grid, where they are fixed. */
  readonly rows?: readonly string[];
  /** Path of the effective build that this is a reading of; `{side}` and `{row}` are filled from the grid, `{of}` from the head's `for`. */
  readonly reads?: string;
  /** Id of the computed value that this confirms or denies; `{side}` as above. */
  readonly confirms?: string;
  /**
   * What a reading of this may ever be, worn, bent and wrongly built engines included; used to catch slips, never as a limit. A play or a gap
   * may truly be nothing, so most reach down to it. Absent where a reading may be anything.
   */
  readonly usual?: UsualSpan;
  /** True where the head names which fastener: `measured stretch for rod-bolt`. */
  readonly of?: "fastener";
  /** Further keys of this measurement alone. */
  readonly keys?: readonly KeySchema[];
  readonly columns?: readonly KeySchema[];
}

const THROTTLE = choice("throttle", { open: "Held wide open.", shut: "Left shut." }, "open", "Where the throttle stood.", { importance: "useful" });

export const MEASUREMENTS: readonly Measurement[] = [
  // Valve gear
  { id: "lash", words: "Lash of every valve, by feeler.", kind: "length", qualifiers: ["thermal"], usual: millimetres(0.02, 1, "from memory: the leaves of DIN 2275 begin at 0.03 mm, and foils of 0.02 mm are sold; less than a leaf is nothing"), forms: ["valve", "side"], example: "0.20 mm", reads: "valve-gear.{side}.lash" },
  { id: "preload", words: "How far each hydraulic lifter is pushed down with its valve shut.", kind: "length", usual: millimetres(0, 6), forms: ["valve", "side"], example: "0.80 mm", reads: "valve-gear.{side}.preload" },
  { id: "preload-turns", words: "How far each adjuster is turned on past the point where the lash has gone.", kind: "angle", qualifiers: ["from-zero"], forms: ["valve", "side"], example: "3/4 turn past zero", reads: "valve-gear.{side}.preload-turns" },
  { id: "shim", words: "Thickness of the shim found on each valve.", kind: "length", usual: millimetres(0.8, 8), forms: ["valve", "side"], example: "2.60 mm", reads: "valve-gear.{side}.shim" },
  { id: "piston-valve", words: "Nearest that piston and valve come, found with clay or checking springs.", kind: "length", usual: millimetres(0, 12), forms: ["side", "valve"], example: "2.3 mm", confirms: "piston-valve.{side}.clearance",
    keys: [
      figure("intake-at", "angle", "12 deg atdc", "Where the intake valve and piston were nearest.", { qualifiers: ["event"], usual: degrees(0, 60) }),
      figure("exhaust-at", "angle", "8 deg btdc", "Where the exhaust valve and piston were nearest.", { qualifiers: ["event"], usual: degrees(0, 60) }),
    ] },
  { id: "valve-to-valve", words: "Nearest that intake and exhaust valve come to each other.", kind: "length", usual: millimetres(0, 15), forms: ["cylinder", "single"], example: "2.0 mm", confirms: "valve-to-valve.clearance" },
  { id: "centreline", words: "Lobe centreline as found with the degree wheel.", kind: "angle", qualifiers: ["degrees-of"], usual: degrees(60, 165), forms: ["side"], example: "112 deg crank", confirms: "centreline.{side}.installed" },
  { id: "opening", words: "Where the valve opens, as found with the degree wheel.", kind: "angle", qualifiers: ["event"], forms: ["side"], example: "9 deg btdc", confirms: "event.{side}.opens" },
  { id: "closing", words: "Where the valve shuts, as found with the degree wheel.", kind: "angle", qualifiers: ["event"], forms: ["side"], example: "47 deg abdc", confirms: "event.{side}.closes" },
  { id: "lift", words: "Full lift, by dial gauge.", kind: "length", qualifiers: ["lift-at"], usual: millimetres(0.5, 25), forms: ["valve", "side"], example: "10.6 mm at valve", confirms: "lift.{side}.gross" },
  { id: "lobe-lift", words: "Lobe lift, by dial gauge on the follower or shaft.", kind: "length", usual: millimetres(0.5, 20), forms: ["valve", "side"], example: "7.08 mm", reads: "camshaft.{side}.lobe-lift" },
  { id: "rocker-ratio", words: "Valve lift divided by lobe lift, both by dial gauge.", kind: "ratio", usual: plain(0.8, 2.5), forms: ["side", "valve"], example: "1.48", reads: "valve-gear.{side}.rocker-ratio" },
  { id: "spring-height", words: "Installed height of every valve spring.", kind: "length", usual: millimetres(10, 80), forms: ["valve", "side", "single"], example: "38.1 mm", reads: "valve-gear.valve-spring.{side}.seat-height" },
  { id: "spring-load", words: "Load of each spring at its installed height.", kind: "force", usual: newtons(10, 1500), forms: ["valve", "side", "single"], example: "236 N", reads: "valve-gear.valve-spring.{side}.seat-load" },
  { id: "spring-open-load", words: "Load of each spring at its open height.", kind: "force", usual: newtons(30, 4000), forms: ["valve", "side", "single"], example: "548 N", reads: "valve-gear.valve-spring.{side}.open-load" },
  { id: "spring-free-length", words: "Free length of each spring.", kind: "length", usual: millimetres(15, 120), forms: ["valve", "side", "single"], example: "46.2 mm", reads: "valve-gear.valve-spring.{side}.free-length" },
  { id: "solid-height", words: "Height of a spring pressed solid in the vice or tester.", kind: "length", usual: millimetres(6, 65), forms: ["side", "single"], example: "27.4 mm", reads: "valve-gear.valve-spring.{side}.solid-height" },
  { id: "retainer-to-guide", words: "Gap between retainer and guide or seal, valve shut.", kind: "length", usual: millimetres(2, 40), forms: ["valve", "side"], example: "13.2 mm", reads: "valve-gear.{side}.retainer-to-guide" },
  { id: "stem-clearance", words: "Clearance of each stem in its guide.", kind: "length", forms: ["valve", "side"], example: "0.04 mm", reads: "valve-gear.{side}.stem-clearance" },
  { id: "stem-height", words: "From spring seat to stem tip, valve shut.", kind: "length", usual: millimetres(20, 90), forms: ["valve", "side"], example: "42.6 mm", reads: "valve-gear.{side}.stem-height" },
  { id: "valve-recess", words: "How far each shut valve sits up from the head face.", kind: "length", forms: ["valve", "side"], example: "1.3 mm", reads: "valve-gear.{side}.valve-recess" },
  { id: "pocket-depth", words: "Depth of the valve's pocket in the piston.", kind: "length", usual: millimetres(0, 15), forms: ["valve", "side"], example: "2.4 mm", reads: "valve-gear.{side}.pocket-depth" },
  { id: "pushrod-length", words: "Length found with an adjustable pushrod.", kind: "length", usual: millimetres(50, 400), forms: ["side", "valve"], example: "193.1 mm", reads: "valve-gear.{side}.pushrod-length" },
  // Above the piston
  { id: "chamber", words: "Chamber volume, by burette.", kind: "volume", usual: cubicCentimetres(2, 200), forms: ["cylinder", "single"], example: "46.2 cc", reads: "combustion.chamber" },
  { id: "piston-dish", words: "Volume of the dish in the crown, by burette.", kind: "volume", forms: ["cylinder", "single"], example: "3.1 cc", reads: "combustion.piston-dish" },
  { id: "piston-dome", words: "Volume of the dome, by burette.", kind: "volume", forms: ["cylinder", "single"], example: "5.1 cc", reads: "combustion.piston-dome" },
  { id: "gasket-thickness", words: "Thickness of the gasket.", kind: "length", qualifiers: ["gasket-state"], usual: millimetres(0.1, 4), forms: ["single", "cylinder"], example: "0.82 mm crushed", reads: "combustion.gasket-thickness" },
  { id: "deck", words: "Where each crown stops against the block face.", kind: "length", qualifiers: ["deck"], forms: ["cylinder", "single"], example: "0.14 mm below", reads: "combustion.deck" },
  { id: "squish", words: "Gap between crown and head, by soft wire or clay.", kind: "length", usual: millimetres(0, 6), forms: ["cylinder", "single"], example: "0.94 mm", confirms: "squish-clearance" },
  { id: "flatness", words: "Worst gap under a straight-edge across the head or block face.", kind: "length", usual: millimetres(0.005, 3, "common practice: a hundredth is the least that straight-edge and foil tell"), forms: ["single"], example: "0.03 mm" },
  // Bottom end
  { id: "bore", words: "Cylinder bore at several heights, along and across.", kind: "length", forms: ["cylinder", "single"], example: "83.01 mm", reads: "bore" },
  { id: "piston-diameter", words: "Diameter of each piston.", kind: "length", forms: ["cylinder", "single"], example: "82.96 mm", reads: "bottom-end.piston-diameter" },
  { id: "piston-wall-clearance", words: "Clearance of each piston in its bore.", kind: "length", forms: ["cylinder", "single"], example: "0.04 mm", reads: "bottom-end.piston-wall-clearance", confirms: "piston-wall.clearance" },
  ...(["main", "rod", "cam"] as const).flatMap((bearing): readonly Measurement[] => {
    const name = { main: "main bearing", rod: "big end", cam: "camshaft bearing" }[bearing];
    const sizes = { main: ["53.98 mm", "54.02 mm"], rod: ["44.98 mm", "45.03 mm"], cam: ["29.96 mm", "30.01 mm"] }[bearing] as [string, string];
    const form: Form = bearing === "rod" ? "cylinder" : "bearing";
    return [
      { id: `${bearing}-journal`, words: `Diameter of each ${name} journal.`, kind: "length", forms: [form, "single"], example: sizes[0], reads: `bottom-end.${bearing}.journal` },
      { id: `${bearing}-bore`, words: `Inside diameter of each ${name}, its shells in and its cap tightened.`, kind: "length", forms: [form, "single"], example: sizes[1], reads: `bottom-end.${bearing}.bore` },
      { id: `${bearing}-clearance`, words: `Oil clearance of each ${name}, by strip or by difference.`, kind: "length", forms: [form, "single"], example: "0.04 mm", reads: `bottom-end.${bearing}.clearance`, confirms: `bearing.${bearing}.clearance` },
    ];
  }),
  { id: "thrust-endplay", words: "Fore-and-aft play of the crankshaft, by dial gauge.", kind: "length", forms: ["single"], example: "0.12 mm", reads: "bottom-end.thrust-endplay", confirms: "thrust.endplay" },
  { id: "cam-endplay", words: "Fore-and-aft play of the camshaft.", kind: "length", usual: millimetres(0.005, 1.5), forms: ["single", "side"], example: "0.08 mm", reads: "bottom-end.cam-endplay", confirms: "cam.endplay" },
  { id: "rod-side-clearance", words: "Side play of each big end.", kind: "length", forms: ["cylinder", "single"], example: "0.22 mm", reads: "bottom-end.rod-side-clearance", confirms: "rod.side-clearance" },
  { id: "crank-runout", words: "Runout of the crankshaft's middle journal, ends held.", kind: "length", forms: ["single", "bearing"], example: "0.02 mm" },
  { id: "ring-gap", words: "End gap of each ring, square in its own bore.", kind: "length", forms: ["cylinder"], rows: ["top", "second", "oil"], example: "0.36 mm", reads: "bottom-end.rings.{row}-gap" },
  { id: "ring-side-clearance", words: "Clearance of each ring in its groove.", kind: "length", forms: ["cylinder"], rows: ["top", "second", "oil"], example: "0.05 mm", reads: "bottom-end.rings.side-clearance" },
  { id: "piston-mass", words: "Weight of each piston.", kind: "mass", forms: ["cylinder", "single"], example: "309 g", reads: "bottom-end.piston-mass" },
  { id: "reciprocating-mass", words: "Weight of everything that stops and starts with each piston.", kind: "mass", forms: ["cylinder", "single"], example: "578 g", reads: "bottom-end.reciprocating-mass" },
  { id: "oil-pump", words: "Clearances in the oil pump.", kind: "length", forms: ["single", "cylinder"], rows: ["tip", "outer", "side"], example: "0.08 mm", reads: "oil-pump.{row}-clearance" },
  // Fasteners
  { id: "stretch", words: "How much longer each bolt got.", kind: "length", forms: ["bolt", "single"], example: "0.15 mm", reads: "fastener.{of}.stretch", of: "fastener" },
  { id: "bolt-length", words: "Length of each bolt, slack, before it is used again.", kind: "length", forms: ["bolt", "single"], example: "140.4 mm", reads: "fastener.{of}.length", of: "fastener" },
  { id: "torque", words: "Torque at which each bolt moved again when it was checked.", kind: "torque", qualifiers: ["lubrication"], forms: ["bolt", "single"], example: "56 N·m oiled", reads: "fastener.{of}.torque", of: "fastener" },
  // The running engine
  { id: "cranking", words: "Cranking pressure of each cylinder, as the gauge reads, plugs out.", kind: "pressure", qualifiers: ["thermal"], forms: ["cylinder"], example: "12.4 bar", confirms: "baseline.cranking",
    keys: [THROTTLE, figure("strokes", "count", "5", "Compression strokes cranked.", { importance: "rare" }), choice("decompressor", { fitted: "Working during the test.", "held-off": "Held out of action." }, "fitted", "What the decompressor did.", { importance: "rare" })] },
  { id: "leak-down", words: "Share of the air that each cylinder lets go, at top dead centre.", kind: "fraction", qualifiers: ["thermal"], forms: ["cylinder"], example: "8 %", confirms: "baseline.leak-down",
    keys: [figure("supply", "pressure", "7 bar", "Air pressure that was let in.", { usual: bars(1, 12), importance: "rare" }), text("heard-at", '"exhaust, cylinder 3"', "Where the air was heard to leave.", { importance: "rare" })] },
  { id: "oil-pressure", words: "Oil pressure against engine speed, as the gauge reads.", kind: "pressure", forms: ["curve", "single"], example: "3.2 bar", reads: "fluids.oil-pressure",
    columns: [
      figure("rpm", "rotation", "3000 rpm", "Engine speed.", { usual: rpm(0, 20000), required: true }),
      figure("pressure", "pressure", "3.2 bar", "Oil pressure.", { usual: bars(0, 15), required: true }),
      figure("oil", "temperature", "95 °C", "Oil temperature.", { usual: celsius(-20, 180) }),
    ] },
  { id: "vacuum", words: "Manifold vacuum at idle, as the gauge reads.", kind: "pressure", forms: ["single"], example: "18 inHg" },
  { id: "base-timing", words: "Spark advance by timing light.", kind: "angle", qualifiers: ["event"], forms: ["single"], example: "10 deg btdc at 850 rpm", reads: "ignition.base-timing" },
  { id: "plug-gap", words: "Gap of each plug.", kind: "length", usual: millimetres(0.2, 2.5), forms: ["cylinder", "single"], example: "0.80 mm", reads: "ignition.plug-gap" },
  { id: "injector-flow", words: "Flow of each injector on the rig.", kind: "volume-flow", forms: ["cylinder", "single"], example: "418 cc/min", reads: "injector.flow" },
  { id: "fuel-pressure", words: "Fuel pressure in the rail, engine running.", kind: "pressure", qualifiers: ["pressure-reference"], forms: ["single"], example: "3.0 bar gauge", reads: "fuel-system.rail-pressure" },
  { id: "belt-slack", words: "How far the belt gives at the middle of its longest run.", kind: "length", usual: millimetres(0.5, 40), forms: ["single"], example: "6 mm", reads: "blower.belt-slack" },
];

/** Keys that the record of any measurement may carry. */
const RECORD: readonly KeySchema[] = [
  text("by", '"M. A."', "Who measured.", { importance: "useful" }),
  text("tool", '"dial gauge, 0.01 mm"', "What it was measured with.", { importance: "useful" }),
  choice("method", {
    feeler: "Feeler blades.",
    clay: "Modelling clay.",
    "checking-springs": "Light springs and a dial gauge.",
    dial: "Dial gauge.",
    micrometer: "Micrometer or bore gauge.",
    strip: "Crushed measuring strip.",
    wire: "Soft wire.",
    burette: "Burette and plate.",
    wheel: "Degree wheel.",
    weighed: "Scales.",
    gauge: "Pressure gauge.",
  }, "clay", "How it was measured.", { importance: "useful" }),
  figure("temperature", "temperature", "18 °C", "How warm engine and workshop were.", { usual: celsius(-20, 140), importance: "rare" }),
  date("read-on", "The day, where the head does not say it.", { importance: "rare" }),
  REMARK,
];

function gridOf(measurement: Measurement): TableSchema | undefined {
  if (measurement.columns) {
    return { words: measurement.words, form: "columns", columns: measurement.columns, example: `| ${measurement.columns.map((row) => row.key).join(" | ")} |` };
  }
  const form = measurement.forms.find((each) => each === "valve" || each === "cylinder" || each === "bearing" || each === "bolt");
  if (!form) return undefined;
  const rows = measurement.rows?.join(", ");
  return {
    words: measurement.words,
    form: "grid",
    kind: measurement.kind,
    rows: form === "valve" ? "intake or exhaust, with a, b … where a cylinder has several" : (rows ?? "places or repeats, one a row"),
    heads: { valve: "cylinder numbers", cylinder: "cylinder numbers", bearing: "bearing numbers from cylinder 1's end", bolt: "bolt or cylinder numbers" }[form],
    example: `| ${form} |  1 |  2 |  3 |  4 |`,
  };
}

/** The block that follows `measured ID … on DATE`. */
export function measurementBlock(measurement: Measurement): BlockSchema {
  const more = { ...(measurement.qualifiers && { mayQualify: measurement.qualifiers }), ...(measurement.usual && { usual: measurement.usual }) };
  const readings: KeySchema[] = [];
  if (measurement.forms.includes("side")) {
    readings.push(figure("intake", measurement.kind, measurement.example, "The reading on the intake side.", more), figure("exhaust", measurement.kind, measurement.example, "The reading on the exhaust side.", more));
  }
  if (measurement.forms.includes("single")) readings.push(figure("reading", measurement.kind, measurement.example, "The one reading.", more));
  for (const row of measurement.rows ?? []) {
    if (measurement.forms.includes("single")) readings.push(figure(row, measurement.kind, measurement.example, `The reading at the ${row}.`, more));
  }
  const own = new Set([...readings, ...(measurement.keys ?? [])].map((row) => row.key));
  const table = gridOf(measurement);
  return {
    id: `measured ${measurement.id}`,
    words: measurement.words,
    keys: [...readings, ...(measurement.keys ?? []), ...RECORD.filter((row) => !own.has(row.key))],
    statements: ["photo", "note", "document", "waive"],
    ...(table ? { table } : {}),
  };
}

const byId = new Map(MEASUREMENTS.map((measurement) => [measurement.id, measurement]));

/** The measurement of this name. */
export function measurementOf(id: string): Measurement | undefined {
  return byId.get(id);
}

const CALLED: Readonly<Record<string, string>> = {
  "piston-valve": "gap between piston and valve", "valve-to-valve": "gap between the valves", cranking: "cranking pressure", "leak-down": "leak-down", "lobe-lift": "lobe lift", torque: "torque at which they moved",
  "thrust-endplay": "end play of the crankshaft", "cam-endplay": "end play of the camshaft", opening: "opening angle", closing: "closing angle", "preload-turns": "preload", "retainer-to-guide": "gap between retainer and guide",
};

/** What was measured, to go after "the": "lash", "gap between piston and valve". */
export function calledMeasurement(id: string): string {
  return CALLED[id] ?? id.replaceAll("-", " ");
}
