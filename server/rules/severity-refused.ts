// A shop that turns down what must not be. Found where severities are laid over the findings; this file gives it its page.
import type { ShopRule } from "./rule.ts";

export const RULE: ShopRule = {
  id: "severity-refused",
  scope: "shop",
  severity: "warning",
  page: {
    summary: "A shop turns down a finding that must stay as severe as it is.",
    why: "A tight valve or a solid spring breaks an engine whatever a workshop makes of it, and a text that cannot be read is not checked at all.",
    limit: "Findings that break engines, errors of the text itself, and findings about waivers and severities can be taken more severely, never less.",
    source: "the definition of the language",
    remedy: "Take the line out. What is right in one build is waived there, with a reason and a date.",
    bad: `
shop {
  severities { lash-tight: advice }
}
`,
    good: `
shop {
  severities { lash-spread: error }
}
`,
  },
};
