// A chosen torque outside what is asked for.
import { type Slot, asked, chosen } from "../model/effective.ts";
import type { QuantityValue } from "../model/value.ts";
import { bandOf, standing } from "./band.ts";
import type { BuildRule } from "./rule.ts";
import { isSlip } from "./slip.ts";
import { giver, quantityOf, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "torque-out-of-range",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A chosen torque lies outside what the source asks for.",
    why: "Too little and the joint works loose; too much and the bolt, or the thread it is in, gives up later and hot.",
    limit: "The torque, or each stage, that the part's or followed card's or engine's own figure gives. Where it states no tolerance, only the rounding of the two figures is allowed. Torques under different lubrication are not compared: the same clamp load takes another torque.",
    source: "the source's own figure",
    remedy: "Tighten to the source's figure, or say in a waiver whose figure this is.",
    cautions: ["tightening"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; class: 8.8; torque: 20 ± 2 N·m oiled }
}

build wren-hill-2 on dunlin-18 {
  fastener cam-cap { torque: 25 N·m oiled }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; class: 8.8; torque: 20 ± 2 N·m oiled }
}

build wren-hill-2 on dunlin-18 {
  fastener cam-cap { torque: 21 N·m oiled }
}
`,
  },
  check({ build, report }) {
    for (const name of build.fasteners) {
      const path = `fastener.${name}.torque`;
      const source = asked(build.slots.get(path));
      const own = chosen(build.slots.get(path));
      const [wanted, given] = [quantityOf(source), quantityOf(own)];
      if (source && own && wanted && given && !isSlip(build, path) && comparable(wanted, given)) {
        const side = standing(given.quantity, bandOf(wanted.quantity), given.quantity.halfDigit);
        if (side !== 0 && !otherSourceAgrees(build.slots.get(path), given))
          report({
            message: `\`${name}\` is to be tightened to ${written(own)} and ${giver(source)} asks for ${written(source)}. Tighten it to what is asked for.`,
            at: own.location, path, related: [{ message: "It is asked for here.", at: source.location }],
          });
      }
      const stages = `fastener.${name}.tighten`;
      const askedStages = asked(build.slots.get(stages));
      const ownStages = chosen(build.slots.get(stages));
      if (askedStages?.fact.value.is !== "stages" || ownStages?.fact.value.is !== "stages") continue;
      const [want, have] = [askedStages.fact.value.stages, ownStages.fact.value.stages];
      // A different number of stages is another method, not a figure out of range.
      if (want.length !== have.length) continue;
      const off = have.findIndex((stage, i) => {
        const other = want[i];
        return other !== undefined && stage.quantity.kind === other.quantity.kind && comparable(other, stage) && standing(stage.quantity, bandOf(other.quantity), stage.quantity.halfDigit) !== 0;
      });
      const stage = have[off];
      if (stage)
        report({
          message: `Stage ${off + 1} of \`${name}\` stands as ${written(ownStages)} and ${giver(askedStages)} asks for ${written(askedStages)}. Tighten it as is asked for.`,
          at: { tree: ownStages.location.tree, span: stage.quantity.span }, path: stages, related: [{ message: "It is asked for here.", at: askedStages.location }],
        });
    }
  },
};

/** Where two sources ask for different torques, choosing that of either is the builder's decision. */
function otherSourceAgrees(slot: Slot | undefined, given: QuantityValue): boolean {
  return (slot?.chain.slice(slot.from) ?? []).some((p) => {
    const value = p.role === "asked" && (p.origin.sort === "card" || p.origin.sort === "part") ? quantityOf(p) : undefined;
    return value !== undefined && comparable(value, given) && standing(given.quantity, bandOf(value.quantity), given.quantity.halfDigit) === 0;
  });
}

/** Same lubrication, and stated on both sides or on neither. */
function comparable(a: QuantityValue, b: QuantityValue): boolean {
  return a.qualifiers["lubrication"] === b.qualifiers["lubrication"];
}
