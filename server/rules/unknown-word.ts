// A word that is none of those a key takes. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "unknown-word",
  scope: "text",
  severity: "error",
  page: {
    summary: "A word is none of those that can stand there.",
    why: "A word that is not understood decides nothing: lash at the valve and lash at the cam give different lifts.",
    limit: "The words that each key takes are listed in the language reference.",
    source: "the definition of the language",
    remedy: "Write one of the words that the message lists.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  valve-gear { lash-at: valv }
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  valve-gear { lash-at: valve }
}
`,
  },
};
