// A bare number where a unit is needed. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "unit-missing",
  scope: "text",
  severity: "error",
  page: {
    summary: "A figure has no unit.",
    why: "0.20 can be a fifth of a millimetre or two tenths of an inch; one of them bends valves.",
    limit: "Only counts, ratios and classes go without a unit.",
    source: "the definition of the language",
    remedy: "Add the unit that the source gives.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00
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
