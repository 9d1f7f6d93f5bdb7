// An engine that ran with a moved cam gear, and nobody looked where the cam stands.
import { effective, fitted } from "../model/effective.ts";
import type { Location } from "../model/declaration.ts";
import { doneOn, headOf, recordWords, recordsOf } from "./record.ts";
import type { BuildRule } from "./rule.ts";
import { quantityOf } from "./wording.ts";
import { spanOfFit } from "./placed.ts";

const FOUND_BY = new Set(["centreline", "opening", "closing"]);

export const RULE: BuildRule = {
  id: "cam-not-degreed",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "The engine was run with a moved cam gear, and no centreline, opening or closing was ever found with a degree wheel.",
    why: "Keyways, dowels and gears are made to a tolerance. Marks say which tooth, the wheel says which degree.",
    limit: "A `measured centreline`, `opening` or `closing`, or the step `degree-cam` ticked off. Asked for once there is a run or a pull, where the gear is set away from its zero.",
    source: "the usual order of work, common practice, no source",
    remedy: "Degree the cam, and write down what the wheel said: measured centreline.",
    cautions: ["timing-drive"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

part cam-gear vernier-18 for dunlin-18 { source: "box label"; adjustable: yes; mark-spacing: 1 deg crank }

build wren-hill-2 on dunlin-18 {
  interference: no
  fit vernier-18 { set: 3 deg crank retarded }
  run first-start on 2027-03-20 { speed: 1800 .. 2400 rpm for 20 min; load: 0 % }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

part cam-gear vernier-18 for dunlin-18 { source: "box label"; adjustable: yes; mark-spacing: 1 deg crank }

build wren-hill-2 on dunlin-18 {
  interference: no
  fit vernier-18 { set: 3 deg crank retarded }
  measured centreline on 2027-03-15 { intake: 112 deg crank }
  run first-start on 2027-03-20 { speed: 1800 .. 2400 rpm for 20 min; load: 0 % }
}
`,
  },
  check({ build, report }) {
    const moved = ["cam-gear.set", "cam-gear.intake.set", "cam-gear.exhaust.set"].some((path) => (quantityOf(effective(build.slots.get(path)))?.quantity.interval.nominal ?? 0) !== 0);
    if (!moved || doneOn(build, "degree-cam") || build.measured.some((m) => FOUND_BY.has(m.what.text) && !m.qualifiers.some((q) => q.text === "before"))) return;
    const ran = [...recordsOf(build, "run"), ...recordsOf(build, "pull")][0];
    if (!ran) return;
    const part = fitted(build, "cam-gear")[0];
    const at: Location = part ? { tree: build.subject.tree, span: spanOfFit(part.fit) } : headOf(build, ran);
    report({
      message: `The cam gear is moved, and ${recordWords(ran)} came before anybody found with a wheel where the cam stands. Degree it and write it down: measured centreline.`,
      at, path: "centreline.intake.installed", related: [{ message: "It ran here.", at: headOf(build, ran) }],
    });
  },
};
