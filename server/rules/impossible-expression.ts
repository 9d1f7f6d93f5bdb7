// A sum that has no result. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "impossible-expression",
  scope: "text",
  severity: "error",
  page: {
    summary: "A sum has no result, or one that nothing can have.",
    why: "Divided by zero, beyond all size or colder than cold, it cannot be a figure of an engine.",
    limit: "None is colder than absolute zero; nothing is divided by zero.",
    source: "arithmetic; absolute zero from NIST SP 811",
    remedy: "Write the figure that is meant.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mm / 0
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  bore: 166.00 mm / 2
}
`,
  },
};
