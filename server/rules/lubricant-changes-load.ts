// A torque taken over from a source and pulled with another lubricant than the source reads it with.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { fromKindBase } from "../quantity/kinds.ts";
import { changedLoad } from "./lubricant.ts";
import type { BuildRule } from "./rule.ts";
import { giver, torqueText } from "./wording.ts";

export const RULE: BuildRule = {
  id: "lubricant-changes-load",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A torque is pulled with another lubricant than the source reads it with, and clamps another load.",
    why: "Most of a torque is friction. A dry figure pulled on oil stretches the bolt by half as much again; an oiled one pulled dry leaves the joint slack.",
    limit: "The load that each torque gives on its own lubricant, at the middle of both friction bands: more than a tenth apart, beyond what the source's own band allows, is reported. A torque that was brought down or up for its lubricant passes.",
    source: "ISO 16047 long form; friction classes of VDI 2230. The tenth is common practice, no source",
    remedy: "Use the lubricant that the source reads its torque with; or the torque that gives the same load on yours, which the message works out as an estimate.",
    cautions: ["tightening"],
    bad: `
engine drover-338 {
  source: "workshop manual"
  cylinders: 8
  fastener main-cap { thread: 1/2-13; grade: grade 8; torque: 90 ft-lb dry }
}

build long-reach-1 on drover-338 {
  fastener main-cap { torque: 90 ft-lb oiled }
}
`,
    good: `
engine drover-338 {
  source: "workshop manual"
  cylinders: 8
  fastener main-cap { thread: 1/2-13; grade: grade 8; torque: 90 ft-lb dry }
}

build long-reach-1 on drover-338 {
  fastener main-cap { torque: 63 ft-lb oiled }
}
`,
  },
  check({ build, sheet, report }) {
    for (const name of build.fasteners) {
      const found = changedLoad(build, name);
      if (!found) continue;
      const { wanted, given, load, meant } = found;
      const share = `about ${Math.round(Math.abs(load / meant - 1) * 20) * 5} % ${load > meant ? "more" : "less"}`;
      // Two figures: friction is not known to more.
      const unit = given.value.quantity.unit ?? "newton-metre";
      const same = Number(fromKindBase(found.same, unit, "torque").toPrecision(2));
      // What the lowest friction of the band makes of it, in one breath: past proof by its lubricant is no second cause.
      const most = sheet.byId.get(`${name}.proof-fraction`)?.interval?.high ?? 0;
      const proof = load > meant && most > 1 ? `, up to ${Math.ceil(100 * most)} % of its proof load where friction is lowest` : "";
      report({
        message: `${torqueText(given)} clamps \`${name}\` with ${share} than the ${torqueText(wanted)} that ${giver(wanted.provided)} asks for${proof}. Use its lubricant; on yours the same load takes about ${same} ${spellingOfUnit(unit)}.`,
        at: given.at, path: given.path, related: [{ message: "It is asked for here.", at: wanted.at }],
      });
    }
  },
};
