// Two sources that ask for different figures.
import { type Provided, type Slot, chosen } from "../model/effective.ts";
import { compareWithLimit } from "../quantity/display.ts";
import type { BuildRule } from "./rule.ts";
import { giver, nameOf, quantityOf, written } from "./wording.ts";

export const RULE: BuildRule = {
  id: "cards-disagree",
  scope: "build",
  on: ["build"],
  severity: "warning",
  page: {
    summary: "Two cards, or a card and a fitted part, ask for different figures.",
    why: "The later one counts without anybody having decided so.",
    limit: "The two ranges must touch, once each is widened by the rounding of its digits. Figures that say of different things, such as one cold and one hot, are not compared; nor is one that the build has chosen itself.",
    source: "the two sources themselves",
    remedy: "Find out which source is right for this engine, and follow only that; or decide in the build itself.",
    bad: `
engine dunlin-18 { cylinders: 4 }

card leaflet for dunlin-18 {
  source: "gear maker's leaflet"
  fastener cam-gear { thread: M10x1.25; torque: 58 N·m oiled }
}

card manual for dunlin-18 {
  source: "workshop manual"
  fastener cam-gear { thread: M10x1.25; torque: 45 N·m oiled }
}

build wren-hill-2 on dunlin-18 {
  follow leaflet
  follow manual
}
`,
    good: `
engine dunlin-18 { cylinders: 4 }

card leaflet for dunlin-18 {
  source: "gear maker's leaflet"
  fastener cam-gear { thread: M10x1.25; torque: 58 N·m oiled }
}

card manual for dunlin-18 {
  source: "workshop manual"
  fastener cam-gear { thread: M10x1.25; torque: 43 ft-lb oiled }
}

build wren-hill-2 on dunlin-18 {
  follow leaflet
  follow manual
}
`,
  },
  check({ build, report }) {
    for (const slot of build.slots.values()) {
      if (chosen(slot)) continue;
      const pair = disagreement(slot);
      if (!pair) continue;
      const [earlier, later] = pair;
      const own = build.cards.find((c) => c.declaration === later.origin.declaration)?.follow.name.span ?? build.parts.find((p) => p.declaration === later.origin.declaration)?.fit.name?.span;
      report({
        message: `${giver(earlier)} asks for ${written(earlier)} for ${nameOf(later, slot.path)}, and ${giver(later)} for ${written(later)}; the later one counts. Follow only the one that is right, or decide in the build.`,
        at: own ? { tree: build.subject.tree, span: own } : later.location, path: slot.path,
        related: [{ message: `${giver(earlier)} says so here.`, at: earlier.location }, { message: `${giver(later)} says so here.`, at: later.location }],
      });
    }
  },
};

/** The last two sources of a slot that cannot both be right, a card among them. */
function disagreement(slot: Slot): readonly [Provided, Provided] | undefined {
  const sources = slot.chain.slice(slot.from).filter((p) => p.role === "asked" && (p.origin.sort === "card" || p.origin.sort === "part"));
  const later = sources[sources.length - 1];
  if (!later || ["source", "remark"].includes(slot.key.key)) return undefined;
  for (const earlier of sources.slice(0, -1).reverse()) {
    if (earlier.origin.declaration === later.origin.declaration || (earlier.origin.sort !== "card" && later.origin.sort !== "card")) continue;
    if (differ(earlier, later)) return [earlier, later];
  }
  return undefined;
}

function differ(a: Provided, b: Provided): boolean {
  const [one, two] = [quantityOf(a), quantityOf(b)];
  if (one && two) {
    if (one.quantity.kind !== two.quantity.kind || Object.keys(one.qualifiers).some((set) => two.qualifiers[set] !== undefined && two.qualifiers[set] !== one.qualifiers[set])) return false;
    const slack = one.quantity.halfDigit + two.quantity.halfDigit;
    return compareWithLimit(one.quantity.interval.low - slack, two.quantity.interval.high) > 0 || compareWithLimit(two.quantity.interval.low - slack, one.quantity.interval.high) > 0;
  }
  const [v, w] = [a.fact.value, b.fact.value];
  if (v.is === "thread" && w.is === "thread") return Math.abs(v.thread.diameter - w.thread.diameter) > 1e-9 || Math.abs(v.thread.pitch - w.thread.pitch) > 1e-9;
  if (v.is === "word" && w.is === "word") return v.word !== w.word;
  if (v.is === "yes-no" && w.is === "yes-no") return v.yes !== w.yes;
  if (v.is === "order" && w.is === "order") return v.order.join("-") !== w.order.join("-");
  return v.is === "class" && w.is === "class" && v.text !== w.text;
}
