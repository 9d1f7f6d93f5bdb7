// A waiver whose figure says nothing about what it waives. Found when waivers are laid over the findings; this file gives it its page.
import type { WaiverRule } from "./rule.ts";

export const RULE: WaiverRule = {
  id: "waiver-value-unread",
  scope: "waiver",
  severity: "warning",
  page: {
    summary: "The figure that a waiver accepts cannot be held against what it waives.",
    why: "A waiver that seems bound to a figure and is not would go on silencing the matter however bad it gets.",
    limit: "The figure must be of the kind that the finding names.",
    source: "the definition of the language",
    remedy: "Write the figure in a unit that fits, or take it out.",
    bad: `
engine dunlin-18 {
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  lash { intake: 0.16 mm cold }
  waive lash-tight at 0.17 bar because "maker confirmed by letter" until 2099-01-01
}
`,
    good: `
engine dunlin-18 {
  cylinders: 4
  valve-gear { intake { lash: 0.20 ± 0.02 mm cold } }
}

build wren-hill-2 on dunlin-18 {
  lash { intake: 0.16 mm cold }
  waive lash-tight at 0.16 mm because "maker confirmed by letter" until 2099-01-01
}
`,
  },
};
