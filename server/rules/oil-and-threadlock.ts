// Oil and thread-locking fluid on one thread.
import { type EffectiveBuild, type Provided, effective } from "../model/effective.ts";
import { finalTorque, rankOf } from "../model/tightening.ts";
import type { BuildRule } from "./rule.ts";
import { textAt, torqueText, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "oil-and-threadlock",
  scope: "build",
  on: ["engine", "build"],
  severity: "warning",
  page: {
    summary: "Oil or paste and thread-locking fluid are to go on the same thread.",
    why: "Thread-locker hardens only on clean metal: on oil it stays wet, holds nothing, and the two together make a torque that nobody has a figure for.",
    limit: "One of the two: stages of one tightening that name both, or a `lubricant` that says otherwise than the torque it goes with.",
    source: "common practice, no source",
    remedy: "Degrease thread and hole and use the fluid, at the torque its source reads with it; or oil, at the torque for oil.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 58 N·m threadlocked; lubricant: "engine oil on thread and head" }
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  fastener cam-gear { thread: M10x1.25; class: 10.9; torque: 58 N·m threadlocked; lubricant: "medium thread-locker on a clean thread" }
}
`,
  },
  check({ build, report }) {
    for (const name of build.fasteners) {
      const torque = finalTorque(build, name);
      if (!torque || (build.subject.sort === "build" && torque.provided.origin.sort === "engine")) continue;
      const staged = torque.provided.fact.value;
      const states = staged.is === "stages" ? staged.stages.flatMap((s) => s.qualifiers["lubrication"] ?? []) : [];
      if (states.includes("threadlocked") && states.some((s) => SLIPPERY.has(s))) {
        report({ message: `${textAt(torque.provided.location)} puts both oil and thread-locker on \`${name}\`. Keep to one of the two.`, at: torque.provided.location, path: torque.path });
        continue;
      }
      const lubricant = effective(build.slots.get(`fastener.${name}.lubricant`));
      const text = lubricant?.fact.value.is === "text" ? lubricant.fact.value.text : undefined;
      if (!lubricant || text === undefined || isOlder(build, lubricant, torque.provided)) continue;
      const state = torque.value.qualifiers["lubrication"];
      const locker = LOCKER.test(text);
      const clash = (state === "threadlocked" && !locker && OILY.test(text)) || (state !== undefined && SLIPPERY.has(state) && locker);
      if (clash) report({ message: `${torqueText(torque)} is asked of \`${name}\`, and its \`lubricant\` says ${written(lubricant)}. Thread-locker holds only on a clean thread: keep to one of the two.`, at: lubricant.location, path: lubricant.fact.path, related: [{ message: "The torque stands here.", at: torque.at }] });
    }
  },
};

/** A lubricant that was said before the torque was replaced goes with the torque that has gone. */
function isOlder(build: EffectiveBuild, lubricant: Provided, torque: Provided): boolean {
  return rankOf(build, lubricant) < rankOf(build, torque);
}

const SLIPPERY: ReadonlySet<string> = new Set(["oiled", "moly", "anti-seize", "waxed"]);
const OILY = /\b(oil|oiled|grease|greased|moly|molybdenum|anti-?seize|copper paste|wax)\b/i;
const LOCKER = /\b(thread-?\s?lock\w*|locking fluid|locker)\b/i;
