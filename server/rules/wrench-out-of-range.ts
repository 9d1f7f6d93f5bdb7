// A torque that no wrench of the shop reaches, or only where none can be trusted.
import { type EffectiveBuild, effective } from "../model/effective.ts";
import { finalTorque } from "../model/tightening.ts";
import { type Wrench, givenBy, wrenchFor, wrenchesOf } from "../sheet/wrench.ts";
import type { BuildRule } from "./rule.ts";
import { allOf, torqueText, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "wrench-out-of-range",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "A torque lies outside the range of every torque wrench of the shop, or in the part of a range where none can be trusted.",
    why: "A 12 N·m bolt pulled with a 40 to 200 N·m wrench is pulled off: the wrench clicks after the thread has gone.",
    limit: "The `range` of each `wrench` in the shop. ISO 6789 holds a setting wrench to its error from a fifth of its greatest torque up: below that it is advice. Torques of the engine that the build says nothing of are told of together, as advice. A shop that lists no wrench is not asked for one.",
    source: "the shop's own ranges; ISO 6789 for the fifth",
    remedy: "Borrow or buy a wrench for that range.",
    cautions: ["tightening"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  fastener cam-cap { thread: M8x1.25; class: 8.8; torque: 12 N·m oiled }
}

shop {
  wrench big { range: 40 .. 200 N·m }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
}

build wren-hill-2 on dunlin-18 {
  fastener cam-cap { thread: M8x1.25; class: 8.8; torque: 12 N·m oiled }
}

shop {
  wrench small { range: 4 .. 25 N·m }
  wrench big { range: 40 .. 200 N·m }
}
`,
  },
  check({ build, report }) {
    const wrenches = wrenchesOf(build);
    if (wrenches.length === 0) return;
    const ofEngine: string[] = [];
    for (const name of build.fasteners) {
      const final = finalTorque(build, name);
      const torque = final?.value.quantity.interval.nominal;
      if (!final || torque === undefined || !(torque > 0)) continue;
      const wrench = wrenchFor(build, torque);
      if (wrench && torque >= wrench.trustedFrom * (1 - 1e-9)) continue;
      if (final.provided.origin.sort === "engine" && !isHandled(build, name)) {
        if (!wrench) ofEngine.push(`\`${name}\` (${torqueText(final)})`);
        continue;
      }
      if (wrench)
        report({
          message: `${torqueText(final)} for \`${name}\` is less than a fifth of what wrench \`${wrench.name}\` (${rangeOf(wrench)}) goes up to, where no standard holds it to its error. Take a smaller one.`,
          at: final.at, path: final.path, severity: "advice",
        });
      else
        report({ message: `No torque wrench of this shop reaches ${torqueText(final)} for \`${name}\`: ${allOf(wrenches.slice(0, 4).map((w) => `\`${w.name}\` goes ${rangeOf(w)}`))}. Borrow one that does.`, at: final.at, path: final.path });
    }
    const at = { tree: build.subject.tree, span: build.subject.on?.span ?? build.subject.name?.span ?? build.subject.wordSpan };
    if (ofEngine.length > 0) {
      const shown = ofEngine.length > 5 ? [...ofEngine.slice(0, 4), `${ofEngine.length - 4} more`] : ofEngine;
      report({ message: `No torque wrench of this shop reaches what the engine asks of ${allOf(shown)}. Borrow one before you come to ${ofEngine.length === 1 ? "it" : "them"}.`, at, severity: "advice" });
    }
  },
};

/** True where the build says anything of its own about a fastener. */
function isHandled(build: EffectiveBuild, name: string): boolean {
  return build.subject.fasteners.some((f) => f.name.text === name) || effective(build.slots.get(`fastener.${name}.torque`))?.role === "chosen";
}

function rangeOf(wrench: Wrench): string {
  const [range] = givenBy(wrench, "range");
  return range ? written(range) : "";
}

