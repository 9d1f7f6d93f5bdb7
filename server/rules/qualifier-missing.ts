// A figure that does not say of what it is. Found while the text is read; this file gives it its page.
import type { TextRule } from "./rule.ts";

export const RULE: TextRule = {
  id: "qualifier-missing",
  scope: "text",
  severity: "error",
  page: {
    summary: "A figure does not say of what it is: cold or hot, cam or crank, dry or oiled, gauge or absolute.",
    why: "Four degrees at the cam are eight at the crank, a lash set hot is not a lash set cold, and an oiled bolt pulls far tighter than a dry one.",
    limit: "Each key names the word it needs. Where the source does not say, `unstated` is a true answer and widens the band.",
    source: "the definition of the language",
    remedy: "Add the word that the source gives, or unstated.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  valve-gear {
    intake { lash: 0.15 ± 0.03 mm }
  }
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  valve-gear {
    intake { lash: 0.15 ± 0.03 mm cold }
  }
}
`,
  },
};
