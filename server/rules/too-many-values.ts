// Several values where one is wanted. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "too-many-values",
  scope: "text",
  severity: "error",
  page: {
    summary: "A key that takes one figure has several.",
    why: "Only one of them can be the bore. A list hides which.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Keep one, or put several readings in a table.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mm, 83.02 mm
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mm
}
`,
  },
};
