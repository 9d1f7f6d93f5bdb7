// What was cut off a head or block, and what is said to be left, do not add up.
import { type EffectiveBuild, effective, fitted, quantityAt } from "../model/effective.ts";
import { formatAgainst, unitFor } from "../quantity/display.ts";
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { meaningOf } from "../sheet/meaning.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf, written } from "./wording.ts";

/** How far a deck may lie from the old one less the cut, m: blocks and rods leave the works that uneven. Common practice, no source. */
const DECK = 0.15e-3;
/** How much smaller a chamber may be than the old one less the cut, as a share: burettes and castings differ. Common practice, no source. */
const CHAMBER = 0.04;

export const RULE: BuildRule = {
  id: "cut-disagrees",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "What was cut off and what is left do not add up: the deck or the chamber is not what the cut makes of it.",
    why: "One of the two figures is a slip, or more was cut than you were told. Compression, squish and the gap to the valves all go by it.",
    limit: "The deck: within 0.15 mm (0.006 in) of the engine's own less what was cut off the block, where pistons, rods and crank are its own. The chamber: no more than 4 % smaller than the engine's own less its area times what was cut off the head; that it is larger is how chambers are shaped. Both are common practice.",
    source: "geometry; the limits are common practice, no source",
    remedy: "Look up what the machinist wrote down, and measure deck or chamber again.",
    bad: `
engine drover-338 {
  source: "shop manual"
  cylinders: 8
  combustion { deck: .020 in below }
}

build gritstone-1 on drover-338 {
  interference: no
  combustion { block-skim: .012 in; deck: .001 in below }
}
`,
    good: `
engine drover-338 {
  source: "shop manual"
  cylinders: 8
  combustion { deck: .020 in below }
}

build gritstone-1 on drover-338 {
  interference: no
  combustion { block-skim: .012 in; deck: .008 in below }
}
`,
  },
  check({ build, report }) {
    const cutBlock = restated(build, "combustion.block-skim", "combustion.deck");
    if (cutBlock && !["piston", "rod", "crankshaft", "block"].some((kind) => fitted(build, kind).length > 0)) {
      const left = cutBlock.stock - cutBlock.cut;
      if (Math.abs(cutBlock.now - left) > DECK + cutBlock.slack) {
        const unit = quantityOf(cutBlock.given)?.quantity.unit ?? "millimetre";
        const shown = formatAgainst(left, cutBlock.now, "length", unit);
        report({
          message: `The deck is given as ${written(cutBlock.given)}, and the engine's own less the ${written(cutBlock.skim)} cut off the block is ${shown.value} ${spellingOfUnit(unit)}. Look up both.`,
          at: cutBlock.given.location, path: "combustion.deck", related: [{ message: "The cut stands here.", at: cutBlock.skim.location }, { message: "The engine's own stands here.", at: cutBlock.own.location }],
        });
      }
    }
    const cutHead = restated(build, "combustion.skim", "combustion.chamber");
    const area = quantityAt(build, "combustion.chamber-area")?.quantity.interval.nominal;
    if (cutHead && area !== undefined && fitted(build, "head").length === 0) {
      const left = cutHead.stock - area * cutHead.cut;
      if (left > 0 && cutHead.now < left * (1 - CHAMBER) - cutHead.slack) {
        const unit = quantityOf(cutHead.given)?.quantity.unit ?? unitFor("volume", "metric", left) ?? "cubic-centimetre";
        const shown = formatAgainst(left, cutHead.now, "volume", unit);
        report({
          message: `The chamber is given as ${written(cutHead.given)}, and the engine's own less the ${written(cutHead.skim)} cut off the head is ${shown.value} ${spellingOfUnit(unit)}. Look up both.`,
          at: cutHead.given.location, path: "combustion.chamber", related: [{ message: "The cut stands here.", at: cutHead.skim.location }, { message: "The engine's own stands here.", at: cutHead.own.location }],
        });
      }
    }
  },
};

/** A cut that the build says, and a figure that both engine and build give: the stock one, the one now, and what their digits leave open. */
function restated(build: EffectiveBuild, cutPath: string, path: string) {
  const [cutSlot, slot] = [build.slots.get(cutPath), build.slots.get(path)];
  const [skim, given] = [effective(cutSlot), effective(slot)];
  const own = slot?.chain.slice(slot.from).find((p) => p.origin.sort === "engine");
  if (!cutSlot || !slot || !skim || !given || !own || skim.origin.sort !== "build" || given.origin.sort !== "build") return undefined;
  const [cut, now, stock] = [meaningOf(cutSlot, skim), meaningOf(slot, given), meaningOf(slot, own)];
  const before = cutSlot.chain.slice(cutSlot.from).find((p) => p.origin.sort === "engine");
  const gone = before ? (meaningOf(cutSlot, before)?.interval.nominal ?? 0) : 0;
  if (!cut || !now || !stock || cut.assumption !== undefined || now.assumption !== undefined) return undefined;
  const slack = [given, own].reduce((sum, p) => sum + (quantityOf(p)?.quantity.halfDigit ?? 0), 0) + (stock.interval.high - stock.interval.low) / 2 + (now.interval.high - now.interval.low) / 2;
  return { skim, given, own, cut: cut.interval.nominal - gone, now: now.interval.nominal, stock: stock.interval.nominal, slack };
}
