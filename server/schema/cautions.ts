// What can hurt a person or wreck an engine at the bench, and whom to ask. Knows no figure and permits nothing.

export interface Caution {
  readonly id: string;
  readonly title: string;
  readonly words: string;
}

/** Stands at the head of every list of cautions. */
export const DEFERENCE =
  "These figures are arithmetic, not permission. The engine's and the parts' makers come first: where their manual says otherwise, it is right and this sheet is wrong. " +
  "Local law decides what may be changed on the road and what may leave the exhaust. When in doubt, ask a qualified engine builder.";

export const CAUTIONS: readonly Caution[] = [
  { id: "spring-energy", title: "Valve springs", words: "A compressed valve spring lets go with enough force to take an eye: wear goggles, keep your face out of line, and see both keepers home before the compressor is let off. Follow the manual of the compressor's maker." },
  { id: "timing-drive", title: "Pistons and valves", words: "With the timing drive off, turning crank or cam can bend valves. Turn either only as the engine's manual says, by hand, with the plugs out; stop at any resistance and never force it with the starter." },
  { id: "rotating", title: "Belts, fans and pulleys", words: "Keep hands, hair, sleeves and gloves away from belts and fans; an electric fan starts by itself. Nobody stands in line with a belt, a flywheel or a roller." },
  { id: "burst-speed", title: "Things that spin", words: "Flywheels, pulleys, blowers and turbines burst when overdriven. Their maker's speed is the limit; no figure computed here raises it." },
  { id: "hot", title: "Hot parts", words: "Exhaust, oil and coolant burn. Open a cooling system only when it is cold." },
  { id: "fuel", title: "Fuel vapour", words: "Fuel vapour lies on the floor and finds a spark. Ventilate, let the pressure out before a line is opened, disconnect the battery, keep an extinguisher at hand, and disable fuel and ignition before any cranking test." },
  { id: "raised-vehicle", title: "Under a raised car", words: "Never under a jack alone: stands of the right rating, at the maker's points, on level ground, wheels chocked." },
  { id: "lifting", title: "Lifting an engine", words: "Hoist, chains and stand must be rated for the weight; nobody stands beneath or reaches under a hanging engine." },
  { id: "exhaust-gas", title: "Exhaust gas", words: "Carbon monoxide has no smell and kills. Run an engine indoors only with the exhaust led outside." },
  { id: "yield-bolts", title: "Bolts tightened to yield", words: "A bolt that has been taken to yield has been used up: fit new ones unless its maker says how to measure it for another use." },
  { id: "tightening", title: "Tightening", words: "Pull a torque wrench smoothly and stand so that a slip cannot throw you. Clear oil and coolant out of blind holes first: a bolt driven into liquid splits castings. No impact tool where a torque is asked for." },
  { id: "pressure-test", title: "Air in a cylinder", words: "Leak-down air can spin the crank: hold it, and leave no tool on the crank bolt." },
  { id: "boost", title: "Boost", words: "A boosted engine past its maker's limits can fail with force. Knock is settled by fuel, temperature and spark on the engine itself, not by a number here." },
  { id: "first-start", title: "First start", words: "Extinguisher at hand, a second person at the switch, eyes on oil pressure. Stop at once for no pressure, noise, leaks or heat." },
  { id: "dynamometer", title: "Rollers", words: "Straps, tyres of the right rating, cooling air and exhaust extraction; nobody beside the wheels." },
  { id: "waste", title: "Oil, coolant and solvents", words: "Keep them off the skin and out of the drain; coolant is sweet and poisons animals. Local rules say where waste goes." },
  { id: "law", title: "Road and emissions law", words: "Many places forbid taking out or defeating an emissions control, or fitting parts that do. Look up the law where the car is used before the first bolt is turned." },
];

/** The caution of this id. */
export function cautionOf(id: string): Caution | undefined {
  return CAUTIONS.find((caution) => caution.id === id);
}
