// A declaration or block without braces. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "block-missing",
  scope: "text",
  severity: "error",
  page: {
    summary: "A declaration or a block has nothing in braces after it.",
    why: "Without its block it says nothing, and what was meant to be in it may stand somewhere else.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Open a block with { and close it with }.",
    bad: `
engine dunlin-18
`,
    good: `
engine dunlin-18 {
  cylinders: 4
}
`,
  },
};
