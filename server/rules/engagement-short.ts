// Too little thread in hold.
import { type Provided, asked, chosen, effective } from "../model/effective.ts";
import { compareWithLimit, formatValue } from "../quantity/display.ts";
import { amountOf } from "./amount.ts";
import { bandOf } from "./band.ts";
import type { BuildRule } from "./rule.ts";
import { giver, quantityOf, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "engagement-short",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A bolt or stud of the build has less thread in hold than is asked for, or than its material takes.",
    why: "The thread in the casting goes before the bolt does, and takes the casting with it.",
    limit: "In this order: the `engagement` that the part's, card's or engine's own figure asks for; else common practice by what the thread is cut in: one diameter in steel, one and a quarter in cast iron, two in light alloys. A source's own figure is never held against common practice.",
    source: "the source's own figure; else common practice, no source",
    remedy: "Use the longer bolt, or the stud that reaches to the bottom less a turn; in light alloys a wire insert. Measure the depth of the hole first: a bolt that bottoms clamps nothing.",
    cautions: ["tightening"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener rocker-stud { thread: M8x1.25; class: 8.8; torque: 20 N·m oiled; tapped-into: aluminium }
}

build wren-hill-2 on dunlin-18 {
  fastener rocker-stud { engagement: 10 mm }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener rocker-stud { thread: M8x1.25; class: 8.8; torque: 20 N·m oiled; tapped-into: aluminium }
}

build wren-hill-2 on dunlin-18 {
  fastener rocker-stud { engagement: 17 mm }
}
`,
  },
  check({ build, sheet, report }) {
    for (const name of build.fasteners) {
      const path = `fastener.${name}.engagement`;
      const own = chosen(build.slots.get(path));
      const length = quantityOf(own)?.quantity;
      if (!own || !length) continue;
      const source = asked(build.slots.get(path));
      const wanted = quantityOf(source)?.quantity;
      if (source && wanted) {
        if (compareWithLimit(length.interval.high, bandOf(wanted).low) < 0)
          report({ message: `\`${name}\` has ${written(own)} of thread in hold and ${giver(source)} asks for ${written(source)}. Use one that reaches further.`, at: own.location, path, ...amountOf("less", length), related: [{ message: "It is asked for here.", at: source.location }] });
        continue;
      }
      const required = sheet.byId.get(`${name}.engagement.required`)?.interval;
      if (!required || compareWithLimit(length.interval.high, required.nominal) >= 0) continue;
      const material: Provided | undefined = effective(build.slots.get(`fastener.${name}.tapped-into`));
      const into = material?.fact.value.is === "word" ? ` in ${material.fact.value.word.replace("-", " ")}` : "";
      report({
        message: `\`${name}\` has ${written(own)} of thread in hold, and common practice${into} is ${formatValue(required.nominal, "length", length.unit ?? "millimetre")}. Use one that reaches further.`,
        at: own.location, path, ...amountOf("less", length), related: material ? [{ message: "What the thread is cut in stands here.", at: material.location }] : [],
      });
    }
  },
};
