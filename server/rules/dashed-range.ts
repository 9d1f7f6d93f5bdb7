// A range written with a dash. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "dashed-range",
  scope: "text",
  severity: "error",
  page: {
    summary: "A range is written with a dash, which here means an order, a thread or a fraction.",
    why: "10-12 can be ten to twelve, a thread, or an order of tightening. A torque must not be guessed.",
    limit: "None: a range is written with two dots.",
    source: "the definition of the language",
    remedy: "Write two dots between the ends of the range.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; torque: 18-22 N·m oiled }
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; torque: 18 .. 22 N·m oiled }
}
`,
  },
};
