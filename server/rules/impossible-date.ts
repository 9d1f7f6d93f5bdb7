// A day that is not in the calendar. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "impossible-date",
  scope: "text",
  severity: "error",
  page: {
    summary: "A date is no day of the calendar.",
    why: "What is due, stale or expired is worked out from dates.",
    limit: "The Gregorian calendar, year first.",
    source: "ISO 8601, calendar dates",
    remedy: "Write the date as year-month-day.",
    bad: `
build wren-hill-2 {
  measured lash cold on 2027-02-30 {
    | valve (mm) |    1 |
    | intake     | 0.20 |
  }
}
`,
    good: `
build wren-hill-2 {
  measured lash cold on 2027-02-28 {
    | valve (mm) |    1 |
    | intake     | 0.20 |
  }
}
`,
  },
};
