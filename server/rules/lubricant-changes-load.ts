// A torque taken over from a source and pulled with another lubricant than the source reads it with.
import { spellingOfUnit } from "../../grammar/vocabulary.ts";
import { fromKindBase } from "../quantity/kinds.ts";
import { torquePerNewton } from "../sheet/formulas/fasteners.ts";
import { bandOf } from "./band.ts";
import type { BuildRule } from "./rule.ts";
import { isSlip, torquePairs } from "./slip.ts";
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
  check({ build, report }) {
    for (const name of build.fasteners) {
      const last = torquePairs(build, name).findLast(({ given }) => given.value.quantity.kind === "torque");
      if (!last || isSlip(build, last.given.path)) continue;
      const { wanted, given } = last;
      const [source, own] = [wanted.value.qualifiers["lubrication"], given.value.qualifiers["lubrication"]];
      if (source === undefined || own === undefined || source === own) continue;
      const [onSource, onOwn] = [torquePerNewton(build, name, source), torquePerNewton(build, name, own)];
      if (onSource === undefined || onOwn === undefined || Math.abs(onSource / onOwn - 1) < 1e-9) continue;
      const band = bandOf(wanted.value.quantity);
      const load = given.value.quantity.interval.nominal / onOwn;
      const [least, greatest] = [band.low / onSource, band.high / onSource];
      if (load >= (1 - SLACK) * least && load <= (1 + SLACK) * greatest) continue;
      const middle = wanted.value.quantity.interval.nominal / onSource;
      const share = `about ${Math.round(Math.abs(load / middle - 1) * 20) * 5} % ${load > middle ? "more" : "less"}`;
      // Two figures: friction is not known to more.
      const unit = given.value.quantity.unit ?? "newton-metre";
      const same = Number(fromKindBase(middle * onOwn, unit, "torque").toPrecision(2));
      report({
        message: `${torqueText(given)} clamps \`${name}\` with ${share} than the ${torqueText(wanted)} that ${giver(wanted.provided)} asks for. Use its lubricant; on yours the same load takes about ${same} ${spellingOfUnit(unit)}.`,
        at: given.at, path: given.path, related: [{ message: "It is asked for here.", at: wanted.at }],
      });
    }
  },
};

const SLACK = 0.1;
