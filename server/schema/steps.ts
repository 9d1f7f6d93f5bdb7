// The usual steps of the work: their order, what each disturbs, what is measured and tightened in it. Common practice; the engine's manual
// goes first. Knows no build.

export interface UsualStep {
  readonly id: string;
  /** What is done, in a few words: as a plan's title. */
  readonly title: string;
  /** What is done, as an instruction. */
  readonly words: string;
  /** Usual steps that come before it; only those that a plan contains count. */
  readonly after: readonly string[];
  /** Further ones that come before it where the camshaft lies above the valves, or below them. */
  readonly afterOverhead?: readonly string[];
  readonly afterPushrod?: readonly string[];
  /** Measurements that no longer hold once it is done, whenever they were taken before. */
  readonly disturbs?: readonly string[];
  /** Measurements that it disturbs only where the camshaft lies in the part that is moved. */
  readonly disturbsOverhead?: readonly string[];
  /** Measurements from before the work began that end with it; a trial assembly during the work may have taken them ahead. */
  readonly ends?: readonly string[];
  /** Measurements to take in it. */
  readonly measures?: readonly string[];
  /** Fasteners tightened in it, by the names that they usually go by. */
  readonly tightens?: readonly string[];
  /** Kinds of part that go in with it. */
  readonly fits?: readonly string[];
  readonly cautions?: readonly string[];
}

/** What is set at each valve, and lost as soon as anything between lobe and valve is moved. */
const LASH = ["lash", "preload", "preload-turns"] as const;
/** What the degree wheel finds, and what is lost with the drive. */
const TIMING = ["centreline", "opening", "closing"] as const;
const VALVES = ["piston-valve", "valve-to-valve"] as const;
const CYLINDERS = ["cranking", "leak-down"] as const;

export const USUAL_STEPS: readonly UsualStep[] = [
  { id: "baseline", title: "Cranking pressures and leak-down, before anything comes apart", words: "Before anything comes apart: cranking pressures and leak-down, engine warm, throttle open.", after: [], measures: ["cranking", "leak-down"], cautions: ["fuel", "pressure-test"] },
  { id: "crank-back", title: "Crank turned back about 90 degrees, no piston near the top", words: "Turn the crank back about 90 degrees, so that no piston stands near the top.", after: ["baseline"], cautions: ["timing-drive"] },
  { id: "adjusters-off", title: "Every adjuster backed off", words: "Back every adjuster off.", after: ["crank-back"], disturbs: LASH },
  { id: "shaft-out", title: "Gear and caps off evenly, shaft out", words: "Gear off, caps off evenly, shaft out.", after: ["adjusters-off"], disturbs: [...LASH, ...TIMING], ends: [...VALVES, "lift", "cam-endplay"], cautions: ["timing-drive"] },
  { id: "head-off", title: "Head off, loosened in reverse order, cold", words: "Loosen the head in reverse order, cold, and lift it off.", after: ["baseline"], afterOverhead: ["crank-back"], disturbs: [...LASH, ...CYLINDERS], disturbsOverhead: TIMING, ends: [...VALVES, "lift", "squish", "gasket-thickness"], cautions: ["hot"] },
  { id: "inspect", title: "Followers, pads and journals inspected", words: "Inspect followers, rocker pads and journals; measure what will run again.", after: ["shaft-out"] },
  { id: "springs-in", title: "Springs and retainers in, heights and loads taken", words: "Springs and retainers in; installed height and load of each.", after: ["shaft-out"], ends: ["spring-height", "spring-load", "spring-open-load", "retainer-to-guide"], measures: ["spring-height", "spring-load"], fits: ["valve-spring", "retainer", "valve"], cautions: ["spring-energy"] },
  { id: "crank-in", title: "Crankshaft in, clearances and end play taken", words: "Crankshaft in, caps tightened, clearances and end play taken.", after: [], ends: ["main-clearance", "thrust-endplay"], measures: ["main-clearance", "thrust-endplay"], tightens: ["main-cap", "main-bolt", "main-stud"], fits: ["crankshaft", "bearing", "block"], cautions: ["tightening", "lifting"] },
  { id: "rings-gapped", title: "Every ring gapped in its own bore", words: "Gap every ring in its own bore.", after: [], ends: ["ring-gap"], measures: ["ring-gap", "piston-wall-clearance"], fits: ["ring"] },
  { id: "ring-gaps-staggered", title: "Ring gaps staggered as the maker shows", words: "Stagger the ring gaps as the maker shows, and tick it off.", after: ["rings-gapped"] },
  { id: "pistons-in", title: "Pistons and rods in, side play and deck taken", words: "Pistons and rods in, rod bolts tightened, side play and deck taken.", after: ["crank-in", "rings-gapped", "ring-gaps-staggered"], disturbs: CYLINDERS, ends: ["rod-clearance", "rod-side-clearance", "deck", "stretch", "squish", ...VALVES], measures: ["rod-clearance", "rod-side-clearance", "deck"], tightens: ["rod-bolt", "rod-cap", "rod-nut"], fits: ["piston", "rod"], cautions: ["tightening"] },
  { id: "oil-pump-in", title: "Oil pump in, packed so that it primes", words: "Oil pump in, its clearances taken, packed so that it primes.", after: ["crank-in"], ends: ["oil-pump"], measures: ["oil-pump"], fits: ["oil-pump"] },
  { id: "head-on", title: "Head on, gasket the right way up, tightened in order and in stages", words: "Clean faces, gasket the right way up, head down, tightened in order and in stages.", after: ["head-off", "pistons-in", "springs-in"], afterPushrod: ["shaft-in"], disturbs: [...LASH, ...CYLINDERS], disturbsOverhead: TIMING, ends: ["squish", ...VALVES], tightens: ["head-bolt", "head-nut", "head-stud"], fits: ["gasket", "head"], cautions: ["tightening", "yield-bolts"] },
  { id: "shaft-in", title: "Shaft laid in, lobes and journals coated; turned only while the followers are out or slack", words: "Lobes and journals coated, shaft laid in; turn it by hand only while the followers are out or slack.", after: ["shaft-out", "inspect"], afterOverhead: ["head-on", "springs-in"], disturbs: [...LASH, ...TIMING], ends: [...VALVES, "lift", "cam-endplay"], fits: ["camshaft", "follower", "lifter", "rocker", "pushrod"], cautions: ["timing-drive"] },
  { id: "caps-down", title: "Caps down evenly, a turn at a time from the middle; end float by hand before the last torque", words: "Caps down evenly, a turn at a time from the middle; end float by hand before the last torque.", after: ["shaft-in"], measures: ["cam-endplay"], tightens: ["cam-cap"], cautions: ["tightening"] },
  { id: "seal-in", title: "New seal in", words: "New seal.", after: ["shaft-in", "caps-down"], fits: ["seal"] },
  { id: "gear-on", title: "Cam to its mark, crank to its mark, gear and drive on", words: "Cam to its mark, crank to its mark, gear and drive on.", after: ["shaft-in", "caps-down", "seal-in"], afterOverhead: ["head-on"], disturbs: TIMING, ends: VALVES, tightens: ["cam-gear", "cam-bolt", "crank-bolt"], fits: ["cam-gear", "belt"], cautions: ["timing-drive"] },
  { id: "turn-by-hand", title: "Plugs out, two full turns by hand, then the marks again", words: "Plugs out, two full turns by hand the way it runs; stop at any resistance; then the marks again.", after: ["gear-on", "head-on"], cautions: ["timing-drive"] },
  { id: "degree-cam", title: "Cam degreed: true top dead centre, then the centreline", words: "Degree the cam: find true top dead centre, then the centreline.", after: ["turn-by-hand"], measures: ["centreline"] },
  { id: "check-piston-valve", title: "Piston to valve, by clay or checking springs", words: "Piston to valve, by clay or checking springs.", after: ["gear-on"], measures: ["piston-valve"] },
  { id: "set-lash", title: "Lash set, in the state that the card asks for", words: "Set the lash, in the state that the card asks for.", after: ["degree-cam", "turn-by-hand", "head-on"], disturbs: LASH, measures: ["lash"], fits: ["shim"] },
  { id: "turn-again", title: "Two more turns by hand", words: "Two more turns by hand.", after: ["set-lash", "check-piston-valve"], cautions: ["timing-drive"] },
  { id: "flywheel-on", title: "Flywheel and clutch on", words: "Flywheel and clutch on, the disc centred.", after: ["crank-in"], tightens: ["flywheel", "flywheel-bolt", "clutch-cover"], fits: ["flywheel", "clutch"], cautions: ["tightening", "burst-speed"] },
  { id: "intake-on", title: "Manifold and what feeds it on", words: "Manifold and what feeds it on; look for leaks before the first start.", after: ["head-on"], fits: ["manifold", "carburettor", "injector", "regulator", "fuel-pump", "blower", "blower-pulley", "turbo", "cooler"], cautions: ["fuel"] },
  { id: "exhaust-on", title: "Exhaust on", words: "Exhaust on, no joint under strain.", after: ["head-on"], fits: ["exhaust"], cautions: ["hot"] },
  { id: "ignition-in", title: "Plugs, distributor or controller in", words: "Plugs, distributor or controller in, timing set near enough to fire at once.", after: ["turn-again", "gear-on"], measures: ["plug-gap", "base-timing"], fits: ["spark-plug", "distributor", "controller"] },
  { id: "coolant-in", title: "Coolant in and bled", words: "Coolant in and bled.", after: ["turn-again", "head-on"] },
  { id: "oil-primed", title: "Filter filled, oil primed until pressure shows", words: "Filter filled, oil primed until pressure shows at the valve gear.", after: ["turn-again"] },
  { id: "first-start", title: "First start: it must fire at once; oil pressure watched", words: "First start: it must fire at once; up to running-in speed, oil pressure watched.", after: ["turn-again", "coolant-in", "oil-primed", "set-lash", "flywheel-on", "intake-on", "exhaust-on", "ignition-in", "oil-pump-in"], cautions: ["first-start", "fuel", "exhaust-gas", "rotating"] },
  { id: "running-in", title: "Running-in", words: "Run in as the camshaft's and rings' makers say.", after: ["first-start"], disturbs: LASH, cautions: ["exhaust-gas", "hot"] },
  { id: "oil-change", title: "Oil and filter changed hot, filter cut open", words: "Oil and filter changed hot; filter cut open and looked at.", after: ["running-in"], cautions: ["hot", "waste"] },
  { id: "retorque", title: "Tightened again, cold, what its maker says may be", words: "Tighten again what its maker says may be tightened again, cold.", after: ["running-in"], disturbs: LASH, cautions: ["tightening"] },
  { id: "recheck-lash", title: "Lash once more, in the state that the card asks for", words: "Lash once more, in the state that the card asks for.", after: ["running-in", "retorque"], measures: ["lash"] },
  { id: "tune", title: "Fuel and spark set for the engine as it now is", words: "Fuel and spark set for the engine as it now is.", after: ["running-in", "recheck-lash"], cautions: ["dynamometer", "exhaust-gas"] },
  { id: "full-load", title: "Full load", words: "Full load.", after: ["tune", "oil-change", "recheck-lash"], cautions: ["dynamometer", "boost"] },
];

/** Which usual steps make up a job; a plan may add to them. */
export const USUAL_JOBS = {
  "camshaft-change": ["baseline", "crank-back", "adjusters-off", "shaft-out", "inspect", "springs-in", "shaft-in", "caps-down", "seal-in", "gear-on", "turn-by-hand", "degree-cam", "check-piston-valve", "set-lash", "turn-again", "coolant-in", "oil-primed", "first-start", "running-in", "oil-change", "recheck-lash", "tune", "full-load"],
  "head-off": ["baseline", "crank-back", "head-off", "springs-in", "head-on", "gear-on", "turn-by-hand", "degree-cam", "check-piston-valve", "set-lash", "turn-again", "coolant-in", "oil-primed", "first-start", "running-in", "oil-change", "retorque", "recheck-lash", "tune", "full-load"],
  "full-build": ["baseline", "shaft-out", "head-off", "inspect", "springs-in", "crank-in", "rings-gapped", "ring-gaps-staggered", "pistons-in", "head-on", "shaft-in", "caps-down", "seal-in", "gear-on", "turn-by-hand", "degree-cam", "check-piston-valve", "set-lash", "turn-again", "coolant-in", "oil-primed", "first-start", "running-in", "oil-change", "retorque", "recheck-lash", "tune", "full-load"],
} as const satisfies Record<string, readonly string[]>;

const byId = new Map(USUAL_STEPS.map((step) => [step.id, step]));

/** The usual step of this name. */
export function usualStep(id: string): UsualStep | undefined {
  return byId.get(id);
}

/** The usual steps with which a part of this kind goes in. */
export function stepsThatFit(kind: string): readonly UsualStep[] {
  return USUAL_STEPS.filter((step) => step.fits?.includes(kind));
}

/** The usual steps in which fasteners of this name are tightened. */
export function stepsThatTighten(fastener: string): readonly UsualStep[] {
  return USUAL_STEPS.filter((step) => step.tightens?.includes(fastener));
}
