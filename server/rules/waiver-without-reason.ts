// A waiver that does not say why. Found when waivers are laid over the findings; this file gives it its page.
import type { WaiverRule } from "./rule.ts";

export const RULE: WaiverRule = {
  id: "waiver-without-reason",
  scope: "waiver",
  severity: "error",
  page: {
    summary: "A waiver gives no reason.",
    why: "A waiver is a decision, and the next person at the bench needs to know why it was made. Without a reason it silences nothing.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Add because and the reason in your own words.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: …
  waive not-filled-in
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  bore: …
  waive not-filled-in because "block is at the machinist, figure to come"
}
`,
  },
};
