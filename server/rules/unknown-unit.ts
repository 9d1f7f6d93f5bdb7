// A unit that does not exist here. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "unknown-unit",
  scope: "text",
  severity: "error",
  page: {
    summary: "A figure carries a unit that is not known.",
    why: "Without its unit a figure says nothing, and a guessed unit is worse than none.",
    limit: "None: the spellings of every unit are listed in the language reference.",
    source: "units and factors from NIST SP 811",
    remedy: "Write the unit as the message offers it.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mmm
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
