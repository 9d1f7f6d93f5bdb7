// A figure ten, a hundred or 25.4 times away from what it should be.
import type { Declaration, FigureFact } from "../model/declaration.ts";
import type { QuantityValue } from "../model/value.ts";
import { formatBand, unitFor } from "../quantity/display.ts";
import { likelySlips } from "../quantity/slips.ts";
import type { DeclarationRule, Report } from "./rule.ts";
import { isOutsideUsual, slipFixes, slipsOf } from "./slip.ts";
import { giver, textAt, written } from "./wording.ts";

export const RULE: DeclarationRule = {
  id: "decimal-slip",
  scope: "declaration",
  severity: "warning",
  page: {
    summary: "A figure is ten, a hundred or 25.4 times away from what is asked for, or from anything that key ever holds.",
    why: "A misplaced point or an inch taken for a millimetre reads like any other figure, and the machine shop works to it.",
    limit: "The figure that a source asks for, where the build chose another: then it is an error when only the shifted figure fits. Else the span that the key holds on any engine, from a small single to a large V8. A figure inside is never questioned, and one outside only when shifting it would bring it inside.",
    source: "the span of each key names its own origin in the language reference; most are common practice, no source",
    remedy: "Take the figure that is offered if the source agrees; or waive it, if the engine really is so.",
    bad: `
engine dunlin-18 {
  source: "workshop manual, section 6A"
  cylinders: 4
  bore: 830.0 mm
}
`,
    good: `
engine dunlin-18 {
  source: "workshop manual, section 6A"
  cylinders: 4
  bore: 83.00 mm
}
`,
  },
  check(declaration, report) {
    const all = [...declaration.figures, ...declaration.fits.flatMap((f) => [...f.figures, ...(f.inline?.figures ?? [])]), ...declaration.measured.flatMap((m) => m.figures)];
    const troubled = new Set(declaration.problems.flatMap((p) => (p.path !== undefined && p.code !== "reading-unstated" ? [p.path] : [])));
    for (const fact of all) {
      const found = troubled.has(fact.path) ? undefined : againstUsual(declaration, fact);
      if (found) report(found);
    }
  },
  checkBuild({ build, report }) {
    for (const { asked, chosen, slips, is, path, quantity } of slipsOf(build)) {
      // One outside its key's usual span has its finding already.
      if (is !== "point" || isOutsideUsual(chosen.fact)) continue;
      const [first] = slips;
      if (!first) continue;
      report({
        message: `${written(chosen)} is chosen for \`${chosen.fact.key.key}\` and ${giver(asked)} asks for ${written(asked)}. Was ${first.text} meant?`,
        at: chosen.location, path, severity: quantity.figures.length > 0 ? "error" : "warning", fixes: slipFixes(slips, chosen.location),
        related: [{ message: "It is asked for here.", at: asked.location }],
      });
    }
  },
};

function againstUsual(declaration: Declaration, fact: FigureFact): Report | undefined {
  const { usual } = fact.key;
  const values: readonly QuantityValue[] = fact.value.is === "quantity" ? [fact.value] : fact.value.is === "stages" && fact.key.type.is === "quantities" ? fact.value.stages : [];
  if (!usual) return undefined;
  for (const { quantity, qualifiers } of values) {
    // An oversize is added to the standard size, and a figure of the key's other kind is on another scale: the span says nothing of either.
    if (qualifiers["oversize"] !== undefined || (fact.key.type.is === "quantity" && fact.key.type.kind !== quantity.kind)) continue;
    const slips = likelySlips(quantity, { low: usual.low, nominal: (usual.low + usual.high) / 2, high: usual.high });
    const [first] = slips;
    if (!first) continue;
    const at = { tree: declaration.tree, span: quantity.span };
    const span = formatBand({ low: usual.low, nominal: usual.high, high: usual.high }, quantity.kind, quantity.unit ?? unitFor(quantity.kind, "metric", usual.high));
    return {
      message: `${textAt(at)} is far from anything \`${fact.key.key}\` holds on an engine, ${span} at most. Was ${first.text} meant?`,
      at, path: fact.path, fixes: slipFixes(slips, at),
    };
  }
  return undefined;
}
