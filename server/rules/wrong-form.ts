// A value of the wrong form. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "wrong-form",
  scope: "text",
  severity: "error",
  page: {
    summary: "A value is not of the form that its key takes.",
    why: "A date where an order is wanted, or a word where a figure is wanted, cannot be used for anything.",
    limit: "The form that each key takes is shown with an example in the language reference.",
    source: "the definition of the language",
    remedy: "Write it as the message shows.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  firing-order: belt end
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  firing-order: 1-3-4-2
}
`,
  },
};
