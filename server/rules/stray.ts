// An entry or a row outside any declaration. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "stray",
  scope: "text",
  severity: "error",
  page: {
    summary: "Something stands outside every declaration.",
    why: "It belongs to no engine, part, card or build, so nothing reads it.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Move it inside the braces of the declaration it belongs to.",
    bad: `
bore: 83.00 mm

engine dunlin-18 {
  cylinders: 4
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
