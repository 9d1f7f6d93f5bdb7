// A key that stands twice in one block. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "repeated-key",
  scope: "text",
  severity: "warning",
  page: {
    summary: "A key stands twice in the same block.",
    why: "The later one counts. Whoever reads the first one reads a figure that is not used.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Keep the one that is right.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
  bore: 83.50 mm
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mm
  stroke: 82.00 mm
}
`,
  },
};
