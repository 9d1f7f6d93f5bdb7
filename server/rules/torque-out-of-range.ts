// A chosen torque outside what is asked for.
import type { EffectiveBuild } from "../model/effective.ts";
import { type FinalTorque, torqueIn } from "../model/tightening.ts";
import type { QuantityValue } from "../model/value.ts";
import { bandOf, standing } from "./band.ts";
import type { BuildRule } from "./rule.ts";
import { isSlip, torquePairs } from "./slip.ts";
import { giver, torqueText } from "./wording.ts";

export const RULE: BuildRule = {
  id: "torque-out-of-range",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A chosen torque lies outside what the source asks for.",
    why: "Too little and the joint works loose; too much and the bolt, or the thread it is in, gives up later and hot.",
    limit: "The torque that the part's or followed card's or engine's own figure gives: stage by stage where both tighten in as many stages, else the final torque against the final torque, whether it stands as `torque` or as the last of `tighten`. Where it states no tolerance, only the rounding of the two figures is allowed. Torques under different lubrication are not compared: the same clamp load takes another torque.",
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
      for (const { wanted, given } of torquePairs(build, name)) {
        if (isSlip(build, given.path)) break;
        const side = comparable(wanted.value, given.value) ? standing(given.value.quantity, bandOf(wanted.value.quantity), given.value.quantity.halfDigit) : 0;
        if (side === 0 || otherSourceAgrees(build, name, given)) continue;
        const stage = given.stage !== undefined && wanted.stage !== undefined ? `Stage ${given.stage + 1} of \`${name}\`` : `\`${name}\``;
        const how = given.value.quantity.kind === "angle" ? "turned through" : "tightened to";
        report({
          message: `${stage} is to be ${how} ${torqueText(given)}, which is ${side < 0 ? "less" : "more"} than the ${torqueText(wanted)} that ${giver(wanted.provided)} asks for. Tighten it to what is asked for.`,
          at: given.at, path: given.path, related: [{ message: "It is asked for here.", at: wanted.at }],
        });
        break;
      }
    }
  },
};

/** Where two sources ask for different torques, choosing that of either is the builder's decision. */
function otherSourceAgrees(build: EffectiveBuild, name: string, given: FinalTorque): boolean {
  return ["torque", "tighten"].some((key) => {
    const path = `fastener.${name}.${key}`;
    const slot = build.slots.get(path);
    return (slot?.chain.slice(slot.from) ?? []).some((p) => {
      const other = p.role === "asked" && (p.origin.sort === "card" || p.origin.sort === "part") ? torqueIn(p, path) : undefined;
      return other !== undefined && other.turned === given.turned && comparable(other.value, given.value) && standing(given.value.quantity, bandOf(other.value.quantity), given.value.quantity.halfDigit) === 0;
    });
  });
}

/** Same lubrication, and stated on both sides or on neither. */
function comparable(a: QuantityValue, b: QuantityValue): boolean {
  return a.qualifiers["lubrication"] === b.qualifiers["lubrication"];
}
