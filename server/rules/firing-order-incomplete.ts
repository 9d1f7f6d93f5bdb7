// A firing order that leaves a cylinder out, names one twice, or names one that the engine has not.
import { type EffectiveBuild, effective, quantityAt } from "../model/effective.ts";
import type { BuildRule } from "./rule.ts";
import { allOf } from "./wording.ts";

export const RULE: BuildRule = {
  id: "firing-order-incomplete",
  scope: "build",
  on: ["engine", "build"],
  severity: "error",
  page: {
    summary: "The firing order does not name every cylinder once.",
    why: "Plug leads are laid and valves are set by it.",
    limit: "Every number from 1 to the number of cylinders, each once. Which order is right for the engine only its maker can say.",
    source: "by definition",
    remedy: "Copy it from the manual again.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  firing-order: 1-3-4
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  firing-order: 1-3-4-2
}
`,
  },
  check({ build, report }) {
    const given = effective(build.slots.get("firing-order"));
    // Where the engine says it, it is the engine's finding.
    if (!given || (build.subject.sort === "build" && given.origin.sort === "engine")) return;
    const fault = faultOf(build, given.fact.value.is === "order" ? given.fact.value.order : undefined);
    if (fault !== undefined) report({ message: `The firing order ${fault}. Copy it from the manual again.`, at: given.location, path: "firing-order" });
  },
};

function faultOf(build: EffectiveBuild, order: readonly number[] | undefined): string | undefined {
  const count = quantityAt(build, "cylinders")?.quantity.interval.nominal;
  if (!order || count === undefined || !Number.isInteger(count) || count < 1) return undefined;
  const twice = [...new Set(order.filter((n, i) => order.indexOf(n) !== i))];
  if (twice.length > 0) return `names ${cylinders(twice)} twice`;
  const beyond = order.filter((n) => n < 1 || n > count);
  if (beyond.length > 0) return `names ${cylinders(beyond)}, and the engine has ${count}`;
  const missing: number[] = [];
  for (let n = 1; n <= count && missing.length < 100; n++) if (!order.includes(n)) missing.push(n);
  return missing.length > 0 ? `leaves out ${cylinders(missing)}` : undefined;
}

function cylinders(numbers: readonly number[]): string {
  return `cylinder${numbers.length === 1 ? "" : "s"} ${allOf(numbers.slice(0, 4).map(String))}${numbers.length > 4 ? " and more" : ""}`;
}
