// A key, block, statement or column that means nothing where it stands. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "unknown-key",
  scope: "text",
  severity: "error",
  page: {
    summary: "A key, a block or a statement is not known where it stands.",
    why: "A figure under a misspelt key is a figure that nobody reads: the build is judged as if it were not there.",
    limit: "None: the keys that may stand in each block are listed in the language reference.",
    source: "the definition of the language",
    remedy: "Correct the spelling, move it to the block it belongs to, or turn it into a comment.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  boer: 83.00 mm
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
