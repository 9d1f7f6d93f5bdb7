// A waiver of a finding that does not exist. Found when waivers are laid over the findings; this file gives it its page.
import type { WaiverRule } from "./rule.ts";

export const RULE: WaiverRule = {
  id: "waiver-unknown-rule",
  scope: "waiver",
  severity: "warning",
  page: {
    summary: "A waiver names a finding that does not exist.",
    why: "It silences nothing, and whoever wrote it believes that it does.",
    limit: "None: every finding shows its own name, which `explain` knows too.",
    source: "the definition of the language",
    remedy: "Write the name that the finding itself shows.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mm
  waive bore-to-big because "measured twice"
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
