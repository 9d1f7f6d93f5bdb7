// A figure whose source does not say of what it is. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "reading-unstated",
  scope: "text",
  severity: "advice",
  page: {
    summary: "A figure's qualifier is given as unstated.",
    why: "It is an honest answer, and a costly one: the figure is taken in its widest sense, so the bands on the sheet get wider.",
    limit: "None: it is listed so that the question can still be asked of the maker.",
    source: "the definition of the language",
    remedy: "Ask the source, measure, or leave it: the wider band is shown.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; torque: 20 N·m unstated }
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; torque: 20 N·m oiled }
}
`,
  },
};
