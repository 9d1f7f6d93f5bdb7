// An impact tool on a fastener whose maker forbids it.
import { asked, chosen } from "../model/effective.ts";
import type { BuildRule } from "./rule.ts";
import { giver } from "./wording.ts";

export const RULE: BuildRule = {
  id: "impact-tool",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "An impact tool is to be used where the source allows none.",
    why: "An impact tool knows no torque: it stretches one bolt, leaves the next slack, and hammers through the gear on what it turns.",
    limit: "The source's own `impact-tool`: `never`, or `to-remove` for taking off only.",
    source: "the source's own word",
    remedy: "Use hand tools, hold the crank or gear with the tool made for it, and finish with a torque wrench.",
    cautions: ["tightening"],
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener crank-pulley { thread: M14x1.5; class: 10.9; torque: 165 ± 10 N·m oiled; impact-tool: never }
}

build wren-hill-2 on dunlin-18 {
  fastener crank-pulley { impact-tool: to-remove }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener crank-pulley { thread: M14x1.5; class: 10.9; torque: 165 ± 10 N·m oiled; impact-tool: to-remove }
}

build wren-hill-2 on dunlin-18 {
  fastener crank-pulley { impact-tool: to-remove }
}
`,
  },
  check({ build, report }) {
    for (const name of build.fasteners) {
      const slot = build.slots.get(`fastener.${name}.impact-tool`);
      const [source, own] = [asked(slot), chosen(slot)];
      if (!source || !own || source.fact.value.is !== "word" || own.fact.value.is !== "word") continue;
      if (FREEDOM.indexOf(own.fact.value.word) <= FREEDOM.indexOf(source.fact.value.word)) continue;
      const allows = source.fact.value.word === "never" ? "allows no impact tool on it" : "allows one only to take it off";
      const use = own.fact.value.word === "allowed" ? "tightened with an impact tool" : "taken off with an impact tool";
      report({ message: `\`${name}\` is to be ${use}, and ${giver(source)} ${allows}. Use hand tools.`, at: own.location, path: own.fact.path, related: [{ message: "It is said here.", at: source.location }] });
    }
  },
};

const FREEDOM = ["never", "to-remove", "allowed"];
