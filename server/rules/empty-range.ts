// A range whose ends are the wrong way round. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "empty-range",
  scope: "text",
  severity: "error",
  page: {
    summary: "A range holds nothing, as its first figure is the larger.",
    why: "Nothing can lie inside it, so either its ends were swapped or a digit is wrong.",
    limit: "None.",
    source: "the definition of the language",
    remedy: "Swap the ends, or correct the figure that is wrong.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  fastener cam-cap { thread: M8x1.25; torque: 22 .. 18 N·m oiled }
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
