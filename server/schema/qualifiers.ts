// The words that say of what a figure is, in sets of which one word is chosen. Knows why each word matters, not which key asks for it.
import type { QualifierSet } from "./types.ts";

/** Allowed wherever a word of a set is required: says that the source does not say, and widens the band. */
export const UNSTATED = "unstated";

export const QUALIFIER_SETS: readonly QualifierSet[] = [
  {
    id: "thermal",
    words: "says whether the engine is cold or at running heat: metal grows, so a lash set hot is not a lash set cold",
    options: { cold: "The whole engine at the temperature of the room.", hot: "At running temperature, straight after the engine was stopped." },
  },
  {
    id: "degrees-of",
    words: "says whose degrees: the camshaft turns at half crank speed, so four degrees at the cam are eight at the crank",
    options: { crank: "Degrees of the crankshaft, as a degree wheel on the crank nose reads.", cam: "Degrees of the camshaft: one of them is two at the crank." },
  },
  {
    id: "lubrication",
    words: "says what is on the thread and under the head: most of a torque is friction, so the same torque pulls an oiled bolt far tighter than a dry one",
    options: {
      dry: "Clean and dry, as the maker delivers it.",
      oiled: "Engine oil on the thread and under the head.",
      moly: "Molybdenum paste on the thread and under the head.",
      "anti-seize": "Anti-seize paste on the thread: about as slippery as anything gets.",
      waxed: "Wax on the thread and under the head, as some new bolts come.",
      "zinc-plated": "Zinc plated and otherwise dry.",
      threadlocked: "Wet thread-locking fluid on a clean thread: it lubricates while it is wet.",
    },
  },
  {
    id: "pressure-reference",
    words: "says what the pressure is counted from: a gauge reads nothing in open air, an absolute reading there is a whole barometer",
    options: { gauge: "Over the air around the engine, as a gauge reads.", absolute: "Over a perfect vacuum." },
  },
  {
    id: "lift-at",
    words: "says where the lift is read: a rocker multiplies it, and a small lift at the lobe can be less than the lash at the valve",
    options: { "at valve": "Read at the valve, with the rocker's ratio in it.", "at lobe": "Read at the lobe or its follower, before any rocker." },
  },
  {
    id: "power-at",
    words: "says where the power is read: the gearbox and tyres keep a share that nobody knows exactly",
    options: { "at wheels": "On a rolling road, as read at the driven wheels.", "at crank": "At the crankshaft or flywheel." },
  },
  {
    id: "deck",
    words: "says which side of the block face the piston crown stops",
    options: { below: "The crown stops short of the block face.", above: "The crown comes out past the block face." },
  },
  {
    id: "gear-direction",
    words: "says which way the cam was moved against the crank",
    options: { advanced: "The cam runs earlier: its valves open and close sooner.", retarded: "The cam runs later: its valves open and close later." },
  },
  {
    id: "gasket-state",
    words: "says whether the gasket was measured before or after it was clamped",
    options: { crushed: "As it stands clamped in the engine.", free: "As it comes out of the packet, still thicker." },
  },
  {
    id: "event",
    words: "says which dead centre the angle is counted from, and on which side",
    options: {
      btdc: "Before top dead centre.",
      atdc: "After top dead centre.",
      bbdc: "Before bottom dead centre.",
      abdc: "After bottom dead centre.",
    },
  },
  {
    id: "oversize",
    words: "says that the figure is added to, or taken off, the standard size",
    options: { over: "Larger than standard by so much, as after a rebore.", under: "Smaller than standard by so much, as after a regrind." },
  },
  {
    id: "from-zero",
    words: "says that turns are counted from where all lash has just gone",
    options: { "past zero": "Turned on so far after the lash has just gone." },
  },
  {
    id: "clearance-across",
    words: "says whether a clearance is the whole difference of two diameters or the gap on one side",
    options: { diametral: "Bore less shaft: both sides together.", radial: "On one side only: half the diametral figure." },
  },
  {
    id: "barometer-at",
    words: "says whether the barometer was read where the engine ran or is the weather service's figure brought down to sea level",
    options: { station: "The true pressure of the air where the engine ran.", "sea-level": "As weather services print it, with the altitude taken out." },
  },
];
