// A waiver past its date. Found when waivers are laid over the findings; this file gives it its page.
import type { WaiverRule } from "./rule.ts";

export const RULE: WaiverRule = {
  id: "waiver-expired",
  scope: "waiver",
  severity: "warning",
  failsCheck: true,
  page: {
    summary: "A waiver's date has passed.",
    why: "It was granted until a day, and the matter is still there. It silences nothing any more.",
    limit: "The date of the waiver against the day on which the check is made.",
    source: "the definition of the language",
    remedy: "Put the matter right, or look at it again and set a new date.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: …
  waive not-filled-in because "block is at the machinist" until 2001-01-31
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
