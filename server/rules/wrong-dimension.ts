// A unit of another kind of quantity. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "wrong-dimension",
  scope: "text",
  severity: "error",
  page: {
    summary: "A figure's unit measures something else than the key asks for.",
    why: "A torque is not a force and a volume is not a length: the figure, the unit or the key is wrong, and only the source can say which.",
    limit: "The kind of quantity that each key takes; a torque and an energy are told apart although their units multiply alike.",
    source: "units and kinds of quantity from NIST SP 811",
    remedy: "Write the figure in a unit of the kind asked for, or move it to the key it belongs to.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  bore: 83.00 cc
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
