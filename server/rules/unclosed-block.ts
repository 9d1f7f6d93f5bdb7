// A block without its closing brace. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "unclosed-block",
  scope: "text",
  severity: "error",
  page: {
    summary: "A block is opened and never closed.",
    why: "Figures below the missing brace may be taken to belong to the wrong part.",
    limit: "None. Until the brace is there, the indentation decides where the block ends.",
    source: "the definition of the language",
    remedy: "Add the missing brace.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  combustion {
    chamber: 44.6 cc
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  combustion {
    chamber: 44.6 cc
  }
}
`,
  },
};
