// A waiver that ends soon. Found when waivers are laid over the findings; this file gives it its page.
import type { WaiverRule } from "./rule.ts";

export const RULE: WaiverRule = {
  id: "waiver-expiring",
  scope: "waiver",
  severity: "advice",
  page: {
    summary: "A waiver ends soon.",
    why: "On the day after its last it silences nothing, and a check in which it was relied on fails.",
    limit: "Thirty days before its date.",
    source: "common practice, no source",
    remedy: "Put the matter right before then, or look at it again and set a new date.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: …
  waive not-filled-in because "block is at the machinist" until 2027-06-20
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  bore: …
  waive not-filled-in because "block is at the machinist" until 2099-01-31
}
`,
  },
};
