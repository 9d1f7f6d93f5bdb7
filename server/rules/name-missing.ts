// A declaration or statement without its name. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "name-missing",
  scope: "text",
  severity: "error",
  page: {
    summary: "A declaration or a statement has no name.",
    why: "What has no name cannot be fitted, followed or measured.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Write a short word after the kind, such as dunlin-18.",
    bad: `
engine {
  cylinders: 4
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
}
`,
  },
};
