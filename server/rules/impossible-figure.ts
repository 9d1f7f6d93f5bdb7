// A figure that no engine can have: nothing where there must be something, less than nothing, or past anything that a slip explains.
import { impossibleIn } from "../model/possible.ts";
import { likelySlips } from "../quantity/slips.ts";
import type { DeclarationRule } from "./rule.ts";
import { slipFixes } from "./slip.ts";
import { textAt } from "./wording.ts";

export const RULE: DeclarationRule = {
  id: "impossible-figure",
  scope: "declaration",
  severity: "error",
  page: {
    summary: "A figure is zero, less than nothing, or far past anything, where no engine can have that.",
    why: "Whatever rests on it comes out as nonsense, so it is said here, once: the figure counts for nothing until it is put right, and nothing is worked out from it.",
    limit: "What the key never holds at nothing must be more than nothing; where nothing is possible, less than nothing is not, except for figures that count to either side (a deck above or below, an event before or after). More than a hundred times the greatest, or less than a hundredth of the least, that the key ever holds is past any slip of a point or a unit; the hundred is this tool's own choice.",
    source: "arithmetic; the span of each key is in the language reference",
    remedy: "Write the figure that is meant, or … where it is not known yet.",
    bad: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bore: 0 mm
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual"
  cylinders: 4
  bore: 83.00 mm
}
`,
  },
  check(declaration, report) {
    for (const { key, path, span, fault, quantity, usual } of impossibleIn(declaration)) {
      const at = { tree: declaration.tree, span };
      // A unit far from the one that is meant explains even this: half a degree where half a turn was meant.
      const slips = likelySlips(quantity, { low: usual.low, nominal: (usual.low + usual.high) / 2, high: usual.high });
      const [first] = slips;
      report({ message: `\`${key}\` is ${textAt(at).replace(/^[\w.-]+:\s*/, "")}, ${fault}. ${first ? `Was ${first.text} meant?` : "Write the figure that is meant."}`, at, path, fixes: slipFixes(slips, at) });
    }
  },
};
