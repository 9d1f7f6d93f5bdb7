// A strength mark on a bolt that no standard lists.
import type { Declaration, FigureFact } from "../model/declaration.ts";
import { gradeNames, propertyClassNames } from "../engineering/bolt-strength.ts";
import type { Fix } from "./finding.ts";
import type { DeclarationRule } from "./rule.ts";
import { didYouMean } from "./wording.ts";

export const RULE: DeclarationRule = {
  id: "unknown-class",
  scope: "declaration",
  severity: "warning",
  page: {
    summary: "A class or grade is none that a standard lists, and the bolt's strength is not stated either.",
    why: "Nothing can be said of how near a bolt is to its proof load when nobody knows what it is made of. A class that does not exist is mostly one that was copied wrong.",
    limit: "The classes of ISO 898-1, the grades of SAE J429, and marks in the form of ISO 3506 (stainless, A2-70), which are let stand though no strength is worked out from them. A bolt with a `proof-stress` or `yield-stress` of its own may be called anything.",
    source: "ISO 898-1, SAE J429, ISO 3506",
    remedy: "Read the mark on the head again; or state the `proof-stress` that the maker of a special bolt gives.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; class: 88; torque: 20 ± 2 N·m oiled }
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  fastener cam-cap  { thread: M8x1.25; class: 8.8; torque: 20 ± 2 N·m oiled }
  fastener rod-bolt { thread: M9x1; class: special; proof-stress: 1100 MPa; torque: 42 ± 2 N·m oiled }
}
`,
  },
  check(declaration, report) {
    const figures = figuresOf(declaration);
    for (const fact of figures) {
      const match = /^(fastener\..+)\.(class|grade)$/.exec(fact.path);
      if (!match || fact.value.is !== "class" || figures.some((f) => f.path === `${match[1]}.proof-stress` || f.path === `${match[1]}.yield-stress`)) continue;
      const mark = fact.value.text.trim().replace(/^(class|grade|sae)\s*/i, "").replace(/^(j429\s*)?(grade\s*)?/i, "");
      if (KNOWN.has(mark) || STAINLESS.test(mark)) continue;
      // A class without its point, or with a comma for it.
      const near = propertyClassNames.filter((name) => name.replace(".", "") === mark.replace(/\D/g, ""));
      const at = { tree: declaration.tree, span: fact.span };
      const fixes = near.map((name): Fix => ({ title: `Change to ${name}`, safe: false, edits: [{ tree: declaration.tree, span: fact.span, text: name }] }));
      const name = (match[1] as string).slice("fastener.".length);
      report({ message: `No standard lists \`${fact.value.text}\` as the strength of a bolt, so nothing is known of how much \`${name}\` can take.${didYouMean(near)}${near.length === 0 ? " Read the mark on its head again, or state its `proof-stress`." : ""}`, at, path: fact.path, fixes });
    }
  },
};

/** Grades of SAE J429 and classes whose strengths are not kept here still are known marks; 5.1 to 8.2 from memory. */
const KNOWN: ReadonlySet<string> = new Set([...propertyClassNames, ...gradeNames, "3.6", "1", "4", "5.1", "5.2", "7", "8.1", "8.2"]);
const STAINLESS = /^[ACFD]\d-\d{2,3}[A-Z]?$/i;

function figuresOf(declaration: Declaration): readonly FigureFact[] {
  return [...declaration.figures, ...declaration.fits.flatMap((f) => [...f.figures, ...(f.inline?.figures ?? [])])];
}
