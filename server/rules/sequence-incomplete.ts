// A tightening order that leaves bolts out or names one twice.
import type { FigureFact } from "../model/declaration.ts";
import type { DeclarationRule } from "./rule.ts";
import { allOf } from "./wording.ts";

export const RULE: DeclarationRule = {
  id: "sequence-incomplete",
  scope: "declaration",
  severity: "error",
  page: {
    summary: "An order of tightening or loosening does not name every bolt exactly once.",
    why: "The bolt that is left out is the one that nobody tightened.",
    limit: "Every number from one to the fastener's `count`, once each; without a count, to the highest number in the order. Where a drawing shows one head of several, the order of that head will do: ten bolts for a `count` of twenty.",
    source: "by definition",
    remedy: "Copy the order from the drawing again.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; count: 10; sequence: 5-6-3-4-7-8-1-2-9; numbering: "figure 6-12" }
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; count: 10; sequence: 5-6-3-4-7-8-1-2-9-10; numbering: "figure 6-12" }
}
`,
  },
  check(declaration, report) {
    for (const fact of declaration.figures) {
      const match = /^fastener\.(.+)\.(sequence|loosen)$/.exec(fact.path);
      if (!match || fact.value.is !== "order") continue;
      const count = countOf(declaration.figures, match[1] as string);
      const fault = faultOf(fact.value.order, count);
      if (!fault) continue;
      report({ message: `The ${match[2] === "loosen" ? "order of loosening" : "sequence"} of \`${match[1]}\` ${fault}. Copy it from the drawing again.`, at: { tree: declaration.tree, span: fact.span }, path: fact.path });
    }
  },
};

function countOf(figures: readonly FigureFact[], name: string): number | undefined {
  const fact = figures.find((f) => f.path === `fastener.${name}.count`);
  const count = fact?.value.is === "quantity" ? fact.value.quantity.interval.nominal : undefined;
  return count !== undefined && count >= 1 ? count : undefined;
}

/** What is wrong with an order of so many bolts, to follow "The sequence of X", or nothing. */
function faultOf(order: readonly number[], count: number | undefined): string | undefined {
  const twice = [...new Set(order.filter((n, i) => order.indexOf(n) !== i))];
  if (twice.length > 0) return `names ${bolts(twice)} twice`;
  const highest = Math.max(...order);
  // `count` counts the bolts of all heads together, and a drawing may show one of them.
  const last = count === undefined || (highest > 1 && count > highest && count % highest === 0) ? highest : count;
  const beyond = order.filter((n) => n > last);
  if (beyond.length > 0) return `names ${bolts(beyond)}, and there are only ${last}`;
  const missing: number[] = [];
  for (let n = 1; n <= last && missing.length < 100; n++) if (!order.includes(n)) missing.push(n);
  return missing.length > 0 ? `leaves out ${bolts(missing)} of ${last}` : undefined;
}

function bolts(numbers: readonly number[]): string {
  const shown = numbers.slice(0, 4).map(String);
  return `bolt${numbers.length > 1 ? "s" : ""} ${allOf(numbers.length > 4 ? [...shown, `${numbers.length - 4} more`] : shown)}`;
}
