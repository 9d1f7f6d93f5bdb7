// A waiver with nothing left to silence. Found when waivers are laid over the findings; this file gives it its page.
import type { WaiverRule } from "./rule.ts";

export const RULE: WaiverRule = {
  id: "waiver-unused",
  scope: "waiver",
  severity: "warning",
  page: {
    summary: "A waiver has nothing left to silence.",
    why: "The matter was put right. Left in place, the waiver would hide the next one of its kind.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Take the waiver out.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 mm
  waive not-filled-in because "block is at the machinist"
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
