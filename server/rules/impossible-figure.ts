// A figure that no engine can have: nothing where there must be something, or less than nothing.
import type { Declaration, FigureFact } from "../model/declaration.ts";
import type { KindId } from "../quantity/kinds.ts";
import type { DeclarationRule } from "./rule.ts";
import { textAt } from "./wording.ts";

/** Kinds of which less than nothing means nothing. Angles, temperatures, pressures and shares may count from another zero. */
const SIZES: ReadonlySet<KindId> = new Set<KindId>(["length", "area", "volume", "mass", "force", "spring-rate", "stress", "torque", "rotation", "count", "number", "ratio"]);

/** Sets of words that say which side of a face or which way a figure counts: a sign beside them is another matter. */
const DIRECTIONS: ReadonlySet<string> = new Set(["deck", "event", "gear-direction", "oversize"]);

export const RULE: DeclarationRule = {
  id: "impossible-figure",
  scope: "declaration",
  severity: "error",
  page: {
    summary: "A figure is zero, or less than nothing, where no engine can have that.",
    why: "Whatever rests on it comes out as nonsense, so it is said here, once, and nothing that rests on it is reported.",
    limit: "Sizes, weights, loads, torques, speeds and counts that the key never holds at nothing must be more than nothing; where nothing is possible, less than nothing is not.",
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
    for (const fact of figuresOf(declaration)) {
      const said = faultOf(fact);
      if (said === undefined) continue;
      const at = { tree: declaration.tree, span: fact.span };
      report({ message: `\`${fact.key.key}\` is ${textAt(at).replace(/^[\w.-]+:\s*/, "")}, ${said}. Write the figure that is meant.`, at, path: fact.path });
    }
  },
};

function figuresOf(declaration: Declaration): readonly FigureFact[] {
  return [...declaration.figures, ...declaration.fits.flatMap((f) => [...f.figures, ...(f.inline?.figures ?? [])]), ...declaration.measured.flatMap((m) => m.figures)];
}

function faultOf({ key, value }: FigureFact): string | undefined {
  if (value.is !== "quantity" || !SIZES.has(value.quantity.kind)) return undefined;
  if ([...(key.qualifiers ?? []), ...(key.mayQualify ?? [])].some((set) => DIRECTIONS.has(set) && (set !== "oversize" || value.qualifiers[set] !== undefined))) return undefined;
  const { low, nominal, high } = value.quantity.interval;
  const least = key.usual?.low;
  if (least === undefined || !Number.isFinite(low + high)) return undefined;
  if (least > 0 && high <= 0) return nominal === 0 ? "and there must be something" : "less than nothing";
  if (least >= 0 && high < 0) return "less than nothing";
  return undefined;
}
