// Text in quotes that is never closed. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "unclosed-string",
  scope: "text",
  severity: "error",
  page: {
    summary: "A text in quotes has no closing quote on its line.",
    why: "Everything to the end of the line is taken as text, a waiver's date or a unit included.",
    limit: "None: a text in quotes ends on the line it began on.",
    source: "the definition of the language",
    remedy: "Close the quotes where the text ends.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  source: "workshop manual, section 6A
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  source: "workshop manual, section 6A"
}
`,
  },
};
