// What a cut off head or block leaves of figures that were taken before it: chamber, deck, valve recess, the pushrods' room. A figure given or
// measured after the cut counts as it stands. Knows no physics of its own.
import { type EffectiveBuild, type Provided, effective } from "../../model/effective.ts";
import { type Interval, exactly } from "../../quantity/interval.ts";
import { type Formula, type Input, either, figure, formula, reading, table, value, where } from "../formula.ts";
import { meaningOf } from "../meaning.ts";

const SOURCE = "geometry: what is cut off is gone";

/** Later ones were said of an engine that earlier ones had already been done to. */
const ORDER = { engine: 0, part: 1, card: 2, build: 3 } as const;

const rankOf = (provided: Provided): number => ORDER[provided.origin.sort as keyof typeof ORDER] ?? 0;

interface Cut {
  readonly interval: Interval;
  readonly provided: Provided;
}

/** What was cut off after the figure at a path was given; nothing where it was given after the cut, or together with it. */
function cutSince(build: EffectiveBuild, cut: string, paths: readonly string[]): Cut | undefined {
  const slot = build.slots.get(cut);
  const now = effective(slot);
  const given = paths.map((path) => effective(build.slots.get(path))).find((p) => p !== undefined);
  if (!slot || !now || !given || rankOf(now) <= rankOf(given)) return undefined;
  const all = meaningOf(slot, now)?.interval;
  // A cut is counted since new: what had gone before the figure was taken is in it already.
  const earlier = slot.chain.slice(slot.from).findLast((p) => rankOf(p) <= rankOf(given));
  const gone = (earlier && meaningOf(slot, earlier)?.interval) ?? exactly(0);
  if (!all || !(all.nominal > gone.nominal)) return undefined;
  return { interval: { low: Math.max(0, all.low - gone.high), nominal: all.nominal - gone.nominal, high: all.high - gone.low }, provided: now };
}

/** A length cut off after a figure was given. */
export function cutOff(cut: string, ...paths: readonly [string, ...string[]]): Input<number> {
  return table("length", [cut], (build, each) => {
    const found = cutSince(build, cut, paths.map((path) => path.replace("{each}", each)));
    return found && { interval: found.interval, words: cut === "combustion.skim" ? "cut off the head since" : "cut off the block since", source: "as the build says", provided: [found.provided] };
  });
}

export function isCutSince(cut: string, ...paths: readonly [string, ...string[]]): (build: EffectiveBuild, each: string) => boolean {
  return (build, each) => cutSince(build, cut, paths.map((path) => path.replace("{each}", each))) !== undefined;
}

/** The figure as it was measured, else what a later cut left of it, else as it was given. */
function now(id: string, cut: string, ...paths: readonly [string, ...string[]]): Input<number> {
  const was = isCutSince(cut, ...paths);
  return either(reading(...paths), where(value(id), was) as Input<number>, where(figure(...paths), (build, each) => !was(build, each)) as Input<number>);
}

export const chamberNow = (): Input<number> => now("chamber.after-skim", "combustion.skim", "combustion.chamber");
export const deckNow = (): Input<number> => now("deck.after-skim", "combustion.block-skim", "combustion.deck");
export const recessNow = (): Input<number> => now("valve-recess.{each}.after-skim", "combustion.skim", "valve-gear.{each}.valve-recess", "valve-gear.valve-recess");

export const CUTS: readonly Formula[] = [
  formula({
    id: "chamber.after-skim", section: "bottom-end", label: "Chamber left after the skim", kind: "volume", unit: "cubic-centimetre",
    words: "The chamber as it was given, less what was cut off the head since. A burette tells more than this does.",
    expression: "{chamber} − {area} · {cut}", source: SOURCE, estimate: "walls of the chamber taken as square to the face as deep as the cut went",
    inputs: { chamber: figure("combustion.chamber"), area: figure("combustion.chamber-area"), cut: cutOff("combustion.skim", "combustion.chamber") },
    applies: isCutSince("combustion.skim", "combustion.chamber"),
    compute: ({ chamber, area, cut }) => (chamber > area * cut ? chamber - area * cut : undefined),
  }),
  formula({
    id: "deck.after-skim", section: "bottom-end", label: "Deck left after the block was cut", kind: "length", unit: "millimetre",
    words: "Where the crowns stop now that the block's face is lower; negative where they stand proud.",
    expression: "{deck} − {cut}", source: SOURCE,
    inputs: { deck: figure("combustion.deck"), cut: cutOff("combustion.block-skim", "combustion.deck") },
    applies: isCutSince("combustion.block-skim", "combustion.deck"),
    compute: ({ deck, cut }) => deck - cut,
  }),
  formula({
    id: "valve-recess.{each}.after-skim", each: "side", section: "valve-gear", label: "{each} valves above the skimmed head face", kind: "length", unit: "millimetre", quiet: true,
    words: "How far the shut valve sits up from the face once the face has come up to it.",
    expression: "{recess} − {cut}", source: SOURCE,
    inputs: { recess: figure("valve-gear.{each}.valve-recess", "valve-gear.valve-recess"), cut: cutOff("combustion.skim", "valve-gear.{each}.valve-recess", "valve-gear.valve-recess") },
    applies: isCutSince("combustion.skim", "valve-gear.{each}.valve-recess", "valve-gear.valve-recess"),
    compute: ({ recess, cut }) => recess - cut,
  }),
];
