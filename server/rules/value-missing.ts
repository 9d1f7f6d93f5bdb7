// A key without a value. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "value-missing",
  scope: "text",
  severity: "error",
  page: {
    summary: "A key has nothing after its colon.",
    why: "An empty key looks filled in at a glance.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Write the value, or … for one that is still to be found out.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore:
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
