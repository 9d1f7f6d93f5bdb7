// A comma inside a figure. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "decimal-comma",
  scope: "text",
  severity: "error",
  page: {
    summary: "A figure is written with a comma where a decimal point belongs.",
    why: "A comma sets figures apart here. 0,20 mm read as two figures, or 1,775 read as a small one, would be a wrong engine.",
    limit: "None: a comma between two digits is never read as a figure.",
    source: "the definition of the language",
    remedy: "Write a point for decimals and nothing between thousands.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83,00 mm
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
