// The usual steps of the work: their order, what each disturbs, what is measured in it. Common practice; the engine's manual goes first.

export interface UsualStep {
  readonly id: string;
  /** What is done, as an instruction. */
  readonly words: string;
  /** Usual steps that come before it; only those that a plan contains count. */
  readonly after: readonly string[];
  /** Measurements that no longer hold once it is done. */
  readonly disturbs?: readonly string[];
  /** Measurements to take in it. */
  readonly measures?: readonly string[];
  /** Kinds of part that go in with it. */
  readonly fits?: readonly string[];
  readonly cautions?: readonly string[];
}

/** Measurements that end when a camshaft comes out or another goes in. */
const CAM_OUT = ["lash", "preload", "preload-turns", "centreline", "opening", "closing", "lift", "lobe-lift", "piston-valve", "valve-to-valve", "cam-endplay"] as const;
/** Measurements that end when the head comes off. */
const HEAD_OFF = [...CAM_OUT, "squish", "gasket-thickness", "cranking", "leak-down"] as const;

export const USUAL_STEPS: readonly UsualStep[] = [
  { id: "baseline", words: "Before anything comes apart: cranking pressures and leak-down, engine warm, throttle open.", after: [], measures: ["cranking", "leak-down"], cautions: ["fuel", "pressure-test"] },
  { id: "head-off", words: "Loosen the head in reverse order, cold, and lift it off.", after: ["baseline"], disturbs: HEAD_OFF, cautions: ["hot"] },
  { id: "crank-back", words: "Turn the crank back about 90 degrees, so that no piston stands near the top.", after: ["baseline"], cautions: ["timing-drive"] },
  { id: "adjusters-off", words: "Back every adjuster off.", after: ["crank-back"], disturbs: ["lash", "preload", "preload-turns"] },
  { id: "shaft-out", words: "Gear off, caps off evenly, shaft out.", after: ["adjusters-off"], disturbs: CAM_OUT, cautions: ["timing-drive"] },
  { id: "inspect", words: "Inspect followers, rocker pads and journals; measure what will run again.", after: ["shaft-out"], measures: ["cam-journal", "lobe-lift"] },
  { id: "springs-in", words: "Springs and retainers in; installed height and load of each.", after: ["shaft-out"], disturbs: ["spring-height", "spring-load", "spring-open-load", "retainer-to-guide"], measures: ["spring-height", "spring-load"], fits: ["valve-spring", "retainer", "valve"], cautions: ["spring-energy"] },
  { id: "crank-in", words: "Crankshaft in, caps tightened, clearances and end play taken.", after: [], disturbs: ["main-clearance", "thrust-endplay"], measures: ["main-clearance", "thrust-endplay"], fits: ["crankshaft", "bearing"], cautions: ["tightening", "lifting"] },
  { id: "rings-gapped", words: "Gap every ring in its own bore.", after: [], disturbs: ["ring-gap"], measures: ["ring-gap", "piston-wall-clearance"], fits: ["ring", "piston"] },
  { id: "ring-gaps-staggered", words: "Stagger the ring gaps as the maker shows, and tick it off.", after: ["rings-gapped"] },
  { id: "pistons-in", words: "Pistons and rods in, rod bolts tightened, side play and deck taken.", after: ["crank-in", "rings-gapped", "ring-gaps-staggered"], disturbs: ["rod-clearance", "rod-side-clearance", "deck", "stretch", "piston-valve", "squish"], measures: ["rod-clearance", "rod-side-clearance", "deck", "stretch"], fits: ["piston", "rod"], cautions: ["tightening"] },
  { id: "head-on", words: "Clean faces, gasket the right way up, head down, tightened in order and in stages.", after: ["head-off", "pistons-in", "springs-in"], disturbs: HEAD_OFF, fits: ["gasket", "head"], cautions: ["tightening", "yield-bolts"] },
  { id: "shaft-in", words: "Lobes and journals coated, shaft laid in; turn it by hand only while the followers are out or slack.", after: ["shaft-out", "inspect", "springs-in", "head-on"], disturbs: CAM_OUT, fits: ["camshaft", "follower", "lifter", "rocker"], cautions: ["timing-drive"] },
  { id: "caps-down", words: "Caps down evenly, a turn at a time from the middle; end float by hand before the last torque.", after: ["shaft-in"], disturbs: ["cam-endplay"], measures: ["cam-endplay"], cautions: ["tightening"] },
  { id: "seal-in", words: "New seal.", after: ["caps-down"], fits: ["seal"] },
  { id: "gear-on", words: "Cam to its mark, crank to its mark, gear and drive on.", after: ["caps-down", "seal-in"], disturbs: ["centreline", "opening", "closing", "piston-valve", "valve-to-valve"], fits: ["cam-gear", "belt"], cautions: ["timing-drive"] },
  { id: "turn-by-hand", words: "Plugs out, two full turns by hand the way it runs; stop at any resistance; then the marks again.", after: ["gear-on"], cautions: ["timing-drive"] },
  { id: "degree-cam", words: "Degree the cam: find true top dead centre, then the centreline.", after: ["turn-by-hand"], measures: ["centreline"] },
  { id: "check-piston-valve", words: "Piston to valve, by clay or checking springs.", after: ["gear-on"], measures: ["piston-valve"] },
  { id: "set-lash", words: "Set the lash, in the state that the card asks for.", after: ["degree-cam", "turn-by-hand"], disturbs: ["lash", "preload", "preload-turns"], measures: ["lash"] },
  { id: "turn-again", words: "Two more turns by hand.", after: ["set-lash", "check-piston-valve"] },
  { id: "coolant-in", words: "Coolant in and bled.", after: ["turn-again", "head-on"] },
  { id: "oil-primed", words: "Filter filled, oil primed until pressure shows at the valve gear.", after: ["turn-again"] },
  { id: "first-start", words: "First start: it must fire at once; up to running-in speed, oil pressure watched.", after: ["turn-again", "coolant-in", "oil-primed", "set-lash"], cautions: ["first-start", "fuel", "exhaust-gas", "rotating"] },
  { id: "running-in", words: "Run in as the camshaft's and rings' makers say.", after: ["first-start"], disturbs: ["lash"], cautions: ["exhaust-gas", "hot"] },
  { id: "oil-change", words: "Oil and filter changed hot; filter cut open and looked at.", after: ["running-in"], cautions: ["hot", "waste"] },
  { id: "retorque", words: "Tighten again what its maker says may be tightened again, cold.", after: ["running-in"], disturbs: ["lash"], cautions: ["tightening"] },
  { id: "recheck-lash", words: "Lash once more, in the state that the card asks for.", after: ["running-in", "retorque"], measures: ["lash"] },
  { id: "tune", words: "Fuel and spark set for the engine as it now is.", after: ["running-in", "recheck-lash"], cautions: ["dynamometer", "exhaust-gas"] },
  { id: "full-load", words: "Full load.", after: ["tune", "oil-change", "recheck-lash"], cautions: ["dynamometer", "boost"] },
];

/** Which usual steps make up a job; a plan may add to them. */
export const USUAL_JOBS = {
  "camshaft-change": ["baseline", "crank-back", "adjusters-off", "shaft-out", "inspect", "springs-in", "shaft-in", "caps-down", "seal-in", "gear-on", "turn-by-hand", "degree-cam", "check-piston-valve", "set-lash", "turn-again", "coolant-in", "oil-primed", "first-start", "running-in", "oil-change", "recheck-lash", "tune", "full-load"],
  "head-off": ["baseline", "crank-back", "head-off", "springs-in", "head-on", "gear-on", "turn-by-hand", "degree-cam", "check-piston-valve", "set-lash", "turn-again", "coolant-in", "oil-primed", "first-start", "running-in", "oil-change", "retorque", "recheck-lash", "tune", "full-load"],
  "full-build": ["baseline", "head-off", "shaft-out", "inspect", "crank-in", "rings-gapped", "ring-gaps-staggered", "pistons-in", "springs-in", "head-on", "shaft-in", "caps-down", "seal-in", "gear-on", "turn-by-hand", "degree-cam", "check-piston-valve", "set-lash", "turn-again", "coolant-in", "oil-primed", "first-start", "running-in", "oil-change", "retorque", "recheck-lash", "tune", "full-load"],
} as const satisfies Record<string, readonly string[]>;

const byId = new Map(USUAL_STEPS.map((step) => [step.id, step]));

/** The usual step of this name. */
export function usualStep(id: string): UsualStep | undefined {
  return byId.get(id);
}

/** Measurements that fitting a part of this kind disturbs, by the steps it goes in with. */
export function disturbedByFitting(kind: string): ReadonlySet<string> {
  return new Set(USUAL_STEPS.filter((step) => step.fits?.includes(kind)).flatMap((step) => step.disturbs ?? []));
}
