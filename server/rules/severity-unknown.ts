// A shop that names no rule, or no severity. Found where severities are laid over the findings; this file gives it its page.
import type { ShopRule } from "./rule.ts";

export const RULE: ShopRule = {
  id: "severity-unknown",
  scope: "shop",
  severity: "warning",
  page: {
    summary: "A shop says how severely to take something that is no finding, or not how.",
    why: "It changes nothing, and whoever wrote it believes that it does.",
    limit: "The names of all rules, and the words error, warning, advice and off.",
    source: "the definition of the language",
    remedy: "Write the name that the finding itself shows, and one of the four words.",
    bad: `
shop {
  severities { lash-sprad: off }
}
`,
    good: `
shop {
  severities { lash-spread: off }
}
`,
  },
};
