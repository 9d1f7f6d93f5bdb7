// A declaration or part of no known kind. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "unknown-kind",
  scope: "text",
  severity: "error",
  page: {
    summary: "A declaration begins with a word, or a part names a kind, that is not known.",
    why: "A part of an unknown kind replaces nothing and is held to nothing.",
    limit: "The kinds of part are listed in the language reference.",
    source: "the definition of the language",
    remedy: "Correct the spelling, or choose the nearest kind.",
    bad: `
part camshft ridgeway-272 {
  source: "cam card in the box"
}
`,
    good: `
part camshaft ridgeway-272 {
  source: "cam card in the box"
}
`,
  },
};
