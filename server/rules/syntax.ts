// Text that fits nowhere in the grammar. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "syntax",
  scope: "text",
  severity: "error",
  page: {
    summary: "Text that does not fit where it stands.",
    why: "What cannot be read is not checked: a figure behind it may be missing from the sheet without anybody noticing.",
    limit: "None: either the line can be read or it cannot. Reading goes on with the next line.",
    source: "the definition of the language",
    remedy: "Write the line as the message says, or take it out.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mm ]
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
