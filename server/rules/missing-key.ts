// A key without which a declaration cannot do its job. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "missing-key",
  scope: "text",
  severity: "error",
  page: {
    summary: "A key that the declaration cannot do without is missing.",
    why: "Nearly everything else is worked out from it.",
    limit: "The keys marked as required in the language reference.",
    source: "the definition of the language",
    remedy: "Add the key with the figure from the source.",
    bad: `
engine dunlin-18 {
  bore: 83.00 mm
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
