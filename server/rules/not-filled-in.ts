// A hole that is still to be filled. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "not-filled-in",
  scope: "text",
  severity: "advice",
  page: {
    summary: "A value is still to be filled in.",
    why: "A hole is an honest way to say that a figure is not known yet; what rests on it is not computed.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Fill it in when the figure is known.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: …
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
